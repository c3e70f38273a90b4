package cli

import (
	"errors"
	"fmt"
	"io"

	"sidebatch.example/sidebatch/internal/food"
)

// saidFood is what foods --json prints. What the table does not report is null, never 0.
type saidFood struct {
	Asked     string           `json:"asked"`
	Found     *saidMatch       `json:"found"` // null where the table has no such food
	Per100g   []saidNutrient   `json:"per100g"`
	Measures  []saidHousehold  `json:"measures"`
	Allergens []saidAllergen   `json:"allergens"` // by name only: an aid, next to the label
	Near      []saidFoodNearby `json:"near"`
	Source    string           `json:"source"`
}

type saidMatch struct {
	ID          string `json:"id"`
	Name        string `json:"name"`
	Description string `json:"description"`
	Group       string `json:"group"`
	Via         string `json:"via"`
	Note        string `json:"note"`
	Dated       bool   `json:"dated"` // older than the ban on partly hydrogenated fat
}

type saidNutrient struct {
	Nutrient string   `json:"nutrient"`
	Unit     string   `json:"unit"`
	Amount   *float64 `json:"amount"`
}

type saidHousehold struct {
	Text        string   `json:"text"`
	Amount      float64  `json:"amount"`
	Name        string   `json:"name"`
	Grams       float64  `json:"grams"`
	Milliliters *float64 `json:"milliliters"` // null where it is no volume
}

type saidAllergen struct {
	Strength string  `json:"strength"`
	US       *string `json:"us"`
	EU       *string `json:"eu"`
}

type saidFoodNearby struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

func foodJSON(out io.Writer, words string, match food.Match, found bool) error {
	said := saidFood{Asked: words, Per100g: []saidNutrient{}, Measures: []saidHousehold{}, Allergens: []saidAllergen{},
		Near: []saidFoodNearby{}, Source: food.Source().Text}
	if !found {
		for _, near := range food.Nearest(words, candidates) {
			said.Near = append(said.Near, saidFoodNearby{string(near.Food.ID), near.Name})
		}
		err := exit{WrongNotes, fmt.Errorf("the food table has no %q", words)}
		return errors.Join(err, writeJSON(out, said))
	}
	f := match.Food
	said.Found = &saidMatch{string(f.ID), match.Name, f.Description, f.Group, match.Via.String(), match.Note, food.DatedFat(f)}
	for _, n := range food.AllNutrients() {
		one := saidNutrient{Nutrient: n.Name(), Unit: n.Unit()}
		if v := f.Nutrients.Of(n); v.Reported {
			amount := v.Amount.Float64()
			one.Amount = &amount
		}
		said.Per100g = append(said.Per100g, one)
	}
	for _, m := range f.Measures {
		one := saidHousehold{Text: m.String(), Amount: m.Amount.Float64(), Name: m.Name, Grams: m.Grams.Float64()}
		if m.Volume() {
			ml := m.Milliliters.Float64()
			one.Milliliters = &ml
		}
		said.Measures = append(said.Measures, one)
	}
	for _, a := range pointedAt(words, match) {
		said.Allergens = append(said.Allergens, saidAllergen{a.Strength.String(), orNull(a.US), orNull(a.EU)})
	}
	return writeJSON(out, said)
}
