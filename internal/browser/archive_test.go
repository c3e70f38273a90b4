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

// TestArchive looks for trials in an archive that stands on many pages.
func TestArchive(t *testing.T) {
	asked(t)
	var problems problem.List
	s := site.Load(site.Content{FS: jars(), Shown: "content"}, &problems)
	if problems.Errors() > 0 {
		t.Fatal(problems.Sorted()[0])
	}
	pages, err := page.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	var gone atomic.Bool
	root := serveOutputs(t, site.Plan(s, site.Look{Pages: pages}), "archive/2024/", &gone)
	p := newTab(t, startChromium(t, browserProgram(t)))
	visit(t, p, root+"archive/")

	look := func(what string, shown int, count string, parts int) {
		t.Helper()
		p.wait(t, "document.getElementById('filter-count').textContent === `"+count+"`")
		var n int
		if p.run(t, `[...document.querySelectorAll(".trial-list > .trial")].filter((row) => row.checkVisibility()).length`, &n); n != shown {
			t.Errorf("%s: %d trials are shown, want %d", what, n, shown)
		}
		got := 0
		for _, address := range p.requests() {
			if strings.HasPrefix(address, root+"archive/2") && strings.HasSuffix(address, "/") {
				got++
			}
		}
		if got != parts {
			t.Errorf("%s: %d pages of the archive were fetched, want %d: %q", what, got, parts, p.requests())
		}
	}
	newest := "The newest 100 of 480 trials. A filter or a search looks through all of them."
	look("opened", 100, newest, 0)

	// A year fetches that year alone; whatever varied fetches the rest.
	p.run(t, choose("year", "2022"), nil)
	look("a year", 10, "10 of 480 trials", 1)
	p.run(t, choose("factor", "lid"), nil)
	look("nothing in that year", 0, "No trial matches.", 1)
	p.run(t, choose("year", ""), nil)
	look("a factor", 470, "470 of 480 trials", 14)
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
	look("put back", 100, newest, 14)
	if got := p.text(t, "#trials"); got != "The newest 100 trials" {
		t.Errorf("they are called %q", got)
	}
	if noise := p.noise(); len(noise) > 0 {
		t.Errorf("%q", noise)
	}

	// An address with a search in it looks for a word that only the note has.
	visit(t, p, root+"archive/?q=word473")
	look("a word", 1, "1 of 480 trials", 14)
	if got := p.text(t, `.trial-list > .trial:not([hidden]) h3`); got != "Jar 473" {
		t.Errorf("found %q", got)
	}
	if got := p.text(t, "#trials"); got != "Trials that match" {
		t.Errorf("they are called %q", got)
	}
	keepShots(t, p, "divided-searched")
	if noise := p.noise(); len(noise) > 0 {
		t.Errorf("%q", noise)
	}

	// Where pages cannot be fetched, it says so and leads to the years; later it goes on.
	gone.Store(true)
	visit(t, p, root+"archive/?factor=salt")
	look("half gone", 0, "0 fit. Looked through 410 of 480 only: the other pages of the archive could not be fetched.", 13)
	p.wait(t, `document.querySelector('#filter-more a[href="#years"]').checkVisibility()`)
	keepShots(t, p, "divided-stuck")
	gone.Store(false)
	p.run(t, choose("measure", "pass-or-fail"), nil)
	look("back again", 10, "10 of 480 trials", 14)

	for _, at := range []string{"archive/", "archive/2025/", "archive/2025/04/", "archive/2022/"} {
		visit(t, p, root+at)
		for _, w := range checkFits(t, p) {
			t.Errorf("%s fits: %s", at, w)
		}
		keepShots(t, p, "divided-"+at)
		for _, w := range checkAccessible(t, p, axeSource(t)) {
			t.Errorf("%s accessible: %s", at, w)
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
