package stats

import (
	"math/big"
	"math/bits"
)

// count is a number of arrangements up to 2^128, with the little arithmetic that
// counting needs. Callers make sure beforehand that the total fits.
type count struct {
	hi, lo uint64
}

// mostBits is the length of the largest total that a count can hold.
const mostBits = 128

func (a count) plus(b count) count {
	lo, carry := bits.Add64(a.lo, b.lo, 0)
	hi, _ := bits.Add64(a.hi, b.hi, carry)
	return count{hi, lo}
}

func (a count) times(b count) count {
	hi, lo := bits.Mul64(a.lo, b.lo)
	return count{hi + a.hi*b.lo + a.lo*b.hi, lo}
}

func (a count) big() *big.Int {
	n := new(big.Int).SetUint64(a.hi)
	n.Lsh(n, 64)
	return n.Add(n, new(big.Int).SetUint64(a.lo))
}

// one is a single arrangement.
func one() count { return count{lo: 1} }

// factorial of a small number (at most 20).
func factorial(n int) uint64 {
	f := uint64(1)
	for i := 2; i <= n; i++ {
		f *= uint64(i)
	}
	return f
}

// fits says whether a total can be counted.
func fits(total *big.Int) bool { return total.BitLen() <= mostBits }
