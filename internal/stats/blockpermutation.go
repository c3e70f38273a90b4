package stats

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
)

// BlockPair holds the readings of two samples in one block.
type BlockPair struct {
	X, Y Sample
}

// BlockedTest is a difference of means over blocks with its exact test.
type BlockedTest struct {
	Exact
	Difference float64 // mean over blocks, unweighted, of mean x − mean y
}

// BlockedPermutation is the exact permutation test within blocks: the readings of
// a block are dealt again within that block only. The statistic is the unweighted
// mean over blocks of the difference of means; two-sided, arrangements count that
// are at least as far from 0. With one block it is Permutation, with one reading a
// side in every block SignFlip.
// Source: Fisher 1935, The Design of Experiments, ch. III; Edgington & Onghena
// 2007, Randomization Tests, ch. 6.
func BlockedPermutation(blocks []BlockPair, o Sampling) (BlockedTest, error) {
	if len(blocks) == 0 {
		return BlockedTest{}, errors.New("no blocks (there must be at least one)")
	}
	t := BlockedTest{}
	for i, b := range blocks {
		if b.X.N() == 0 || b.Y.N() == 0 {
			return BlockedTest{}, fmt.Errorf("block %d lacks one of the samples", i+1)
		}
		t.Difference += (b.X.Mean() - b.Y.Mean()) / float64(len(blocks))
	}
	whole, err := wholeBlocks(blocks)
	if err != nil {
		return BlockedTest{}, err
	}
	t.Exact = dealWithin(whole, o)
	return t, nil
}

// wholeBlock is a block in whole numbers. The difference of means of a block with
// sum s of the first m of n readings that add up to T is
//
//	s/m − (T − s)/(n − m) = s · n/(m (n−m)) − T/(n−m)
//
// and weight is the first factor, fixed the second term, times a number common to
// all blocks that makes both whole.
type wholeBlock struct {
	values        []int64
	m             int
	weight, fixed int64
}

// wholeBlocks puts all blocks on one scale. Readings are shifted to start at 0 in
// each block, which changes no difference.
func wholeBlocks(blocks []BlockPair) ([]wholeBlock, error) {
	var all []float64
	scale := int64(1)
	for _, b := range blocks {
		all = append(append(all, b.X.xs...), b.Y.xs...)
		mn := int64(b.X.N()) * int64(b.Y.N())
		scale *= mn / gcd(scale, mn)
		if scale > 1_000_000_000 {
			return nil, errors.New("blocks of so many different sizes are too many to compare exactly")
		}
	}
	ints := asDecimals(all).ints
	whole := make([]wholeBlock, len(blocks))
	for i, b := range blocks {
		n := b.X.N() + b.Y.N()
		whole[i] = wholeBlock{values: ints[:n], m: b.X.N()}
		ints = ints[n:]
		least := slices.Min(whole[i].values)
		for j := range whole[i].values {
			whole[i].values[j] -= least
		}
	}
	coarsen(whole, scale)
	for i := range whole {
		w := &whole[i]
		n, other := int64(len(w.values)), int64(len(w.values)-w.m)
		w.weight = scale / (int64(w.m) * other) * n
		for _, v := range w.values {
			w.fixed += scale / other * v
		}
	}
	return whole, nil
}

// coarsen drops last digits of the readings until every possible statistic is a
// whole number of the machine. Kitchen readings never need it.
func coarsen(whole []wholeBlock, scale int64) {
	bound := 0.0
	for _, w := range whole {
		bound += float64(scale) * float64(len(w.values)) * float64(slices.Max(w.values))
	}
	for ; bound > math.MaxInt64/4; bound /= 9 {
		for _, w := range whole {
			for i, v := range w.values {
				w.values[i] = (v + 5) / 10
			}
		}
	}
}

// dealWithin counts or draws.
func dealWithin(whole []wholeBlock, o Sampling) Exact {
	observed := int64(0)
	for _, w := range whole {
		observed += w.difference()
	}
	far := max(observed, -observed)
	if dist, total, ok := blockSums(whole, o.work()); ok {
		return tails(dist, total, observed, window{low: -far, high: far})
	}
	for i := range whole {
		whole[i].values = slices.Clone(whole[i].values)
	}
	return o.drawn(func(r *rand.Rand) (two, less, greater bool) {
		sum := int64(0)
		for _, w := range whole {
			r.Shuffle(len(w.values), func(i, j int) { w.values[i], w.values[j] = w.values[j], w.values[i] })
			sum += w.difference()
		}
		return sum <= -far || sum >= far, sum <= observed, sum >= observed
	})
}

// difference is the block's difference of means as its readings lie.
func (w wholeBlock) difference() int64 {
	sum := int64(0)
	for _, v := range w.values[:w.m] {
		sum += v
	}
	return sum*w.weight - w.fixed
}

// blockSums is the distribution of the summed differences, or false where counting
// takes more than work steps.
func blockSums(whole []wholeBlock, work int) (dist sums, total *big.Int, ok bool) {
	total = big.NewInt(1)
	for _, w := range whole {
		total.Mul(total, choice{values: w.values, size: w.m}.total())
	}
	if !fits(total) {
		return nil, nil, false
	}
	before, last := map[int64]count{0: one()}, map[int64]count{0: one()}
	next := map[int64]count{}
	for _, w := range whole {
		if work -= mapStep * len(before) * len(last); work < 0 {
			return nil, nil, false
		}
		convolve(next, before, last)
		before, next = next, before // and the room of the one is used again
		if last, ok = w.differences(work); !ok {
			return nil, nil, false
		}
	}
	// The sums of all blocks are many more than those of all but the last.
	return pairOf(before, last), total, true
}

// differences counts the ways to deal one block, by the difference.
func (w wholeBlock) differences(work int) (map[int64]count, bool) {
	bySize := make([]map[int64]count, w.m+1) // sums of the subsets of each size
	bySize[0] = map[int64]count{0: one()}
	for _, v := range w.values {
		for k := w.m; k > 0; k-- {
			if work -= mapStep * len(bySize[k-1]); work < 0 {
				return nil, false
			}
			for s, n := range bySize[k-1] {
				if bySize[k] == nil {
					bySize[k] = map[int64]count{}
				}
				bySize[k][s+v] = bySize[k][s+v].plus(n)
			}
		}
	}
	out := make(map[int64]count, len(bySize[w.m]))
	for s, n := range bySize[w.m] {
		out[s*w.weight-w.fixed] = n
	}
	return out, true
}
