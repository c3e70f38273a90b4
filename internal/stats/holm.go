package stats

import (
	"cmp"
	"math"
	"slices"
)

// Holm adjusts p-values for having been looked at together, so that the chance
// of even one false alarm stays at alpha: the smallest of k is multiplied by k,
// the next by k − 1 and so on, never below the one before it and never above 1.
// The order of the input is kept and the input not changed. What is not a
// probability (NaN, below 0) counts as 1; above 1 too.
// Source: Holm 1979, Scand. J. Stat. 6:65.
func Holm(ps []float64) []float64 {
	clean := make([]float64, len(ps))
	order := make([]int, len(ps))
	for i, p := range ps {
		clean[i], order[i] = p, i
		if math.IsNaN(p) || p < 0 || p > 1 {
			clean[i] = 1
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(clean[a], clean[b]) })
	adjusted := make([]float64, len(ps))
	floor := 0.0
	for rank, i := range order {
		floor = max(floor, min(1, float64(len(ps)-rank)*clean[i]))
		adjusted[i] = floor
	}
	return adjusted
}
