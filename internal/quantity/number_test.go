package quantity_test

import (
	"errors"
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"
	. "sidebatch.example/sidebatch/internal/quantity"
)

// number reads a number that the test knows to be right.
func number(t testing.TB, s string) Number {
	t.Helper()
	n, err := ParseNumber(s)
	if err != nil {
		t.Fatalf("ParseNumber(%q): %v", s, err)
	}
	return n
}

func TestParseNumber(t *testing.T) {
	for _, c := range []struct {
		in       string
		num, den int64
	}{
		{"0", 0, 1}, {"3", 3, 1}, {"010", 10, 1}, {"08", 8, 1}, {"1.10", 11, 10}, {".5", 1, 2},
		{"2 1/2", 5, 2}, {"1/2", 1, 2}, {"½", 1, 2}, {"2½", 5, 2}, {"2 ½", 5, 2}, {"  7 ", 7, 1},
		{"010/3", 10, 3}, {"1⁄3", 1, 3}, {"⅚", 5, 6}, {"⅒", 1, 10}, {"2\u00a01/3", 7, 3}, {"3/2", 3, 2},
		{"-18", -18, 1}, {"−18", -18, 1}, {"-2 1/2", -5, 2}, {"−½", -1, 2}, {"0.000000001", 1, 1_000_000_000},
		{"999999999999", 999_999_999_999, 1}, {"0/5", 0, 1},
	} {
		if got := number(t, c.in); !got.Equal(Ratio(c.num, c.den)) {
			t.Errorf("ParseNumber(%q) = %v, want %d/%d", c.in, got, c.num, c.den)
		}
	}
}

func TestParseNumberErrors(t *testing.T) {
	for _, c := range []struct {
		in     string
		offset int
		want   string // in the message
	}{
		{"", 0, "no number"},
		{"x", 0, "no number"},
		{"+3", 0, "no number"},
		{"٣", 0, "no number"},
		{"Inf", 0, "no number"},
		{"1,5", 1, "decimal comma? write 1.5"},
		{"1,000", 1, "write 1000, or 1.000"},
		{"3.", 1, "no digits after it"},
		{"1.2.3", 3, "goes on with \".\""},
		{"1e3", 1, "exponent"},
		{"1E-3", 1, "exponent"},
		{"0x10", 1, "another base"},
		{"1_000", 1, "goes on with \"_\""},
		{"1 000", 2, "more than a number"},
		{"1/0", 2, "a fraction over 0"},
		{"1/", 2, "under the fraction"},
		{"1/2/3", 3, "goes on with \"/\""},
		{"2 3/2", 0, "write 3.5"},
		{"½½", 1, "goes on"},
		{"1.5/2", 3, "goes on with \"/\""},
		{"1.0000000001", 2, "more than 9 digits"},
		{"1000000000000", 0, "more than 12 digits"},
		{"1/1000000000000", 2, "more than 12 digits"},
		{"1e4000", 1, "exponent"},
		{strings.Repeat("9", 201), 200, "longer than 200"},
		{strings.Repeat("½", 1_000_000), 200, "longer than 200"},
	} {
		_, err := ParseNumber(c.in)
		var bad *SyntaxError
		if !errors.As(err, &bad) {
			t.Errorf("ParseNumber(%.20q): error %v, want a *SyntaxError", c.in, err)
			continue
		}
		if bad.Offset != c.offset || !strings.Contains(bad.Error(), c.want) || bad.Input != c.in {
			t.Errorf("ParseNumber(%.20q): offset %d, %q; want offset %d, %q", c.in, bad.Offset, bad.Error(), c.offset, c.want)
		}
	}
}

func TestNumberPrinting(t *testing.T) {
	for _, c := range []struct {
		n                Number
		text, fraction   string
		oneDecimal, none string
	}{
		{Number{}, "0", "0", "0.0", "0"},
		{Int(12), "12", "12", "12.0", "12"},
		{Ratio(5, 2), "2.5", "2½", "2.5", "3"},
		{Ratio(1, 3), "1/3", "⅓", "0.3", "0"},
		{Ratio(7, 3), "2 1/3", "2⅓", "2.3", "2"},
		{Ratio(3, 16), "0.1875", "3/16", "0.2", "0"},
		{Ratio(19, 16), "1.1875", "1 3/16", "1.2", "1"},
		{Ratio(-5, 2), "-2.5", "−2½", "-2.5", "-3"},
		{Ratio(-1, 25), "-0.04", "−1/25", "0.0", "0"},
		{Ratio(1, 20), "0.05", "1/20", "0.1", "0"},
		{Ratio(1, 1024), "1/1024", "1/1024", "0.0", "0"}, // ten decimals
		{Ratio(1, 4000000000), "1/4000000000", "1/4000000000", "0.0", "0"},
	} {
		got := []string{c.n.String(), c.n.Fraction(), c.n.Decimal(1), c.n.Decimal(0)}
		for i, want := range []string{c.text, c.fraction, c.oneDecimal, c.none} {
			if got[i] != want {
				t.Errorf("%v: got %q, want %q", c.n, got[i], want)
			}
		}
	}
	if got := Ratio(1, 3).Decimal(-4); got != "0" {
		t.Errorf("negative places print %q", got)
	}
	if got := len(Ratio(1, 3).Decimal(1 << 40)); got != 32 {
		t.Errorf("unbounded places print %d bytes", got)
	}
}

func TestRoundTo(t *testing.T) {
	for _, c := range []struct{ n, step, rounded, residue string }{
		{"2.5", "1", "3", "0.5"}, // half away from zero
		{"-2.5", "1", "-3", "-0.5"},
		{"2.4", "1", "2", "-0.4"},
		{"7", "5", "5", "-2"},
		{"7.5", "5", "10", "2.5"},
		{"1/3", "1/8", "3/8", "1/24"},
		{"1/3", "0", "1/3", "0"},
		{"1/3", "-1", "1/3", "0"},
	} {
		rounded, residue := number(t, c.n).RoundTo(number(t, c.step))
		if !rounded.Equal(number(t, c.rounded)) || !residue.Equal(number(t, c.residue)) {
			t.Errorf("%s to %s: %v, %v; want %s, %s", c.n, c.step, rounded, residue, c.rounded, c.residue)
		}
	}
}

func TestZeroDenominator(t *testing.T) {
	if got := Ratio(7, 0); got.Sign() != 0 {
		t.Errorf("Ratio(7, 0) = %v, want 0", got)
	}
	if _, ok := Int(1).Quo(Number{}); ok {
		t.Error("1/0 has an answer")
	}
}

// drawNumber draws numbers of the sizes and denominators that kitchens meet.
func drawNumber(most int64) *rapid.Generator[Number] {
	return rapid.Custom(func(t *rapid.T) Number {
		den := rapid.OneOf(rapid.SampledFrom([]int64{1, 2, 3, 4, 8, 10, 16, 100, 1000}), rapid.Int64Range(1, 100_000))
		return Ratio(rapid.Int64Range(-most, most).Draw(t, "num"), den.Draw(t, "den"))
	})
}

func TestNumberLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := drawNumber(1_000_000_000).Draw(t, "a"), drawNumber(1_000_000_000).Draw(t, "b"), drawNumber(1_000_000_000).Draw(t, "c")
		before := a.String() + b.String() + c.String()
		same := func(law string, x, y Number) {
			t.Helper()
			if !x.Equal(y) {
				t.Fatalf("%s: %v and %v", law, x, y)
			}
		}
		same("a+b = b+a", a.Add(b), b.Add(a))
		same("(a+b)+c = a+(b+c)", a.Add(b).Add(c), a.Add(b.Add(c)))
		same("a(b+c) = ab+ac", a.Mul(b.Add(c)), a.Mul(b).Add(a.Mul(c)))
		same("a-b = a+(-b)", a.Sub(b), a.Add(b.Neg()))
		if q, ok := a.Quo(b); ok {
			same("(a/b)b = a", q.Mul(b), a)
		}
		if part := a.Sub(a.Floor()); !a.Floor().IsInt() || part.Sign() < 0 || part.Cmp(Int(1)) >= 0 {
			t.Fatalf("floor of %v is %v", a, a.Floor())
		}
		if a.Cmp(b) != -b.Cmp(a) || a.Less(b) != (a.Sub(b).Sign() < 0) {
			t.Fatalf("order of %v and %v", a, b)
		}
		if a.Cmp(b) <= 0 && b.Cmp(c) <= 0 && a.Cmp(c) > 0 {
			t.Fatalf("order is not transitive: %v %v %v", a, b, c)
		}
		if a.Cmp(b) <= 0 && a.Add(c).Cmp(b.Add(c)) > 0 {
			t.Fatalf("adding %v changes the order of %v and %v", c, a, b)
		}
		step := c.Abs()
		rounded, residue := a.RoundTo(step)
		same("rounded - residue", rounded.Sub(residue), a)
		if half, ok := step.Quo(Int(2)); ok && step.Sign() > 0 && residue.Abs().Cmp(half) > 0 {
			t.Fatalf("%v to %v leaves %v", a, step, residue)
		}
		if after := a.String() + b.String() + c.String(); after != before {
			t.Fatalf("arithmetic changed its operands: %s, then %s", before, after)
		}
	})
}

// TestNumberAgainstBig holds the arithmetic of two int64 against math/big, most of all
// where a product or a sum no longer fits.
func TestNumberAgainstBig(t *testing.T) {
	edge := rapid.OneOf(
		rapid.SampledFrom([]int64{math.MinInt64, math.MinInt64 + 1, math.MaxInt64, math.MaxInt64 - 1, 1 << 32, -1 << 31, 3, 1, 0, -1}),
		rapid.Int64(), rapid.Int64Range(-1_000_000, 1_000_000))
	rapid.Check(t, func(t *rapid.T) {
		p, q, r, s := edge.Draw(t, "p"), edge.Draw(t, "q"), edge.Draw(t, "r"), edge.Draw(t, "s")
		if q == 0 || s == 0 {
			return
		}
		a, b := Ratio(p, q), Ratio(r, s)
		x, y := big.NewRat(p, q), big.NewRat(r, s)
		same := func(what string, got Number, want *big.Rat) {
			t.Helper()
			// The nearest float64 sees the size of all of these numbers, thirty decimals the rest.
			f, _ := want.Float64()
			if got.Float64() != f || strings.TrimPrefix(got.Decimal(30), "-") != strings.TrimPrefix(want.FloatString(30), "-") {
				t.Fatalf("%s of %v and %v is %v, want %v", what, x, y, got, want)
			}
		}
		same("first", a, x)
		same("sum", a.Add(b), new(big.Rat).Add(x, y))
		same("difference", a.Sub(b), new(big.Rat).Sub(x, y))
		same("product", a.Mul(b), new(big.Rat).Mul(x, y))
		same("negative", a.Neg(), new(big.Rat).Neg(x))
		if quotient, ok := a.Quo(b); ok {
			same("quotient", quotient, new(big.Rat).Quo(x, y))
		}
		if a.Cmp(b) != x.Cmp(y) || a.Sign() != x.Sign() || a.IsInt() != x.IsInt() {
			t.Fatalf("order, sign or wholeness of %v and %v", x, y)
		}
		// A number has one form: what comes back into range compares equal and is equal.
		if back := a.Mul(b).Mul(b).Add(a).Sub(a); !back.Equal(a.Mul(b).Mul(b)) || back.String() != a.Mul(b).Mul(b).String() {
			t.Fatalf("there and back: %v", back)
		}
		whole := new(big.Int).Div(x.Num(), x.Denom())
		same("floor", a.Floor(), new(big.Rat).SetInt(whole))
	})
}

func TestNumberPrintParse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNumber(1_000_000_000).Draw(t, "n")
		for _, s := range []string{n.String(), n.Fraction()} {
			back, err := ParseNumber(s)
			if err != nil || !back.Equal(n) {
				t.Fatalf("%v printed %q, read back %v, %v", n, s, back, err)
			}
		}
	})
}

// FuzzParseNumber checks that whatever parses prints and parses again to the
// same number, and that a plain decimal means what math/big says it means.
func FuzzParseNumber(f *testing.F) {
	for _, s := range []string{"3", "010", "1.10", ".5", "2 1/2", "½", "2 ½", "−18", "1,5", "1e4000", "0x10", "1/0", "999999999999 1/999999999999", strings.Repeat("9", 500)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		n, err := ParseNumber(s)
		if err != nil {
			var bad *SyntaxError
			if !errors.As(err, &bad) || bad.Offset < 0 || bad.Offset > len([]rune(s)) {
				t.Fatalf("%q: %#v", s, err)
			}
			return
		}
		for _, printed := range []string{n.String(), n.Fraction()} {
			back, err := ParseNumber(printed)
			if err != nil || !back.Equal(n) {
				t.Fatalf("%q is %v, printed %q, read back %v, %v", s, n, printed, back, err)
			}
		}
		if strings.Trim(s, "0123456789.") == "" {
			if r, ok := new(big.Rat).SetString(s); ok && r.FloatString(20) != n.Decimal(20) {
				t.Fatalf("%q is %v, math/big says %v", s, n, r)
			}
		}
	})
}
