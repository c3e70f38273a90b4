package chart

import (
	"cmp"
	"slices"
)

// sortBy orders indices by a value; equal ones keep their order.
func sortBy(order []int, value func(i int) float64) {
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(value(a), value(b)) })
}

// pushApart moves ascending heights so that they are at least apart from each other
// and lie from low to high, as near to their places as a walk down and a walk up
// bring them. It returns a new slice.
func pushApart(heights []float64, apart, low, high float64) []float64 {
	moved := slices.Clone(heights)
	for i := range moved {
		moved[i] = max(moved[i], low)
		if i > 0 {
			moved[i] = max(moved[i], moved[i-1]+apart)
		}
	}
	limit := high
	for i := len(moved) - 1; i >= 0; i-- {
		moved[i] = min(moved[i], limit)
		limit = moved[i] - apart
	}
	return moved
}
