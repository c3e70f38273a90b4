package quantity

import (
	"math/bits"
	"strconv"
	"strings"
)

// maxPlaces is how many decimals [Number.Decimal] prints at most.
const maxPlaces = 30

// Decimal prints n with exactly that many decimals (0 to 30; others are brought
// into that range), halves away from zero. A number that rounds to zero has no
// minus. The minus is an ASCII hyphen; turning it into a real one is the page's matter.
func (n Number) Decimal(places int) string {
	places = min(max(places, 0), maxPlaces)
	s, ok := n.shortDecimal(places)
	if !ok {
		s = n.rat().FloatString(places)
	}
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// shortDecimal is n.rat().FloatString(places) for a number whose digits fit 64 bits.
func (n Number) shortDecimal(places int) (string, bool) {
	if n.big != nil || places > 18 {
		return "", false
	}
	ten := uint64(1)
	for range places {
		ten *= 10
	}
	high, low := bits.Mul64(uint64(max(n.num, -n.num)), ten)
	below := uint64(n.below())
	if high >= below {
		return "", false
	}
	digits, rest := bits.Div64(high, low, below)
	if rest >= below-rest { // a half is rounded up
		digits++
		if digits == 0 {
			return "", false
		}
	}
	var s []byte
	if n.num < 0 {
		s = append(s, '-')
	}
	s = strconv.AppendUint(s, digits/ten, 10)
	if places > 0 {
		s = append(s, '.')
		after := strconv.AppendUint(nil, digits%ten, 10)
		s = append(s, "000000000000000000"[:places-len(after)]...)
		s = append(s, after...)
	}
	return string(s), true
}

// String prints n exactly: a whole number, a decimal when at most nine places
// are enough, else a mixed fraction such as "2 1/3". [ParseNumber] reads it back
// to the same number as long as no part of it has more than twelve digits.
func (n Number) String() string {
	if places, ok := n.places(); ok {
		return n.Decimal(places)
	}
	sign, whole, part := n.split()
	if whole.Sign() != 0 {
		return sign + whole.Decimal(0) + " " + part.rat().String()
	}
	return sign + part.rat().String()
}

// Fraction prints n exactly as a cook writes it: "2½", "⅓", "3/16", "1 3/16", with a
// real minus (U+2212) below zero. [ParseNumber] reads it back under the same limits
// as String.
func (n Number) Fraction() string {
	sign, whole, part := n.split()
	if sign != "" {
		sign = "−"
	}
	if part.Sign() == 0 {
		return sign + whole.Decimal(0)
	}
	glyph, ok := glyphOf(part)
	text := part.rat().String()
	if ok {
		text = string(glyph)
	}
	switch {
	case whole.Sign() == 0:
		return sign + text
	case ok:
		return sign + whole.Decimal(0) + text
	default:
		return sign + whole.Decimal(0) + " " + text
	}
}

// places returns how many decimals print n exactly, if nine or fewer do.
func (n Number) places() (int, bool) {
	scaled, ten := n, Int(10)
	for p := 0; p <= maxDecimals; p++ {
		if scaled.IsInt() {
			return p, true
		}
		scaled = scaled.Mul(ten)
	}
	return 0, false
}

// short tells whether what String prints is within the limits of what is read.
func (n Number) short() bool {
	const limit = 1_000_000_000_000
	_, whole, part := n.split()
	_, decimal := n.places()
	return whole.Less(Int(limit)) && (decimal || part.big == nil && part.den < limit)
}

// split returns the sign ("-" or nothing), the whole part and the part below one.
func (n Number) split() (sign string, whole, part Number) {
	if n.Sign() < 0 {
		sign = "-"
	}
	whole = n.Abs().Floor()
	return sign, whole, n.Abs().Sub(whole)
}

// glyphs lists the vulgar fractions of Unicode (Number Forms, U+2150 to U+215E,
// and U+00BC to U+00BE).
func glyphs() []struct {
	glyph    rune
	num, den int64
} {
	return []struct {
		glyph    rune
		num, den int64
	}{
		{'½', 1, 2}, {'⅓', 1, 3}, {'⅔', 2, 3}, {'¼', 1, 4}, {'¾', 3, 4},
		{'⅕', 1, 5}, {'⅖', 2, 5}, {'⅗', 3, 5}, {'⅘', 4, 5}, {'⅙', 1, 6}, {'⅚', 5, 6},
		{'⅐', 1, 7}, {'⅛', 1, 8}, {'⅜', 3, 8}, {'⅝', 5, 8}, {'⅞', 7, 8}, {'⅑', 1, 9}, {'⅒', 1, 10},
	}
}

func glyphOf(n Number) (rune, bool) {
	if n.big != nil {
		return 0, false
	}
	for _, g := range glyphs() {
		if n.num == g.num && n.den == g.den {
			return g.glyph, true
		}
	}
	return 0, false
}

func valueOf(glyph rune) (Number, bool) {
	if glyph < '¼' { // nearly every rune that is asked about
		return Number{}, false
	}
	for _, g := range glyphs() {
		if g.glyph == glyph {
			return Ratio(g.num, g.den), true
		}
	}
	return Number{}, false
}
