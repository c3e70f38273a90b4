package quantity

import "sync"

// Dimension is the kind of thing a unit measures.
type Dimension uint8

// The kinds. A temperature and a temperature difference are two: only the
// first has a zero that depends on the scale.
const (
	Count Dimension = iota
	Mass
	Volume
	Temperature
	TemperatureDifference
	Time
	Length
)

// String names the kind in plain words.
func (d Dimension) String() string {
	switch d {
	case Count:
		return "count"
	case Mass:
		return "mass"
	case Volume:
		return "volume"
	case Temperature:
		return "temperature"
	case TemperatureDifference:
		return "temperature difference"
	case Time:
		return "time"
	case Length:
		return "length"
	}
	return "unknown kind"
}

// Base returns the unit in which [Amount.Base] counts this kind: each, g, mL, °C,
// Celsius degrees, s, mm.
func (d Dimension) Base() Unit {
	switch d {
	case Mass:
		return Gram
	case Volume:
		return Milliliter
	case Temperature:
		return Celsius
	case TemperatureDifference:
		return CelsiusDegree
	case Time:
		return Second
	case Length:
		return Millimeter
	}
	return Each
}

// Unit is a unit of measure. Units are compared with ==; the zero value is [Each].
type Unit uint8

// The units. Names without a system are US customary where systems differ.
//
// Sources: the pound and the inch, 1959 international yard and pound agreement
// (NIST SP 811, Appendix B); the US gallon of 231 cubic inches, NIST Handbook 44,
// Appendix C; the imperial gallon of 4.54609 L, UK Weights and Measures Act 1985.
// Metric spoons and cup of 5, 15 and 250 mL, Australian tablespoon of 20 mL: by
// definition of those measures. An imperial cup of half a pint, a dash of 1/8 tsp and a
// pinch of 1/16 tsp: common practice, no source. Label measures: 21 CFR 101.9(b)(5)(viii).
const (
	Each Unit = iota // a count

	Gram
	Kilogram
	Milligram
	Ounce
	Pound

	Milliliter
	Centiliter
	Deciliter
	Liter

	Teaspoon
	Tablespoon
	FluidOunce
	Cup
	Pint
	Quart
	Gallon
	Dash
	Pinch

	MetricTeaspoon
	MetricTablespoon
	MetricCup

	ImperialFluidOunce
	ImperialCup
	ImperialPint
	ImperialQuart
	ImperialGallon

	Celsius    // a temperature
	Fahrenheit // a temperature

	CelsiusDegree    // a difference of temperatures
	FahrenheitDegree // a difference of temperatures

	Second
	Minute
	Hour
	Day

	Millimeter
	Centimeter
	Meter
	Inch

	// Measures that only nutrition labels and Australian cooks use. Each is
	// read by its full name alone.
	LabelTeaspoon
	LabelTablespoon
	LabelCup
	LabelFluidOunce
	LabelOunce
	AustralianTablespoon

	unitCount = iota
)

// Volumes says which spoons, cups and pints the bare words mean.
type Volumes uint8

// The systems of kitchen volumes.
const (
	// USCustomary is the default: a cup of 236.588 mL.
	USCustomary Volumes = iota
	// Metric is 5 mL, 15 mL and 250 mL. There is no metric pint, fluid ounce, quart or
	// gallon: those words then need "US" or "imperial" before them.
	Metric
	// Imperial has fluid ounce, pint, quart and gallon of the imperial gallon, and
	// a cup of half a pint. No law ever fixed an imperial spoon; the spoons sold
	// where those pints are used hold 5 and 15 mL (common practice, no source),
	// and that is what tsp and tbsp mean.
	Imperial
)

// unit is a row of the table. A quantity in base units is n times num/den, plus
// offNum/offDen for a temperature.
type unit struct {
	dimension  Dimension
	symbol     string // as printed, unmistakable for a US customary kitchen
	plural     string // the symbol for more than one, "" when it is the same
	name       string
	factor     Number
	offset     Number
	bare       [3]bool // by Volumes: the symbol needs no system before it
	bareAs     string  // the symbol without the system, "" when it has none
	barePlural string
}

// units is the table, one row a unit.
var units = sync.OnceValue(func() *[unitCount]unit {
	t := new([unitCount]unit)
	addWeights(t)
	addVolumes(t)
	addTemperatures(t)
	addTimesAndLengths(t)
	addLabelMeasures(t)
	return t
})

func (u Unit) row() *unit {
	if int(u) >= unitCount {
		u = Each
	}
	return &units()[u]
}

// Dimension returns what kind of thing u measures.
func (u Unit) Dimension() Dimension { return u.row().dimension }

// Symbol returns the short form that [Parse] reads back with the zero [Volumes]:
// "g", "tsp", "metric tsp", "°C". [Each] has none.
func (u Unit) Symbol() string { return u.row().symbol }

// SymbolIn returns the short form that [Parse] reads back with v, in the plural
// where more than one is meant and the plural is written ("cups", but "tsp").
func (u Unit) SymbolIn(v Volumes, many bool) string {
	r := u.row()
	symbol, plural := r.symbol, r.plural
	if r.bareAs != "" && int(v) < len(r.bare) {
		if r.bare[v] {
			symbol, plural = r.bareAs, r.barePlural
		} else if r.bare[USCustomary] {
			symbol, plural = "US "+symbol, "US "+plural
		}
	}
	if many && plural != "" && plural != "US " {
		return plural
	}
	return symbol
}

// Name returns the full name in the singular: "gram", "metric teaspoon", "degree Celsius".
func (u Unit) Name() string { return u.row().name }

// String returns the name.
func (u Unit) String() string { return u.Name() }

// toBase turns a number of u into base units.
func (u Unit) toBase(n Number) Number {
	r := u.row()
	if r.offset.Sign() == 0 {
		return n.Mul(r.factor)
	}
	return n.Mul(r.factor).Add(r.offset)
}

// fromBase turns a number of base units into u.
func (u Unit) fromBase(n Number) Number {
	r := u.row()
	return n.Sub(r.offset).over(r.factor)
}
