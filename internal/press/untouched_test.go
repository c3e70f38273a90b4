package press

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/cache"
	"sidebatch.example/sidebatch/internal/site"
)

// TestUntouched: outputs are not asked for as long as they would be made of the same and nobody
// has touched the site, and whatever was done to it, it is whole afterwards or refused.
func TestUntouched(t *testing.T) {
	set := files{"a": "one", "d/b": "two", "d/e/c": "three"}
	publish := func(t *testing.T, all site.Digest, o Options) (sum Summary, asked bool, err error) {
		t.Helper()
		outputs, _ := set.known()
		sum, err = Run(t.Context(), Source{
			Still: func() site.Digest { return all },
			Lots: func() ([]site.Lot, site.Digest, error) {
				asked = true
				return inLots(outputs), all, nil
			},
		}, o)
		return sum, asked, err
	}
	touch := func(names ...string) func(out string) error {
		return func(out string) error {
			return os.WriteFile(filepath.Join(append([]string{out}, names...)...), []byte("mine"), 0o644)
		}
	}
	for name, c := range map[string]struct {
		do             func(out string) error
		with           func(all *site.Digest, o *Options)
		asked, refused bool
	}{
		"nothing":                 {},
		"a file of somebody else": {do: touch("mine")},
		"a file edited":           {do: touch("d", "b"), asked: true, refused: true},
		"a file gone":             {do: func(out string) error { return os.Remove(filepath.Join(out, "d/b")) }, asked: true},
		"a file touched": {asked: true, do: func(out string) error {
			return os.Chtimes(filepath.Join(out, "a"), time.Now(), time.Now())
		}},
		"the list gone":   {do: func(out string) error { return os.Remove(filepath.Join(out, listName)) }, refused: true},
		"the list edited": {do: touch(listName), asked: true, refused: true},
		"all gone":        {do: os.RemoveAll, asked: true},
		"a folder behind a link": {asked: true, refused: true, do: func(out string) error {
			if err := os.Rename(filepath.Join(out, "d"), filepath.Join(out, "moved")); err != nil {
				return err
			}
			return os.Symlink("moved", filepath.Join(out, "d"))
		}},
		"left over from a run that was killed": {do: func(out string) error {
			return os.Mkdir(filepath.Join(filepath.Dir(out), "."+filepath.Base(out)+ownPrefix+"staging"), 0o755)
		}},
		"a swap that was not finished": {do: func(out string) error { return os.Mkdir(filepath.Join(out, swapName), 0o755) }, refused: true},
		"no cache":                     {do: func(out string) error { return cache.At(CacheOf(out)).Forget() }, asked: true},
		"made of something else":       {asked: true, with: func(all *site.Digest, _ *Options) { *all = site.Digest{2} }},
		"not known of what":            {asked: true, with: func(all *site.Digest, _ *Options) { *all = site.Digest{} }},
		"verified":                     {asked: true, with: func(_ *site.Digest, o *Options) { o.Verify = true }},
		"never inspected":              {asked: true, with: func(_ *site.Digest, o *Options) { o.Inspect = &witness{saw: files{}} }},
	} {
		t.Run(name, func(t *testing.T) {
			out := newFolder(t)
			all, o := site.Digest{1}, Options{Out: out, Cache: cache.At(CacheOf(out))}
			for range 2 {
				if _, _, err := publish(t, all, o); err != nil {
					t.Fatal(err)
				}
			}
			dateTable(t, out)
			if c.do != nil {
				if err := c.do(out); err != nil {
					t.Skip(err)
				}
			}
			if c.with != nil {
				c.with(&all, &o)
			}
			sum, asked, err := publish(t, all, o)
			if asked != c.asked || (err != nil) != c.refused {
				t.Fatalf("asked %v: %+v, %v", asked, sum, err)
			}
			if want := (Summary{Files: 3, Unchanged: 3, Kept: 3, Bytes: 11}); !asked && !c.refused && sum != want {
				t.Errorf("%+v", sum)
			}
			if c.refused {
				return
			}
			is := held(t, out)
			delete(is, "mine")
			if d := cmp.Diff(set, is); d != "" {
				t.Error(d)
			}
		})
	}
}
