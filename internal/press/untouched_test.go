package press

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"sidebatch.example/sidebatch/internal/cache"
	"sidebatch.example/sidebatch/internal/site"
)

// TestUntouched: a site is as it was left until somebody touches it, and whatever was done,
// Run finds that it has nothing to do where Untouched says so.
func TestUntouched(t *testing.T) {
	set := files{"a": "one", "d/b": "two", "d/e/c": "three"}
	all := site.Digest{1}
	touch := func(names ...string) func(out string) error {
		return func(out string) error {
			return os.WriteFile(filepath.Join(append([]string{out}, names...)...), []byte("mine"), 0o644)
		}
	}
	for name, c := range map[string]struct {
		do   func(out string) error
		with func(o *Options)
		want bool
	}{
		"nothing":                 {want: true},
		"a file of somebody else": {do: touch("mine"), want: true},
		"a file edited":           {do: touch("d", "b")},
		"a file gone":             {do: func(out string) error { return os.Remove(filepath.Join(out, "d/b")) }},
		"a file touched": {do: func(out string) error {
			return os.Chtimes(filepath.Join(out, "a"), time.Now(), time.Now())
		}},
		"the list gone":   {do: func(out string) error { return os.Remove(filepath.Join(out, listName)) }},
		"the list edited": {do: touch(listName)},
		"all gone":        {do: os.RemoveAll},
		"a folder behind a link": {do: func(out string) error {
			if err := os.Rename(filepath.Join(out, "d"), filepath.Join(out, "moved")); err != nil {
				return err
			}
			return os.Symlink("moved", filepath.Join(out, "d"))
		}},
		"left over from a run that was killed": {do: func(out string) error {
			return os.Mkdir(filepath.Join(filepath.Dir(out), "."+filepath.Base(out)+ownPrefix+"staging"), 0o755)
		}},
		"a swap that was not finished": {do: func(out string) error { return os.Mkdir(filepath.Join(out, swapName), 0o755) }},
		"no cache":                     {do: func(out string) error { return cache.At(CacheOf(out)).Forget() }},
		"made of something else":       {with: func(o *Options) { o.All = site.Digest{2} }},
		"not known of what":            {with: func(o *Options) { o.All = site.Digest{} }},
		"verified":                     {with: func(o *Options) { o.Verify = true }},
		"never inspected":              {with: func(o *Options) { o.Inspect = &witness{} }},
	} {
		t.Run(name, func(t *testing.T) {
			out := newFolder(t)
			o := Options{Out: out, Cache: cache.At(CacheOf(out)), All: all}
			publishKnown(t, out, set, Options{All: all})
			publishKnown(t, out, set, Options{All: all})
			later := time.Now().Add(time.Hour)
			if err := os.Chtimes(filepath.Join(CacheOf(out), tableName+".blob"), later, later); err != nil {
				t.Fatal(err)
			}
			if c.do != nil {
				if err := c.do(out); err != nil {
					t.Skip(err)
				}
			}
			if c.with != nil {
				c.with(&o)
			}
			sum, ok, err := Untouched(o)
			if err != nil || ok != c.want {
				t.Fatalf("%v, %v", ok, err)
			}
			if want := (Summary{Files: 3, Unchanged: 3, Kept: 3, Bytes: 11}); ok && sum != want {
				t.Errorf("%+v", sum)
			}
			if _, err := os.Stat(out); name == "all gone" && err == nil {
				t.Error("a folder was made")
			}
			if ok {
				if again, made := publishKnown(t, out, set, Options{All: all}); made != 0 || again != sum {
					t.Errorf("then %+v", again)
				}
			}
		})
	}
}
