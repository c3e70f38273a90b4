package quantity

import "strings"

// Shown is an amount as a reader sees it, and what the rounding cost.
type Shown struct {
	// Text is for readers: "1 lb 5.2 oz", "1½ cups", "20–25 °C", with a plain space
	// before units, a real minus and an en dash. In the zero [Notation], [Parse] with
	// the system's Volumes reads it back to Value; a difference reads like a
	// temperature, as the words around it say what it is ([Amount.AsDifference]).
	Text string
	// Value is exactly what Text says.
	Value Amount
	// Residue is Value less the exact amount, in base units; of a range, the larger
	// of the two.
	Residue Number
	// RelativeError is the size of the residue as a share of the exact amount (of a
	// range, the larger share), 0 for none, at most 1. It is 0 for temperatures, which
	// have no natural zero.
	RelativeError float64
	// About says that the kitchen cannot measure this amount to within 5 %: Text
	// is off by more, or is finer than the instrument reads.
	About bool
}

// tolerated is the share of an amount past which rounding is worth a word: 5 %
// (common practice, no source).
func tolerated() Number { return Ratio(5, 100) }

// part is one number and unit of a text; "1 lb 5.2 oz" has two.
type part struct {
	n    Number
	unit Unit
}

// measured is one number rounded to what can be measured.
type measured struct {
	parts []part // never empty; of one kind
	finer bool   // finer than the instrument reads
}

func one(n Number, u Unit) measured { return measured{parts: []part{{n, u}}} }

// Show rounds an amount to what the kitchen can measure and prints it for a
// reader of that system. It is the only place where amounts are rounded. What is
// above zero is never shown as 0.
//
// Mass goes to the scale's step; US and imperial to 0.1 oz, or 0.01 oz below 1 oz,
// unless the scale itself reads in ounces. US volumes are the fewest spoons and
// cups; see [Instruments.Scoops]. Temperatures go to the thermometer's step,
// converted ones from 120 °C up to 5 degrees, as oven dials do. Counts go to halves,
// thirds and quarters, lengths to millimeters and sixteenths of an inch, times to
// the timer's step.
func (in Instruments) Show(a Amount, s System) Shown {
	if a.taste {
		return Shown{Text: in.Notation.toTaste(), Value: a}
	}
	v := view{in: in.WithDefaults(), kitchen: in, system: s, unit: a.unit}
	baseLow, baseHigh := a.Base()
	low := v.round(baseLow)
	if !a.IsRange() {
		return v.finish([]measured{low}, []Number{baseLow})
	}
	return v.finish([]measured{low, v.round(baseHigh)}, []Number{baseLow, baseHigh})
}

// view is one showing: who owns what, who reads it, and how it was written.
type view struct {
	in      Instruments // with defaults
	kitchen Instruments // as given
	system  System
	unit    Unit
}

// round rounds a number of base units.
func (v view) round(n Number) measured {
	d := v.unit.Dimension()
	switch d {
	case Temperature:
		return v.temperature(n)
	case TemperatureDifference:
		return v.difference(n)
	}
	if n.Sign() == 0 {
		return one(n, v.unitOfZero())
	}
	m := v.positive(n.Abs())
	if n.Sign() < 0 {
		for i := range m.parts {
			m.parts[i].n = m.parts[i].n.Neg()
		}
	}
	return m
}

func (v view) positive(n Number) measured {
	metric := v.system == MetricSystem
	switch d := v.unit.Dimension(); {
	case d == Mass && metric:
		return v.metricMass(n)
	case d == Mass:
		return v.ounces(n)
	case d == Volume && metric:
		return v.metricVolume(n)
	case d == Volume && v.system == ImperialSystem:
		return v.imperialVolume(n)
	case d == Volume:
		return v.usVolume(n)
	case d == Time:
		return v.time(n)
	case d == Length && metric:
		return v.metricLength(n)
	case d == Length:
		return v.inches(n)
	}
	return v.count(n)
}

// unitOfZero keeps the unit that was written where the reader knows it: 0 min stays 0 min.
func (v view) unitOfZero() Unit {
	d := v.unit.Dimension()
	switch {
	case d == Time || d == Count:
		return v.unit
	case v.system == MetricSystem:
		return d.Base()
	case d == Mass:
		return Ounce
	case d == Length:
		return Inch
	case v.system == ImperialSystem:
		return MetricTeaspoon
	}
	return Teaspoon
}

// finish writes the text and counts the cost. There are one or two bounds.
func (v view) finish(bounds []measured, exact []Number) Shown {
	low, high := bounds[0], bounds[len(bounds)-1]
	zero := low.parts[0].n.Sign() == 0
	if zero && len(high.parts) == 1 {
		low = one(Number{}, high.parts[0].unit) // 0–1 h, not 0 min – 1 h
	}
	shown := Shown{Text: v.join(low, high), Value: valueBetween(low, high)}
	valueLow, valueHigh := shown.Value.Base()
	for i, value := range []Number{valueLow, valueHigh}[:len(exact)] {
		residue := value.Sub(exact[i])
		if residue.Abs().Cmp(shown.Residue.Abs()) > 0 {
			shown.Residue = residue
		}
		if share := v.share(residue, exact[i]); share.Sign() > 0 {
			shown.RelativeError = max(shown.RelativeError, min(1, share.Float64()))
			shown.About = shown.About || tolerated().Less(share)
		}
		shown.About = shown.About || bounds[i].finer
	}
	return shown
}

// share is the size of a residue as a share of the exact number.
func (v view) share(residue, exact Number) Number {
	if v.unit.Dimension() == Temperature || exact.Sign() == 0 {
		return Number{}
	}
	return residue.over(exact).Abs()
}

// valueBetween adds up what the texts of both bounds say, in the smallest unit.
func valueBetween(low, high measured) Amount {
	u := low.parts[0].unit
	for _, p := range append(append([]part(nil), low.parts...), high.parts...) {
		u = smaller(u, p.unit)
	}
	return Between(low.in(u), high.in(u), u)
}

// in adds up the parts in a unit of their kind.
func (m measured) in(u Unit) Number {
	if len(m.parts) == 1 {
		return New(m.parts[0].n, m.parts[0].unit).in(u).low
	}
	sum := Number{}
	for _, p := range m.parts {
		sum = sum.Add(New(p.n, p.unit).in(u).low)
	}
	return sum
}

// join writes one bound, or two as a range, with the unit once where it is the same.
func (v view) join(low, high measured) string {
	lowText, highText := v.text(low), v.text(high)
	if lowText == highText {
		return lowText
	}
	if len(low.parts) > 1 || len(high.parts) > 1 || low.parts[0].unit != high.parts[0].unit {
		return lowText + " – " + highText
	}
	return v.in.Notation.Between(v.figure(low.parts[0]), highText, low.parts[0].n.Sign() < 0)
}

// text writes the parts of one bound. Spoons and cups are added up with a plus, as
// one cannot tell otherwise where one ends; pounds and ounces, hours and minutes
// stand beside each other.
func (v view) text(m measured) string {
	words := make([]string, len(m.parts))
	for i, p := range m.parts {
		words[i] = v.figure(p)
		if symbol := v.symbol(p); symbol != "" {
			words[i] += " " + symbol
		}
	}
	if m.parts[0].unit.Dimension() == Volume {
		return strings.Join(words, " + ")
	}
	return strings.Join(words, " ")
}

// symbol is the unit for readers.
func (v view) symbol(p part) string {
	switch p.unit {
	case CelsiusDegree:
		return Celsius.Symbol()
	case FahrenheitDegree:
		return Fahrenheit.Symbol()
	}
	return v.in.Notation.Symbol(p.unit.SymbolIn(v.system.Volumes(), p.n.Cmp(Int(1)) > 0))
}

// figure is the number for readers: fractions for what is measured in fractions,
// decimals for what is read off a display.
func (v view) figure(p part) string {
	d := p.unit.Dimension()
	metric := p.unit == Milliliter || p.unit == Liter
	counted := d == Count && (p.n.Mul(Int(8)).IsInt() || p.n.Mul(Int(6)).IsInt())
	if counted || d == Volume && !metric || p.unit == Inch {
		return p.n.Fraction()
	}
	return v.in.Notation.Mark(strings.Replace(p.n.String(), "-", "−", 1))
}
