package stats

import (
	"errors"
	"math"
	"math/big"
	"strconv"
	"strings"
)

// significant is how many decimal digits of a reading are kept: 15, which a
// float64 always carries, and fewer for thousands of readings, so that their sum
// stays a whole number of the machine.
func significant(readings int) int {
	return min(15, 18-len(strconv.Itoa(readings)))
}

// decimals are readings as whole multiples of a power of ten: value = ints ·
// 10^exponent. Sums and differences of them are exact, which sums of binary
// fractions are not: 4.1 − 3.6 is not 0.5 in binary.
type decimals struct {
	ints     []int64
	exponent int
}

// asDecimals reads every number as the shortest decimal that stands for it, which
// is what was typed. All share one exponent. Digits beyond the 15th of the
// largest number are rounded away: they are the noise of earlier arithmetic.
func asDecimals(xs []float64) decimals {
	top, last := math.MinInt, 0
	for _, x := range xs {
		if x == 0 {
			continue
		}
		first, lowest := digits(x)
		top, last = max(top, first), min(last, lowest)
	}
	exponent := last
	if top != math.MinInt {
		exponent = max(last, top-significant(len(xs))+1)
	}
	d := decimals{ints: make([]int64, len(xs)), exponent: exponent}
	for i, x := range xs {
		d.ints[i] = scaled(x, exponent)
	}
	return d
}

// digits returns the powers of ten of the first and last digit of x, not 0.
func digits(x float64) (first, last int) {
	text := strconv.FormatFloat(math.Abs(x), 'e', -1, 64) // 4.1e+00
	mantissa, power, _ := strings.Cut(text, "e")
	first, _ = strconv.Atoi(power)
	_, fraction, _ := strings.Cut(mantissa, ".")
	return first, first - len(fraction)
}

// scaled is x / 10^exponent, rounded to the nearest whole number, halves away
// from zero. The caller's exponent keeps it below 10^15.
func scaled(x float64, exponent int) int64 {
	r, ok := new(big.Rat).SetString(strconv.FormatFloat(x, 'e', -1, 64))
	if !ok {
		return 0 // cannot happen: a finite float prints as a number
	}
	power := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(abs(exponent))), nil))
	if exponent < 0 {
		r.Mul(r, power)
	} else {
		r.Quo(r, power)
	}
	whole, err := strconv.ParseInt(r.FloatString(0), 10, 64)
	if err != nil {
		return 0 // cannot happen: at most 16 digits
	}
	return whole
}

func abs(i int) int {
	if i < 0 {
		return -i
	}
	return i
}

// float turns a whole multiple, possibly a fraction num/den of one, back into a
// number.
func (d decimals) float(num int64, den int64) float64 {
	f := float64(num) / float64(den)
	if d.exponent < 0 {
		return f / math.Pow10(-d.exponent)
	}
	return f * math.Pow10(d.exponent)
}

// Differences subtracts y from x, reading by reading, in decimals. The samples
// must be of the same size.
func Differences(x, y Sample) (Sample, error) {
	d, err := pairedDecimals(x, y)
	if err != nil {
		return Sample{}, err
	}
	out := make([]float64, len(d.ints))
	for i, v := range d.ints {
		out[i] = d.float(v, 1)
	}
	return NewSample(out)
}

// pairedDecimals are the differences x − y as whole multiples.
func pairedDecimals(x, y Sample) (decimals, error) {
	if x.N() == 0 || x.N() != y.N() {
		return decimals{}, errors.New("pairs need as many readings on one side as on the other (and at least one)")
	}
	d := asDecimals(append(x.Values(), y.xs...))
	for i := range x.xs {
		d.ints[i] -= d.ints[x.N()+i]
	}
	d.ints = d.ints[:x.N()]
	return d, nil
}
