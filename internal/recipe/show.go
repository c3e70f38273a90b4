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

// Milliliters returns the ingredient's volume where it was measured as one.
func (i Ingredient) Milliliters() (quantity.Number, bool) {
	if i.Amount.IsToTaste() || i.Amount.Dimension() != quantity.Volume {
		return quantity.Number{}, false
	}
	low, high := i.Amount.Base()
	half, _ := low.Add(high).Quo(quantity.Int(2))
	return half, true
}
