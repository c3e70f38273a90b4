package results

import (
	"strings"
	"sync"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
)

// Nutrition is what a recipe holds, raw and without what is used beside it. A
// nutrient that the table does not report for some ingredient is null, with what
// is known of it under atLeast and the roles under missing: a gap is never 0.
type Nutrition struct {
	PerBatch Held      `json:"perBatch"`
	PerPiece Held      `json:"perPiece,omitempty"`
	Per100g  Held      `json:"per100g,omitempty"`
	AtLeast  *Partial  `json:"atLeast,omitempty"`
	Missing  []Missing `json:"missing"`

	SaturatedEnergyPercent *number `json:"saturatedEnergyPercent,omitempty"`
	SaturatedBound         string  `json:"saturatedBound,omitempty"` // "at least", "at most"; absent when exact
}

// Held maps a nutrient with its unit, as energyKcal or saturatedG, to its amount.
type Held map[string]*number

// Partial holds the sums that leave something out.
type Partial struct {
	PerBatch Held `json:"perBatch,omitempty"`
	PerPiece Held `json:"perPiece,omitempty"`
}

// Missing is a nutrient with the roles for which nothing is known of it.
type Missing struct {
	Nutrient string   `json:"nutrient"`
	Roles    []string `json:"roles"`
}

// SampleNutrition is one sample's.
type SampleNutrition struct {
	Sample string `json:"sample"`
	Nutrition
}

// NutritionOf returns what one version of a trial's recipe holds.
func NutritionOf(t *trial.Trial, r recipe.Recipe) Nutrition { return nutritionOf(t, r) }

func nutritionOf(t *trial.Trial, r recipe.Recipe) Nutrition {
	n := r.Nutrition(t.RecipeLabels())
	result := Nutrition{Missing: []Missing{}}
	var batchLeast, pieceLeast Held
	result.PerBatch, batchLeast = held(n.Batch.Dough)
	result.PerPiece, pieceLeast = held(n.Piece.Dough)
	result.Per100g, _ = held(n.Hundred)
	if len(batchLeast) > 0 {
		result.AtLeast = &Partial{PerBatch: batchLeast, PerPiece: pieceLeast}
	}
	for _, nutrient := range food.AllNutrients() {
		if sum := n.Batch.Dough.Of(nutrient); !sum.Complete {
			result.Missing = append(result.Missing, Missing{Nutrient: nutrientName(nutrient), Roles: list(sum.Missing)})
		}
	}
	if share, ok := n.Batch.Dough.SaturatedShare(); ok {
		result.SaturatedEnergyPercent, result.SaturatedBound = exact(share.Percent), share.Bound.String()
	}
	return result
}

func nutritionBySample(f *findings.Findings) []SampleNutrition {
	all := make([]SampleNutrition, 0, len(f.Samples))
	for _, s := range f.Samples {
		all = append(all, SampleNutrition{Sample: s.Key, Nutrition: nutritionOf(f.Trial, s.Plan)})
	}
	return all
}

// held parts sums into those that are complete, with null for the others, and those
// that are known in part.
func held(sums recipe.Sums) (all, least Held) {
	if sums == nil {
		return nil, nil
	}
	all, least = Held{}, Held{}
	for _, nutrient := range food.AllNutrients() {
		name, sum := nutrientName(nutrient), sums.Of(nutrient)
		all[name] = nil
		switch {
		case sum.Complete:
			all[name] = exact(sum.Amount)
		case sum.Known():
			least[name] = exact(sum.Amount)
		}
	}
	return all, least
}

func exact(n quantity.Number) *number { return ref(n.Float64()) }

// nutrientName is the nutrient's name in one word with its unit: energyKcal,
// saturatedG, vitaminDUg.
func nutrientName(n food.Nutrient) string { return nutrientNames()[n] }

// nutrientNames are those of all nutrients, in their order.
var nutrientNames = sync.OnceValue(func() []string {
	names := make([]string, len(food.AllNutrients()))
	for _, n := range food.AllNutrients() {
		names[n] = nameInOneWord(n)
	}
	return names
})

func nameInOneWord(n food.Nutrient) string {
	words := strings.Fields(strings.NewReplacer("-", " ", "(", " ", ")", " ", ",", " ").Replace(strings.ToLower(n.Name())))
	if len(words) > 1 && words[len(words)-1] == "fat" {
		words = words[:len(words)-1]
	}
	name := words[0]
	for _, word := range append(words[1:], strings.ToLower(strings.Replace(n.Unit(), "µ", "u", 1))) {
		name += strings.ToUpper(word[:1]) + word[1:]
	}
	return name
}
