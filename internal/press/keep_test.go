package press

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/cache"
	"sidebatch.example/sidebatch/internal/site"
)

// known returns outputs that say what they are made from, and a count of those made.
func (fs files) known() ([]site.Output, *atomic.Int64) {
	var made atomic.Int64
	outputs := fs.outputs()
	for i, o := range outputs {
		from := sha256.Sum256([]byte(fs[o.Path]))
		outputs[i].From = site.Digest(from[:16])
		outputs[i].Make = func() ([]byte, error) { made.Add(1); return o.Make() }
	}
	return outputs, &made
}

// publishKnown publishes with a cache, and returns how many outputs were made.
func publishKnown(t testing.TB, out string, fs files, o Options) (Summary, int) {
	t.Helper()
	outputs, made := fs.known()
	o.Out, o.Cache = out, cache.At(CacheOf(out))
	sum, err := publishAll(t.Context(), outputs, o)
	if err != nil {
		t.Fatal(err)
	}
	if sum.CacheError != nil {
		t.Fatal(sum.CacheError)
	}
	return sum, int(made.Load())
}

// settle makes everything in a folder old and the cache believe it: the files get a time
// long past, one run notes their stamps, and the table is older than the clock says.
func settle(t testing.TB, out string, fs files) {
	t.Helper()
	publishKnown(t, out, fs, Options{})
	dateTable(t, out)
}

// dateTable has the cache say that what is noted of files was noted in an hour.
func dateTable(t testing.TB, out string) {
	t.Helper()
	later := time.Now().Add(time.Hour)
	for _, name := range []string{tableName, sinceName} {
		err := os.Chtimes(filepath.Join(CacheOf(out), name+".blob"), later, later)
		if err != nil && !(name == sinceName && errors.Is(err, os.ErrNotExist)) {
			t.Fatal(err)
		}
	}
}

func TestKept(t *testing.T) {
	out := newFolder(t)
	set := files{"index.html": "front", "rye/index.html": "rye", "rye/data.csv": "1"}
	sum, made := publishKnown(t, out, set, Options{})
	if made != 3 || sum.Written != 3 || sum.Kept != 0 {
		t.Errorf("first: %d made, %+v", made, sum)
	}
	// The files are as new as the table, so that they are read, and not made.
	sum, made = publishKnown(t, out, set, Options{})
	if want := (Summary{Files: 3, Unchanged: 3, Kept: 3, Bytes: 9}); made != 0 || sum != want {
		t.Errorf("again: %d made, %+v", made, sum)
	}
	settle(t, out, set)
	sum, made = publishKnown(t, out, set, Options{})
	if want := (Summary{Files: 3, Unchanged: 3, Kept: 3, Bytes: 9}); made != 0 || sum != want {
		t.Errorf("settled: %d made, %+v", made, sum)
	}
	set["rye/index.html"] = "rye 2"
	sum, made = publishKnown(t, out, set, Options{})
	if want := (Summary{Files: 3, Written: 1, Unchanged: 2, Kept: 2, Bytes: 11}); made != 1 || sum != want {
		t.Errorf("one changed: %d made, %+v", made, sum)
	}
	delete(set, "rye/data.csv")
	sum, made = publishKnown(t, out, set, Options{})
	if want := (Summary{Files: 2, Unchanged: 2, Kept: 2, Removed: 1, Bytes: 10}); made != 0 || sum != want {
		t.Errorf("one gone: %d made, %+v", made, sum)
	}
	sum, made = publishKnown(t, out, set, Options{Verify: true})
	if want := (Summary{Files: 2, Unchanged: 2, Bytes: 10}); made != 4 || sum != want {
		t.Errorf("verify: %d made, %+v", made, sum)
	}
	if _, made = publishKnown(t, out, set, Options{}); made != 0 {
		t.Errorf("after verify: %d made", made)
	}
	if diff := cmp.Diff(set, held(t, out)); diff != "" {
		t.Error(diff)
	}
}

// TestSettledIsNotRead: a file with the stamp that the table has is believed to be what it
// was. Here the table is made to lie, which shows that nobody looked into the file.
func TestSettledIsNotRead(t *testing.T) {
	out := newFolder(t)
	set := files{"a": "one"}
	publishKnown(t, out, set, Options{})
	write(t, out, "a", "lie")
	file, err := os.Open(filepath.Join(out, "a"))
	if err != nil {
		t.Fatal(err)
	}
	is, err := stampOf(file)
	if err := errors.Join(err, file.Close()); err != nil {
		t.Fatal(err)
	}
	outputs, made := set.known()
	var text tableText
	var paths pathsText
	text.addLot("a", outputs[0].From, 0)
	paths.add("a")
	c := cache.At(CacheOf(out))
	if err := c.Write(tableName, text.parts(1, string(row{outputs[0].From, sha256.Sum256([]byte("one")), is}.appendTo(nil)), paths.ends.String(), "a")...); err != nil {
		t.Fatal(err)
	}
	_, err = publishAll(t.Context(), outputs, Options{Out: out, Cache: c})
	checkError(t, err, ErrForeign, []string{"a: changed since"}) // too new to be believed
	dateTable(t, out)
	made.Store(0)
	if sum, err := publishAll(t.Context(), outputs, Options{Out: out, Cache: c}); err != nil || sum.Kept != 1 || made.Load() != 0 {
		t.Errorf("%+v, %v, %d made", sum, err, made.Load())
	}
}

// TestTouchedFiles: what somebody did to a file of the site is seen, whatever its size and
// times say.
func TestTouchedFiles(t *testing.T) {
	set := files{"a": "one", "b": "two", "d/c": "three"}
	restore := func(p string, info os.FileInfo) error { return os.Chtimes(p, info.ModTime(), info.ModTime()) }
	for name, c := range map[string]struct {
		do      func(p string, info os.FileInfo) error
		refused bool
		made    int
	}{
		"edited":  {func(p string, _ os.FileInfo) error { return os.WriteFile(p, []byte("mine"), 0o644) }, true, 1},
		"touched": {func(p string, _ os.FileInfo) error { return os.Chtimes(p, time.Now(), time.Now()) }, false, 0},
		"deleted": {func(p string, _ os.FileInfo) error { return os.Remove(p) }, false, 1},
		"edited, with its size and time put back": {func(p string, info os.FileInfo) error {
			if err := os.WriteFile(p, []byte("eno"), 0o644); err != nil {
				return err
			}
			return restore(p, info)
		}, true, 1},
		"replaced, with its size and time put back": {func(p string, info os.FileInfo) error {
			if err := os.WriteFile(p+".new", []byte("eno"), 0o644); err != nil {
				return err
			}
			if err := restore(p+".new", info); err != nil {
				return err
			}
			return os.Rename(p+".new", p)
		}, true, 1},
		"replaced by itself": {func(p string, info os.FileInfo) error {
			if err := os.WriteFile(p+".new", []byte("one"), 0o644); err != nil {
				return err
			}
			return os.Rename(p+".new", p)
		}, false, 0},
	} {
		for _, settled := range []bool{false, true} {
			t.Run(fmt.Sprintf("%s/%v", name, settled), func(t *testing.T) {
				out := newFolder(t)
				publishKnown(t, out, set, Options{})
				if settled {
					settle(t, out, set)
				}
				p := filepath.Join(out, "a")
				info, err := os.Stat(p)
				if err != nil {
					t.Fatal(err)
				}
				if err := c.do(p, info); err != nil {
					t.Fatal(err)
				}
				if c.refused {
					outputs, made := set.known()
					_, err := publishAll(t.Context(), outputs, Options{Out: out, Cache: cache.At(CacheOf(out))})
					checkError(t, err, ErrForeign, []string{"a: changed since sidebatch wrote it"})
					if made.Load() != int64(c.made) {
						t.Errorf("%d made", made.Load())
					}
					return
				}
				for _, want := range []int{c.made, 0} {
					if _, made := publishKnown(t, out, set, Options{}); made != want {
						t.Errorf("%d made, want %d", made, want)
					}
				}
				if diff := cmp.Diff(set, held(t, out)); diff != "" {
					t.Error(diff)
				}
			})
		}
	}
}

// TestAFolderBehindALink: a folder of the site that was moved away, with a link in its place,
// has the same files with the same stamps, and is refused all the same.
func TestAFolderBehindALink(t *testing.T) {
	out := newFolder(t)
	set := files{"d/e/a": "one"}
	publishKnown(t, out, set, Options{})
	settle(t, out, set)
	for _, dir := range []string{"d/e", "d"} {
		moved := filepath.Join(t.TempDir(), "moved")
		if err := os.Rename(filepath.Join(out, dir), moved); err != nil {
			t.Skip(err)
		}
		if err := os.Symlink(moved, filepath.Join(out, dir)); err != nil {
			t.Skip(err)
		}
		outputs, _ := set.known()
		_, err := publishAll(t.Context(), outputs, Options{Out: out, Cache: cache.At(CacheOf(out))})
		checkError(t, err, ErrForeign, []string{dir + ": in the way"})
	}
}

// TestTheListWins: where list and table do not agree about a file, it is read and made.
func TestTheListWins(t *testing.T) {
	out := newFolder(t)
	set := files{"a": "one", "b": "two"}
	publishKnown(t, out, set, Options{})
	settle(t, out, set)
	if err := os.Remove(filepath.Join(out, listName)); err != nil {
		t.Fatal(err)
	}
	outputs, _ := set.known()
	_, err := publishAll(t.Context(), outputs, Options{Out: out, Cache: cache.At(CacheOf(out))})
	checkError(t, err, ErrForeign, []string{"no list of files that sidebatch wrote"})
	sum := sha256.Sum256([]byte("two"))
	write(t, out, listName, fmt.Sprintf("%x  a\n%x  b\n", sum, sum))
	if got, made := publishKnown(t, out, set, Options{}); made != 1 || got.Kept != 1 {
		t.Errorf("%d made, %+v", made, got)
	}
	write(t, out, listName, fmt.Sprintf("%x  b\n", sum))
	outputs, _ = set.known()
	_, err = publishAll(t.Context(), outputs, Options{Out: out, Cache: cache.At(CacheOf(out))})
	checkError(t, err, ErrForeign, []string{"a: in the way"})
}

func listedIn(l *list) (all []listed) {
	for i := range l.len() {
		all = append(all, listed{l.path(i), l.sumOf(i)})
	}
	return all
}

// TestTheListIsNotRead: a list with the stamp that the table has for it is believed to be what
// it was, and one with another is read.
func TestTheListIsNotRead(t *testing.T) {
	out := newFolder(t)
	set := files{"a": "one", "d/b": "two"}
	publishKnown(t, out, set, Options{})
	settle(t, out, set)
	read := func() *list {
		t.Helper()
		f, err := open(out)
		if err != nil {
			t.Fatal(err)
		}
		table := readTable(Options{Cache: cache.At(CacheOf(out))})
		table.sum = digest{1} // a lie, which shows who is asked
		got, err := f.readList(table)
		if err := errors.Join(err, f.close(true)); err != nil {
			t.Fatal(err)
		}
		return got
	}
	want := []listed{{"a", sha256.Sum256([]byte("one"))}, {"d/b", sha256.Sum256([]byte("two"))}}
	if got := read(); got.sum != (digest{1}) || !slices.Equal(listedIn(got), want) || !got.asIs {
		t.Errorf("as it was left: %+v", got)
	}
	text, err := os.ReadFile(filepath.Join(out, listName))
	if err != nil {
		t.Fatal(err)
	}
	write(t, out, listName, string(text))
	if got := read(); got.sum != sumOfList(text) || !slices.Equal(listedIn(got), want) || !got.asIs {
		t.Errorf("written again: %+v", got)
	}
}

// TestVerifyFindsAWrongFrom: verify mode makes what would be kept, and compares.
func TestVerifyFindsAWrongFrom(t *testing.T) {
	out := newFolder(t)
	publishKnown(t, out, files{"a": "one"}, Options{})
	outputs, _ := files{"a": "one"}.known()
	outputs[0].Make = func() ([]byte, error) { return []byte("two"), nil }
	o := Options{Out: out, Cache: cache.At(CacheOf(out)), Verify: true}
	_, err := publishAll(t.Context(), outputs, o)
	checkError(t, err, nil, []string{"a: made from the same as before, and the two differ from byte 0"})
}

// TestNoCacheIsNoFailure: what cannot be kept is told and harms nothing.
func TestNoCacheIsNoFailure(t *testing.T) {
	out := newFolder(t)
	set := files{"a": "one"}
	write(t, filepath.Dir(out), filepath.Base(CacheOf(out)), "mine")
	for range 2 {
		outputs, made := set.known()
		sum, err := publishAll(t.Context(), outputs, Options{Out: out, Cache: cache.At(CacheOf(out))})
		if err != nil || sum.CacheError == nil || made.Load() != 1 {
			t.Errorf("%+v, %v", sum, err)
		}
	}
}
