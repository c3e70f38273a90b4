package stats

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"
)

// Fisher is Fisher's exact test of x1 of n1 against x2 of n2. Given both sizes
// and the x1 + x2 successes, all ways to place the successes among the n1 + n2
// pieces are equally likely when nothing differs. Two-sided, the ways count that
// belong to a table no more likely than the observed one (agreement to a relative
// 1e-7 is a tie); Doubled is another test. Source: Fisher 1935, The Design of
// Experiments, ch. II; Freeman & Halton 1951, Biometrika 38:141.
func Fisher(x1, n1, x2, n2 int) (Exact, error) {
	if err := checkTwo(x1, n1, x2, n2); err != nil {
		return Exact{}, err
	}
	low, weights := hypergeometric(n1, n2, x1+x2)
	return conditional(weights, x1-low), nil
}

// checkTwo refuses impossible counts on either side.
func checkTwo(x1, n1, x2, n2 int) error {
	if err := checkCount(x1, n1); err != nil {
		return fmt.Errorf("first sample: %w", err)
	}
	if err := checkCount(x2, n2); err != nil {
		return fmt.Errorf("second sample: %w", err)
	}
	return nil
}

// hypergeometric returns the ways C(n1,s)·C(n2,m−s) to have s of m successes in
// the first sample, for every possible s from low upward.
func hypergeometric(n1, n2, m int) (low int, ways []*big.Int) {
	low = max(0, m-n2)
	high := min(n1, m)
	way := new(big.Int).Binomial(int64(n1), int64(low))
	way.Mul(way, new(big.Int).Binomial(int64(n2), int64(m-low)))
	ways = append(ways, way)
	for s := low; s < high; s++ {
		// C(n1,s+1)C(n2,m−s−1) from its neighbour; the division leaves no rest.
		way = new(big.Int).Mul(way, big.NewInt(int64(n1-s)*int64(m-s)))
		way.Quo(way, big.NewInt(int64(s+1)*int64(n2-m+s+1)))
		ways = append(ways, way)
	}
	return low, ways
}

// conditional tests the observed place in a list of ways, ordered by how many
// successes fall to the first sample.
func conditional(ways []*big.Int, observed int) Exact {
	two, less, greater, total := new(big.Int), new(big.Int), new(big.Int), new(big.Int)
	for i, way := range ways {
		total.Add(total, way)
		if i <= observed {
			less.Add(less, way)
		}
		if i >= observed {
			greater.Add(greater, way)
		}
		if asLikely(way, ways[observed]) {
			two.Add(two, way)
		}
	}
	return exactOf(two, less, greater, total)
}

// fisherP holds the p-values of Fisher's test for every table with two given
// sizes, as floating-point numbers right to about 1e-13: for searches that need
// them all. The first index is x1, the second x2.
type fisherP struct {
	two, less, greater [][]float64
}

func fisherTable(n1, n2 int) fisherP {
	t := fisherP{two: grid(n1, n2), less: grid(n1, n2), greater: grid(n1, n2)}
	for m := 0; m <= n1+n2; m++ {
		low, pmf := hypergeometricPMF(n1, n2, m)
		two := twoSided(pmf)
		below := 0.0
		for i, p := range pmf {
			below += p
			t.less[low+i][m-low-i] = min(1, below)
			t.two[low+i][m-low-i] = two[i]
		}
		above := 0.0
		for i := len(pmf) - 1; i >= 0; i-- {
			above += pmf[i]
			t.greater[low+i][m-low-i] = min(1, above)
		}
	}
	return t
}

// grid makes room for a number at every table of the two sizes.
func grid(n1, n2 int) [][]float64 {
	rows := make([][]float64, n1+1)
	cells := make([]float64, (n1+1)*(n2+1))
	for i := range rows {
		rows[i] = cells[i*(n2+1) : (i+1)*(n2+1)]
	}
	return rows
}

// hypergeometricPMF is hypergeometric as probabilities. It starts from 1 at the
// most likely table, so that nothing overflows, and scales to a sum of 1.
func hypergeometricPMF(n1, n2, m int) (low int, pmf []float64) {
	low = max(0, m-n2)
	high := min(n1, m)
	pmf = make([]float64, high-low+1)
	mode := min(max((n1+1)*(m+1)/(n1+n2+2), low), high)
	pmf[mode-low] = 1
	sum := 1.0
	for s := mode; s < high; s++ {
		pmf[s+1-low] = pmf[s-low] * float64((n1-s)*(m-s)) / float64((s+1)*(n2-m+s+1))
		sum += pmf[s+1-low]
	}
	for s := mode; s > low; s-- {
		pmf[s-1-low] = pmf[s-low] * float64(s*(n2-m+s)) / float64((n1-s+1)*(m-s+1))
		sum += pmf[s-1-low]
	}
	for i := range pmf {
		pmf[i] /= sum
	}
	return low, pmf
}

// twoSided adds up, for each probability, all that are no larger (agreement to a
// relative 1e-7 is a tie).
func twoSided(pmf []float64) []float64 {
	order := make([]int, len(pmf))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(pmf[a], pmf[b]) })
	out := make([]float64, len(pmf))
	sum, next := 0.0, 0
	for _, i := range order {
		for next < len(order) && pmf[order[next]] <= pmf[i]*(1+1e-7) {
			sum += pmf[order[next]]
			next++
		}
		out[i] = min(1, sum)
	}
	return out
}
