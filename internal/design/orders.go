package design

import "slices"

// Williams returns serving orders of t samples, numbered from 0, that are balanced
// for position and for the neighbour before: over all orders every sample stands
// equally often in every place, and follows every other sample equally often.
//
// There are t orders where t is even and 2t where it is odd (E. J. Williams,
// Experimental designs balanced for the estimation of residual effects of
// treatments, Aust. J. Sci. Res. A 2 (1949) 149). The first order goes 0, 1, t−1, 2,
// t−2, …; each further one adds 1 modulo t. Its steps are all different, which
// balances the neighbours where t is even; where it is odd each step occurs twice,
// and the mirror images of the orders make up for it.
//
// No sample has no order.
func Williams(t int) [][]int {
	if t <= 0 {
		return nil
	}
	first := make([]int, t)
	for i := range first {
		if i%2 == 1 {
			first[i] = (i + 1) / 2
		} else {
			first[i] = (t - i/2) % t
		}
	}
	orders := make([][]int, 0, 2*t)
	for shift := range t {
		order := make([]int, t)
		for i, sample := range first {
			order[i] = (sample + shift) % t
		}
		orders = append(orders, order)
	}
	if t%2 == 1 && t > 1 {
		for _, order := range orders[:t:t] {
			mirror := slices.Clone(order)
			slices.Reverse(mirror)
			orders = append(orders, mirror)
		}
	}
	return orders
}

// Balance says how even serving orders are: how often the rarest and the most
// frequent sample stand in a place, and how often the rarest and the most frequent
// pair of samples follow one another.
type Balance struct {
	PositionMin, PositionMax   int
	NeighbourMin, NeighbourMax int
}

// Position reports whether every sample stands equally often in every place.
func (b Balance) Position() bool { return b.PositionMin == b.PositionMax }

// Neighbour reports whether every sample follows every other equally often.
func (b Balance) Neighbour() bool { return b.NeighbourMin == b.NeighbourMax }

// spread is how far the orders are from even, the places before the neighbours.
func (b Balance) spread() [2]int {
	return [2]int{b.PositionMax - b.PositionMin, b.NeighbourMax - b.NeighbourMin}
}

// BalanceOf counts places and neighbours in orders of t samples. A sample that
// follows itself is no pair.
func BalanceOf(orders [][]int, t int) Balance {
	places, pairs := make([]int, t*t), make([]int, t*t)
	for _, order := range orders {
		for place, sample := range order {
			places[place*t+sample]++
			if place > 0 {
				pairs[order[place-1]*t+sample]++
			}
		}
	}
	var b Balance
	if t > 0 {
		b.PositionMin, b.PositionMax = slices.Min(places), slices.Max(places)
	}
	first := true
	for i, n := range pairs {
		if i/t == i%t {
			continue
		}
		if first {
			b.NeighbourMin, b.NeighbourMax, first = n, n, false
		}
		b.NeighbourMin, b.NeighbourMax = min(b.NeighbourMin, n), max(b.NeighbourMax, n)
	}
	return b
}

// ServingOrders returns an order of t samples for each of n assessors, balanced as
// far as n allows; BalanceOf says how far. Whole Williams designs come first, each
// with its samples newly drawn; what is left over takes those orders of one more
// design that keep the places as even as can be, and then the neighbours. Who of a
// design's assessors gets which of its orders is drawn as well.
func ServingOrders(t, n int, seed Seed) [][]int {
	design := Williams(t)
	if len(design) == 0 {
		return nil
	}
	draw := seed.For("serving orders").rand()
	var orders [][]int
	for len(orders) < n {
		block := fewest(design, t, n-len(orders))
		names := draw.Perm(t)
		for _, which := range draw.Perm(len(block)) {
			order := make([]int, t)
			for place, sample := range block[which] {
				order[place] = names[sample]
			}
			orders = append(orders, order)
		}
	}
	return orders
}

// mostSearched is how many choices of leftover orders are looked at. Up to seven
// samples all are; beyond, the orders are taken in turn, which keeps the places
// within one of each other.
const mostSearched = 4000

// fewest returns the n orders of a design that are most even, or the whole design
// where n is as large. For an even number of samples any choice is as good as any
// other: no place and no pair occurs twice.
func fewest(design [][]int, t, n int) [][]int {
	if n >= len(design) {
		return design
	}
	if t%2 == 0 || choices(len(design), n) > mostSearched {
		return design[:n]
	}
	best, least := design[:n], BalanceOf(design[:n], t).spread()
	subsets(len(design), n, func(chosen []int) {
		some := make([][]int, 0, n)
		for _, i := range chosen {
			some = append(some, design[i])
		}
		if spread := BalanceOf(some, t).spread(); slices.Compare(spread[:], least[:]) < 0 {
			best, least = some, spread
		}
	})
	return best
}

// choices is the number of ways to choose k of n, or more than mostSearched.
func choices(n, k int) int {
	ways := 1
	for i := range min(k, n-k) {
		ways = ways * (n - i) / (i + 1)
		if ways > mostSearched {
			return ways
		}
	}
	return ways
}

// subsets calls visit with every choice of k of the numbers below n, in order.
func subsets(n, k int, visit func(chosen []int)) {
	chosen := make([]int, 0, k)
	var extend func(from int)
	extend = func(from int) {
		if len(chosen) == k {
			visit(chosen)
			return
		}
		for i := from; i <= n-(k-len(chosen)); i++ {
			chosen = append(chosen, i)
			extend(i + 1)
			chosen = chosen[:len(chosen)-1]
		}
	}
	extend(0)
}

// CookingOrders returns the order in which to cook t samples in each of a number of
// batches, so that the first one on a cold griddle is not always the same: balanced
// for place and neighbour over the batches as far as their number allows.
func CookingOrders(t, batches int, seed Seed) [][]int {
	return ServingOrders(t, batches, seed.For("cooking orders"))
}
