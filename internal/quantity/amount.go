package quantity

// Amount is a number, or a range of numbers, of a unit, or "to taste". It is
// immutable, its zero value is 0 of [Each], and it is compared with [Amount.Equal].
type Amount struct {
	low, high Number // equal unless the amount is a range
	unit      Unit
	taste     bool
}

// New returns n of u.
func New(n Number, u Unit) Amount { return Amount{low: n, high: n, unit: u} }

// Between returns the range from low to high of u. Bounds in the wrong order are swapped,
// and two equal bounds are no range.
func Between(low, high Number, u Unit) Amount {
	if high.Less(low) {
		low, high = high, low
	}
	return Amount{low: low, high: high, unit: u}
}

// ToTaste returns the amount that is left to the cook.
func ToTaste() Amount { return Amount{taste: true} }

// Low returns the lower bound, which of a single number is the number.
func (a Amount) Low() Number { return a.low }

// High returns the upper bound, which of a single number is the number.
func (a Amount) High() Number { return a.high }

// Mid returns the number in the middle of the range.
func (a Amount) Mid() Number {
	if !a.IsRange() {
		return a.low
	}
	return a.low.Add(a.high).over(Int(2))
}

// Unit returns the unit of the bounds.
func (a Amount) Unit() Unit { return a.unit }

// Dimension returns what kind of thing the amount measures; to taste is a count of nothing.
func (a Amount) Dimension() Dimension { return a.unit.Dimension() }

// IsRange tells whether the bounds differ.
func (a Amount) IsRange() bool { return !a.low.Equal(a.high) }

// IsToTaste tells whether the amount is left to the cook.
func (a Amount) IsToTaste() bool { return a.taste }

// IsZero tells whether the amount is the number 0 of its unit. To taste is not zero, and
// 0 °F is zero only as it is written.
func (a Amount) IsZero() bool { return !a.taste && a.low.Sign() == 0 && a.high.Sign() == 0 }

// Scale returns the amount for a batch by times as large. Mass, volume and count
// scale; temperature, difference, time and length stay, and so does to taste.
func (a Amount) Scale(by Number) Amount {
	switch a.Dimension() {
	case Mass, Volume, Count:
		return a.times(by)
	}
	return a
}

func (a Amount) times(by Number) Amount {
	if a.taste {
		return a
	}
	if !a.IsRange() {
		return New(a.low.Mul(by), a.unit)
	}
	return Between(a.low.Mul(by), a.high.Mul(by), a.unit)
}

// In returns the same amount in another unit of the same kind, exactly. To taste is the
// same in every unit. The error is a [*DimensionError].
func (a Amount) In(u Unit) (Amount, error) {
	if a.taste || u == a.unit {
		return a, nil
	}
	if u.Dimension() != a.Dimension() {
		return Amount{}, &DimensionError{From: a.unit, To: u}
	}
	return a.in(u), nil
}

// in is In for a unit that is known to be of the same kind.
func (a Amount) in(u Unit) Amount {
	if u == a.unit {
		return a
	}
	low, high := a.Base()
	if !a.IsRange() {
		return New(u.fromBase(low), u)
	}
	return Between(u.fromBase(low), u.fromBase(high), u)
}

// Base returns the bounds in the base unit of the kind: count, g, mL, °C, Celsius
// degrees, s, mm.
func (a Amount) Base() (low, high Number) {
	low = a.unit.toBase(a.low)
	if !a.IsRange() {
		return low, low
	}
	return low, a.unit.toBase(a.high)
}

// Equal tells whether a and b are the same quantity, whatever their units: 16 oz
// equals 1 lb. Quantities of two kinds are never equal, not even when both are 0.
func (a Amount) Equal(b Amount) bool {
	if a.taste || b.taste {
		return a.taste && b.taste
	}
	if a.Dimension() != b.Dimension() {
		return false
	}
	aLow, aHigh := a.Base()
	bLow, bHigh := b.Base()
	return aLow.Equal(bLow) && aHigh.Equal(bHigh)
}

// Plus returns a + b in the unit of a. Both must be of one kind, except that a
// temperature takes a difference; two temperatures have no sum. The sum with to
// taste is to taste: it is not known. The error is a [*DimensionError].
func (a Amount) Plus(b Amount) (Amount, error) {
	if a.taste || b.taste {
		return ToTaste(), nil
	}
	want := a.Dimension()
	if want == Temperature {
		want = TemperatureDifference
	}
	if b.Dimension() != want {
		return Amount{}, &DimensionError{From: b.unit, To: a.unit}
	}
	aLow, aHigh := a.Base()
	bLow, bHigh := b.Base()
	return Between(a.unit.fromBase(aLow.Add(bLow)), a.unit.fromBase(aHigh.Add(bHigh)), a.unit), nil
}

// AsDifference returns a temperature as the difference that the same words mean in
// "accurate to 1.5 °C". It returns a itself and true when a is a difference already,
// and false for every other kind.
func (a Amount) AsDifference() (Amount, bool) {
	switch a.unit {
	case Celsius:
		a.unit = CelsiusDegree
	case Fahrenheit:
		a.unit = FahrenheitDegree
	}
	return a, a.Dimension() == TemperatureDifference
}

// String prints the amount exactly, in the words of a US customary kitchen: what
// [Parse] with the zero [Volumes] reads back to the same amount and unit. An amount below
// zero that is no temperature prints, too, but is not read back.
func (a Amount) String() string { return a.Text(USCustomary) }

// Text is String in the words of a kitchen with those volumes.
func (a Amount) Text(v Volumes) string {
	if a.taste {
		return "to taste"
	}
	number := a.low.String()
	if a.IsRange() {
		dash := "–"
		if a.low.Sign() < 0 {
			dash = " to "
		}
		number += dash + a.high.String()
	}
	symbol := a.unit.SymbolIn(v, a.high.Cmp(Int(1)) > 0)
	if symbol == "" {
		return number
	}
	return number + " " + symbol
}
