package site

import (
	"bytes"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/testkit"
)

// keptNote is a small trial with everything that can depend on another.
func keptNote(title, published, more, prose string) *fstest.MapFile {
	return &fstest.MapFile{Data: fmt.Appendf(nil, `---
title: %s
question: Does a lid keep tea hot?
%s
%s
recipe: {name: Tea, ingredients: {water: 500 g water}}
conditions: {lid: without}
samples: {open: {control: true}, covered: {change: {lid: with}}}
measures: {temperature: {kind: temperature, primary: true}}
---

%s
`, title, published, more, prose)}
}

func keptLog(first string) *fstest.MapFile {
	return &fstest.MapFile{Data: []byte("sample,piece,temperature\nopen,1," + first + "\nopen,2,59.5\ncovered,1,72\ncovered,2,70\n")}
}

// edits are what a day at the desk does to a kitchen, with the folder it is done to.
func edits(fsys fstest.MapFS, n int) map[string]func(slug string) {
	stamp := time.Unix(int64(n), 0)
	put := func(name string, f *fstest.MapFile) {
		f.ModTime = stamp
		fsys[name] = f
	}
	remove := func(slug string) {
		for name := range maps.Clone(fsys) {
			if strings.HasPrefix(name, slug+"/") {
				delete(fsys, name)
			}
		}
	}
	note := func(slug, published, more, prose string) {
		put(slug+"/trial.md", keptNote(fmt.Sprintf("Trial %d", n), published, more, prose))
		if fsys[slug+"/pieces.csv"] == nil {
			put(slug+"/pieces.csv", keptLog("61"))
		}
	}
	return map[string]func(string){
		"publish":  func(slug string) { note(slug, "published: 2026-01-12", "", "Hot: [](value:open/temperature).") },
		"withdraw": func(slug string) { note(slug, "", "", "Not yet.") },
		"link":     func(slug string) { note(slug, "published: 2026-02-0"+fmt.Sprint(1+n%9), "", "As in [a](../a/).") },
		"repeat":   func(slug string) { note(slug, "published: 2026-03-01", "repeats: b", "Again.") },
		"log":      func(slug string) { put(slug+"/pieces.csv", keptLog(fmt.Sprint(50+n%20))) },
		"viewer": func(slug string) {
			if fsys[slug+"/trial.md"] != nil {
				put(slug+"/replications/household-1.csv", keptLog(fmt.Sprint(40+n%20)))
			}
		},
		"name": func(slug string) {
			if fsys[slug+"/replications/household-1.csv"] != nil {
				put(slug+"/replications/people.yaml", &fstest.MapFile{Data: fmt.Appendf(nil, "household-1: Viewer %d\n", n)})
			}
		},
		"break":   func(slug string) { put(slug+"/trial.md", &fstest.MapFile{Data: []byte("---\ntitle: [\n---\n")}) },
		"stale":   func(slug string) { note(slug, "published: 2026-01-12", "", "[1 °C](value:open/temperature)") },
		"empty":   func(slug string) { put(slug+"/trial.md", &fstest.MapFile{}) },
		"remove":  remove,
		"kitchen": func(string) { put("kitchen.yaml", &fstest.MapFile{Data: fmt.Appendf(nil, "name: Kitchen %d\n", n)}) },
		"editor":  func(slug string) { put(slug+"/.trial.md.swp", &fstest.MapFile{Data: []byte("x")}) },
		"touch": func(slug string) {
			if f := fsys[slug+"/trial.md"]; f != nil {
				put(slug+"/trial.md", &fstest.MapFile{Data: f.Data})
			}
		},
	}
}

// A kitchen that stays loaded is, after every edit, what a fresh reading makes of
// it: the same problems, and where there are no errors the same files, byte for
// byte.
func TestKeptIsWhatLoadMakes(t *testing.T) {
	look := testLook(t)
	fsys := fstest.MapFS{"kitchen.yaml": {}}
	random := testkit.Rand(t)
	kept := Keep(Content{FS: fsys, Shown: "k"})
	_, outline := PlanOutline(kept.Load(nil).Site, look)
	compared, agreed := 0, 0
	var wrong []string // trials with an error, which are often mended next
	for n := range 60 {
		all := edits(fsys, n+1)
		names := slices.Sorted(maps.Keys(all))
		name, slug := names[random.IntN(len(names))], string(rune('a'+random.IntN(4)))
		if len(wrong) > 0 && random.IntN(4) > 0 {
			name, slug = "publish", wrong[0]
		}
		all[name](slug)
		touched := []string{slug}
		if random.IntN(3) == 0 {
			touched = nil
		}
		got := kept.Load(touched)
		var problems problem.List
		want := Load(Content{FS: fsys, Shown: "k"}, &problems)
		wrong = withErrors(got)
		if problems.Errors() > 0 {
			continue // links to a trial with an error are answered by its last good version
		}
		compared++
		if found := together(got); !slices.Equal(found, problems.Sorted()) {
			t.Fatalf("edit %d, %s %s: problems %v, want %v", n, name, slug, found, problems.Sorted())
		}
		outputs, now := PlanOutline(got.Site, look)
		a, b := madeFiles(t, outputs), madeFiles(t, Plan(want, look))
		if outline.Agrees(now) && !got.Whole {
			agreed++
			for path, data := range madeFiles(t, outline.Trial(got.Site, slug)) {
				if !bytes.Equal(data, b[path]) {
					t.Fatalf("edit %d, %s %s: %s differs with an earlier outline:\n%s", n, name, slug, path, testkit.Diff(b[path], data))
				}
			}
		}
		outline = now
		for path := range b {
			if !bytes.Equal(a[path], b[path]) {
				t.Fatalf("edit %d, %s %s: %s differs:\n%s", n, name, slug, path, testkit.Diff(b[path], a[path]))
			}
		}
		if len(a) != len(b) {
			t.Fatalf("edit %d, %s %s: %d files, want %d", n, name, slug, len(a), len(b))
		}
	}
	if compared < 20 || agreed < 10 {
		t.Errorf("only %d of 60 kitchens were without an error, %d with an outline that agrees", compared, agreed)
	}
}

// together are the problems of all trials.
func together(r Reading) []problem.Problem {
	var all problem.List
	for _, list := range r.Problems {
		for _, p := range list {
			all.Add(p)
		}
	}
	return all.Sorted()
}

// withErrors names the trials that have an error.
func withErrors(r Reading) []string {
	var slugs []string
	for _, slug := range slices.Sorted(maps.Keys(r.Problems)) {
		if slug != "" && slices.ContainsFunc(r.Problems[slug], func(p problem.Problem) bool { return p.Weight == problem.Error }) {
			slugs = append(slugs, slug)
		}
	}
	return slugs
}

// A note that links to another trial depends on whether that one is published,
// though its own files stay what they are.
func TestKeptFollowsLinks(t *testing.T) {
	fsys := fstest.MapFS{}
	edits(fsys, 1)["publish"]("b")
	edits(fsys, 1)["link"]("c")
	kept := Keep(Content{FS: fsys})
	steps := []struct {
		edit    string
		wrong   []string
		changed []string
	}{
		{"", []string{"c"}, []string{"", "b", "c"}},
		{"publish", nil, []string{"a", "c"}},
		{"touch", nil, nil},
		{"withdraw", []string{"c"}, []string{"a", "c"}},
		{"publish", nil, []string{"a", "c"}},
		{"remove", []string{"c"}, []string{"a", "c"}},
	}
	for n, step := range steps {
		if step.edit != "" {
			edits(fsys, n+2)[step.edit]("a")
		}
		r := kept.Load([]string{"a"})
		if got := withErrors(r); !slices.Equal(got, step.wrong) {
			t.Errorf("%d, %s: errors in %q, want %q", n, step.edit, got, step.wrong)
		}
		if n > 0 && !slices.Equal(r.Changed, step.changed) {
			t.Errorf("%d, %s: changed %q, want %q", n, step.edit, r.Changed, step.changed)
		}
	}
}

func testLook(t testing.TB) Look {
	t.Helper()
	pages, err := page.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return Look{Pages: pages, InProgress: true}
}

func madeFiles(t *testing.T, outputs []Output) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	for _, o := range outputs {
		if sharePath.MatchString(o.Path) {
			files[o.Path] = o.From[:] // for what it is drawn from: drawing it takes longer than all the rest
			continue
		}
		data, err := o.Make()
		if err != nil {
			t.Fatal(err)
		}
		files[o.Path] = data
	}
	return files
}

// A trial with an error is shown as it last was, whatever kind of error it is, and
// comes back when that is mended.
func TestKeptKeepsTheLastGood(t *testing.T) {
	fsys := fstest.MapFS{}
	good := func() { edits(fsys, 1)["publish"]("b") }
	edits(fsys, 1)["publish"]("a")
	good()
	kept := Keep(Content{FS: fsys})
	kept.Load(nil)
	for n, wrong := range []string{"break", "empty", "stale"} {
		edits(fsys, 2+n)[wrong]("b")
		r := kept.Load([]string{"b"})
		if len(r.Problems["b"]) == 0 {
			t.Errorf("%s: no problem", wrong)
		}
		if len(r.Site.Trials) != 2 || r.Site.Trials[1].Trial.Title != "Trial 1" {
			t.Errorf("%s: not the last good version", wrong)
		}
		if !slices.Equal(r.Changed, []string{"b"}) {
			t.Errorf("%s: changed %q", wrong, r.Changed)
		}
		good()
		if r = kept.Load([]string{"b"}); len(r.Problems) > 0 || len(r.Site.Trials) != 2 {
			t.Errorf("%s, mended: %v", wrong, r.Problems)
		}
	}
	edits(fsys, 9)["break"]("c")
	if r := kept.Load(nil); len(r.Site.Trials) != 2 || len(r.Problems["c"]) == 0 || !slices.Contains(r.Slugs, "c") {
		t.Error("a trial that was never without error is shown, or not named")
	}
	fsys["kitchen.yaml"] = &fstest.MapFile{Data: []byte("nmae: x\n")}
	if r := kept.Load(nil); !r.Whole || len(r.Problems[""]) == 0 || len(r.Site.Trials) != 2 {
		t.Errorf("a kitchen with an error: %v", r.Problems)
	}
}

// counting counts what is opened.
type counting struct {
	fs.FS
	mutex  sync.Mutex
	opened map[string]int
}

func (c *counting) Open(name string) (fs.File, error) {
	c.mutex.Lock()
	c.opened[name]++
	c.mutex.Unlock()
	return c.FS.Open(name)
}

func (c *counting) Stat(name string) (fs.FileInfo, error)      { return fs.Stat(c.FS, name) }
func (c *counting) ReadDir(name string) ([]fs.DirEntry, error) { return fs.ReadDir(c.FS, name) }

func writeUnder(t *testing.T, dir, name string, data []byte) {
	t.Helper()
	file := filepath.Join(dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// Only what changed is read again.
func TestKeptReadsOnlyWhatChanged(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, data []byte) { writeUnder(t, dir, name, data) }
	for _, slug := range []string{"a", "b", "c"} {
		write(slug+"/trial.md", keptNote("Trial "+slug, "published: 2026-01-12", "", "").Data)
		write(slug+"/pieces.csv", keptLog("61").Data)
	}
	c := &counting{FS: os.DirFS(dir), opened: map[string]int{}}
	kept := Keep(Content{FS: c})
	if r := kept.Load(nil); len(r.Changed) != 3 || !r.Whole {
		t.Fatalf("the first reading: %+v", r)
	}
	read := func(touched []string) []string {
		clear(c.opened)
		r := kept.Load(touched)
		var files []string
		for name := range c.opened {
			if strings.HasSuffix(name, ".md") || strings.HasSuffix(name, ".csv") {
				files = append(files, name)
			}
		}
		slices.Sort(files)
		return append(files, r.Changed...)
	}
	if got := read(nil); len(got) > 0 {
		t.Errorf("nothing changed, yet %q were read", got)
	}
	write("b/pieces.csv", keptLog("62.5").Data)
	if got := read(nil); !slices.Equal(got, []string{"b/pieces.csv", "b/trial.md", "b"}) {
		t.Errorf("one log changed, and %q", got)
	}
	if got := read([]string{"c"}); !slices.Equal(got, []string{"c/pieces.csv", "c/trial.md"}) {
		t.Errorf("c was touched and is what it was, and %q", got)
	}
	write("a/trial.md~", nil)
	write("a/.trial.md.swp", nil)
	write("a/4913", nil)
	if got := read(nil); len(got) > 0 {
		t.Errorf("files of an editor, and %q", got)
	}
	// The same size and the same time, but another file.
	info, err := os.Stat(filepath.Join(dir, "a/trial.md"))
	if err != nil {
		t.Fatal(err)
	}
	write("new", keptNote("Trial A", "published: 2026-01-12", "", "").Data)
	if err := os.Chtimes(filepath.Join(dir, "new"), info.ModTime(), info.ModTime()); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(filepath.Join(dir, "new"), filepath.Join(dir, "a/trial.md")); err != nil {
		t.Fatal(err)
	}
	if got := read(nil); !slices.Contains(got, "a/trial.md") {
		t.Errorf("a file in the place of another, and %q", got)
	}
}

func TestEditorFile(t *testing.T) {
	for name, want := range map[string]bool{
		"trial.md": false, "pieces.csv": false, "photos": false, "2-cups.jpg": false, "probe-1.csv": false,
		".trial.md.swp": true, "trial.md~": true, "4913": true, ".#trial.md": true, "#trial.md#": true,
		"~$log.xlsx": true, "trial.md.tmp": true, "trial.md.bak": true, "": true,
	} {
		if EditorFile(name) != want {
			t.Errorf("EditorFile(%q) = %t", name, !want)
		}
	}
}
