package quantity

import "strings"

// Words is the exact amount as a reader of English likes it: see [Instruments.Words].
func (a Amount) Words(v Volumes) string { return Instruments{Volumes: v}.Words(a) }

// Words is the exact amount as a reader likes it: spoons, cups and counts in
// fractions (2¼ cups), everything else as a decimal, and a temperature difference
// as plain degrees (1.5 °C). Unlike [Amount.Text] it need not read back.
func (in Instruments) Words(a Amount) string {
	number := func(n Number) string { return in.Notation.Mark(n.String()) }
	switch {
	case a.taste:
		return in.Notation.toTaste()
	case a.unit == CelsiusDegree:
		a.unit = Celsius
	case a.unit == FahrenheitDegree:
		a.unit = Fahrenheit
	case a.Dimension() == Count, a.Dimension() == Volume && !a.unit.decimal():
		number = Number.Fraction
	}
	text := number(a.low)
	if a.IsRange() {
		text = in.Notation.Between(text, number(a.high), a.low.Sign() < 0)
	}
	text = strings.ReplaceAll(text, "-", "−")
	if symbol := a.unit.SymbolIn(in.Volumes, a.high.Cmp(Int(1)) > 0); symbol != "" {
		text += " " + in.Notation.Symbol(symbol)
	}
	return text
}

// Of is what stands between the words of an amount and what it is of, with its space:
// nothing in English, and nothing behind a count in any language ("2 huevos").
func (in Instruments) Of(a Amount) string {
	if in.Notation.Of == "" || a.Dimension() == Count {
		return ""
	}
	return in.Notation.Of + " "
}

// decimal reports whether a unit of volume is written in decimals.
func (u Unit) decimal() bool {
	switch u {
	case Milliliter, Centiliter, Deciliter, Liter:
		return true
	}
	return false
}
