package browser

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/site"
)

// jars is a kitchen of invented trials, so many that its archive is divided by years, and
// one year by months: 410 of 2025, 60 of 2024, 10 of 2022.
func jars() fstest.MapFS {
	content := fstest.MapFS{"kitchen.yaml": {Data: []byte("name: Many jars\n")}}
	for i := range 480 {
		published, factor := fmt.Sprintf("2025-%02d-%02d", 12-i/35, 28-i%28), "lid"
		switch {
		case i >= 470:
			published, factor = fmt.Sprintf("2022-05-%02d", 481-i), "salt"
		case i >= 410:
			published = fmt.Sprintf("2024-%02d-07", 12-(i-410)/6)
		}
		content[fmt.Sprintf("jar-%03d/trial.md", i)] = &fstest.MapFile{Data: fmt.Appendf(nil, `---
title: Jar %d
question: Does the %s matter?
published: %s
recipe: {name: Jar of grain, ingredients: {grain: 300 g millet, water: 720 g water}}
conditions: {lid: open, salt: none}
samples:
  plain: {name: As always, control: true}
  other: {name: The other way, change: {%s: another}}
measures: {whole: {kind: pass or fail, asks: grains keep their shape, primary: true}}
---

Only here stands word%d.
`, i, factor, published, factor, i)}
		content[fmt.Sprintf("jar-%03d/pieces.csv", i)] = &fstest.MapFile{Data: []byte("sample,piece,whole\nplain,1,pass\nother,1,pass\n")}
	}
	return content
}

// serveOutputs serves a site that lies in no folder: each file is made when it is asked
// for. While a folder is gone, nothing is found below it.
func serveOutputs(t *testing.T, outputs []site.Output, folder string, gone *atomic.Bool) string {
	t.Helper()
	made := map[string]func() ([]byte, error){}
	for _, o := range outputs {
		made[o.Path] = o.Make
	}
	types := map[string]string{"html": "text/html; charset=utf-8", "css": "text/css", "js": "text/javascript", "svg": "image/svg+xml", "json": "application/json"}
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		at := strings.TrimPrefix(r.URL.Path, "/")
		if at == "" || strings.HasSuffix(at, "/") {
			at += "index.html"
		}
		if made[at] == nil || gone.Load() && strings.HasPrefix(at, folder) {
			http.NotFound(w, r)
			return
		}
		data, err := made[at]()
		if err != nil {
			t.Error(err)
		}
		w.Header().Set("Content-Security-Policy", policy)
		w.Header().Set("Content-Type", types[at[strings.LastIndex(at, ".")+1:]])
		if _, err := w.Write(data); err != nil {
			t.Log(err)
		}
	}))
	t.Cleanup(server.Close)
	return server.URL + "/"
}

// jarSite serves the site of the jars, and opens a tab on its archive.
func jarSite(t *testing.T, gone *atomic.Bool) (root string, p *tab) {
	t.Helper()
	var problems problem.List
	pages, err := page.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	content := site.Content{FS: jars(), Shown: "content"}
	x := site.Surveyor{Content: content, Kitchen: site.ReadKitchen(content, &problems), Look: site.Look{Pages: pages}}.Survey(&problems)
	if problems.Errors() > 0 {
		t.Fatal(problems.Sorted()[0])
	}
	root = serveOutputs(t, site.All(x.Plan()), "archive/2024/", gone)
	p = newTab(t, startChromium(t, browserProgram(t)))
	visit(t, p, root+"archive/")
	return root, p
}

// listed is what a reader finds: how many trials are shown, what is said of their number,
// and how many pages of years and months have been fetched since the page was opened.
type listed struct {
	shown, fetched int
	count          string
}

// expect waits for the number that is said, and compares the rest.
func (want listed) expect(t *testing.T, p *tab, what string) {
	t.Helper()
	p.wait(t, "document.getElementById('filter-count').textContent === `"+want.count+"`")
	got := listed{count: want.count}
	p.run(t, `[...document.querySelectorAll(".trial-list > .trial")].filter((row) => row.checkVisibility()).length`, &got.shown)
	for _, address := range p.requests() {
		if strings.Contains(address, "/archive/2") && strings.HasSuffix(address, "/") {
			got.fetched++
		}
	}
	if got != want {
		t.Errorf("%s: %d trials of %d pages, want %d of %d: %q", what, got.shown, got.fetched, want.shown, want.fetched, p.requests())
	}
}

// newestJars is what the archive says before anything is chosen.
const newestJars = "The newest 100 of 480 trials. A filter or a search looks through all of them."

// TestArchiveFilters chooses in an archive that stands on many pages.
func TestArchiveFilters(t *testing.T) {
	asked(t)
	root, p := jarSite(t, new(atomic.Bool))
	listed{100, 0, newestJars}.expect(t, p, "opened")

	// A year fetches that year alone; whatever varied fetches the rest.
	p.run(t, choose("year", "2022"), nil)
	listed{10, 1, "10 of 480 trials"}.expect(t, p, "a year")
	p.run(t, choose("factor", "lid"), nil)
	listed{0, 1, "No trial matches."}.expect(t, p, "nothing in that year")
	p.run(t, choose("year", ""), nil)
	listed{470, 14, "470 of 480 trials"}.expect(t, p, "a factor")
	var order string
	p.run(t, `(() => {
		const days = [...document.querySelectorAll(".trial-list > .trial time")].map((time) => time.dateTime);
		const slugs = new Set([...document.querySelectorAll(".trial-list > .trial")].map((row) => row.dataset.slug));
		return days.length + " rows, " + slugs.size + " trials, newest first: " + days.every((day, i) => !i || day <= days[i - 1]);
	})()`, &order)
	if order != "480 rows, 480 trials, newest first: true" {
		t.Error(order)
	}
	var address string
	if p.run(t, `document.querySelector('[data-slug="jar-475"] h3 a').href`, &address); address != root+"jar-475/" {
		t.Errorf("a trial that was fetched leads to %s", address)
	}
	p.run(t, pressed(`#filters button`), nil)
	listed{100, 14, newestJars}.expect(t, p, "put back")
	if got := p.text(t, "#trials"); got != "The newest 100 trials" {
		t.Errorf("they are called %q", got)
	}
	if noise := p.noise(); len(noise) > 0 {
		t.Errorf("%q", noise)
	}
}

// TestArchiveSearch opens an address with a search in it, for a word that only the note
// has, and one whose pages cannot all be fetched.
func TestArchiveSearch(t *testing.T) {
	asked(t)
	var gone atomic.Bool
	root, p := jarSite(t, &gone)
	visit(t, p, root+"archive/?q=word473")
	listed{1, 14, "1 of 480 trials"}.expect(t, p, "a word")
	if got := p.text(t, `.trial-list > .trial:not([hidden]) h3`); got != "Jar 473" {
		t.Errorf("found %q", got)
	}
	if got := p.text(t, "#trials"); got != "Trials that match" {
		t.Errorf("they are called %q", got)
	}
	if noise := p.noise(); len(noise) > 0 {
		t.Errorf("%q", noise)
	}
	keepShots(t, p, "divided-searched")

	// Where pages cannot be fetched, it says so and leads to the years; later it goes on.
	gone.Store(true)
	visit(t, p, root+"archive/?factor=salt")
	listed{0, 13, "0 fit. Looked through 410 of 480 only: the other pages of the archive could not be fetched."}.expect(t, p, "half gone")
	p.wait(t, `document.querySelector('#filter-more a[href="#years"]').checkVisibility()`)
	keepShots(t, p, "divided-stuck")
	gone.Store(false)
	p.run(t, choose("measure", "pass-or-fail"), nil)
	listed{10, 14, "10 of 480 trials"}.expect(t, p, "back again")
}

// TestArchivePages looks at the pages of a divided archive as at those of the demo.
func TestArchivePages(t *testing.T) {
	asked(t)
	axe := axeSource(t)
	root, p := jarSite(t, new(atomic.Bool))
	for _, at := range []string{"archive/", "archive/2025/", "archive/2022/"} {
		visit(t, p, root+at)
		keepShots(t, p, "divided-"+at)
		for check, wrong := range map[string][]string{"fits": checkFits(t, p), "accessible": checkAccessible(t, p, axe), "quiet": checkQuiet(t, p)} {
			for _, w := range wrong {
				t.Errorf("%s %s: %s", at, check, w)
			}
		}
		visit(t, p, root+at)
		for _, w := range checkScriptless(t, p, root+at) {
			t.Errorf("%s without scripts: %s", at, w)
		}
	}
}

// choose is what somebody does who chooses in a list.
func choose(name, value string) string {
	return "(() => { const f = document.querySelector(`#filter-" + name + "`); f.value = `" + value + "`; f.dispatchEvent(new Event('change')) })()"
}
