package recipe

import (
	"slices"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
)

// Bound says how a figure that leans on gaps is to be read.
type Bound uint8

// What a figure with gaps is.
const (
	Exact     Bound = iota // nothing is missing
	AtLeast                // what is missing would make it larger
	AtMost                 // what is missing would make it smaller
	Unbounded              // it may be larger or smaller
)

// String says it in the words of results.json; of an exact figure there is nothing
// to say.
func (b Bound) String() string {
	switch b {
	case AtLeast:
		return "at least"
	case AtMost:
		return "at most"
	case Unbounded:
		return "about, with values missing"
	}
	return ""
}

// EnergyShare is the share of the energy that comes from one nutrient.
type EnergyShare struct {
	Percent quantity.Number
	Bound   Bound
	Missing []string // roles without a value for the nutrient or the energy
}

// SaturatedPercent is the limit that [Sums.SaturatedShare] is held against: less
// than 10 percent of the calories of a day from saturated fat, from age 2 on (US
// Departments of Agriculture and of Health and Human Services, Dietary Guidelines
// for Americans, 2020–2025, 9th edition, December 2020). It speaks of everything
// that is eaten, not of one dish.
func SaturatedPercent() quantity.Number { return quantity.Int(10) }

// SaturatedShare is the share of the energy that comes from saturated fat: grams ×
// 9 kcal, the general factor for fat (21 CFR 101.9(c)(1)(i)(B)), of the energy. ok
// is false where there is no energy to hold it against, or nothing is known of
// either.
func (s Sums) SaturatedShare() (share EnergyShare, ok bool) {
	energy, saturated := s.Of(food.Energy), s.Of(food.Saturated)
	if !energy.Known() || !saturated.Known() {
		return EnergyShare{}, false
	}
	share.Percent, ok = saturated.Amount.Mul(quantity.Int(900)).Quo(energy.Amount)
	if !ok {
		return EnergyShare{}, false
	}
	switch {
	case saturated.Complete && energy.Complete:
	case energy.Complete:
		share.Bound = AtLeast
	case saturated.Complete:
		share.Bound = AtMost
	default:
		share.Bound = Unbounded
	}
	share.Missing = slices.Clone(saturated.Missing)
	for _, role := range energy.Missing {
		if !slices.Contains(share.Missing, role) {
			share.Missing = append(share.Missing, role)
		}
	}
	return share, true
}

// Against holds the share against a limit in percent: -1 where it is below, 0
// where it meets the limit, 1 where it is above. ok is false where what is missing
// could turn the answer.
func (e EnergyShare) Against(limit quantity.Number) (side int, ok bool) {
	side = e.Percent.Cmp(limit)
	switch e.Bound {
	case AtLeast:
		return side, side > 0
	case AtMost:
		return side, side < 0
	case Unbounded:
		return side, false
	}
	return side, true
}
