package findings

import (
	"math"
	"slices"

	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/stats"
)

// batchPairs compares batches that belong together, by session or by dough: the
// pieces are averaged within each, and the differences of the pairs are tested by
// turning their signs. What the pieces say about these batches stands beside it.
func (c comparison) batchPairs(a, b side) result {
	x, y := a.means(), b.means()
	o := Outcome{Unit: OfBatch, Paired: true, Test: BatchPairTest,
		Of: a.group(x, c.isShare()), Against: b.group(y, c.isShare())}
	c.pairs(&o, x, y)
	o.cut(c.isShare())
	within := c.withinBatches(a, b)
	return result{Outcome: o, pieces: &within}
}

// pairs compares units two by two: the mean difference with the interval of
// Student's paired t, and the exact sign-flip test.
func (c comparison) pairs(o *Outcome, x, y []quantity.Number) {
	differences := make([]quantity.Number, len(x))
	for i := range x {
		differences[i] = x[i].Sub(y[i])
	}
	o.Difference = mean(differences).Float64()
	o.HasDifference = true
	o.SmallestP = smallestFlip(len(differences))
	if allZero(differences) {
		o.Why = Alike
		return
	}
	scaled, _ := whole(differences)
	flips, err := stats.NewSample(scaled[0])
	if err != nil {
		return
	}
	exact, err := stats.SignFlip(flips, c.sampling())
	o.exact(exact, err)
	o.keep(x, y)
	if t, ok := o.t(Level); ok {
		o.Interval, o.HasInterval = t.Interval, true
	}
}

func allZero(values []quantity.Number) bool {
	for _, v := range values {
		if v.Sign() != 0 {
			return false
		}
	}
	return true
}

// smallestFlip is the least two-sided p that so many signs can have.
func smallestFlip(n int) float64 { return min(1, math.Pow(2, float64(1-n))) }

// batches compares batches that were made independently: their means, or shares,
// are the units.
func (c comparison) batches(a, b side) result {
	x, y := a.means(), b.means()
	o := Outcome{Unit: OfBatch, Test: BatchTest,
		Of: a.group(x, c.isShare()), Against: b.group(y, c.isShare())}
	c.numbers(&o, x, y)
	o.cut(c.isShare())
	pieces := c.pieces(a, b)
	return result{Outcome: o, pieces: &pieces}
}

// cut keeps the interval of a difference of shares between −1 and 1, which Student's
// t does not know.
func (o *Outcome) cut(share bool) {
	if share {
		o.Interval.Low, o.Interval.High = max(o.Interval.Low, -1), min(o.Interval.High, 1)
	}
}

// withinBatches compares pieces within each pair of batches and adds up what the
// pairs say: evidence about these batches, however many pieces there are.
func (c comparison) withinBatches(a, b side) Outcome {
	x, y := a.pieces(), b.pieces()
	o := Outcome{Unit: OfPiece, Paired: true, Of: a.group(x, c.isShare()), Against: b.group(y, c.isShare())}
	if o.tooFew() {
		return o
	}
	if c.isShare() {
		o.strata(a, b)
		return o
	}
	c.blocks(&o, a, b)
	return o
}

// strata pools counts over batches: the difference of Mantel and Haenszel with
// Sato's interval, and the exact conditional test.
func (o *Outcome) strata(a, b side) {
	o.Test = StratifiedTest
	blocks := make([]stats.Block, len(a.batches))
	for i := range blocks {
		x, y := a.batches[i].values, b.batches[i].values
		blocks[i] = stats.Block{X1: passes(x), N1: len(x), X2: passes(y), N2: len(y)}
	}
	pooled, err := stats.MantelHaenszel(blocks, Level)
	if err != nil {
		return
	}
	o.Difference, o.HasDifference = pooled.Difference, true
	o.Interval, o.HasInterval = pooled.Sato.Interval, pooled.Sato.Defined
	o.cut(true)
	test, err := stats.ConditionalTest(blocks, Level)
	o.exact(test.Exact, err)
}

// blocks deals the readings of a batch again within that batch only.
func (c comparison) blocks(o *Outcome, a, b side) {
	o.Test = BlockedTest
	sign := 1.0
	if slices.CompareFunc(a.pieces(), b.pieces(), quantity.Number.Cmp) > 0 {
		a, b, sign = b, a, -1 // in one order, so that not even a sampled p depends on it
	}
	lists := make([][]quantity.Number, 0, 2*len(a.batches))
	for i := range a.batches {
		lists = append(lists, a.batches[i].values, b.batches[i].values)
		d := mean(a.batches[i].values).Sub(mean(b.batches[i].values))
		o.Difference += sign * d.Float64() / float64(len(a.batches))
	}
	o.HasDifference = true
	if alike(lists...) {
		o.Why = Alike
		return
	}
	scaled, _ := whole(lists...)
	blocks := make([]stats.BlockPair, len(a.batches))
	for i := range blocks {
		x, errX := stats.NewSample(scaled[2*i])
		y, errY := stats.NewSample(scaled[2*i+1])
		if errX != nil || errY != nil {
			return
		}
		blocks[i] = stats.BlockPair{X: x, Y: y}
	}
	test, err := stats.BlockedPermutation(blocks, c.sampling())
	o.exact(test.Exact, err)
}
