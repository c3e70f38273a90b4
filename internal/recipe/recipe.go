// Package recipe computes with recipes: ingredients by role at any size, their
// masses, baker's percentages, the mass balance of a batch, what instruments can
// tell of it, and what it holds.
//
// Amounts stay exact; only what is shown to a reader is rounded. What cannot be
// known, such as the mass of "salt to taste", is named as missing and never counted
// as 0. The package reads no files, judges no plan and makes no claim about health.
package recipe

import (
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
)

// Ingredient is one line of a recipe.
type Ingredient struct {
	Role        string // unique in the recipe; inside a group it is "group/role"
	Amount      quantity.Amount
	Food        string // as the cook wrote it
	Preparation string // "thinly sliced", or ""
	Match       food.Match
	Found       bool // whether the food table has it, and Match says how
}

// Group returns the group the ingredient belongs to, or "".
func (i Ingredient) Group() string {
	group, _, grouped := strings.Cut(i.Role, "/")
	if !grouped {
		return ""
	}
	return group
}

// Text is the line as a cook of that kitchen would write it.
func (i Ingredient) Text(in quantity.Instruments) string {
	text := i.Food
	if i.Amount.IsToTaste() {
		text += ", " + in.Words(i.Amount)
	} else {
		text = in.Words(i.Amount) + " " + in.Of(i.Amount) + text
	}
	if i.Preparation != "" {
		text += ", " + i.Preparation
	}
	return text
}

// Mass is a mass in grams and how it is known.
type Mass struct {
	Grams quantity.Number
	About bool   // by way of a density or a household measure
	By    string // "1 cup = 125 g", or ""
}

// Mass returns the ingredient's mass. It is not known for an amount to taste, nor
// for a volume or a count of a food that the table does not have. A range counts
// with its middle, as about.
func (i Ingredient) Mass() (Mass, bool) {
	if i.Amount.IsToTaste() {
		return Mass{}, false
	}
	amount := i.Amount
	if amount.IsRange() {
		amount = quantity.New(amount.Mid(), amount.Unit())
	}
	if amount.Dimension() == quantity.Mass {
		grams, _ := amount.Base()
		return Mass{Grams: grams, About: i.Amount.IsRange()}, true
	}
	if !i.Found {
		return Mass{}, false
	}
	weight, ok := food.Grams(i.Match.Food, amount, i.words())
	if !ok {
		return Mass{}, false
	}
	return Mass{Grams: weight.Grams, About: true, By: weight.By}, true
}

// words are what the choice of a household measure may lean on.
func (i Ingredient) words() string {
	if i.Preparation == "" {
		return i.Food
	}
	return i.Food + ", " + i.Preparation
}

// Yield is what a full batch makes.
type Yield struct {
	Count quantity.Number // 0: not said
	What  string          // "pancakes"
}

// Times are the times a cook plans with; any may be zero.
type Times struct {
	Prepare, Wait, Cook quantity.Amount
}

// Recipe is a recipe at the size of the full batch.
type Recipe struct {
	Name        string
	Makes       Yield
	Ingredients []Ingredient
	Flours      []string // roles, or groups, that together are 100 %
	Beside      []string // roles, or groups, that are not part of the dough
	Steps       []string
	Times       Times
}

// Ingredient returns the ingredient with that role.
func (r Recipe) Ingredient(role string) (Ingredient, bool) {
	i := slices.IndexFunc(r.Ingredients, func(i Ingredient) bool { return i.Role == role })
	if i < 0 {
		return Ingredient{}, false
	}
	return r.Ingredients[i], true
}

// Scale returns the recipe with every amount and the yield multiplied.
// Temperatures and times stay as they are.
func (r Recipe) Scale(by quantity.Number) Recipe {
	r.Makes.Count = r.Makes.Count.Mul(by)
	scaled := make([]Ingredient, len(r.Ingredients))
	for i, ingredient := range r.Ingredients {
		ingredient.Amount = ingredient.Amount.Scale(by)
		scaled[i] = ingredient
	}
	r.Ingredients = scaled
	return r
}

// With returns the recipe with an ingredient put in the place of the one that has
// its role, or at the end where none has.
func (r Recipe) With(changed Ingredient) Recipe {
	ingredients := slices.Clone(r.Ingredients)
	i := slices.IndexFunc(ingredients, func(i Ingredient) bool { return i.Role == changed.Role })
	if i < 0 {
		ingredients = append(ingredients, changed)
	} else {
		ingredients[i] = changed
	}
	r.Ingredients = ingredients
	return r
}

// Without returns the recipe without a role, or without a whole group.
func (r Recipe) Without(role string) Recipe {
	r.Ingredients = slices.DeleteFunc(slices.Clone(r.Ingredients), func(i Ingredient) bool {
		return named(role, i)
	})
	return r
}

// IsFlour reports whether the ingredient counts towards the 100 %.
func (r Recipe) IsFlour(i Ingredient) bool { return among(r.Flours, i) }

// IsBeside reports whether the ingredient is used beside the dough.
func (r Recipe) IsBeside(i Ingredient) bool { return among(r.Beside, i) }

// among reports whether a list of roles and groups names the ingredient.
func among(names []string, i Ingredient) bool {
	return slices.ContainsFunc(names, func(name string) bool { return named(name, i) })
}

func named(name string, i Ingredient) bool {
	return name == i.Role || name == i.Group()
}

// Batch is what goes into the dough, pot or bowl, as far as it can be weighed.
type Batch struct {
	Formula Formula
	About   bool     // a part is known by way of a density
	Missing []string // roles whose mass is not known

	flourMissing bool // one of them is a flour
}

// Percentages returns the batch's baker's percentages, or false when there is no
// flour, or a flour whose mass is not known: then nothing is known of the 100 %.
func (b Batch) Percentages() (Percentages, bool) {
	if b.flourMissing {
		return Percentages{}, false
	}
	return b.Formula.Percentages()
}

// Batch returns the recipe's formula, without what stands beside the dough.
func (r Recipe) Batch() Batch {
	var b Batch
	for _, i := range r.Ingredients {
		if r.IsBeside(i) {
			continue
		}
		mass, known := i.Mass()
		if !known {
			b.Missing = append(b.Missing, i.Role)
			b.flourMissing = b.flourMissing || r.IsFlour(i)
			continue
		}
		b.About = b.About || mass.About
		b.Formula = append(b.Formula, Part{
			Role:       i.Role,
			Grams:      mass.Grams,
			Flour:      r.IsFlour(i),
			Water:      i.Found && food.IsWater(i.Match.Food),
			Preferment: r.preferment(i),
		})
	}
	return b
}

// preferment returns the ingredient's group when that group holds both flour and
// something else: a preferment, whose flour and water count in the totals.
func (r Recipe) preferment(i Ingredient) string {
	group := i.Group()
	if group == "" {
		return ""
	}
	flour, other := false, false
	for _, member := range r.Ingredients {
		if member.Group() == group {
			flour = flour || r.IsFlour(member)
			other = other || !r.IsFlour(member)
		}
	}
	if flour && other {
		return group
	}
	return ""
}
