package page

import (
	"flag"
	"html/template"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden files anew")

// rendered is one page of the fake site.
type rendered struct {
	name string
	html []byte
}

func fakePages(t *testing.T, r *Renderer) []rendered {
	t.Helper()
	var all []rendered
	add := func(name string, html []byte, err error) {
		t.Helper()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		all = append(all, rendered{name, html})
	}
	html, err := r.Home(fakeHome())
	add("index.html", html, err)
	html, err = r.WriteUp(fakeWriteUp())
	add("oat-biscuits/index.html", html, err)
	html, err = r.WriteUp(fakeMany())
	add("many/index.html", html, err)
	html, err = r.WriteUp(fakeFew())
	add("few/index.html", html, err)
	html, err = r.Recipe(fakeRecipe())
	add("oat-biscuits/recipe/index.html", html, err)
	html, err = r.Data(fakeData())
	add("oat-biscuits/data/index.html", html, err)
	html, err = r.Archive(fakeArchive())
	add("archive/index.html", html, err)
	html, err = r.Archive(fakeYear())
	add("archive/2026/index.html", html, err)
	var measures []template.HTML
	for _, m := range fakeFactorMeasures() {
		measure, err := r.FactorMeasure("en", m)
		if err != nil {
			t.Fatal(err)
		}
		measures = append(measures, measure)
	}
	html, err = r.Factor(fakeFactor(measures...))
	add("factors/rest/index.html", html, err)
	html, err = r.Ingredient(fakeIngredient())
	add("ingredients/oats/index.html", html, err)
	html, err = r.Names(fakeNames())
	add("factors/index.html", html, err)
	html, err = r.Methods(fakeMethods())
	add("methods/index.html", html, err)
	html, err = r.NotFound(fakeNotFound())
	add("404.html", html, err)
	return all
}

func mustNew(t *testing.T) *Renderer {
	t.Helper()
	r, err := New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestGolden compares every page with the one that was looked at last. The
// folder testdata/site is a small site of its own: open it in a browser, or give
// it to a validator.
func TestGolden(t *testing.T) {
	r := mustNew(t)
	pages := fakePages(t, r)
	pages = append(pages, rendered{"styles.css", r.Styles()}, rendered{"icon.svg", r.Icon()}, rendered{"archive.js", r.ArchiveScript()})
	for _, p := range pages {
		file := filepath.Join("testdata", "site", filepath.FromSlash(p.name))
		if *update {
			if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(file, p.html, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(want), string(p.html)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", p.name, diff)
		}
	}
}
