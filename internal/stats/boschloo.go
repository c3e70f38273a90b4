package stats

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Unconditional is the outcome of a test over all tables of two given sizes, at
// the success rate that makes them look most extreme.
type Unconditional struct {
	P             float64 // two-sided, tables ordered by the two-sided Fisher p
	Less, Greater float64 // one-sided
}

// Doubled is twice the smaller one-sided p, at most 1: what some libraries call
// the two-sided test.
func (u Unconditional) Doubled() float64 { return min(1, 2*min(u.Less, u.Greater)) }

// Boschloo is Boschloo's exact test of x1 of n1 against x2 of n2: Fisher's p as
// the statistic, and the largest probability, over all common success rates, of
// a table with a p that small. It is never less powerful than Fisher's test. The
// largest probability is searched on a grid and refined; it is right to about 1e-9.
// Sizes above 200 a side are an error.
// Source: Boschloo 1970, Stat. Neerl. 24:1.
func Boschloo(x1, n1, x2, n2 int) (Unconditional, error) {
	if err := checkTwo(x1, n1, x2, n2); err != nil {
		return Unconditional{}, err
	}
	if err := checkSearch(n1, n2); err != nil {
		return Unconditional{}, err
	}
	p := fisherTable(n1, n2)
	highest := func(ps [][]float64) float64 {
		return highestRate(region(ps, ps[x1][x2]*(1+1e-7)))
	}
	return Unconditional{P: highest(p.two), Less: highest(p.less), Greater: highest(p.greater)}, nil
}

// region marks the tables with a p of at most limit. The first index is x1.
func region(ps [][]float64, limit float64) [][]bool {
	in := make([][]bool, len(ps))
	for i, row := range ps {
		in[i] = make([]bool, len(row))
		for j, p := range row {
			in[i][j] = p <= limit
		}
	}
	return in
}

// chance is the probability of a region at two success rates.
func chance(in [][]bool, p1, p2 float64) float64 {
	first, second := binomialPMF(len(in)-1, p1), binomialPMF(len(in[0])-1, p2)
	sum := 0.0
	for i, row := range in {
		inner := 0.0
		for j, marked := range row {
			if marked {
				inner += second[j]
			}
		}
		sum += first[i] * inner
	}
	return min(1, sum)
}

// binomialPMF lists the probabilities of 0 … n successes at rate p.
func binomialPMF(n int, p float64) []float64 {
	pmf := make([]float64, n+1)
	switch {
	case p <= 0:
		pmf[0] = 1
	case p >= 1:
		pmf[n] = 1
	default:
		b := distuv.Binomial{N: float64(n), P: p}
		for k := range pmf {
			pmf[k] = b.Prob(float64(k))
		}
	}
	return pmf
}

// highestRate is the largest probability of a region over common success rates:
// the best points of a grid, each refined by golden-section search. At a common
// rate the tables with m successes altogether are a binomial share of all, and the
// region holds a part of them that does not depend on the rate.
func highestRate(in [][]bool) float64 {
	const steps = 400
	parts := regionParts(in)
	at := func(p float64) float64 {
		sum := 0.0
		for m, chance := range binomialPMF(len(parts)-1, p) {
			sum += chance * parts[m]
		}
		return sum
	}
	heights := make([]float64, steps+1)
	for i := range heights {
		heights[i] = at(float64(i) / steps)
	}
	highest := slices.Max(heights)
	best := highest
	for i, h := range heights {
		left, right := max(0, i-1), min(steps, i+1)
		// Between two points of the grid a peak rises by a third at most.
		peak := h >= heights[left] && (h > heights[right] || i == steps)
		if peak && h < 1-1e-12 && h > 0.7*highest {
			best = max(best, goldenHigh(at, float64(left)/steps, float64(right)/steps))
		}
	}
	return min(1, best)
}

// regionParts is, for every number of successes altogether, the probability of the
// region given that number.
func regionParts(in [][]bool) []float64 {
	n1, n2 := len(in)-1, len(in[0])-1
	parts := make([]float64, n1+n2+1)
	for m := range parts {
		low, pmf := hypergeometricPMF(n1, n2, m)
		for i, p := range pmf {
			if in[low+i][m-low-i] {
				parts[m] += p
			}
		}
	}
	return parts
}

// goldenHigh is the largest value of f between two ends that hold one peak.
func goldenHigh(f func(float64) float64, a, b float64) float64 {
	section := (math.Sqrt(5) - 1) / 2
	c, d := b-section*(b-a), a+section*(b-a)
	fc, fd := f(c), f(d)
	for b-a > 1e-10 {
		if fc > fd {
			b, d, fd = d, c, fc
			c = b - section*(b-a)
			fc = f(c)
		} else {
			a, c, fc = c, d, fd
			d = a + section*(b-a)
			fd = f(d)
		}
	}
	return max(fc, fd)
}
