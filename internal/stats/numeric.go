package stats

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// density is the standard normal density.
func density(x float64) float64 { return distuv.UnitNormal.Prob(x) }

// cdf is the probability of a standard normal value up to x.
func cdf(x float64) float64 { return distuv.UnitNormal.CDF(x) }

// integral is Simpson's rule with about a hundred and sixty intervals a unit,
// which for products of normal curves is right to about 1e-11.
func integral(f func(float64) float64, a, b float64) float64 {
	n := 2 * int(math.Ceil((b-a)*80))
	h := (b - a) / float64(n)
	sum := f(a) + f(b)
	for i := 1; i < n; i++ {
		weight := 4.0
		if i%2 == 0 {
			weight = 2
		}
		sum += weight * f(a+float64(i)*h)
	}
	return sum * h / 3
}

// solve finds the root of a rising function between two ends, by halving to the
// last digit. Where there is no root it returns the nearer end.
func solve(rising func(float64) float64, low, high float64) float64 {
	for range 200 {
		mid := low + (high-low)/2
		if mid == low || mid == high {
			break
		}
		if rising(mid) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return low + (high-low)/2
}
