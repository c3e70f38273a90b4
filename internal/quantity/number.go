package quantity

import (
	"cmp"
	"math"
	"math/big"
)

// Number is an exact rational number. It is immutable, its zero value is 0, and
// it is compared with [Number.Equal], never with ==.
//
// Nearly every number of a kitchen is a fraction of two int64; only what does not
// fit takes a big.Rat. A number has one form: big is nil whenever num and den can hold it.
type Number struct {
	_        [0]func() // makes == a compile error: two pointers may hold the same number
	num, den int64     // reduced, den above zero; a den of 0 counts as 1, for the zero value
	big      *big.Rat  // never changed once it is here, never handed out
}

// Int returns the whole number n.
func Int(n int64) Number { return Ratio(n, 1) }

// Ratio returns num/den, exactly. A den of 0 gives 0: a fraction that is read
// from text has its denominator checked by [ParseNumber], so a 0 here is a slip in
// a constant.
func Ratio(num, den int64) Number {
	if den == 0 || num == 0 {
		return Number{}
	}
	if num == math.MinInt64 || den == math.MinInt64 { // has no positive counterpart
		return wrap(big.NewRat(num, den))
	}
	if den < 0 {
		num, den = -num, -den
	}
	divisor := gcd(max(num, -num), den)
	return Number{num: num / divisor, den: den / divisor}
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// wrap takes over r; the caller must not keep it.
func wrap(r *big.Rat) Number {
	if num, den := r.Num(), r.Denom(); num.IsInt64() && den.IsInt64() && num.Int64() != math.MinInt64 {
		return Ratio(num.Int64(), den.Int64())
	}
	return Number{big: r}
}

// rat is for reading only.
func (n Number) rat() *big.Rat {
	if n.big != nil {
		return n.big
	}
	return big.NewRat(n.num, n.below())
}

// below returns the denominator of a number that is not big.
func (n Number) below() int64 { return max(n.den, 1) }

// times multiplies; ok is false where the product does not fit.
func times(a, b int64) (product int64, ok bool) {
	if a == 0 || b == 0 {
		return 0, true
	}
	product = a * b
	return product, product != math.MinInt64 && product/b == a
}

// plus adds; ok is false where the sum does not fit.
func plus(a, b int64) (sum int64, ok bool) {
	sum = a + b
	wrapped := (a < 0) == (b < 0) && (sum < 0) != (a < 0)
	return sum, !wrapped && sum != math.MinInt64
}

// Add returns n + m.
func (n Number) Add(m Number) Number {
	if n.big == nil && m.big == nil {
		left, ok1 := times(n.num, m.below())
		right, ok2 := times(m.num, n.below())
		den, ok3 := times(n.below(), m.below())
		if sum, ok := plus(left, right); ok && ok1 && ok2 && ok3 {
			return Ratio(sum, den)
		}
	}
	return wrap(new(big.Rat).Add(n.rat(), m.rat()))
}

// Sub returns n - m.
func (n Number) Sub(m Number) Number { return n.Add(m.Neg()) }

// Mul returns n times m.
func (n Number) Mul(m Number) Number {
	if n.big == nil && m.big == nil {
		num, ok1 := times(n.num, m.num)
		den, ok2 := times(n.below(), m.below())
		if ok1 && ok2 {
			return Ratio(num, den)
		}
	}
	return wrap(new(big.Rat).Mul(n.rat(), m.rat()))
}

// Quo returns n divided by m. It returns 0 and false when m is 0.
func (n Number) Quo(m Number) (Number, bool) {
	if m.Sign() == 0 {
		return Number{}, false
	}
	return n.over(m), true
}

// over divides by an m that is known not to be 0.
func (n Number) over(m Number) Number {
	if m.big == nil {
		return n.Mul(Ratio(m.below(), m.num))
	}
	return wrap(new(big.Rat).Quo(n.rat(), m.rat()))
}

// Neg returns -n.
func (n Number) Neg() Number {
	if n.big == nil {
		n.num = -n.num
		return n
	}
	return wrap(new(big.Rat).Neg(n.big))
}

// Abs returns n without its sign.
func (n Number) Abs() Number {
	if n.Sign() < 0 {
		return n.Neg()
	}
	return n
}

// Cmp returns -1 when n is less than m, 0 when they are equal, 1 when n is more.
func (n Number) Cmp(m Number) int {
	if n.big == nil && m.big == nil {
		left, ok1 := times(n.num, m.below())
		right, ok2 := times(m.num, n.below())
		if ok1 && ok2 {
			return cmp.Compare(left, right)
		}
	}
	return n.rat().Cmp(m.rat())
}

// Equal tells whether n and m are the same number.
func (n Number) Equal(m Number) bool { return n.Cmp(m) == 0 }

// Less tells whether n is less than m.
func (n Number) Less(m Number) bool { return n.Cmp(m) < 0 }

// Sign returns -1, 0 or 1.
func (n Number) Sign() int {
	if n.big != nil {
		return n.big.Sign()
	}
	return cmp.Compare(n.num, 0)
}

// IsInt tells whether n is a whole number.
func (n Number) IsInt() bool {
	if n.big != nil {
		return n.big.IsInt()
	}
	return n.below() == 1
}

// Float64 returns the float64 nearest to n. Use it for statistics and drawing,
// never on the way to an amount.
func (n Number) Float64() float64 {
	const exact = 1 << 53 // a float64 holds every whole number up to here, and divides them as well as can be
	if n.big == nil && n.num <= exact && n.num >= -exact && n.den <= exact {
		return float64(n.num) / float64(n.below())
	}
	f, _ := n.rat().Float64()
	return f
}

// Int64 returns n and true when n is a whole number that fits an int64 (the least of
// them does not count), else 0 and false.
func (n Number) Int64() (int64, bool) {
	if n.big != nil || !n.IsInt() {
		return 0, false
	}
	return n.num, true
}

// Floor returns the largest whole number that is not above n.
func (n Number) Floor() Number {
	if n.big == nil {
		whole := n.num / n.below()
		if n.num%n.below() < 0 {
			whole--
		}
		return Int(whole)
	}
	// Euclidean division rounds down for a positive divisor, and a denominator is positive.
	return wrap(new(big.Rat).SetInt(new(big.Int).Div(n.big.Num(), n.big.Denom())))
}

// RoundTo returns the multiple of step nearest to n, halves away from zero, and
// what the rounding added: residue = rounded - n. A step of 0 or less leaves n as it is.
func (n Number) RoundTo(step Number) (rounded, residue Number) {
	if step.Sign() <= 0 {
		return n, Number{}
	}
	steps := n.Abs().over(step).Add(Ratio(1, 2)).Floor()
	rounded = steps.Mul(step)
	if n.Sign() < 0 {
		rounded = rounded.Neg()
	}
	return rounded, rounded.Sub(n)
}
