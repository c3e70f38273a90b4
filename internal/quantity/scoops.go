package quantity

import "slices"

// Scoop is one spoon or cup, filled a number of times.
type Scoop struct {
	Times   int
	Measure Amount
}

const (
	// maxGrid is how many steps of the common grid the largest measure may have.
	// Spoons of one system share a grid of 1/8 tsp or so; spoons of two systems
	// share one too fine to search.
	maxGrid = 8192
	// headroom is how many of the largest measure are left to the search; the
	// rest of a large amount is filled with the largest measure.
	headroom = 4
	// maxScoops bounds what is worth scooping.
	maxScoops = 1_000_000
)

// closeEnough is the share of an amount that no set measures exactly within
// which the fewest scoops win over the last drop: 2 % (common practice, no source).
func closeEnough() Number { return Ratio(2, 100) }

// Scoops returns the fewest spoons and cups of the kitchen's set that make the
// volume, largest first, and the residue in mL: what they hold less what was asked
// for. Of several ways with equally few, the one with the larger largest measure is returned.
//
// A volume that the set cannot make exactly is met within 2 % by as few scoops as
// that allows, or, where nothing is so near, by the nearest the set can make, the
// larger of two equally near. That may be nothing at all.
//
// Of a range the middle is measured. An amount of another kind, to taste, none, or
// more than a million scoops has no answer: nil, and the whole amount as a negative
// residue if it is a volume. Measures of two systems (a metric cup among US spoons)
// are not combined with each other.
func (in Instruments) Scoops(a Amount, s System) ([]Scoop, Number) {
	if a.Dimension() != Volume || a.taste {
		return nil, Number{}
	}
	low, high := a.Base()
	return scoopsFor(low.Add(high).over(Int(2)), in.measures(s))
}

func scoopsFor(milliliters Number, measures []Amount) ([]Scoop, Number) {
	best := filling{total: Number{}}
	if milliliters.Sign() > 0 {
		for _, r := range racks(measures) {
			if f, ok := r.fill(milliliters); ok && f.betterThan(best, milliliters) {
				best = f
			}
		}
	}
	return best.scoops, best.total.Sub(milliliters)
}

// filling is one way to measure a volume.
type filling struct {
	scoops []Scoop
	count  int
	total  Number // mL
}

// betterThan prefers what is near enough, then few scoops, then what is nearest.
func (f filling) betterThan(g filling, want Number) bool {
	off, other := f.total.Sub(want).Abs(), g.total.Sub(want).Abs()
	limit := want.Mul(closeEnough())
	near, otherNear := off.Cmp(limit) <= 0, other.Cmp(limit) <= 0
	switch {
	case off.Sign() == 0 != (other.Sign() == 0):
		return off.Sign() == 0
	case near != otherNear:
		return near
	case near && f.count != g.count:
		return f.count < g.count
	}
	return off.Less(other) || off.Equal(other) && g.count == 0
}

// rack is measures that share a grid: each is a whole number of steps.
type rack struct {
	measures []Amount // largest first
	steps    []int64
	grid     Number // mL
}

// racks sorts the measures, largest first, into as few grids as are fine enough.
func racks(measures []Amount) []rack {
	sorted := slices.Clone(measures)
	slices.SortStableFunc(sorted, func(a, b Amount) int { return b.unit.toBase(b.low).Cmp(a.unit.toBase(a.low)) })
	var all []rack
next:
	for _, m := range sorted {
		size := m.unit.toBase(m.low)
		for i := range all {
			grid := commonStep(all[i].grid, size)
			if largest := all[i].measures[0]; largest.unit.toBase(largest.low).over(grid).Cmp(Int(maxGrid)) <= 0 {
				all[i].grid = grid
				all[i].measures = append(all[i].measures, m)
				continue next
			}
		}
		all = append(all, rack{measures: []Amount{m}, grid: size})
	}
	for i := range all {
		for _, m := range all[i].measures {
			n, _ := m.unit.toBase(m.low).over(all[i].grid).Int64()
			all[i].steps = append(all[i].steps, n)
		}
	}
	return all
}

// commonStep returns the greatest common divisor of two positive numbers (Euclid).
func commonStep(a, b Number) Number {
	for b.Sign() > 0 {
		a, b = b, a.Sub(a.over(b).Floor().Mul(b))
	}
	return a
}

// fill finds the fewest scoops of one rack. Whole largest measures are set apart
// first, all but a few; the rest is searched exhaustively.
func (r rack) fill(milliliters Number) (filling, bool) {
	want := milliliters.over(r.grid)
	largest := Int(r.steps[0])
	apart, ok := want.over(largest).Floor().Sub(Int(headroom)).Int64()
	if !ok || apart > maxScoops {
		return filling{}, false
	}
	apart = max(apart, 0)
	set := largest.Mul(Int(apart))
	fewest := r.fewest((headroom + 2) * r.steps[0])
	slack := want.Mul(closeEnough())
	target := choose(fewest, want.Sub(set), slack)
	return r.describe(fewest, target, apart), true
}

// unreachable marks a number of steps that no scoops add up to.
const unreachable = int32(1) << 30

// fewest returns, for every number of steps up to limit, the fewest scoops that make it.
func (r rack) fewest(limit int64) []int32 {
	best := make([]int32, limit+1)
	for i := range best[1:] {
		best[i+1] = unreachable
	}
	for _, step := range r.steps {
		for i := step; i <= limit; i++ {
			best[i] = min(best[i], best[i-step]+1)
		}
	}
	return best
}

// choose picks the number of steps to measure for want: want itself if it can be
// made, else the one with the fewest scoops within slack of it, else the nearest.
func choose(fewest []int32, want, slack Number) int64 {
	if n, ok := want.Int64(); ok && fewest[n] < unreachable {
		return n
	}
	middle := want.Floor()
	f, _ := middle.Int64()
	last := int64(len(fewest) - 1)
	from, to := int64(0), last
	if n, ok := want.Sub(slack).Neg().Floor().Neg().Int64(); ok {
		from = min(max(n, 0), last)
	}
	if n, ok := want.Add(slack).Floor().Int64(); ok {
		to = min(n, last)
	}
	least := unreachable
	for i := from; i <= to; i++ {
		least = min(least, fewest[i])
	}
	if least == unreachable {
		from, to, least = 0, last, unreachable-1
	}
	below, above := f, f+1
	for below >= from && fewest[below] > least {
		below--
	}
	for above <= to && fewest[above] > least {
		above++
	}
	if below < from || above <= to && Int(above).Sub(want).Cmp(want.Sub(Int(below))) <= 0 {
		return above
	}
	return below
}

// describe walks back from target, largest measure first.
func (r rack) describe(fewest []int32, target, apart int64) filling {
	f := filling{total: Int(target).Add(Int(apart).Mul(Int(r.steps[0]))).Mul(r.grid)}
	for i, step := range r.steps {
		times := int64(0)
		if i == 0 {
			times = apart
		}
		for target >= step && fewest[target] == fewest[target-step]+1 {
			times++
			target -= step
		}
		if times > 0 {
			f.scoops = append(f.scoops, Scoop{Times: int(times), Measure: r.measures[i]})
			f.count += int(times)
		}
	}
	return f
}
