package recipe

import (
	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
)

// Show writes the ingredient's amount for a reader of a unit system, rounded to
// what the instruments can measure. A cook who thinks in grams weighs what is not
// poured: in the metric system a volume of anything but a liquid becomes a mass,
// about, where the food table knows its density.
func (i Ingredient) Show(in quantity.Instruments, s quantity.System) quantity.Shown {
	weighed := s == quantity.MetricSystem && i.Amount.Dimension() == quantity.Volume &&
		!i.Amount.IsRange() && i.Found && !food.IsLiquid(i.Match.Food)
	if weighed {
		if mass, ok := i.Mass(); ok {
			shown := in.Show(quantity.New(mass.Grams, quantity.Gram), s)
			shown.About = true
			return shown
		}
	}
	return in.Show(i.Amount, s)
}

// ToWeigh returns the mass to weigh for a counted ingredient that comes out in a
// fraction: half an egg, beaten, is 25 g. False for whole ones, and where the food
// table has no mass of one.
func (i Ingredient) ToWeigh(in quantity.Instruments) (quantity.Shown, bool) {
	whole := i.Amount.IsToTaste() || i.Amount.IsRange() || i.Amount.Low().IsInt()
	if whole || i.Amount.Dimension() != quantity.Count {
		return quantity.Shown{}, false
	}
	mass, ok := i.Mass()
	if !ok {
		return quantity.Shown{}, false
	}
	return in.Show(quantity.New(mass.Grams, quantity.Gram), quantity.MetricSystem), true
}

// Spooned returns the volume that a weighed ingredient takes up, in the fewest
// spoons and cups, about, and the household measure behind it. False for what is
// poured or counted, and where the food table has no measure of volume.
func (i Ingredient) Spooned(in quantity.Instruments, s quantity.System) (shown quantity.Shown, by string, ok bool) {
	if i.Amount.IsToTaste() || i.Amount.IsRange() || i.Amount.Dimension() != quantity.Mass || !i.Found {
		return quantity.Shown{}, "", false
	}
	grams, _ := i.Amount.Base()
	millilitres, by, ok := food.Milliliters(i.Match.Food, grams, i.words())
	if !ok {
		return quantity.Shown{}, "", false
	}
	shown = in.Show(quantity.New(millilitres, quantity.Milliliter), s)
	shown.About = true
	return shown, by, true
}

// Milliliters returns the ingredient's volume where it was measured as one.
func (i Ingredient) Milliliters() (quantity.Number, bool) {
	if i.Amount.IsToTaste() || i.Amount.Dimension() != quantity.Volume {
		return quantity.Number{}, false
	}
	low, high := i.Amount.Base()
	half, _ := low.Add(high).Quo(quantity.Int(2))
	return half, true
}
