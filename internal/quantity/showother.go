package quantity

// ovenHeat is where a temperature is one that is set on a dial in steps of 5
// degrees, in °C (common practice, no source).
func ovenHeat() Number { return Int(120) }

// temperature takes and rounds degrees Celsius.
func (v view) temperature(celsius Number) measured {
	u := Celsius
	if v.system == USSystem {
		u = Fahrenheit
	}
	step := v.degrees(u)
	if celsius.Cmp(ovenHeat()) >= 0 {
		if u == v.unit {
			return one(u.fromBase(celsius), u) // what the note says is on the dial
		}
		step = maxOf(step, Int(5))
	}
	rounded, _ := u.fromBase(celsius).RoundTo(step)
	return one(rounded, u)
}

// difference takes and rounds Celsius degrees.
func (v view) difference(celsius Number) measured {
	u, step := CelsiusDegree, v.degrees(Celsius)
	if v.system == USSystem {
		u, step = FahrenheitDegree, v.degrees(Fahrenheit)
	}
	n := u.fromBase(celsius)
	if n.Sign() == 0 {
		return one(n, u)
	}
	rounded, finer := roundFiner(n.Abs(), step)
	if n.Sign() < 0 {
		rounded = rounded.Neg()
	}
	return measured{parts: []part{{rounded, u}}, finer: finer}
}

// degrees returns the thermometer's step in the degrees of that scale. A
// converted step becomes a round one: a thermometer in whole °C is read in whole °F.
func (v view) degrees(scale Unit) Number {
	u := CelsiusDegree
	if scale == Fahrenheit {
		u = FahrenheitDegree
	}
	step := v.in.Thermometer.in(u).low
	if v.in.Thermometer.unit == u {
		return step
	}
	return niceStep(step)
}

// count shows halves, thirds and quarters, or eighths, or, where none of these
// comes within 5 %, decimals. A count that needs none of that stays exact.
func (v view) count(n Number) measured {
	best, off := n.RoundTo(Ratio(1, 4))
	if third, residue := n.RoundTo(Ratio(1, 3)); residue.Abs().Less(off.Abs()) {
		best, off = third, residue
	}
	limit := n.Mul(tolerated())
	for _, step := range []Number{Ratio(1, 6), Ratio(1, 8)} {
		if finer, residue := n.RoundTo(step); residue.Sign() == 0 || limit.Less(off.Abs()) {
			best, off = finer, residue
		}
	}
	if limit.Less(off.Abs()) {
		best, _ = roundFiner(n, Ratio(1, 10))
	}
	return one(best, Each)
}

// time shows days, hours, minutes and seconds, to the timer's step.
func (v view) time(seconds Number) measured {
	step, _ := v.in.Timer.Base()
	rest, finer := roundFiner(seconds, step)
	m := measured{finer: finer}
	units := []Unit{Hour, Minute, Second}
	if rest.Cmp(Int(48*3600)) >= 0 {
		units = append([]Unit{Day}, units...)
	}
	for _, u := range units {
		size := u.row().factor
		n := rest.over(size)
		if u != Second {
			n = n.Floor()
		}
		if n.Sign() > 0 {
			m.parts = append(m.parts, part{n, u})
			rest = rest.Sub(n.Mul(size))
		}
	}
	return m
}

// metricLength shows cm from 10 cm up, from 2 cm up where it was written in inches,
// and always where it was written in cm or m; else mm. What was metric stays exact
// to 0.1 mm below 10 cm and to 1 mm above; inches become whole mm, or half cm, where
// that is within 5 %.
func (v view) metricLength(millimeters Number) measured {
	converted := v.unit == Inch
	long := millimeters.Cmp(Int(100)) >= 0 || v.unit == Centimeter || v.unit == Meter
	if converted {
		long = millimeters.Cmp(Int(20)) >= 0
	}
	step := Ratio(1, 10)
	switch {
	case converted && long:
		step = Int(5)
	case converted || millimeters.Cmp(Int(100)) >= 0:
		step = Int(1)
	}
	rounded, _ := roundFiner(millimeters, step)
	if long {
		return one(rounded.over(Int(10)), Centimeter)
	}
	return one(rounded, Millimeter)
}

// inches shows eighths of an inch, sixteenths below 1 in, and finer where 5 % asks for it.
func (v view) inches(millimeters Number) measured {
	n := Inch.fromBase(millimeters)
	step := Ratio(1, 8)
	if n.Less(Int(1)) || v.unit == Inch {
		step = Ratio(1, 16)
	}
	rounded, _ := roundHalving(n, step)
	return one(rounded, Inch)
}
