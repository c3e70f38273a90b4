package writeup

import (
	"fmt"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// lids are two invented trials of a lid; the second has its control the other way
// round, and a triangle test.
func lids(t *testing.T) []*findings.Study {
	t.Helper()
	note := func(title, day, control string) string {
		other := map[string]string{"on": "off", "off": "on"}[control]
		return fmt.Sprintf(`---
title: %s
question: Q?
cooked: 2026-01-%s
recipe: {name: Millet, ingredients: {grain: 300 g millet, water: 720 g water}}
conditions: {lid: "%s"}
samples:
  usual: {name: Usual, control: true}
  other: {name: Other, change: {lid: "%s", water: 700 g water}}
  lid: {name: Lid, change: {lid: "%s"}}
measures:
  whole: {kind: pass or fail, asks: keeps its shape, primary: true}
  told: {kind: triangle, compares: [usual, lid]}
---
`, title, day, control, other, other)
	}
	log := "sample,piece,whole\nusual,1,pass\nusual,2,fail\nusual,3,fail\nusual,4,fail\nlid,1,pass\nlid,2,pass\nlid,3,pass\nlid,4,fail\nother,1,pass\nother,2,fail\n"
	turned := "sample,piece,whole\nusual,1,pass\nusual,2,pass\nusual,3,pass\nusual,4,fail\nusual,5,pass\nlid,1,fail\nlid,2,pass\nlid,3,fail\nlid,4,fail\n"
	content := fstest.MapFS{
		"first/trial.md": {Data: []byte(note("First", "02", "on"))}, "first/pieces.csv": {Data: []byte(log)},
		"first/told.csv":  {Data: []byte("assessor,set,odd,picked\nA,1,111,111\nB,2,222,222\nC,3,333,444\n")},
		"second/trial.md": {Data: []byte(note("Second", "09", "off"))}, "second/pieces.csv": {Data: []byte(turned)},
	}
	var all []*findings.Study
	for _, slug := range []string{"second", "first"} {
		var problems problem.List
		read := trial.Read(trial.Folder{FS: content, Slug: slug}, kitchen.Default(), &problems)
		if read == nil || problems.Errors() > 0 && slug == "first" {
			t.Fatal(problems.Sorted())
		}
		s := findings.Of(read).Study()
		all = append(all, &s)
	}
	return all
}

// TestFactor: rows oldest first and in one direction, the confounded ones behind;
// a discrimination test as answers; the sum beside them.
func TestFactor(t *testing.T) {
	all := findings.EvidenceOf(lids(t))
	e := all[len(all)-1]
	v := Factor(e, nil)
	if v.Name != "lid" || v.Count != "2 trials, 3 contrasts" {
		t.Errorf("%s: %s", v.Name, v.Count)
	}
	whole := FactorMeasure(e.Measures[0], 0, nil)
	if whole.Measure != "whole" || whole.Asks != "keeps its shape" || len(whole.Sums) != 1 {
		t.Fatalf("%+v", whole)
	}
	s := whole.Sums[0]
	if s.Of != "off" || s.Against != "on" || s.Difference != "+53 points" || s.Trials != "2 trials" || s.Readings != "17 pieces" || s.Why != "" {
		t.Errorf("the sum is %+v", s)
	}
	type row struct{ number, trial, of, against, difference, rests, also string }
	var got []row
	for _, r := range whole.Rows {
		got = append(got, row{r.Number, r.Trial.Href, r.Of, r.Against, r.Difference, r.Rests, fmt.Sprint(r.Also)})
	}
	want := []row{
		{"1", "first", "off", "on", "+50 points", "4 against 4 pieces", "[]"},
		{"2", "second", "off", "on", "+55 points", "5 against 4 pieces", "[]"},
		{"3", "first", "off", "on", "+25 points", "2 against 4 pieces", "[water]"},
	}
	if diff := cmp.Diff(want, got, cmp.AllowUnexported(row{})); diff != "" {
		t.Errorf("rows (-want +got):\n%s", diff)
	}
	told := FactorMeasure(e.Measures[1], 1, nil).Rows[0]
	if told.Difference != "2 of 3 right" || told.Rests != "3 tasters" || told.Interval != "p 0.26" {
		t.Errorf("the triangle test is %+v", told) // P(2 or 3 of 3 by chance of 1/3) = 7/27
	}
}

func TestIngredient(t *testing.T) {
	all := findings.PantryOf(lids(t))
	if len(all) != 2 || all[1].Name != "water" {
		t.Fatalf("%+v", all)
	}
	v := Ingredient(all[1], nil)
	if v.Count != "2 trials, varied in 2" || len(v.Used) != 0 {
		t.Errorf("%s, the same in %d", v.Count, len(v.Used))
	}
	line := v.Varied[0]
	want := []page.SampleLevel{
		{SampleRef: page.SampleRef{Letter: "A", Name: "Usual"}, Text: "720 g water"},
		{SampleRef: page.SampleRef{Letter: "B", Name: "Other"}, Text: "700 g water"},
		{SampleRef: page.SampleRef{Letter: "C", Name: "Lid"}, Text: "720 g water"},
	}
	if diff := cmp.Diff(want, line.Levels); diff != "" || line.Trial.Href != "second" {
		t.Errorf("%s (-want +got):\n%s", line.Trial.Href, diff)
	}
	if v := Ingredient(all[0], nil); len(v.Varied) != 0 || fmt.Sprint(v.Used[1].Lines) != "[300 g millet]" {
		t.Errorf("%+v", v)
	}
}
