package stats

import (
	"cmp"
	"slices"
)

// doubledRanks ranks numbers from the smallest, 1, upward. Equal numbers share
// the mean of their ranks (midranks); everything is doubled to stay whole. The
// second result has the size of every group of equal numbers, 1 included.
func doubledRanks[T cmp.Ordered](xs []T) (ranks []int64, ties []int64) {
	order := make([]int, len(xs))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(xs[a], xs[b]) })
	ranks = make([]int64, len(xs))
	for first := 0; first < len(order); {
		end := first + 1
		for end < len(order) && xs[order[end]] == xs[order[first]] {
			end++
		}
		for _, i := range order[first:end] {
			ranks[i] = int64(first + 1 + end) // twice the mean of first+1 … end
		}
		ties = append(ties, int64(end-first))
		first = end
	}
	return ranks, ties
}

// tieLoss is Σ (t³ − t) over groups of equal numbers, the usual correction.
func tieLoss(ties []int64) float64 {
	loss := 0.0
	for _, t := range ties {
		f := float64(t)
		loss += f*f*f - f
	}
	return loss
}
