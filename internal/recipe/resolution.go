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
	Step  quantity.Amount // of the scale, or the smallest spoon
	Share quantity.Number // step / amount, above 0
	Grade Grade
	Words string // "6 g of salt on a scale that reads to 3 g is known to half of itself"
}

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
	with := "on a scale that reads to "
	switch i.Amount.Dimension() {
	case quantity.Mass:
		r.Step = in.Scale
	case quantity.Volume:
		with = "with spoons down to "
		if r.Step, ok = smallest(in.Spoons); !ok {
			with = "with cups down to "
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
	r.Words = readable(i.Amount, in.Volumes) + " of " + i.Food + " " + with + r.Step.Words(in.Volumes) + " " + known(r.Share)
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

// readable is the amount in words, with two decimals where a mass or a metric
// volume would need a fraction.
func readable(a quantity.Amount, v quantity.Volumes) string {
	hundredth := quantity.Ratio(1, 100)
	exact := a.Dimension() != quantity.Mass && !metricVolume(a.Unit())
	if exact || a.IsRange() || a.Low().Less(hundredth) {
		return a.Words(v)
	}
	rounded, _ := a.Low().RoundTo(hundredth)
	return quantity.New(rounded, a.Unit()).Words(v)
}

func metricVolume(u quantity.Unit) bool {
	switch u {
	case quantity.Milliliter, quantity.Centiliter, quantity.Deciliter, quantity.Liter:
		return true
	}
	return false
}

// known says how well a share leaves the amount known.
func known(share quantity.Number) string {
	one := quantity.Int(1)
	switch side := share.Cmp(one); {
	case side > 0:
		return "is less than one step"
	case side == 0:
		return "is one step, known to no better than all of itself"
	}
	if part, exact := simplePart(share); exact {
		return "is known to " + part + " of itself"
	} else if share.Cmp(quantity.Ratio(1, 10)) >= 0 {
		return "is known to about " + part + " of itself"
	}
	percent := share.Mul(quantity.Int(100))
	about := "about "
	if percent.IsInt() {
		about = ""
	}
	if percent.Less(one) {
		return "is known to better than 1 % of itself"
	}
	return "is known to " + about + percent.Decimal(0) + " % of itself"
}

// simplePart names the simple fraction nearest to a share between 0 and 1.
func simplePart(share quantity.Number) (name string, exact bool) {
	parts := []struct {
		size quantity.Number
		name string
	}{
		{quantity.Ratio(1, 10), "a tenth"}, {quantity.Ratio(1, 8), "an eighth"}, {quantity.Ratio(1, 6), "a sixth"},
		{quantity.Ratio(1, 5), "a fifth"}, {quantity.Ratio(1, 4), "a quarter"}, {quantity.Ratio(1, 3), "a third"},
		{quantity.Ratio(1, 2), "half"}, {quantity.Ratio(2, 3), "two thirds"}, {quantity.Ratio(3, 4), "three quarters"},
		{quantity.Ratio(9, 10), "nine tenths"},
	}
	best := parts[0]
	for _, p := range parts[1:] {
		if share.Sub(p.size).Abs().Less(share.Sub(best.size).Abs()) {
			best = p
		}
	}
	return best.name, share.Equal(best.size)
}
