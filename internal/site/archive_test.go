package site

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"path"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
)

// contentOf returns the bytes of an output.
func contentOf(t testing.TB, outputs []Output, path string) string {
	t.Helper()
	i := slices.IndexFunc(outputs, func(o Output) bool { return o.Path == path })
	if i < 0 {
		t.Fatalf("no output %s", path)
	}
	data, err := outputs[i].Make()
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// kettles is a kitchen of invented trials of one recipe. Every tenth trial repeats
// the one before it.
func kettles(n int) fstest.MapFS {
	content := fstest.MapFS{"kitchen.yaml": {Data: []byte("name: Many kettles\n")}}
	factors := []string{"rest", "lid", "pot", "stir", "soak", "rinse"}
	grains := []string{"millet", "white rice", "brown rice", "rolled oats", "pearled barley", "quinoa", "bulgur"}
	for i := range n {
		slug := fmt.Sprintf("kettle-%04d", i)
		factor := factors[i%len(factors)]
		repeats := ""
		if i%10 == 9 {
			repeats = fmt.Sprintf("repeats: kettle-%04d\n", i-1)
			factor = factors[(i-1)%len(factors)]
		}
		note := fmt.Sprintf(`---
title: Kettle trial %d, does %s matter for a pot of grain?
question: Does it stay whole when the %s is another one, in the %d. trial of the kind?
published: %d-%02d-%02d
%srecipe:
  name: Pot of grain
  ingredients: {grain: 300 g %s, water: 720 g water, salt: 5 g table salt}
conditions: {rest: short, lid: on top, pot: iron, stir: never, soak: overnight, rinse: twice}
samples:
  plain: {name: As always, control: true}
  other: {name: The other way, change: {%s: the other way}}
measures: {whole: {kind: pass or fail, asks: grains keep their shape, primary: true}}
verdict: {prefer: other, because of: [whole], in words: The other way kept more of them whole in trial %d.}
---

Invented prose about the kettle: it whistled at noon, the kitchen was cold, and word%d stands in no other note.
%s
`, i, factor, factor, i, 2016+i%11, 1+i%12, 1+i%28, repeats, grains[i%len(grains)], factor, i, i,
			strings.Repeat("The cook wrote a good deal more than the list can show, as cooks do when they are asked. ", 6))
		log := "sample,piece,whole\n"
		for piece := range 6 {
			outcome := []string{"pass", "fail"}
			log += fmt.Sprintf("plain,%d,%s\nother,%d,%s\n", piece+1, outcome[(i+piece)%2], piece+1, outcome[(i+piece)%5/4])
		}
		content[slug+"/trial.md"] = &fstest.MapFile{Data: []byte(note)}
		content[slug+"/pieces.csv"] = &fstest.MapFile{Data: []byte(log)}
	}
	return content
}

// TestArchive: the list holds every trial with what the filters go by; the words that
// it does not show are in the search file, and only those.
func TestArchive(t *testing.T) {
	outputs := plan(t, Content{FS: kettles(40), Shown: "content"})
	html := contentOf(t, outputs, "archive/index.html")
	if got := strings.Count(html, `<li class="trial" data-slug=`); got != 40 {
		t.Errorf("%d trials in the list, want 40", got)
	}
	for _, want := range []string{
		`data-slug="kettle-0009" data-factor="pot" data-ingredient="brown-rice water table-salt" data-measure="pass-or-fail" data-year="2025"`,
		`<option value="pot">pot (9)</option>`,
		`<option value="brown-rice">brown rice (6)</option>`,
		`<option value="pass-or-fail">pass or fail (40)</option>`,
		`<option value="2026">2026 (3)</option>`,
		`<a href="../factors/soak/">soak</a>`,
		`data-words="search.json" hidden>`,
	} {
		if !strings.Contains(html, want) {
			t.Errorf("the archive lacks %s", want)
		}
	}
	script := html[strings.Index(html, "<script src="):]
	script = strings.TrimPrefix(script[:strings.Index(script, " defer>")], `<script src="../`)
	if js := contentOf(t, outputs, strings.TrimSuffix(script, `"`)); !strings.Contains(js, "filter-count") {
		t.Error("the script is not the archive's")
	}
	var words map[string]string
	if err := json.Unmarshal([]byte(contentOf(t, outputs, "archive/search.json")), &words); err != nil {
		t.Fatal(err)
	}
	mine := strings.Fields(words["kettle-0009"])
	for _, want := range []string{"word9", "whistled", "rice", "always"} {
		if !slices.Contains(mine, want) {
			t.Errorf("the search does not know %q of that note: %q", want, mine)
		}
	}
	for _, not := range []string{"pot", "kettle", "samples", "word8"} {
		if slices.Contains(mine, not) {
			t.Errorf("the search repeats %q, or has it from another note", not)
		}
	}
}

// TestRepeats: a repeat is linked both ways, and on the page of its factor.
func TestRepeats(t *testing.T) {
	outputs := plan(t, Content{FS: kettles(40), Shown: "content"})
	for path, want := range map[string]string{
		"kettle-0009/index.html":        `<dt>Repeats</dt><dd><a href="../kettle-0008/">Kettle trial 8, does pot matter for a pot of grain?</a></dd>`,
		"kettle-0008/index.html":        `<dt>Repeated by</dt><dd><a href="../kettle-0009/">Kettle trial 9, does pot matter for a pot of grain?</a></dd>`,
		"factors/pot/index.html":        `Repeats <a href="../../kettle-0008/">Kettle trial 8, does pot matter for a pot of grain?</a>`,
		"ingredients/quinoa/index.html": `<a href="../../kettle-0005/">`,
		"factors/index.html":            `<a href="pot/">pot</a> <span class="row-date">9 trials</span>`,
		"ingredients/index.html":        `<a href="millet/">millet</a> <span class="row-date">6 trials</span>`,
	} {
		if html := contentOf(t, outputs, path); !strings.Contains(html, want) {
			t.Errorf("%s lacks %s", path, want)
		}
	}
	if html := contentOf(t, outputs, "factors/pot/index.html"); !strings.Contains(html, "Together, the other way against iron: ") {
		t.Error("the trials are not added up")
	}
}

// TestManyTrials: what 5,000 trials make of the archive, as the largest files that a reader
// fetches. The bounds are about twice what was measured.
func TestManyTrials(t *testing.T) {
	outputs := planOf(t, 5000)
	most := map[string]int{"index.html": 24_000, searchFile: 4_000}
	largest, pages := map[string]int{}, 0
	for _, o := range outputs {
		if !strings.HasPrefix(o.Path, archivePage) {
			continue
		}
		pages++
		kind := path.Base(o.Path)
		packed := gzipped(t, contentOf(t, outputs, o.Path))
		largest[kind] = max(largest[kind], packed)
		if packed > most[kind] {
			t.Errorf("%s has %d bytes compressed, more than %d", o.Path, packed, most[kind])
		}
	}
	t.Logf("%d files; compressed at most %v", pages, largest)
}

// siteOf has n trials: sixty that are read, and copies of them under other names.
func siteOf(t testing.TB, n int) *Site {
	t.Helper()
	var problems problem.List
	s := Load(Content{FS: kettles(60), Shown: "content"}, &problems)
	if problems.Errors() > 0 {
		t.Fatal(problems.Sorted())
	}
	for i := 60; i < n; i++ {
		like := s.Trials[i%60]
		f := *like.Findings
		read := *f.Trial
		read.Slug = fmt.Sprintf("kettle-%04d", i)
		read.Title = fmt.Sprintf("Kettle trial %d, once more: %s", i, read.Title)
		f.Trial = &read
		says := func() said { return saidBy(&f) }
		s.Trials = append(s.Trials, &Entry{Findings: &f, says: says, account: like.account, samplePhotos: like.samplePhotos})
	}
	all := s.Trials
	s.Trials = nil
	s.arrange(all)
	return s
}

func planOf(t testing.TB, n int) []Output {
	t.Helper()
	pages, err := page.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return Plan(siteOf(t, n), Look{Pages: pages})
}

func gzipped(t testing.TB, data string) int {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	if _, err := w.Write([]byte(data)); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Len()
}

func BenchmarkArchiveOf5000(b *testing.B) {
	outputs := planOf(b, 5000)
	for b.Loop() {
		contentOf(b, outputs, "archive/index.html")
	}
}

// BenchmarkSaidOf60 is what other pages know of trials, put together.
func BenchmarkSaidOf60(b *testing.B) {
	s := siteOf(b, 60)
	for b.Loop() {
		for _, e := range s.Trials {
			saidBy(e.Findings)
		}
	}
}

// BenchmarkOverviewOf5000 is what evidence over all trials adds to every run.
func BenchmarkOverviewOf5000(b *testing.B) {
	s := siteOf(b, 5000)
	for b.Loop() {
		if o := s.bound(testLook(b)).overview(); len(o.factors) != 6 {
			b.Fatal(len(o.factors))
		}
	}
}
