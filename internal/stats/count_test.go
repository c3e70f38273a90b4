package stats

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// The arithmetic of counts against math/big, modulo 2^128.
func TestCountArithmetic(t *testing.T) {
	modulus := new(big.Int).Lsh(big.NewInt(1), mostBits)
	rapid.Check(t, func(rt *rapid.T) {
		a := count{rapid.Uint64().Draw(rt, "a high"), rapid.Uint64().Draw(rt, "a low")}
		b := count{rapid.Uint64().Draw(rt, "b high"), rapid.Uint64().Draw(rt, "b low")}
		sum := new(big.Int).Add(a.big(), b.big())
		if got := a.plus(b).big(); got.Cmp(sum.Mod(sum, modulus)) != 0 {
			rt.Errorf("%v + %v is %v, want %v", a, b, got, sum)
		}
		product := new(big.Int).Mul(a.big(), b.big())
		if got := a.times(b).big(); got.Cmp(product.Mod(product, modulus)) != 0 {
			rt.Errorf("%v · %v is %v, want %v", a, b, got, product)
		}
		if got := a.below(b); got != (a.big().Cmp(b.big()) < 0) {
			rt.Errorf("%v below %v: %v", a, b, got)
		}
		if want, _ := new(big.Float).SetInt(a.big()).Float64(); math.Abs(a.float()-want) > 1e-15*want {
			rt.Errorf("%v as a number is %g, want %g", a, a.float(), want)
		}
	})
}

// Sixty-five readings a side have about 10^38 arrangements; all are counted. With
// passes and failures the test is Fisher's, which counts another way.
func TestCountsBeyondTheMachineWord(t *testing.T) {
	p, err := Permutation(passes(t, 50, 65), passes(t, 35, 65), Sampling{})
	if err != nil || p.Sampled || p.Total.BitLen() <= 64 {
		t.Fatalf("%+v %v", p, err)
	}
	e, err := Fisher(50, 65, 35, 65)
	if err != nil || p.P != e.P || p.Less != e.Less || p.Greater != e.Greater {
		t.Errorf("%g, %g, %g as a permutation test, %g, %g, %g as Fisher's (%v)", p.P, p.Less, p.Greater, e.P, e.Less, e.Greater, err)
	}
}

// The table of floating-point p-values against the counts, for sizes where mirror
// tables come out with different last digits.
func TestFisherTableAgainstCounts(t *testing.T) {
	for _, n := range [][2]int{{12, 12}, {20, 20}, {24, 18}, {31, 31}, {40, 7}} {
		p := fisherTable(n[0], n[1])
		for x1, row := range p.two {
			for x2 := range row {
				e, err := Fisher(x1, n[0], x2, n[1])
				if err != nil {
					t.Fatal(err)
				}
				if math.Abs(row[x2]-e.P) > 1e-12 || math.Abs(p.less[x1][x2]-e.Less) > 1e-12 || math.Abs(p.greater[x1][x2]-e.Greater) > 1e-12 {
					t.Fatalf("%d of %d v %d of %d: %g, want %g", x1, n[0], x2, n[1], row[x2], e.P)
				}
			}
		}
	}
}
