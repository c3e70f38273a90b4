package recipe

import (
	"cmp"
	"slices"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
)

// Version is a recipe as one sample of a trial has it.
type Version struct {
	Name   string
	Recipe Recipe
	Labels []Label
}

// Swap is a role in which versions have different foods.
type Swap struct {
	Role    string
	Options []Option // in the order of the versions; versions with the same line share one
}

// Option is what some versions have in a role, by itself and not with the rest of
// the recipe.
type Option struct {
	Versions   []string
	Line       Ingredient // of the full batch; without a food where the versions go without
	Absent     bool       // the versions have nothing in this role
	Tablespoon Sums       // of a level US tablespoon (14.787 mL), through the food's density
	Piece      Sums       // of one piece; nil where the recipe does not say how many it makes
	Beside     bool       // used beside the dough, so that not all of it may be eaten
	StandIn    string     // what the table has in its place, where it has only another food, or ""
	Dated      bool       // the package's label is asked; see [Dated]
}

// SwapNutrients are the nutrients in which swapped ingredients are shown side by
// side: energy and what fats, flours and sweeteners differ in.
func SwapNutrients() []food.Nutrient {
	return []food.Nutrient{
		food.Energy, food.Fat, food.Saturated, food.Monounsaturated, food.Polyunsaturated, food.Trans,
		food.Cholesterol, food.Carbohydrate, food.Sugars, food.Fibre, food.Protein, food.Sodium,
	}
}

// Swaps returns the roles in which the versions differ in food, in the order in
// which they appear. Two names of the same row of the food table are one food,
// unless a label speaks of either; another amount alone is no swap.
func Swaps(named []Version) []Swap {
	var swaps []Swap
	for _, role := range roles(named) {
		// Most roles are no swap, so what they hold is added up only then.
		if !differ(named, role) {
			continue
		}
		swap := Swap{Role: role}
		for _, v := range named {
			swap.add(v.option(role))
		}
		swaps = append(swaps, swap)
	}
	return swaps
}

// differ reports whether some version has another food in a role than the first.
func differ(named []Version, role string) bool {
	first := named[0].line(role)
	return slices.ContainsFunc(named[1:], func(v Version) bool { return v.differs(v.line(role), named[0], first) })
}

// roles lists the roles of all versions, each once.
func roles(named []Version) []string {
	var all []string
	for _, v := range named {
		for _, i := range v.Recipe.Ingredients {
			if !slices.Contains(all, i.Role) {
				all = append(all, i.Role)
			}
		}
	}
	return all
}

// line is what the version has in a role, without what that holds.
func (v Version) line(role string) Option {
	o := Option{Versions: []string{v.Name}}
	i, has := v.Recipe.Ingredient(role)
	if !has {
		o.Absent = true
		o.Line.Role = role
		return o
	}
	o.Line = i
	o.Beside = v.Recipe.IsBeside(i)
	return o
}

func (v Version) option(role string) Option {
	o := v.line(role)
	if o.Absent {
		return o
	}
	i := o.Line
	s := supplyOf(i, v.Labels)
	if s.standIn() {
		o.StandIn = cmp.Or(i.Match.Note, i.Match.Food.Description)
	}
	o.Dated = s.dated()
	if one, ok := quantity.Int(1).Quo(v.Recipe.Makes.Count); ok {
		o.Piece = total([]supply{s}, supply.value).times(one)
	}
	i.Amount = quantity.New(quantity.Int(1), quantity.Tablespoon)
	o.Tablespoon = total([]supply{supplyOf(i, v.Labels)}, supply.value)
	return o
}

// differs reports whether an option of v is another food than one of another
// version.
func (v Version) differs(o Option, other Version, than Option) bool {
	a, b := o.Line, than.Line
	switch {
	case o.Absent || than.Absent:
		return o.Absent != than.Absent
	case a.Found && b.Found && a.Match.Food.ID != b.Match.Food.ID:
		return true
	case sameFood(a.Food, b.Food):
		return false
	}
	return !a.Found || !b.Found || v.labels(a) || other.labels(b)
}

// labels reports whether the version has a label for the ingredient.
func (v Version) labels(i Ingredient) bool {
	return slices.ContainsFunc(v.Labels, func(l Label) bool { return sameFood(l.Food, i.Food) })
}

// add puts an option in, with the one before it that has the same line if there is
// one.
func (s *Swap) add(o Option) {
	for n := range s.Options {
		same := &s.Options[n]
		alike := same.Absent == o.Absent && sameFood(same.Line.Food, o.Line.Food) &&
			same.Line.Preparation == o.Line.Preparation && same.Line.Amount.Equal(o.Line.Amount) && same.Beside == o.Beside
		if alike && equalSums(same.Piece, o.Piece) && equalSums(same.Tablespoon, o.Tablespoon) {
			same.Versions = append(same.Versions, o.Versions...)
			return
		}
	}
	s.Options = append(s.Options, o)
}

// equalSums compares sums of one line, whose Missing follow from Complete.
func equalSums(a, b Sums) bool {
	return slices.EqualFunc(a, b, func(x, y Sum) bool { return x.Complete == y.Complete && x.Amount.Equal(y.Amount) })
}
