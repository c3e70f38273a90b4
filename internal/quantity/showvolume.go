package quantity

// metricVolume shows mL, and L with two decimals from 1 L up. Small volumes are
// shown as finely as 5 % asks: a spoon of 2.5 mL is not 3 mL.
func (v view) metricVolume(milliliters Number) measured {
	rounded, _ := roundFiner(milliliters, Int(1))
	m := one(rounded, Milliliter)
	if rounded.Cmp(Int(1000)) >= 0 {
		rounded, _ = milliliters.RoundTo(Int(10))
		m = one(rounded.over(Int(1000)), Liter)
	}
	m.finer = belowSpoons(milliliters, v.kitchen.measures(v.kitchen.system()))
	return m
}

// system returns the system of the kitchen's own spoons.
func (in Instruments) system() System {
	switch in.Volumes {
	case Metric:
		return MetricSystem
	case Imperial:
		return ImperialSystem
	}
	return USSystem
}

// smallestOf returns the smallest of the measures in mL, 0 if there is none.
func smallestOf(measures []Amount) Number {
	smallest := Number{}
	for _, m := range measures {
		if size := m.unit.toBase(m.low); smallest.Sign() == 0 || size.Less(smallest) {
			smallest = size
		}
	}
	return smallest
}

// belowSpoons tells whether a volume is more than 5 % below the smallest of the measures.
func belowSpoons(milliliters Number, measures []Amount) bool {
	return milliliters.Less(smallestOf(measures).Mul(Int(1).Sub(tolerated())))
}

// usVolume shows spoons and cups, with quarts from two quarts up.
func (v view) usVolume(milliliters Number) measured {
	measures := v.kitchen.measures(USSystem)
	if m, ok := bySpoons(milliliters, Teaspoon, measures); ok {
		m.parts = quarts(m.parts)
		return m
	}
	// The kitchen has no measures: the reader may have the usual ones.
	if m, ok := bySpoons(milliliters, Teaspoon, Instruments{}.measures(USSystem)); ok {
		return measured{parts: quarts(m.parts), finer: true}
	}
	cups, _ := Cup.fromBase(milliliters).RoundTo(Int(1)) // more than a million of them
	return measured{parts: quarts([]part{{cups, Cup}})}
}

// bySpoons measures a volume with the fewest of the measures. It returns false
// where there are none.
func bySpoons(milliliters Number, tsp Unit, measures []Amount) (measured, bool) {
	if belowSpoons(milliliters, measures) {
		spoons := tsp.fromBase(milliliters)
		eighths, residue := spoons.RoundTo(Ratio(1, 8))
		switch {
		case eighths.Sign() > 0 && residue.Abs().Cmp(spoons.Mul(tolerated())) <= 0:
			return measured{parts: []part{{eighths, tsp}}, finer: true}, true
		case milliliters.Less(smallestOf(measures).Mul(Ratio(3, 4))): // nearer to half of the smallest
			return pinches(milliliters), true
		}
	}
	scoops, _ := scoopsFor(milliliters, measures)
	if len(scoops) == 0 {
		return measured{}, false
	}
	return measured{parts: partsOf(scoops)}, true
}

// pinches shows whole pinches, and a pinch halved as often as it takes: never 0.
func pinches(milliliters Number) measured {
	n, step := Pinch.fromBase(milliliters), Int(1)
	for n.Less(step.Mul(Ratio(3, 4))) {
		step = step.over(Int(2))
	}
	rounded, _ := n.RoundTo(step)
	return measured{parts: []part{{rounded, Pinch}}, finer: true}
}

// partsOf adds up the scoops unit by unit. Two spoons become one number where the
// cook finds them again: ½ + ¼ cup is ¾ cup, but ½ + ⅓ cup stays as it is.
func partsOf(scoops []Scoop) []part {
	var parts []part
	for len(scoops) > 0 {
		n := 0
		for n < len(scoops) && scoops[n].Measure.unit == scoops[0].Measure.unit {
			n++
		}
		parts = append(parts, family(scoops[:n])...)
		scoops = scoops[n:]
	}
	return parts
}

func family(scoops []Scoop) []part {
	unit := scoops[0].Measure.unit
	var whole, total Number
	var odd []part
	for _, s := range scoops {
		n := s.Measure.low.Mul(Int(int64(s.Times)))
		total = total.Add(n)
		if s.Measure.low.IsInt() {
			whole = whole.Add(n)
		} else {
			odd = append(odd, part{n, unit})
		}
	}
	if len(odd) == 0 || commonFraction(total) {
		return []part{{total, unit}}
	}
	if odd[0].n.Less(Int(1)) {
		odd[0].n = odd[0].n.Add(whole)
	} else if whole.Sign() > 0 {
		odd = append([]part{{whole, unit}}, odd...)
	}
	return odd
}

// commonFraction tells whether n is in halves, thirds or quarters.
func commonFraction(n Number) bool {
	return n.Mul(Int(4)).IsInt() || n.Mul(Int(3)).IsInt()
}

// quarts turns two quarts of cups and more into quarts; what is left over stays in cups.
func quarts(parts []part) []part {
	first := parts[0]
	if first.unit != Cup || first.n.Less(Int(8)) {
		return parts
	}
	halves := first.n.over(Int(2)).Floor()
	rest := first.n.Sub(halves.Mul(Int(2)))
	if rest.Sign() > 0 && !halves.over(Int(2)).IsInt() { // 2 quarts + 2½ cups, not 2½ quarts + ½ cup
		halves, rest = halves.Sub(Int(1)), rest.Add(Int(2))
	}
	out := []part{{halves.over(Int(2)), Quart}}
	if rest.Sign() > 0 {
		out = append(out, part{rest, Cup})
	}
	return append(out, parts[1:]...)
}

// imperialVolume shows 5 and 15 mL spoons below 3 tbsp, then imperial fluid ounces,
// then pints from 20 fl oz up, to half a fluid ounce below 10 fl oz and to a whole one above.
func (v view) imperialVolume(milliliters Number) measured {
	if milliliters.Less(Int(45)) {
		if m, ok := bySpoons(milliliters, MetricTeaspoon, v.spoons()); ok {
			return m
		}
	}
	exact, step := ImperialFluidOunce.fromBase(milliliters), Int(1)
	if exact.Less(Int(10)) {
		step = Ratio(1, 2)
	}
	ounces, _ := roundHalving(exact, step)
	quarters := ounces.over(Int(5)) // of a pint
	pints := ounces.over(Int(20)).Floor()
	switch {
	case quarters.Less(Int(4)):
		return one(ounces, ImperialFluidOunce)
	case quarters.IsInt():
		return one(quarters.over(Int(4)), ImperialPint)
	default:
		rest := ounces.Sub(pints.Mul(Int(20)))
		return measured{parts: []part{{pints, ImperialPint}, {rest, ImperialFluidOunce}}}
	}
}

// spoons returns the measures of an imperial reader that are spoons.
func (v view) spoons() []Amount {
	var spoons []Amount
	for _, m := range v.kitchen.measures(ImperialSystem) {
		if m.unit == MetricTeaspoon || m.unit == MetricTablespoon {
			spoons = append(spoons, m)
		}
	}
	return spoons
}
