package site

import (
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/prose"
)

// TestCitable: everything that is listed for any trial of any kitchen, pasted into its
// note, is answered by the prose without a problem, and is then listed as cited.
func TestCitable(t *testing.T) {
	tried := map[string]int{}
	for name, folder := range kitchens(t) {
		var ignored problem.List
		s := Load(Content{FS: os.DirFS(folder), Shown: name}, &ignored)
		for _, e := range slices.Concat(s.Trials, s.InProgress) {
			checkPasted(t, e.Findings, tried)
		}
	}
	if tried["figure"] < 20 || tried["table"] < 20 || tried["value"] < 200 {
		t.Errorf("only %v were tried", tried)
	}
}

// TestCitableNames: names with everything in them that ends an address or is read as
// something else.
func TestCitableNames(t *testing.T) {
	note := `---
title: T
question: Q?
recipe:
  name: R
  ingredients: {"rice (50 % & more)": 200 g white rice}
samples:
  "a <b>": {control: true}
  "a, c": {}
measures:
  "side (1) \\ 2": {kind: time}
  "shares": {kind: yes or no}
---
`
	log := `sample,piece,side (1) \ 2,shares
a <b>,1,40,yes
"a, c",1,50,no
`
	var problems problem.List
	s := Load(Content{FS: fstest.MapFS{
		"odd/trial.md":   {Data: []byte(note)},
		"odd/pieces.csv": {Data: []byte(log)},
	}, Shown: "content"}, &problems)
	for _, p := range problems.Sorted() {
		if p.Weight == problem.Error {
			t.Fatal(p)
		}
	}
	tried := map[string]int{}
	checkPasted(t, s.InProgress[0].Findings, tried)
	if tried["value"] < 17 || tried["figure"] < 2 {
		t.Errorf("only %v were tried", tried)
	}
}

func checkPasted(t *testing.T, f *findings.Findings, tried map[string]int) {
	t.Helper()
	all, _ := Citations("k", f)
	var source strings.Builder
	for _, c := range all {
		source.WriteString(c.Markdown + "\n\n")
		scheme, _, _ := strings.Cut(c.Address, ":")
		tried[scheme]++
		if c.What == "" || (scheme == "value") == (c.Text == "") {
			t.Errorf("%s: %+v", f.Trial.Slug, c)
		}
	}
	pasted := *f.Trial
	pasted.Prose = []byte(source.String())
	again := *f
	again.Trial = &pasted
	listed, wrong := Citations("k", &again)
	for _, d := range wrong {
		t.Errorf("%s: %+v", f.Trial.Slug, d)
	}
	for _, c := range listed {
		if len(c.Cited) != 1 {
			t.Errorf("%s: %s is cited at %v", f.Trial.Slug, c.Address, c.Cited)
		}
	}
	var problems problem.List
	r := &resolver{entry: &Entry{Findings: &again}}
	prose.Render(prose.Doc{File: "n", Source: pasted.Prose}, r, &problems)
	for _, p := range problems.Sorted() {
		t.Errorf("%s: %s", f.Trial.Slug, p)
	}
	if want := tried["figure"] + tried["table"]; len(r.placed) == 0 || len(r.placed) > want {
		t.Errorf("%s: %d figures and tables were placed", f.Trial.Slug, len(r.placed))
	}
}

// TestDisagreements: what the prose says and what the log says, with the place.
func TestDisagreements(t *testing.T) {
	var problems problem.List
	s := Load(Content{FS: os.DirFS("../../content"), Shown: "content"}, &problems)
	at := slices.IndexFunc(s.Trials, func(e *Entry) bool { return e.Trial.Slug == "rested-oat-batter" })
	changed := *s.Trials[at].Trial
	changed.Prose = []byte("Now [4 of 7](value:fresh/flips-clean), [3/7](value:fresh/flips-clean).\n\n![x](figure:cook-tim)\n\n![x](table:outcomes)\n")
	f := *s.Trials[at].Findings
	f.Trial = &changed
	_, got := Citations("content", &f)
	if len(got) != 2 {
		t.Fatalf("%+v", got)
	}
	if d := got[0]; d.Written != "4 of 7" || d.Now != "3 of 7" || d.Pos.Line != changed.ProseLine || d.Pos.Column != 5 || d.Address != "value:fresh/flips-clean" {
		t.Errorf("%+v", d)
	}
	if d := got[1]; d.Now != "" || d.What != `there is no figure "cook-tim"` || d.Hint != "did you mean cook time?" || d.Pos.File != "content/rested-oat-batter/trial.md" {
		t.Errorf("%+v", d)
	}
}
