package recipe

import (
	"errors"
	"fmt"

	"sidebatch.example/sidebatch/internal/quantity"
)

// Reasons why a recipe cannot be scaled as asked.
var (
	errNothing = errors.New("the size must be above zero")
	errYield   = errors.New("the recipe does not say how many pieces it makes (write makes: in the note)")
	errKind    = errors.New("the recipe has that ingredient in another kind of amount, and the food table cannot convert between them")
)

// ForYield returns the factor by which the recipe makes a number of pieces.
func (r Recipe) ForYield(pieces quantity.Number) (quantity.Number, error) {
	if pieces.Sign() <= 0 {
		return quantity.Number{}, errNothing
	}
	by, ok := pieces.Quo(r.Makes.Count)
	if !ok {
		return quantity.Number{}, errYield
	}
	return by, nil
}

// ForIngredient returns the factor by which the recipe uses an amount of a role,
// by mass where the two are of different kinds and the food's measures allow it.
func (r Recipe) ForIngredient(role string, amount quantity.Amount) (quantity.Number, error) {
	i, ok := r.Ingredient(role)
	if !ok {
		return quantity.Number{}, fmt.Errorf("the recipe has no role %q", role)
	}
	if amount.IsToTaste() || i.Amount.IsToTaste() || amount.Mid().Sign() <= 0 {
		return quantity.Number{}, errNothing
	}
	want, have := middle(amount), middle(i.Amount)
	if amount.Dimension() != i.Amount.Dimension() {
		asked := i
		asked.Amount = amount
		wanted, known := asked.Mass()
		there, alsoKnown := i.Mass()
		if !known || !alsoKnown {
			return quantity.Number{}, errKind
		}
		want, have = wanted.Grams, there.Grams
	}
	by, ok := want.Quo(have)
	if !ok {
		return quantity.Number{}, errNothing
	}
	return by, nil
}

// ForMass returns the factor by which the batch weighs a number of grams, before
// anything is lost.
func (r Recipe) ForMass(grams quantity.Number) (quantity.Number, error) {
	if grams.Sign() <= 0 {
		return quantity.Number{}, errNothing
	}
	batch := r.Batch()
	if len(batch.Missing) > 0 {
		return quantity.Number{}, fmt.Errorf("the mass of %s is not known, so neither is the batch's", batch.Missing[0])
	}
	by, ok := grams.Quo(batch.Formula.Mass())
	if !ok {
		return quantity.Number{}, errNothing
	}
	return by, nil
}
