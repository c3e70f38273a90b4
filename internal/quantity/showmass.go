package quantity

// roundFiner rounds n, which is above zero, to the step, or, where that is off by
// more than 5 %, to the coarsest finer step that is not. finer tells whether it had to.
func roundFiner(n, step Number) (rounded Number, finer bool) {
	limit := n.Mul(tolerated())
	for {
		rounded, residue := n.RoundTo(step)
		if residue.Abs().Cmp(limit) <= 0 {
			return rounded, finer
		}
		step, finer = finerStep(step), true
	}
}

// roundHalving is roundFiner for what is divided by halving: the step, half of it, a quarter.
func roundHalving(n, step Number) (rounded Number, finer bool) {
	limit := n.Mul(tolerated())
	for {
		rounded, residue := n.RoundTo(step)
		if residue.Abs().Cmp(limit) <= 0 {
			return rounded, finer
		}
		step, finer = step.over(Int(2)), true
	}
}

// finerStep returns the largest of 1 and 5 times a power of ten that is below step.
func finerStep(step Number) Number {
	return niceBelow(step, []int64{5, 1}, false)
}

// niceStep returns the largest of 1, 2 and 5 times a power of ten that is not above
// step: what a display in another unit would read in.
func niceStep(step Number) Number {
	return niceBelow(step, []int64{5, 2, 1}, true)
}

// niceBelow returns the largest of heads times a power of ten that is below limit,
// or equal to it where that is allowed. limit is above zero.
func niceBelow(limit Number, heads []int64, equal bool) Number {
	power, ten := Int(1), Int(10)
	for power.Cmp(limit) <= 0 {
		power = power.Mul(ten)
	}
	for {
		for _, head := range heads {
			step := power.Mul(Int(head))
			if c := step.Cmp(limit); c < 0 || c == 0 && equal {
				return step
			}
		}
		power = power.over(ten)
	}
}

// metricMass shows grams: kg from 1 kg up where two decimals say it exactly, and
// from 10 kg up always.
func (v view) metricMass(grams Number) measured {
	step, _ := v.in.Scale.Base()
	if v.ounceScale() {
		step = maxOf(Int(1), niceStep(step))
	}
	rounded, finer := roundFiner(grams, step)
	_, odd := rounded.RoundTo(Int(10))
	m := one(rounded, Gram)
	switch thousand := Int(1000); {
	case rounded.Cmp(Int(10000)) >= 0, rounded.Cmp(thousand) >= 0 && odd.Sign() == 0:
		m = one(rounded.over(thousand), Kilogram)
	case rounded.Less(Ratio(1, 100)):
		m = one(rounded.Mul(thousand), Milligram)
	}
	m.finer = finer
	return m
}

// ounces shows ounces, and pounds from 16 oz up.
func (v view) ounces(grams Number) measured {
	exact := Ounce.fromBase(grams)
	scale, _ := v.in.Scale.Base()
	step := Ounce.fromBase(scale)
	if !v.ounceScale() {
		step = maxOf(Ratio(1, 10), niceStep(step))
		if exact.Less(Int(1)) {
			step = step.over(Int(10))
		}
	}
	rounded, finer := roundFiner(exact, step)
	pounds := rounded.over(Int(16)).Floor()
	rest := rounded.Sub(pounds.Mul(Int(16)))
	m := measured{finer: finer}
	if pounds.Sign() > 0 {
		m.parts = append(m.parts, part{pounds, Pound})
	}
	if rest.Sign() > 0 {
		m.parts = append(m.parts, part{rest, Ounce})
	}
	return m
}

func (v view) ounceScale() bool { return v.in.Scale.unit == Ounce || v.in.Scale.unit == Pound }

func maxOf(a, b Number) Number {
	if a.Less(b) {
		return b
	}
	return a
}
