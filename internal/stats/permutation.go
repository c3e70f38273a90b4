package stats

import (
	"errors"
	"math/big"
	"math/rand/v2"
)

// Permutation is the exact permutation test of a difference of means. When the
// two samples do not differ, every way to deal all readings into groups of the
// two sizes is equally likely; two-sided, a way counts when its difference of
// means is at least as large in size as the observed one, which with unequal
// sizes is not twice a tail. Readings are compared as the decimals they were
// written as. Where counting takes too long, arrangements are drawn (Sampling).
// Source: Fisher 1935, The Design of Experiments, s. 21; Pitman 1937, J. R. Stat.
// Soc. Suppl. 4:119.
func Permutation(x, y Sample, o Sampling) (Exact, error) {
	if x.N() == 0 || y.N() == 0 {
		return Exact{}, errors.New("a permutation test needs a reading on both sides")
	}
	d := asDecimals(append(x.Values(), y.xs...))
	return deal(d.ints, x.N(), o), nil
}

// deal tests the sum of the first m values against all ways to choose m of them.
func deal(values []int64, m int, o Sampling) Exact {
	observed, all := int64(0), int64(0)
	for i, v := range values {
		all += v
		if i < m {
			observed += v
		}
	}
	w := dealWindow(observed, all, m, len(values))
	c := choice{values: values, size: m}
	if s, ok := c.distribution(o.work()); ok {
		return tails(s, c.total(), observed, w)
	}
	pool := append([]int64(nil), values...)
	return o.drawn(func(r *rand.Rand) (two, less, greater bool) {
		sum := int64(0)
		for i := range m {
			j := i + r.IntN(len(pool)-i)
			pool[i], pool[j] = pool[j], pool[i]
			sum += pool[i]
		}
		return sum <= w.low || sum >= w.high, sum <= observed, sum >= observed
	})
}

// dealWindow finds the sums of m of n values that lie at least as far from their
// expectation m·all/n as the observed one. In whole numbers, with N = n:
//
//	|N s − m all| ≥ |N observed − m all|
func dealWindow(observed, all int64, m, n int) window {
	size := big.NewInt(int64(n))
	centre := new(big.Int).Mul(big.NewInt(int64(m)), big.NewInt(all))
	off := new(big.Int).Mul(size, big.NewInt(observed))
	off.Sub(off, centre).Abs(off)
	// Euclidean division rounds down: low takes the floor, high the ceiling.
	low := new(big.Int).Sub(centre, off)
	low.Div(low, size)
	high := new(big.Int).Add(centre, off)
	high.Add(high, size).Sub(high, big.NewInt(1)).Div(high, size)
	return window{low: low.Int64(), high: high.Int64()}
}

// SignFlip is the exact test of a mean of paired differences: when nothing
// differs, each difference might as well have had the other sign. Two-sided, an
// arrangement counts when its mean is at least as far from 0. Differences of 0
// stay in. Make the differences with Differences, which keeps decimals exact.
// Source: Fisher 1935, The Design of Experiments, s. 21.
func SignFlip(differences Sample, o Sampling) (Exact, error) {
	if differences.N() == 0 {
		return Exact{}, errors.New("a sign-flip test needs at least one difference")
	}
	return flip(asDecimals(differences.xs).ints, o), nil
}

// flip tests the sum of values against all ways to give them signs. A sum of
// positive sizes p among sizes that add up to A is a signed sum of 2p − A.
func flip(values []int64, o Sampling) Exact {
	sizes := make([]int64, len(values))
	positive, all := int64(0), int64(0)
	for i, v := range values {
		sizes[i] = max(v, -v)
		all += sizes[i]
		positive += max(v, 0)
	}
	far := max(positive, all-positive)
	w := window{low: all - far, high: far}
	c := choice{values: sizes, size: anySize}
	if s, ok := c.distribution(o.work()); ok {
		return tails(s, c.total(), positive, w)
	}
	return o.drawn(func(r *rand.Rand) (two, less, greater bool) {
		sum := int64(0)
		for _, v := range sizes {
			if r.Uint64()&1 == 1 {
				sum += v
			}
		}
		return sum <= w.low || sum >= w.high, sum <= positive, sum >= positive
	})
}
