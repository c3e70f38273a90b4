package stats

import (
	"math/big"
	"slices"
)

// sums knows how many arrangements have a sum of at most t.
type sums interface {
	atMost(t int64) count
}

// window is the two-sided region of a test: sums of at most low, or at least high.
type window struct {
	low, high int64
}

// tails tests the observed sum against a distribution.
func tails(s sums, total *big.Int, observed int64, w window) Exact {
	less := s.atMost(observed).big()
	greater := new(big.Int).Sub(total, s.atMost(observed-1).big())
	two := new(big.Int).Set(total)
	if w.low < w.high {
		two.Sub(total, s.atMost(w.high-1).big())
		two.Add(two, s.atMost(w.low).big())
	}
	return exactOf(two, less, greater, total)
}

// choice is the question how the values of an m-subset can sum up; size below 0
// stands for subsets of every size.
type choice struct {
	values []int64
	size   int
}

// anySize asks for subsets of every size.
const anySize = -1

// total is the number of subsets.
func (c choice) total() *big.Int {
	if c.size == anySize {
		return new(big.Int).Lsh(big.NewInt(1), uint(len(c.values)))
	}
	return new(big.Int).Binomial(int64(len(c.values)), int64(c.size))
}

// distribution counts all subsets by their sum, in at most the given number of
// steps, or answers false. Many values that lie on a coarse grid (readings of one
// instrument, ranks) are counted by dynamic programming over the grid; others by
// listing the subsets of either half and pairing them. The cheaper way is taken.
func (c choice) distribution(work int) (sums, bool) {
	if !fits(c.total()) {
		return nil, false
	}
	half := (len(c.values) + 1) / 2
	const mostHalf = 20 // a million subsets a half
	listing := work + 1
	if half <= mostHalf {
		listing = 8 << half
	}
	if grid, ok := c.onGrid(min(work, listing)); ok {
		return grid.count(), true
	}
	if listing > work {
		return nil, false
	}
	return c.halves(), true
}

// gridChoice is a choice in whole steps above a base: a value is base + step·i.
type gridChoice struct {
	steps []int // one for each value
	size  int
	base  int64 // of a whole sum
	step  int64
	top   int // largest sum, in steps
}

// onGrid finds the coarsest grid, unless counting over it costs more than work.
func (c choice) onGrid(work int) (gridChoice, bool) {
	least := int64(0)
	if c.size != anySize { // a shift of all values shifts every sum alike
		least = slices.Min(c.values)
	}
	g := gridChoice{size: c.size, base: least * int64(max(0, c.size)), step: 0}
	for _, v := range c.values {
		g.step = gcd(g.step, v-least)
	}
	if g.step == 0 { // all alike
		g.step = 1
	}
	shifted := make([]int64, len(c.values))
	for i, v := range c.values {
		shifted[i] = (v - least) / g.step
	}
	slices.Sort(shifted)
	picked := shifted
	if c.size != anySize {
		picked = shifted[len(shifted)-c.size:]
	}
	top := int64(0)
	for _, v := range picked {
		if top += v; top > int64(work) {
			return gridChoice{}, false
		}
	}
	g.top = int(top)
	for _, v := range shifted {
		g.steps = append(g.steps, int(min(v, top+1)))
	}
	levels := 1
	if c.size != anySize {
		levels = c.size + 1
	}
	return g, (g.top+1)*levels*len(c.values) <= work
}

// count runs the recursion: a subset with one more value has the value or not.
func (g gridChoice) count() gridSums {
	row := g.top + 1
	levels := 1
	if g.size != anySize {
		levels = g.size + 1
	}
	ways := make([]count, levels*row)
	ways[0] = one()
	reach := 0 // no sum so far is above this
	for i, v := range g.steps {
		reach = min(g.top, reach+v)
		if g.size == anySize {
			addShifted(ways[:reach+1], ways, v)
			continue
		}
		// Subsets too small to be filled up by the values left need no counting.
		least := max(1, g.size-(len(g.steps)-1-i))
		for k := min(i+1, g.size); k >= least; k-- {
			addShifted(ways[k*row:k*row+reach+1], ways[(k-1)*row:k*row], v)
		}
	}
	cumulative := ways[(levels-1)*row:]
	for i := 1; i < row; i++ {
		cumulative[i] = cumulative[i].plus(cumulative[i-1])
	}
	return gridSums{cumulative: cumulative, base: g.base, step: g.step}
}

// addShifted adds from, moved up by shift, to into. It runs downward so that into
// and from may be the same.
func addShifted(into, from []count, shift int) {
	for s := len(into) - 1; s >= shift; s-- {
		if w := from[s-shift]; w != (count{}) {
			into[s] = into[s].plus(w)
		}
	}
}

// gridSums holds the number of subsets up to each sum base + step·i.
type gridSums struct {
	cumulative []count
	base, step int64
}

func (g gridSums) atMost(t int64) count {
	if t < g.base {
		return count{}
	}
	i := min((t-g.base)/g.step, int64(len(g.cumulative)-1))
	return g.cumulative[i]
}

// halfSums holds the sorted sums of the subsets of either half, by size where
// size matters and otherwise all in one list.
type halfSums struct {
	left, right [][]int64
	size        int
}

// halves lists the subsets of either half.
func (c choice) halves() halfSums {
	mid := len(c.values) / 2
	bySize := c.size != anySize
	return halfSums{left: listSums(c.values[:mid], bySize), right: listSums(c.values[mid:], bySize), size: c.size}
}

// listSums returns the sums of all subsets, sorted, by subset size or in one list.
func listSums(values []int64, bySize bool) [][]int64 {
	lists := [][]int64{{0}}
	for _, v := range values {
		if !bySize {
			lists[0] = merged(lists[0], lists[0], v)
			continue
		}
		lists = append(lists, nil)
		for k := len(lists) - 1; k > 0; k-- {
			lists[k] = merged(lists[k], lists[k-1], v)
		}
	}
	return lists
}

// merged is the sorted union of a and of b with v added to each.
func merged(a, b []int64, v int64) []int64 {
	out := make([]int64, 0, len(a)+len(b))
	i := 0
	for _, s := range b {
		for i < len(a) && a[i] <= s+v {
			out = append(out, a[i])
			i++
		}
		out = append(out, s+v)
	}
	return append(out, a[i:]...)
}

func (h halfSums) atMost(t int64) count {
	if h.size == anySize {
		return count{lo: pairsAtMost(h.left[0], h.right[0], t)}
	}
	n := uint64(0)
	for k, left := range h.left {
		if other := h.size - k; other >= 0 && other < len(h.right) {
			n += pairsAtMost(left, h.right[other], t)
		}
	}
	return count{lo: n}
}

// pairsAtMost counts pairs of one sum from each sorted list that reach at most t.
func pairsAtMost(a, b []int64, t int64) uint64 {
	n, j := uint64(0), len(b)
	for _, s := range a {
		for j > 0 && s+b[j-1] > t {
			j--
		}
		n += uint64(j)
	}
	return n
}

// gcd is the greatest common divisor of two whole numbers, not below 0.
func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return max(a, -a)
}
