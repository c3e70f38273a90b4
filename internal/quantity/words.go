package quantity

import "strings"

// Words is the exact amount as a reader likes it: spoons, cups and counts in
// fractions (2¼ cups), everything else as a decimal, and a temperature difference
// as plain degrees (1.5 °C). Unlike [Amount.Text] it need not read back.
func (a Amount) Words(v Volumes) string {
	number := Number.String
	switch {
	case a.taste:
		return "to taste"
	case a.unit == CelsiusDegree:
		a.unit = Celsius
	case a.unit == FahrenheitDegree:
		a.unit = Fahrenheit
	case a.Dimension() == Count, a.Dimension() == Volume && !a.unit.decimal():
		number = Number.Fraction
	}
	text := number(a.low)
	if a.IsRange() {
		dash := "–"
		if a.low.Sign() < 0 {
			dash = " to " // a dash beside a minus cannot be read
		}
		text += dash + number(a.high)
	}
	text = strings.ReplaceAll(text, "-", "−")
	if symbol := a.unit.SymbolIn(v, a.high.Cmp(Int(1)) > 0); symbol != "" {
		text += " " + symbol
	}
	return text
}

// decimal reports whether a unit of volume is written in decimals.
func (u Unit) decimal() bool {
	switch u {
	case Milliliter, Centiliter, Deciliter, Liter:
		return true
	}
	return false
}
