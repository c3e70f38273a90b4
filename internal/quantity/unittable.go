package quantity

func addWeights(t *[unitCount]unit) {
	pound := Ratio(45359237, 100000) // g
	t[Each] = unit{dimension: Count, name: "piece", factor: Int(1)}
	t[Gram] = unit{dimension: Mass, symbol: "g", name: "gram", factor: Int(1)}
	t[Kilogram] = unit{dimension: Mass, symbol: "kg", name: "kilogram", factor: Int(1000)}
	t[Milligram] = unit{dimension: Mass, symbol: "mg", name: "milligram", factor: Ratio(1, 1000)}
	t[Ounce] = unit{dimension: Mass, symbol: "oz", name: "ounce", factor: pound.over(Int(16))}
	t[Pound] = unit{dimension: Mass, symbol: "lb", name: "pound", factor: pound}
}

// volume describes a measure whose bare symbol means it in some systems only.
type volume struct {
	unit           Unit
	system         string // "", "metric" or "imperial", written before the symbol
	symbol, plural string
	name           string
	milliliters    Number
	bare           [3]bool
}

func addVolumes(t *[unitCount]unit) {
	gallon := Ratio(473176473, 125000) // US, mL: 231 cubic inches
	imperial := Ratio(454609, 100)     // mL
	everywhere := [3]bool{true, true, true}
	us := [3]bool{USCustomary: true}
	metric := [3]bool{Metric: true}
	spoon := [3]bool{Metric: true, Imperial: true}
	pint := [3]bool{Imperial: true}
	for _, m := range []volume{
		{Milliliter, "", "mL", "", "milliliter", Int(1), everywhere},
		{Centiliter, "", "cL", "", "centiliter", Int(10), everywhere},
		{Deciliter, "", "dL", "", "deciliter", Int(100), everywhere},
		{Liter, "", "L", "", "liter", Int(1000), everywhere},

		{Teaspoon, "", "tsp", "", "teaspoon", gallon.over(Int(768)), us},
		{Tablespoon, "", "tbsp", "", "tablespoon", gallon.over(Int(256)), us},
		{FluidOunce, "", "fl oz", "", "fluid ounce", gallon.over(Int(128)), us},
		{Cup, "", "cup", "cups", "cup", gallon.over(Int(16)), us},
		{Pint, "", "pint", "pints", "pint", gallon.over(Int(8)), us},
		{Quart, "", "quart", "quarts", "quart", gallon.over(Int(4)), us},
		{Gallon, "", "gallon", "gallons", "gallon", gallon, us},
		{Dash, "", "dash", "dashes", "dash", gallon.over(Int(768 * 8)), everywhere},
		{Pinch, "", "pinch", "pinches", "pinch", gallon.over(Int(768 * 16)), everywhere},

		{MetricTeaspoon, "metric", "tsp", "", "teaspoon", Int(5), spoon},
		{MetricTablespoon, "metric", "tbsp", "", "tablespoon", Int(15), spoon},
		{MetricCup, "metric", "cup", "cups", "cup", Int(250), metric},

		{ImperialFluidOunce, "imperial", "fl oz", "", "fluid ounce", imperial.over(Int(160)), pint},
		{ImperialCup, "imperial", "cup", "cups", "cup", imperial.over(Int(16)), pint},
		{ImperialPint, "imperial", "pint", "pints", "pint", imperial.over(Int(8)), pint},
		{ImperialQuart, "imperial", "quart", "quarts", "quart", imperial.over(Int(4)), pint},
		{ImperialGallon, "imperial", "gallon", "gallons", "gallon", imperial, pint},
	} {
		t[m.unit] = m.row()
	}
}

func (m volume) row() unit {
	before := m.system
	if before != "" {
		before += " "
	}
	row := unit{
		dimension: Volume, symbol: before + m.symbol, name: before + m.name, factor: m.milliliters,
		bare: m.bare, bareAs: m.symbol, barePlural: m.plural,
	}
	if m.plural != "" {
		row.plural = before + m.plural
	}
	return row
}

// addTemperatures: t/°C = (t/°F - 32) · 5/9 (NIST SP 811, Appendix B.8).
func addTemperatures(t *[unitCount]unit) {
	t[Celsius] = unit{dimension: Temperature, symbol: "°C", name: "degree Celsius", factor: Int(1)}
	t[Fahrenheit] = unit{dimension: Temperature, symbol: "°F", name: "degree Fahrenheit",
		factor: Ratio(5, 9), offset: Ratio(-160, 9)}
	t[CelsiusDegree] = unit{dimension: TemperatureDifference, symbol: "°C difference",
		name: "Celsius degree of difference", factor: Int(1)}
	t[FahrenheitDegree] = unit{dimension: TemperatureDifference, symbol: "°F difference",
		name: "Fahrenheit degree of difference", factor: Ratio(5, 9)}
}

func addTimesAndLengths(t *[unitCount]unit) {
	t[Second] = unit{dimension: Time, symbol: "s", name: "second", factor: Int(1)}
	t[Minute] = unit{dimension: Time, symbol: "min", name: "minute", factor: Int(60)}
	t[Hour] = unit{dimension: Time, symbol: "h", name: "hour", factor: Int(3600)}
	t[Day] = unit{dimension: Time, symbol: "day", plural: "days", name: "day", factor: Int(86400)}

	t[Millimeter] = unit{dimension: Length, symbol: "mm", name: "millimeter", factor: Int(1)}
	t[Centimeter] = unit{dimension: Length, symbol: "cm", name: "centimeter", factor: Int(10)}
	t[Meter] = unit{dimension: Length, symbol: "m", name: "meter", factor: Int(1000)}
	t[Inch] = unit{dimension: Length, symbol: "in", name: "inch", factor: Ratio(127, 5)}
}

func addLabelMeasures(t *[unitCount]unit) {
	label := func(name string, d Dimension, base int64) unit {
		return unit{dimension: d, symbol: "label " + name, plural: "label " + name + "s", name: "label " + name, factor: Int(base)}
	}
	t[LabelTeaspoon] = label("teaspoon", Volume, 5)
	t[LabelTablespoon] = label("tablespoon", Volume, 15)
	t[LabelCup] = label("cup", Volume, 240)
	t[LabelFluidOunce] = label("fluid ounce", Volume, 30)
	t[LabelOunce] = label("ounce", Mass, 28)
	t[AustralianTablespoon] = unit{dimension: Volume, symbol: "Australian tablespoon",
		plural: "Australian tablespoons", name: "Australian tablespoon", factor: Int(20)}
}
