package cli

import (
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
)

// saidRecipe is what scale --json prints. Amounts are rounded to the kitchen's
// instruments and written as it writes them; grams are not rounded.
type saidRecipe struct {
	Trial       string           `json:"trial"`
	Recipe      string           `json:"recipe"`
	Sample      *string          `json:"sample"`  // the key; null for the note's own recipe
	Batches     string           `json:"batches"` // of the full batch, exact: "1.5", "2/3"
	Factor      float64          `json:"factor"`  // the same as a decimal
	Makes       *saidYield       `json:"makes"`
	Ingredients []saidIngredient `json:"ingredients"`
	Together    *saidMass        `json:"together"` // null where a part cannot be weighed
}

type saidYield struct {
	Count float64 `json:"count"`
	What  string  `json:"what"`
}

type saidIngredient struct {
	Role        string       `json:"role"`
	Food        string       `json:"food"`
	Preparation string       `json:"preparation"`
	Amounts     []saidAmount `json:"amounts"` // in the kitchen's order
	Grams       *float64     `json:"grams"`   // null where they are not known
	About       bool         `json:"about"`   // grams are known by way of a density or a household measure
	ToWeigh     *string      `json:"toWeigh"` // of a fraction of a counted thing
}

type saidAmount struct {
	System string `json:"system"`
	Text   string `json:"text"`
	About  bool   `json:"about"`
}

type saidMass struct {
	Grams   float64      `json:"grams"`
	About   bool         `json:"about"`
	Amounts []saidAmount `json:"amounts"`
}

func scaledOf(t *trial.Trial, r recipe.Recipe, sample string, by quantity.Number) saidRecipe {
	said := saidRecipe{Trial: t.Slug, Recipe: r.Name, Sample: orNull(sample), Batches: by.String(), Factor: by.Float64(),
		Ingredients: []saidIngredient{}}
	if r.Makes.Count.Sign() > 0 {
		said.Makes = &saidYield{r.Makes.Count.Float64(), r.Makes.What}
	}
	in := t.Kitchen.Instruments
	for _, i := range r.Ingredients {
		one := saidIngredient{Role: i.Role, Food: i.Food, Preparation: i.Preparation}
		for _, system := range t.Kitchen.Units {
			one.Amounts = append(one.Amounts, amountOf(system, i.Show(in, system)))
		}
		if mass, known := i.Mass(); known {
			grams := mass.Grams.Float64()
			one.Grams, one.About = &grams, mass.About
		}
		if weigh, fraction := i.ToWeigh(in); fraction {
			one.ToWeigh = &weigh.Text
		}
		said.Ingredients = append(said.Ingredients, one)
	}
	batch := r.Batch()
	if len(batch.Missing) > 0 || len(batch.Formula) == 0 {
		return said
	}
	mass := batch.Formula.Mass()
	said.Together = &saidMass{Grams: mass.Float64(), About: batch.About}
	for _, system := range t.Kitchen.Units {
		amount := amountOf(system, in.Show(quantity.New(mass, quantity.Gram), system))
		amount.About = amount.About || batch.About
		said.Together.Amounts = append(said.Together.Amounts, amount)
	}
	return said
}

func amountOf(system quantity.System, shown quantity.Shown) saidAmount {
	name := "metric"
	switch system {
	case quantity.USSystem:
		name = "us"
	case quantity.ImperialSystem:
		name = "imperial"
	}
	return saidAmount{name, shown.Text, shown.About}
}
