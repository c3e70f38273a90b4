package findings

import (
	"fmt"
	"testing"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
)

// manyStudies are invented trials of an oven's heat or of one of forty other factors, with
// four measures; every tenth was repeated by a household.
func manyStudies(n int) []*Study {
	var all []*Study
	for i := range n {
		factor := design.Factor{Kind: design.Condition, Name: "oven"}
		if i%3 > 0 {
			factor.Name = fmt.Sprintf("factor %d", i%40)
		}
		level := func(k int) StudyLevel { return StudyLevel{Text: fmt.Sprint(k, " °C"), Key: fmt.Sprint(k)} }
		c := StudyContrast{Of: "b", Against: "a", OfDough: "b", AgainstDough: "a", Planned: 1,
			Differing: []StudyDifference{{Factor: factor, Of: level(200 + i%6), Against: level(180)}}}
		s := &Study{Slug: fmt.Sprintf("trial-%05d", i), Title: "T", Day: trial.Date{Year: 2000 + i/336, Month: 1 + i/28%12, Day: 1 + i%28}, Recipe: fmt.Sprint("Recipe ", i%200),
			Foods: []FoodUse{{Key: "name water", Written: []string{"water"}}, {Key: fmt.Sprint("name ", i%500), Written: []string{"f"}}}}
		for m, kind := range []trial.Kind{trial.PassOrFail, trial.Mass, trial.Length, trial.Score} {
			s.Measures = append(s.Measures, StudyMeasure{Name: fmt.Sprint("measure ", m), Kind: kind, Primary: m == 0})
			e := StudyEffect{Measure: m, Unit: OfPiece, Of: StudyGroup{6, 6}, Against: StudyGroup{6, 6}, Difference: float64(i%7) / 10, HasDifference: true,
				StandardError: 0.5, HasStandardError: true}
			if m == 0 {
				e.Blocks = []stats.Block{{X1: 2 + i%4, N1: 6, X2: 2 + i%3, N2: 6}}
			}
			c.Effects = append(c.Effects, e)
		}
		s.Contrasts = []StudyContrast{c}
		if i%10 == 0 {
			s.Households = []StudyHousehold{{Name: "Household 1", Contrasts: []StudyContrast{c}}}
		}
		all = append(all, s)
	}
	return all
}

// BenchmarkEvidence: trials of one kitchen put together; time should grow with them and no
// faster, but for the exact test over strata, which shares have and the other measures do
// not.
func BenchmarkEvidence(b *testing.B) {
	for _, n := range []int{300, 1000, 3000, 10000} {
		all := manyStudies(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				EvidenceOf(all)
			}
		})
		for _, s := range all {
			s.Measures[0].Kind = trial.Number
		}
		b.Run(fmt.Sprint(n, "-without-shares"), func(b *testing.B) {
			for b.Loop() {
				EvidenceOf(all)
			}
		})
		b.Run(fmt.Sprint(n, "-foods"), func(b *testing.B) {
			for b.Loop() {
				PantryOf(all)
			}
		})
	}
}
