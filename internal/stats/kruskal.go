package stats

import (
	"errors"
	"fmt"
	"math/big"
	"math/rand/v2"
)

// GroupTest is a test of several independent samples.
type GroupTest struct {
	Statistic, PAsymptotic float64 // H corrected for ties, and its chi-squared p
	DF                     int
	Defined                bool // false where all readings are alike; the exact p is then 1

	// Exact counts the ways to deal the readings into groups of these sizes: P and
	// Greater are the share with an H at least as large. Less has no meaning here.
	Exact Exact
}

// KruskalWallis tests whether independent samples come from the same population,
// by their ranks. Ties get midranks.
// Source: Kruskal & Wallis 1952, J. Am. Stat. Assoc. 47:583.
func KruskalWallis(groups []Sample, o Sampling) (GroupTest, error) {
	if len(groups) < 2 {
		return GroupTest{}, errors.New("there must be at least two samples to compare")
	}
	d := dealing{}
	var all []float64
	for i, g := range groups {
		if g.N() == 0 {
			return GroupTest{}, fmt.Errorf("sample %d has no readings", i+1)
		}
		d.sizes = append(d.sizes, g.N())
		all = append(all, g.xs...)
	}
	if err := d.findScale(); err != nil {
		return GroupTest{}, err
	}
	ranks, ties := doubledRanks(all)
	d.ranks = ranks
	observed := d.spread(d.groupSums())

	t := GroupTest{DF: len(groups) - 1}
	n := float64(len(all))
	if correction := 1 - tieLoss(ties)/(n*n*n-n); n > 1 && correction > 0 {
		// Σ R²/n from doubled ranks, in units of the common scale.
		squares := observed.float() / 4 / float64(d.scale)
		t.Statistic = max(0, (12*squares/(n*(n+1))-3*(n+1))/correction)
		t.PAsymptotic = chiUpper(t.Statistic, float64(t.DF))
		t.Defined = true
	}
	t.Exact = d.exact(observed, o)
	return t, nil
}

// dealing puts ranks into groups of given sizes.
type dealing struct {
	ranks []int64 // doubled, those of the first group first
	sizes []int
	scale uint64 // a common multiple of the sizes
}

// findScale finds the common multiple that keeps Σ R²/n whole.
func (d *dealing) findScale() error {
	d.scale = 1
	for _, n := range d.sizes {
		d.scale *= uint64(n) / uint64(gcd(int64(d.scale), int64(n)))
		if d.scale > 1<<40 {
			return errors.New("samples of so many different sizes are too many to compare exactly")
		}
	}
	return nil
}

// groupSums adds up the ranks of each group as they lie.
func (d *dealing) groupSums() []int64 {
	sums := make([]int64, len(d.sizes))
	next := 0
	for g, n := range d.sizes {
		for _, r := range d.ranks[next : next+n] {
			sums[g] += r
		}
		next += n
	}
	return sums
}

// spread is scale · Σ sum²/n: as H, but whole.
func (d *dealing) spread(sums []int64) count {
	total := count{}
	for g, s := range sums {
		square := count{lo: uint64(s)}.times(count{lo: uint64(s)})
		total = total.plus(square.times(count{lo: d.scale / uint64(d.sizes[g])}))
	}
	return total
}

// exact counts or draws the ways with at least the observed spread.
func (d *dealing) exact(observed count, o Sampling) Exact {
	if e, ok := d.counted(observed, o.work()); ok {
		return e
	}
	pool := &dealing{ranks: append([]int64(nil), d.ranks...), sizes: d.sizes, scale: d.scale}
	return o.drawn(func(r *rand.Rand) (two, less, greater bool) {
		r.Shuffle(len(pool.ranks), func(i, j int) {
			pool.ranks[i], pool.ranks[j] = pool.ranks[j], pool.ranks[i]
		})
		hit := !pool.spread(pool.groupSums()).below(observed)
		return hit, false, hit
	})
}

// counted deals the ranks one after the other, and keeps how many ways lead to the
// same places filled and sums reached in every group but the last. The places and
// sums make one mixed-radix number.
func (d *dealing) counted(observed count, work int) (Exact, bool) {
	all := int64(0)
	for _, r := range d.ranks {
		all += r
	}
	places, ok := d.radix(all)
	if !ok {
		return Exact{}, false
	}
	states := map[uint64]count{0: one()}
	for _, r := range d.ranks {
		if work -= mapStep * len(d.sizes) * len(states); work < 0 {
			return Exact{}, false
		}
		states = d.deal(states, places, r)
	}
	hit, total := count{}, count{}
	for state, n := range states {
		sums, ok := d.unpack(state, places, all)
		if !ok {
			continue
		}
		total = total.plus(n)
		if !d.spread(sums).below(observed) {
			hit = hit.plus(n)
		}
	}
	return oneSided(hit.big(), total.big()), true
}

// place says where a group's filled places and its sum stand in a state.
type place struct {
	filled, sum uint64 // the value of one more place, and of one more in the sum
}

// radix lays out the state. It is false where a state or a count does not fit.
func (d *dealing) radix(all int64) ([]place, bool) {
	ways := big.NewInt(1)
	left := len(d.ranks)
	unit := big.NewInt(1)
	var places []place
	for _, n := range d.sizes[:len(d.sizes)-1] {
		ways.Mul(ways, new(big.Int).Binomial(int64(left), int64(n)))
		left -= n
		p := place{filled: unit.Uint64()}
		unit.Mul(unit, big.NewInt(int64(n)+1))
		p.sum = unit.Uint64()
		unit.Mul(unit, big.NewInt(all+1))
		if !unit.IsUint64() {
			return nil, false
		}
		places = append(places, p)
	}
	return places, fits(ways)
}

// deal gives one more rank to every group that has room.
func (d *dealing) deal(states map[uint64]count, places []place, rank int64) map[uint64]count {
	next := make(map[uint64]count, 2*len(states))
	for state, n := range states {
		next[state] = next[state].plus(n) // to the last group; checked at the end
		for g, p := range places {
			if state/p.filled%uint64(d.sizes[g]+1) < uint64(d.sizes[g]) {
				to := state + p.filled + uint64(rank)*p.sum
				next[to] = next[to].plus(n)
			}
		}
	}
	return next
}

// unpack reads the sums of all groups out of a final state; false where a group
// was not filled.
func (d *dealing) unpack(state uint64, places []place, all int64) ([]int64, bool) {
	sums := make([]int64, len(d.sizes))
	last := all
	for g, p := range places {
		if state/p.filled%uint64(d.sizes[g]+1) != uint64(d.sizes[g]) {
			return nil, false
		}
		sums[g] = int64(state / p.sum % uint64(all+1))
		last -= sums[g]
	}
	sums[len(sums)-1] = last
	return sums, true
}
