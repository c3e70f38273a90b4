package writeup

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
)

// lidStudy is an invented trial of a lid, on a day of its own; with salt that differs as
// well in a second contrast where confounded. It uses water, varied where confounded.
func lidStudy(day int, confounded bool) *findings.Study {
	contrast := func(more ...string) findings.StudyContrast {
		c := findings.StudyContrast{Of: "b", Against: "a", OfDough: fmt.Sprint("b", len(more)), AgainstDough: fmt.Sprint("a", len(more)), Planned: 1,
			Effects: []findings.StudyEffect{{Unit: findings.OfPiece, Of: findings.StudyGroup{Units: 4, Readings: 4}, Against: findings.StudyGroup{Units: 4, Readings: 4},
				Difference: 0.25, HasDifference: true, Blocks: []stats.Block{{X1: 3, N1: 4, X2: 2, N2: 4}}}}}
		for _, name := range append([]string{"lid"}, more...) {
			c.Differing = append(c.Differing, findings.StudyDifference{Factor: design.Factor{Kind: design.Condition, Name: name},
				Of: findings.StudyLevel{Text: "on", Key: "on"}, Against: findings.StudyLevel{Text: "off", Key: "off"}})
		}
		return c
	}
	s := &findings.Study{Slug: fmt.Sprintf("trial-%03d", day), Title: "T", Day: trial.Date{Year: 2020 + day/28, Month: 1, Day: 1 + day%28},
		Measures:  []findings.StudyMeasure{{Name: "whole", Kind: trial.PassOrFail}},
		Contrasts: []findings.StudyContrast{contrast()},
		Foods:     []findings.FoodUse{{Key: "name water", Written: []string{"water"}, Varied: confounded}}}
	if confounded {
		s.Contrasts = append(s.Contrasts, contrast("salt"))
	}
	return s
}

// TestNewest: which rows of a long list a page shows, under which numbers, and what it
// says of the others. Sums and counts are over all of them.
func TestNewest(t *testing.T) {
	tests := []struct {
		name               string
		trials, confounded int
		numbers            []string // first and last of the single rows, then of the others
		cut                string
	}{
		{"few", 20, 4, []string{"1", "20", "21", "24"}, ""},
		{"one too many", 21, 4, []string{"1", "21", "22", "25"}, ""},
		{"many", 30, 0, []string{"7", "30"}, "Of 30 contrasts in which this factor alone differs, the newest 24 are shown. Sums and counts are over all of them."},
		{"many confounded", 20, 20, []string{"1", "20", "33", "40"}, "Of 20 contrasts in which others differ too, the newest 8 are shown. Sums and counts are over all of them."},
		{"many of both", 60, 31, []string{"37", "60", "84", "91"}, "Of 60 contrasts in which this factor alone differs, the newest 24 are shown. " +
			"Of 31 contrasts in which others differ too, the newest 8 are shown. Sums and counts are over all of them."},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var all []*findings.Study
			for i := range tt.trials {
				all = append(all, lidStudy(i+1, i < tt.confounded))
			}
			e := findings.EvidenceOf(all)[0]
			v, m := Factor(e, nil), FactorMeasure(e.Measures[0], 0, nil)
			var numbers []string
			for i, r := range m.Rows {
				last := i == len(m.Rows)-1
				if i == 0 || last || len(r.Also) != len(m.Rows[i-1].Also) || len(r.Also) != len(m.Rows[i+1].Also) {
					numbers = append(numbers, r.Number)
				}
			}
			if !slices.Equal(numbers, tt.numbers) || m.Cut != tt.cut {
				t.Errorf("rows %q, %q", numbers, m.Cut)
			}
			if want := fmt.Sprintf("%d trials", tt.trials); len(m.Sums) != 1 || m.Sums[0].Trials != want {
				t.Errorf("the sums are %+v, not over %s", m.Sums, want)
			}
			if want := fmt.Sprintf("%d trials, %d contrasts", tt.trials, tt.trials+tt.confounded); v.Count != want {
				t.Errorf("%s, want %s", v.Count, want)
			}
		})
	}
}

// TestNewestTrials: lists of trials show the newest fifty and count all.
func TestNewestTrials(t *testing.T) {
	var all []*findings.Study
	for i := range 112 {
		all = append(all, lidStudy(i+1, i%2 == 0 && i < 104))
	}
	f := Factor(findings.EvidenceOf(all)[0], nil)
	if f.Cut != "The newest 50 of 112 trials are shown." || len(f.Trials) != 50 || f.Trials[0].Trial.Href != "trial-112" || f.Trials[49].Trial.Href != "trial-063" {
		t.Errorf("%q, %d trials", f.Cut, len(f.Trials))
	}
	v := Ingredient(findings.PantryOf(all)[0], nil)
	if v.Count != "112 trials, varied in 52" || v.CutVaried != "The newest 50 of 52 trials are shown." || v.CutUsed != "The newest 50 of 60 trials are shown." {
		t.Errorf("%q, %q, %q", v.Count, v.CutVaried, v.CutUsed)
	}
	if len(v.Varied) != 50 || len(v.Used) != 50 || v.Varied[49].Trial.Href != "trial-005" || v.Used[49].Trial.Href != "trial-022" {
		t.Errorf("%d and %d trials, the oldest %q and %q", len(v.Varied), len(v.Used), v.Varied[49].Trial.Href, v.Used[49].Trial.Href)
	}
	few := Ingredient(findings.PantryOf(all[:50])[0], nil)
	if few.CutVaried != "" || few.CutUsed != "" || len(few.Varied)+len(few.Used) != 50 {
		t.Errorf("of a few: %q, %q", few.CutVaried, few.CutUsed)
	}
}

// TestWidest: of many pairs of levels those are added up that most trials are behind, in the
// order in which they were first compared, and how many there are is said.
func TestWidest(t *testing.T) {
	var all []*findings.Study
	for pair, trials := range []int{3, 2, 2, 4, 2, 5, 2, 2, 2, 2, 2, 2, 3, 2, 1} {
		for range trials {
			s := lidStudy(len(all)+1, false)
			s.Contrasts[0].Differing[0].Of = findings.StudyLevel{Text: fmt.Sprint("on ", pair), Key: fmt.Sprint(pair)}
			all = append(all, s)
		}
	}
	m := FactorMeasure(findings.EvidenceOf(all)[0].Measures[0], 0, nil)
	var shown []string
	for _, s := range m.Sums {
		shown = append(shown, s.Of)
	}
	// Of those with two trials, the ones that were compared first.
	want := []string{"on 0", "on 1", "on 2", "on 3", "on 4", "on 5", "on 6", "on 7", "on 8", "on 9", "on 10", "on 12"}
	if !slices.Equal(shown, want) {
		t.Errorf("added up: %q, want %q", shown, want)
	}
	if want := "Of 14 pairs of levels that several trials or households compared, the 12 that most of them are behind are added up here."; m.CutSums != want {
		t.Errorf("%q, want %q", m.CutSums, want)
	}
	if m = FactorMeasure(findings.EvidenceOf(all[:24])[0].Measures[0], 0, nil); m.CutSums != "" || len(m.Sums) != 9 {
		t.Errorf("of few: %d, %q", len(m.Sums), m.CutSums)
	}
}

// TestShown: the trials that a page names are those whose titles stand on it, and no others.
func TestShown(t *testing.T) {
	var all []*findings.Study
	for i := range 112 {
		s := lidStudy(i+1, i%7 == 0)
		s.Measures = append(s.Measures, findings.StudyMeasure{Name: "level", Kind: trial.YesOrNo})
		if i < 40 { // of this measure the newest rows are old
			level := s.Contrasts[0].Effects[0]
			level.Measure = 1
			s.Contrasts[0].Effects = append(s.Contrasts[0].Effects, level)
		}
		all = append(all, s)
	}
	e := findings.EvidenceOf(all)[0]
	var lines []string
	for _, line := range slices.Backward(Factor(e, nil).Trials) {
		lines = append(lines, line.Trial.Href)
	}
	inRows := map[string]bool{}
	for i, m := range e.Measures {
		for _, r := range FactorMeasure(m, i, nil).Rows {
			inRows[r.Trial.Href] = true
		}
	}
	listed, named := Shown(e)
	if !slices.Equal(listed, lines) || len(lines) != 50 {
		t.Errorf("%q are listed, not %q", lines, listed)
	}
	if want := slices.Sorted(maps.Keys(inRows)); !slices.Equal(named, want) || len(want) <= 24 {
		t.Errorf("%q are in rows, not %q", want, named)
	}
}
