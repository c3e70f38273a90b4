package site

import (
	"bytes"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"golang.org/x/net/html"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/testkit"
)

// kitchens are the demo and the small kitchens that are in order.
func kitchens(t testing.TB) map[string]string {
	t.Helper()
	all := map[string]string{"demo": "../../content"}
	files, err := filepath.Glob("../../testdata/kitchens/*/kitchen.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		folder := filepath.Dir(file)
		all[filepath.Base(folder)] = folder
	}
	if len(all) < 4 {
		t.Fatalf("only %d kitchens", len(all))
	}
	return all
}

// plan loads a kitchen and lists its outputs. It fails on any error in the notes.
func plan(t testing.TB, content Content) []Output {
	t.Helper()
	var problems problem.List
	s := Load(content, &problems)
	for _, p := range problems.Sorted() {
		if p.Weight == problem.Error {
			t.Errorf("unexpected problem: %s", p)
		}
	}
	pages, err := page.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	methods, err := page.MethodTexts(nil, "en")
	if err != nil {
		t.Fatal(err)
	}
	return Plan(s, Look{Pages: pages, Methods: methods})
}

// TestResults holds the computed results of every kitchen against golden files:
// the whole way from note and log to results.json.
func TestResults(t *testing.T) {
	for name, folder := range kitchens(t) {
		for _, o := range plan(t, Content{FS: os.DirFS(folder), Shown: "content"}) {
			if filepath.Base(o.Path) != resultsFile || strings.HasPrefix(o.Path, schemasFolder) {
				continue
			}
			t.Run(name+"/"+strings.Split(o.Path, "/")[0], func(t *testing.T) {
				data, err := o.Make()
				if err != nil {
					t.Fatal(err)
				}
				testkit.Golden(t, "testdata/results/"+name+"-"+strings.Split(o.Path, "/")[0]+".json", data)
			})
		}
	}
}

// TestSameBytes makes every output twice, from two readings of the notes.
func TestSameBytes(t *testing.T) {
	for name, folder := range kitchens(t) {
		t.Run(name, func(t *testing.T) {
			first := plan(t, Content{FS: os.DirFS(folder), Shown: "content"})
			second := plan(t, Content{FS: os.DirFS(folder), Shown: "elsewhere/content"})
			if len(first) != len(second) {
				t.Fatalf("%d outputs, then %d", len(first), len(second))
			}
			for i, o := range first {
				if raced && strings.HasSuffix(o.Path, ".jpg") {
					continue // resized in loops over numbers; .ci/run compares them without
				}
				a, errA := o.Make()
				b, errB := second[i].Make()
				if errA != nil || errB != nil {
					t.Fatalf("%s: %v, %v", o.Path, errA, errB)
				}
				if o.Path != second[i].Path || !bytes.Equal(a, b) {
					t.Errorf("%s differs from one reading to the next", o.Path)
				}
			}
		})
	}
}

// TestLinks follows every address and anchor of every page of every kitchen.
func TestLinks(t *testing.T) {
	for name, folder := range kitchens(t) {
		t.Run(name, func(t *testing.T) {
			pages := map[string]pageLinks{}
			var paths []string
			for _, o := range plan(t, Content{FS: os.DirFS(folder), Shown: "content"}) {
				paths = append(paths, o.Path)
				if !strings.HasSuffix(o.Path, ".html") {
					continue
				}
				data, err := o.Make()
				if err != nil {
					t.Fatal(err)
				}
				pages[o.Path] = linksOf(t, data)
			}
			for path, p := range pages {
				for _, id := range p.doubled {
					t.Errorf("%s: the id %q stands twice", path, id)
				}
				for _, to := range p.to {
					checkLink(t, path, to, paths, pages)
				}
			}
		})
	}
}

type pageLinks struct {
	to, ids, doubled []string
}

func linksOf(t *testing.T, data []byte) pageLinks {
	t.Helper()
	doc, err := html.Parse(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	var p pageLinks
	for n := range doc.Descendants() {
		for _, a := range n.Attr {
			switch {
			case a.Key == "id" && slices.Contains(p.ids, a.Val):
				p.doubled = append(p.doubled, a.Val)
			case a.Key == "id":
				p.ids = append(p.ids, a.Val)
			case a.Key == "href" || a.Key == "src":
				to, err := url.PathUnescape(a.Val)
				if err != nil {
					t.Errorf("the address %q: %v", a.Val, err)
				}
				p.to = append(p.to, to)
			case a.Key == "srcset":
				for choice := range strings.SplitSeq(a.Val, ", ") {
					file, _, _ := strings.Cut(choice, " ")
					p.to = append(p.to, file)
				}
			}
		}
	}
	return p
}

func checkLink(t *testing.T, from, to string, paths []string, pages map[string]pageLinks) {
	t.Helper()
	if strings.HasPrefix(to, "https://") || strings.HasPrefix(to, "mailto:") {
		return
	}
	target, fragment, _ := strings.Cut(to, "#")
	path := from
	switch {
	case strings.HasPrefix(target, "/"): // the page for unknown addresses
		path = strings.TrimPrefix(target, "/")
	case target != "":
		path = filepath.ToSlash(filepath.Join(filepath.Dir(from), target))
		if strings.HasSuffix(target, "/") {
			path += "/"
		}
	}
	path = strings.TrimPrefix(path, "./")
	if path == "" || path == "." || strings.HasSuffix(path, "/") {
		path = strings.TrimPrefix(strings.TrimPrefix(path+"index.html", "./"), ".")
	}
	if !slices.Contains(paths, path) {
		t.Errorf("%s links to %q, which is not there", from, to)
		return
	}
	if fragment != "" && !slices.Contains(pages[path].ids, fragment) {
		t.Errorf("%s links to %q, an anchor that is not there", from, to)
	}
}

// TestFolders: what may be a trial's folder, and what is passed over.
func TestFolders(t *testing.T) {
	note := &fstest.MapFile{Data: []byte("---\ntitle: x\n---\n")}
	content := fstest.MapFS{
		"kitchen.yaml":            {Data: nil},
		"rye/trial.md":            note,
		"crème-brûlée/trial.md":   note,
		"archive/trial.md":        note,
		"schemas/trial.md":        note,
		"Upper/trial.md":          note,
		"two words/trial.md":      note,
		".hidden/trial.md":        note,
		"without/other.md":        note,
		"a-file.md":               note,
		"rye/photos/not-a-folder": {Data: nil},
	}
	var problems problem.List
	s := &reader{content: Content{FS: content, Shown: "content"}}
	got := s.trials(&problems)
	if want := []string{"crème-brûlée", "rye"}; !slices.Equal(got, want) {
		t.Errorf("folders %q, want %q", got, want)
	}
	var said []string
	for _, p := range problems.Sorted() {
		said = append(said, p.Pos.File)
	}
	if want := []string{"content/Upper", "content/archive", "content/schemas", "content/two words", "content/without"}; !slices.Equal(said, want) {
		t.Errorf("problems about %q, want %q", said, want)
	}
}
