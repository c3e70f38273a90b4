package press

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/site"
)

// files is a site, or what a folder holds: content by path.
type files map[string]string

func (fs files) outputs() []site.Output {
	var outputs []site.Output
	for path, text := range fs {
		outputs = append(outputs, site.Output{Path: path, Make: func() ([]byte, error) { return []byte(text), nil }})
	}
	return outputs
}

func (fs files) with(more files) files {
	all := files{}
	maps.Copy(all, fs)
	maps.Copy(all, more)
	return all
}

func failing(path string, err error) site.Output {
	return site.Output{Path: path, Make: func() ([]byte, error) { return nil, err }}
}

// tester is what a test and a property have in common.
type tester interface {
	Helper()
	Fatal(args ...any)
}

// newFolder returns a site folder that does not exist yet, alone in its parent.
func newFolder(t testing.TB) string { return filepath.Join(t.TempDir(), "public") }

func mustRun(t testing.TB, out string, fs files) Summary {
	t.Helper()
	sum, err := publishAll(t.Context(), fs.outputs(), Options{Out: out})
	if err != nil {
		t.Fatalf("Run: %v", err)
	}
	return sum
}

// held reads everything in a folder except the list of files; an empty folder is
// a path that ends in a slash.
func held(t tester, dir string) files {
	t.Helper()
	got := files{}
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || p == dir {
			return err
		}
		name, err := filepath.Rel(dir, p)
		if err != nil {
			return err
		}
		name = filepath.ToSlash(name)
		if d.IsDir() {
			inside, err := os.ReadDir(p)
			if err == nil && len(inside) == 0 {
				got[name+"/"] = ""
			}
			return err
		}
		data, err := os.ReadFile(p)
		if name != listName {
			got[name] = string(data)
		}
		return err
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	return got
}

// check compares a site folder with what it should hold, and looks for anything
// left beside it.
func check(t testing.TB, out string, want files) {
	t.Helper()
	if diff := cmp.Diff(want, held(t, out)); diff != "" {
		t.Errorf("the folder (-want +got):\n%s", diff)
	}
	beside, err := os.ReadDir(filepath.Dir(out))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range beside {
		if e.Name() != filepath.Base(out) {
			t.Errorf("%s was left beside the site folder", e.Name())
		}
	}
}

func write(t tester, dir, name, text string) {
	t.Helper()
	p := filepath.Join(dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(p, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestRunWritesReplacesRemoves(t *testing.T) {
	steps := []struct {
		name string
		site files
		want Summary
	}{
		{"first", files{"index.html": "one", "rye/index.html": "rye", "style.css": "css"}, Summary{Files: 3, Written: 3, Bytes: 9}},
		{"again", files{"index.html": "one", "rye/index.html": "rye", "style.css": "css"}, Summary{Files: 3, Unchanged: 3, Bytes: 9}},
		{"one changed, one gone, one new", files{"index.html": "two!", "style.css": "css", "oat/index.html": "oat"},
			Summary{Files: 3, Written: 2, Unchanged: 1, Removed: 1, Bytes: 10}},
		{"a file becomes a folder", files{"index.html": "two!", "style.css/deep/x": "", "oat/index.html": "oat"},
			Summary{Files: 3, Written: 1, Unchanged: 2, Removed: 1, Bytes: 7}},
		{"a folder becomes a file", files{"index.html": "two!", "style.css": "css", "oat": "oat"},
			Summary{Files: 3, Written: 2, Unchanged: 1, Removed: 2, Bytes: 10}},
		{"an empty file", files{"index.html": ""}, Summary{Files: 1, Written: 1, Removed: 2}},
		{"letter case changed", files{"Index.html": ""}, Summary{Files: 1, Written: 1, Removed: 1}},
		{"nothing", files{}, Summary{Removed: 1}},
		{"nothing again", files{}, Summary{}},
	}
	out := newFolder(t)
	for _, s := range steps {
		if got := mustRun(t, out, s.site); got != s.want {
			t.Errorf("%s: got %+v, want %+v", s.name, got, s.want)
		}
		check(t, out, s.site)
	}
}

func TestUnchangedKeepsItsTime(t *testing.T) {
	out := newFolder(t)
	mustRun(t, out, files{"a.html": "same", "b.html": "old"})
	past := time.Date(2020, 2, 2, 2, 2, 2, 0, time.UTC)
	for _, name := range []string{"a.html", "b.html", listName} {
		if err := os.Chtimes(filepath.Join(out, name), past, past); err != nil {
			t.Fatal(err)
		}
	}
	kept := func(name string) bool {
		info, err := os.Stat(filepath.Join(out, name))
		if err != nil {
			t.Fatal(err)
		}
		return info.ModTime().Equal(past)
	}
	mustRun(t, out, files{"a.html": "same", "b.html": "old"})
	if !kept("a.html") || !kept("b.html") || !kept(listName) {
		t.Error("a run that changed nothing rewrote a file")
	}
	mustRun(t, out, files{"a.html": "same", "b.html": "new"})
	if !kept("a.html") || kept("b.html") || kept(listName) {
		t.Error("only the changed page and the list should have been rewritten")
	}
}

// The list is in the form that GNU sha256sum --check reads, so the tool of
// another project says whether the checksums are right.
func TestListAgreesWithSha256sum(t *testing.T) {
	tool, err := exec.LookPath("sha256sum")
	if err != nil {
		t.Skip("no sha256sum here")
	}
	out := newFolder(t)
	mustRun(t, out, files{"index.html": "one", "with space/crème brûlée.html": "two"})
	cmd := exec.Command(tool, "--check", "--strict", listName)
	cmd.Dir = out
	said, err := cmd.CombinedOutput()
	if err != nil || bytes.Count(said, []byte(": OK\n")) != 2 {
		t.Errorf("sha256sum: %v\n%s", err, said)
	}
}

func TestWorkersMakeNoDifference(t *testing.T) {
	set := files{}
	for i := range 60 {
		set[fmt.Sprintf("trial-%02d/index.html", i)] = strings.Repeat("x", i)
	}
	one, eight := newFolder(t), newFolder(t)
	for out, workers := range map[string]int{one: 1, eight: 8} {
		sum, err := publishAll(t.Context(), set.outputs(), Options{Out: out, Workers: workers, Verify: true})
		if err != nil || sum.Written != 60 {
			t.Fatalf("%d workers: %+v, %v", workers, sum, err)
		}
		check(t, out, set)
	}
	a, _ := os.ReadFile(filepath.Join(one, listName))
	b, _ := os.ReadFile(filepath.Join(eight, listName))
	if len(a) == 0 || !bytes.Equal(a, b) {
		t.Error("1 and 8 workers leave different lists")
	}
}

// Whatever fails, the old site stands as it was and nothing lies about.
func TestFailureLeavesTheOldSite(t *testing.T) {
	old := files{"index.html": "old", "rye/index.html": "old rye"}
	set := files{"index.html": "new", "oat/index.html": "new oat"}
	errOven := errors.New("the oven is cold")
	cancelled, cancel := context.WithCancelCause(context.Background())
	cancel(errOven)
	cases := []struct {
		name  string
		ctx   context.Context
		more  []site.Output
		o     Options
		wraps error
		says  []string // in this order
	}{
		{name: "a Make that fails", more: []site.Output{failing("z.html", errOven)}, wraps: errOven, says: []string{"z.html: the oven is cold"}},
		{name: "all errors in the order of their paths",
			more: []site.Output{failing("z", errOven), failing("b", errOven), failing("m/m", errOven)},
			says: []string{"b: the oven", "m/m: the oven", "z: the oven"}},
		{name: "a panic", more: []site.Output{{Path: "p.html", Make: func() ([]byte, error) { panic("no flour") }}},
			says: []string{"p.html: panic while it was made: no flour", "press_test.go:"}},
		{name: "a runtime panic", more: []site.Output{{Path: "p.html", Make: func() ([]byte, error) { return nothing()[:1], nil }}},
			says: []string{"p.html: panic while it was made: runtime error: slice bounds out of range", "press_test.go:"}},
		{name: "a Make that ends its goroutine", more: []site.Output{{Path: "g.html", Make: func() ([]byte, error) { runtime.Goexit(); return nil, nil }}},
			says: []string{"g.html: not made"}},
		{name: "no Make", more: []site.Output{{Path: "n.html"}}, says: []string{"n.html: nothing makes it"}},
		{name: "cancelled before", ctx: cancelled, wraps: errOven, says: []string{"publishing was stopped"}},
		{name: "two the second time", o: Options{Verify: true}, more: []site.Output{unsteady("u.html")},
			says: []string{`u.html: made twice, and the two differ from byte 9 (line 2) on: "line one\n0", then "line one\n1"`}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			for _, workers := range []int{1, 8} {
				out := newFolder(t)
				mustRun(t, out, old)
				c.o.Out, c.o.Workers = out, workers
				if c.ctx == nil {
					c.ctx = t.Context()
				}
				sum, err := publishAll(c.ctx, append(set.outputs(), c.more...), c.o)
				checkError(t, err, c.wraps, c.says)
				if sum != (Summary{}) {
					t.Errorf("summary %+v after an error", sum)
				}
				check(t, out, old)
			}
		})
	}
}

// unsteady makes something else each time.
func unsteady(path string) site.Output {
	n := -1
	return site.Output{Path: path, Make: func() ([]byte, error) { n++; return fmt.Appendf(nil, "line one\n%d", n%2), nil }}
}

func checkError(t *testing.T, err, wraps error, says []string) {
	t.Helper()
	if err == nil {
		t.Fatal("no error")
	}
	if wraps != nil && !errors.Is(err, wraps) {
		t.Errorf("the error does not wrap %v: %v", wraps, err)
	}
	rest := err.Error()
	for _, part := range says {
		_, after, found := strings.Cut(rest, part)
		if !found {
			t.Fatalf("the error does not say %q (in this order):\n%v", part, err)
		}
		rest = after
	}
}

func TestCancelledWhileMaking(t *testing.T) {
	out := newFolder(t)
	old := files{"index.html": "old"}
	mustRun(t, out, old)
	ctx, cancel := context.WithCancel(t.Context())
	outputs := files{"a.html": "a", "index.html": "new"}.outputs()
	outputs = append(outputs, site.Output{Path: "b.html", Make: func() ([]byte, error) { cancel(); return []byte("b"), nil }})
	_, err := publishAll(ctx, outputs, Options{Out: out})
	checkError(t, err, context.Canceled, []string{"publishing was stopped"})
	check(t, out, old)
}

func TestFailedFirstRunLeavesNothing(t *testing.T) {
	top := t.TempDir()
	_, err := publishAll(t.Context(), []site.Output{failing("a", errors.New("no"))}, Options{Out: filepath.Join(top, "build", "site", "public")})
	checkError(t, err, nil, []string{"a: no"})
	if diff := cmp.Diff(files{}, held(t, top)); diff != "" {
		t.Errorf("folders were left (-want +got):\n%s", diff)
	}
}

func TestTwoRunsAtOnce(t *testing.T) {
	out := newFolder(t)
	inside, leave := make(chan struct{}), make(chan struct{})
	first := make(chan error)
	go func() {
		_, err := publishAll(context.Background(), []site.Output{{Path: "a", Make: func() ([]byte, error) {
			close(inside)
			<-leave
			return []byte("first"), nil
		}}}, Options{Out: out})
		first <- err
	}()
	<-inside
	_, err := publishAll(t.Context(), files{"a": "second"}.outputs(), Options{Out: out})
	checkError(t, err, ErrBusy, []string{"another publish"})
	close(leave)
	if err := <-first; err != nil {
		t.Fatal(err)
	}
	check(t, out, files{"a": "first"})
	mustRun(t, out, files{"a": "second"})
	check(t, out, files{"a": "second"})
}

func TestDamagedListIsRefused(t *testing.T) {
	sum := strings.Repeat("ab", 32)
	for _, text := range []string{"x", "zz  index.html\n", sum + "  ../out\n", sum + "  /out\n", sum + "  a\n" + sum + "  a\n", sum + "  .sidebatch-swap/x\n", sum[2:] + "  a\n"} {
		out := newFolder(t)
		write(t, out, listName, text)
		_, err := publishAll(t.Context(), files{"index.html": "x"}.outputs(), Options{Out: out})
		checkError(t, err, nil, []string{listName + ": line", "restore it, or empty the folder"})
		check(t, out, files{})
	}
}

func TestInsideStaging(t *testing.T) {
	out := newFolder(t)
	f, err := open(out)
	if err != nil {
		t.Fatal(err)
	}
	f.stageRoot, f.stageName, f.swapPath = f.site, insideName, swapName // as on a mount point
	set := files{"index.html": "x", "a/b": "y"}
	if _, err := f.run(t.Context(), sourceOf(inLots(set.outputs())...), Options{}); err != nil {
		t.Fatal(err)
	}
	if err := f.close(true); err != nil {
		t.Fatal(err)
	}
	check(t, out, set)
}

func TestSwapOrder(t *testing.T) {
	var seen []string
	_, err := publishAll(t.Context(), files{"index.html": "", "rye/index.html": "", "rye/recipe/index.html": "", "feed.xml": "", "style.css": "", "rye/pieces.csv": ""}.outputs(),
		Options{Out: newFolder(t), before: func(c change, _ bool) error { seen = append(seen, string(c.action)+" "+c.path); return nil }})
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"mkdir rye", "mkdir rye/recipe", "put rye/pieces.csv", "put style.css",
		"put rye/recipe/index.html", "put rye/index.html", "put index.html", "put feed.xml", "put " + listName}
	if !slices.Equal(seen, want) {
		t.Error(cmp.Diff(want, seen))
	}
}

func nothing() []byte { return nil }
