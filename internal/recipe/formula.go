package recipe

import "sidebatch.example/sidebatch/internal/quantity"

// Part is one mass in a formula, in grams.
type Part struct {
	Role       string
	Grams      quantity.Number
	Flour      bool   // counts towards the 100 %
	Water      bool   // counts as water in the hydration
	Preferment string // the preferment it is mixed in, or ""
}

// Formula is a dough or batter as masses. In a formula of percentages the
// numbers are percent of the flours instead of grams; the arithmetic is the same.
type Formula []Part

// Percent is a part as a share of the flours' mass, in percent.
type Percent struct {
	Role  string
	Share quantity.Number
}

// Percentages are a formula's baker's percentages: each mass × 100 / the sum of
// the flours' masses, so that the flours together are 100.
type Percentages struct {
	Parts        []Percent
	Flour        quantity.Number // grams of all flours
	Total        quantity.Number // percent, all parts together
	Hydration    quantity.Number // percent; only ingredients that are water count
	Prefermented quantity.Number // percent of the flour that stands in a preferment
}

// Mass returns the sum of all parts.
func (f Formula) Mass() quantity.Number {
	return f.sum(func(Part) bool { return true })
}

// Percentages returns the baker's percentages, or false when there is no flour
// to hold them against.
func (f Formula) Percentages() (Percentages, bool) {
	flour := f.sum(func(p Part) bool { return p.Flour })
	if flour.Sign() <= 0 {
		return Percentages{}, false
	}
	of := func(grams quantity.Number) quantity.Number {
		share, _ := grams.Mul(quantity.Int(100)).Quo(flour)
		return share
	}
	result := Percentages{
		Flour:        flour,
		Total:        of(f.Mass()),
		Hydration:    of(f.sum(func(p Part) bool { return p.Water })),
		Prefermented: of(f.sum(func(p Part) bool { return p.Flour && p.Preferment != "" })),
	}
	for _, p := range f {
		result.Parts = append(result.Parts, Percent{Role: p.Role, Share: of(p.Grams)})
	}
	return result, true
}

// Together adds up parts that have the same role, inside preferments and out:
// the total formula. The first appearance gives the place.
func (f Formula) Together() Formula {
	var total Formula
	at := map[string]int{}
	for _, p := range f {
		i, seen := at[p.Role]
		if !seen {
			at[p.Role] = len(total)
			p.Preferment = ""
			total = append(total, p)
			continue
		}
		total[i].Grams = total[i].Grams.Add(p.Grams)
	}
	return total
}

// Scale multiplies every part.
func (f Formula) Scale(by quantity.Number) Formula {
	scaled := make(Formula, len(f))
	for i, p := range f {
		p.Grams = p.Grams.Mul(by)
		scaled[i] = p
	}
	return scaled
}

// ToMass scales the formula to a mass of dough; false when it weighs nothing.
func (f Formula) ToMass(grams quantity.Number) (Formula, bool) {
	return f.scaleBy(grams, f.Mass())
}

// ToFlour scales the formula to a mass of all flours; false without flour.
func (f Formula) ToFlour(grams quantity.Number) (Formula, bool) {
	return f.scaleBy(grams, f.sum(func(p Part) bool { return p.Flour }))
}

// ToPortions scales to a number of portions of a mass each, when a share of the
// mixed dough (0 up to, not including, 1) is lost before it is divided:
// mix = count × each / (1 − loss).
func (f Formula) ToPortions(count, each, loss quantity.Number) (Formula, bool) {
	mix, ok := count.Mul(each).Quo(quantity.Int(1).Sub(loss))
	if !ok || mix.Sign() <= 0 {
		return nil, false
	}
	return f.ToMass(mix)
}

// ToHydration changes the water so that it is the given percentage of the flours;
// several waters keep their proportion. False without flour or water.
func (f Formula) ToHydration(percent quantity.Number) (Formula, bool) {
	now, ok := f.Percentages()
	if !ok {
		return nil, false
	}
	by, ok := percent.Quo(now.Hydration)
	if !ok {
		return nil, false
	}
	changed := make(Formula, len(f))
	for i, p := range f {
		if p.Water {
			p.Grams = p.Grams.Mul(by)
		}
		changed[i] = p
	}
	return changed, true
}

func (f Formula) scaleBy(want, have quantity.Number) (Formula, bool) {
	by, ok := want.Quo(have)
	if !ok {
		return nil, false
	}
	return f.Scale(by), true
}

func (f Formula) sum(counts func(Part) bool) quantity.Number {
	var total quantity.Number
	for _, p := range f {
		if counts(p) {
			total = total.Add(p.Grams)
		}
	}
	return total
}
