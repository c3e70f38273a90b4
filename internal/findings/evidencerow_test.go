package findings

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/trial"
)

// drawStudies are trials of a heat and a lid, which may differ alone or together, with
// households that repeated them.
func drawStudies(t *rapid.T) []*Study {
	contrasts := rapid.Custom(func(t *rapid.T) StudyContrast {
		of, against := rapid.SampledFrom([]string{"b", "c", "d"}).Draw(t, "of"), rapid.SampledFrom([]string{"a", "b"}).Draw(t, "against")
		c := StudyContrast{Of: of, Against: against, OfDough: of, AgainstDough: against, Planned: 1}
		for _, factor := range rapid.SampledFrom([][]string{{"heat"}, {"lid"}, {"heat", "lid"}}).Draw(t, "factors") {
			c.Differing = append(c.Differing, StudyDifference{Factor: design.Factor{Kind: design.Condition, Name: factor},
				Of: StudyLevel{of, of}, Against: StudyLevel{against, against}})
		}
		for m := range 2 {
			if rapid.Bool().Draw(t, "measured") {
				c.Effects = append(c.Effects, StudyEffect{Measure: m, Unit: OfPiece, Of: StudyGroup{3, 3}, Against: StudyGroup{3, 3}, HasDifference: true,
					StandardError: 1, HasStandardError: true, Difference: float64(rapid.IntRange(-3, 3).Draw(t, "difference"))})
			}
		}
		return c
	})
	var all []*Study
	for i := range rapid.IntRange(1, 5).Draw(t, "trials") {
		s := &Study{Slug: fmt.Sprint("trial-", i), Day: trial.Date{Year: 2020, Month: 1, Day: rapid.IntRange(1, 3).Draw(t, "day")}, Recipe: rapid.SampledFrom([]string{"Rye loaf", "rye  LOAF", "Stew"}).Draw(t, "recipe"),
			Measures:  []StudyMeasure{{Name: "height", Kind: trial.Length}, {Name: "weight", Kind: trial.Mass}},
			Contrasts: rapid.SliceOfN(contrasts, 0, 4).Draw(t, "contrasts")}
		for range rapid.IntRange(0, 2).Draw(t, "households") {
			s.Households = append(s.Households, StudyHousehold{Contrasts: rapid.SliceOfN(contrasts, 0, 3).Draw(t, "at home")})
		}
		all = append(all, s)
	}
	return all
}

// TestBehindRows: what is counted row by row, with those of a kitchen beside each other, is
// what sets of kitchens, trials, recipes and doughs come to.
func TestBehindRows(t *testing.T) {
	type dough struct {
		cook cook
		of   string
	}
	rapid.Check(t, func(t *rapid.T) {
		for _, e := range EvidenceOf(drawStudies(t)) {
			for _, m := range e.Measures {
				byPair := map[pair][]*EvidenceRow{}
				for _, r := range m.Rows {
					if r.Single {
						byPair[r.pair] = append(byPair[r.pair], r)
					}
				}
				for _, rows := range byPair {
					cooks, studies, homes, recipes := map[cook]bool{}, map[*Study]bool{}, map[cook]bool{}, map[string]bool{}
					used, kept := map[dough]bool{}, 0
					for _, r := range rows {
						cooks[r.cook()], studies[r.Study], recipes[wordsKey(r.Study.Recipe)] = true, true, true
						if r.Household != nil {
							homes[r.cook()] = true
						}
						of, against := dough{r.cook(), r.Contrast.OfDough}, dough{r.cook(), r.Contrast.AgainstDough}
						if !used[of] && !used[against] {
							kept++
						}
						used[of], used[against] = true, true
					}
					trials, households := trialsOf(rows)
					if strata(rows) != len(cooks) || trials != len(studies) || households != len(homes) || recipesOf(rows) != len(recipes) || len(independent(rows)) != kept {
						t.Fatalf("%s: %d strata, %d trials, %d households, %d recipes, %d independent; want %d, %d, %d, %d, %d", m.Measure.Name,
							strata(rows), trials, households, recipesOf(rows), len(independent(rows)), len(cooks), len(studies), len(homes), len(recipes), kept)
					}
				}
			}
		}
	})
}
