package recipe

import (
	"sidebatch.example/sidebatch/internal/quantity"
)

// Grade says how well an instrument knows an amount. The thresholds are the
// project's own (common practice, no source): a twentieth is where amounts are
// shown as "about", a quarter is a change of an ingredient that tests of recipes
// are made of.
type Grade uint8

// The grades, from the best.
const (
	Fine   Grade = iota // the step is at most 1/20 of the amount
	Coarse              // at most 1/4
	Poor                // less than the whole amount
	Blind               // the amount is no more than one step
)

// String says it in words.
func (g Grade) String() string {
	switch g {
	case Coarse:
		return "coarse"
	case Poor:
		return "poor"
	case Blind:
		return "cannot be told"
	}
	return "fine"
}

// Resolution is an amount against the smallest step that its instrument can tell.
type Resolution struct {
	Amount quantity.Amount // the ingredient's, with two decimals where a mass or a metric volume would need a fraction
	Step   quantity.Amount // of the scale, or the smallest spoon
	Share  quantity.Number // step / amount, above 0
	Grade  Grade
}

// Known says how well an amount is known, as people speak of it.
type Known uint8

// From the worst to the best.
const (
	LessThanStep Known = iota // the amount is less than one step
	OneStep                   // it is one step, known to no better than all of itself
	ToPart                    // to a simple part of itself, a tenth or more
	ToPercent                 // to a percentage of itself
)

// Resolution holds the ingredient's amount, at this recipe's size, against what
// the instruments can tell: a mass against the scale's step, a volume against the
// smallest spoon, or cup where there are no spoons. Of a range the middle counts.
// ok is false for counts, for amounts to taste or of nothing, and without an
// instrument.
func (i Ingredient) Resolution(in quantity.Instruments) (r Resolution, ok bool) {
	in = in.WithDefaults()
	if i.Amount.IsToTaste() {
		return Resolution{}, false
	}
	switch i.Amount.Dimension() {
	case quantity.Mass:
		r.Step = in.Scale
	case quantity.Volume:
		if r.Step, ok = smallest(in.Spoons); !ok {
			r.Step, ok = smallest(in.Cups)
		}
		if !ok {
			return Resolution{}, false
		}
	default:
		return Resolution{}, false
	}
	step, _ := r.Step.Base()
	if r.Share, ok = step.Quo(middle(i.Amount)); !ok || r.Share.Sign() <= 0 {
		return Resolution{}, false
	}
	r.Grade = grade(r.Share)
	r.Amount = readable(i.Amount)
	return r, true
}

// middle is the middle of an amount in the base unit of its kind.
func middle(a quantity.Amount) quantity.Number {
	low, high := a.Base()
	return low.Add(high).Mul(quantity.Ratio(1, 2))
}

// smallest returns the smallest measure of a set.
func smallest(set []quantity.Amount) (least quantity.Amount, ok bool) {
	for _, m := range set {
		if m.Dimension() != quantity.Volume || middle(m).Sign() <= 0 {
			continue
		}
		if !ok || middle(m).Less(middle(least)) {
			least, ok = m, true
		}
	}
	return least, ok
}

func grade(share quantity.Number) Grade {
	switch {
	case share.Cmp(quantity.Ratio(1, 20)) <= 0:
		return Fine
	case share.Cmp(quantity.Ratio(1, 4)) <= 0:
		return Coarse
	case share.Less(quantity.Int(1)):
		return Poor
	}
	return Blind
}

// readable is the amount with two decimals where a mass or a metric volume would
// need a fraction.
func readable(a quantity.Amount) quantity.Amount {
	hundredth := quantity.Ratio(1, 100)
	exact := a.Dimension() != quantity.Mass && !metricVolume(a.Unit())
	if exact || a.IsRange() || a.Low().Less(hundredth) {
		return a
	}
	rounded, _ := a.Low().RoundTo(hundredth)
	return quantity.New(rounded, a.Unit())
}

func metricVolume(u quantity.Unit) bool {
	switch u {
	case quantity.Milliliter, quantity.Centiliter, quantity.Deciliter, quantity.Liter:
		return true
	}
	return false
}

// Known says how well the share leaves the amount known: to a simple part of
// itself (one of [SimpleParts]), or, below a tenth, to a whole number of percent. The
// number is that part or percentage, and about says that it is the nearest one.
func (r Resolution) Known() (how Known, to quantity.Number, about bool) {
	switch side := r.Share.Cmp(quantity.Int(1)); {
	case side > 0:
		return LessThanStep, quantity.Number{}, false
	case side == 0:
		return OneStep, quantity.Number{}, false
	}
	part, exact := simplePart(r.Share)
	if exact || r.Share.Cmp(quantity.Ratio(1, 10)) >= 0 {
		return ToPart, part, !exact
	}
	percent := r.Share.Mul(quantity.Int(100))
	whole, _ := percent.RoundTo(quantity.Int(1))
	return ToPercent, whole, !percent.IsInt()
}

// SimpleParts are the parts of a whole that have a name of their own.
func SimpleParts() []quantity.Number {
	return []quantity.Number{
		quantity.Ratio(1, 10), quantity.Ratio(1, 8), quantity.Ratio(1, 6), quantity.Ratio(1, 5), quantity.Ratio(1, 4),
		quantity.Ratio(1, 3), quantity.Ratio(1, 2), quantity.Ratio(2, 3), quantity.Ratio(3, 4), quantity.Ratio(9, 10),
	}
}

// simplePart is the simple part nearest to a share between 0 and 1.
func simplePart(share quantity.Number) (best quantity.Number, exact bool) {
	parts := SimpleParts()
	best = parts[0]
	for _, part := range parts[1:] {
		if share.Sub(part).Abs().Less(share.Sub(best).Abs()) {
			best = part
		}
	}
	return best, share.Equal(best)
}
