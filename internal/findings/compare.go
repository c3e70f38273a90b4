package findings

import (
	"hash/fnv"
	"slices"

	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
)

// comparison is one measure of one contrast.
type comparison struct {
	trial       *trial.Trial
	measure     trial.Measure
	of, against *trial.Sample
	within      bool // one dough
}

// result is a comparison's outcome with what stands beside it.
type result struct {
	Outcome
	pieces *Outcome
	also   *Outcome
}

// result compares what the log has, and with putBack the readings set aside too.
//
// Assessors are pairs by nature. Batches of one session are pairs when the note
// says that they were made side by side, and so are pieces of one dough that were
// treated differently. The batch is the unit as soon as both samples have two; a
// sample made once says nothing about the scatter of batches, so its pieces are
// compared as what they are, pieces of these batches.
func (c comparison) result(putBack bool) result {
	if c.measure.Source == trial.OfTasting {
		return c.byAssessor()
	}
	a := gather(c.trial, c.of, c.measure, putBack)
	b := gather(c.trial, c.against, c.measure, putBack)
	if c.trial.SideBySide || c.within {
		x, y := common(a, b)
		switch {
		case len(x.batches) >= 2:
			return c.batchPairs(x, y)
		case len(x.batches) == 1:
			return result{Outcome: c.pieces(x, y)}
		}
	}
	if len(a.batches) >= 2 && len(b.batches) >= 2 {
		return c.batches(a, b)
	}
	return result{Outcome: c.pieces(a, b)}
}

func (c comparison) isShare() bool { return c.measure.Kind.IsShare() }

// sampling is for arrangements too many to count. The seed comes from the trial and
// the measure, so that the same log gives the same p; it leaves out the samples, so
// that their order and names make no difference.
func (c comparison) sampling() stats.Sampling {
	h := fnv.New64a()
	h.Write([]byte(c.trial.Slug + "\x00" + c.measure.Name)) // writing to a hash does not fail
	return stats.Sampling{Seed: h.Sum64()}
}

// pieces compares pieces as pieces of these very batches.
func (c comparison) pieces(a, b side) Outcome {
	x, y := a.pieces(), b.pieces()
	o := Outcome{Unit: OfPiece, Of: a.group(x, c.isShare()), Against: b.group(y, c.isShare())}
	if o.tooFew() {
		return o
	}
	if c.isShare() {
		o.shares()
		return o
	}
	c.numbers(&o, x, y)
	o.Test = PermutationTest
	return o
}

// tooFew settles an outcome that has nothing to compare: no reading on a side, or
// one only, which has no scatter to hold a difference against.
func (o *Outcome) tooFew() bool {
	o.Kind = Nothing
	few, none := o.Of, o.Of
	if o.Against.Units < few.Units {
		few = o.Against
	}
	if o.Of.Units > 0 {
		none = o.Against
	}
	switch {
	case few.Units == 0 && none.Aside > 0:
		o.Why = AllSetAside
	case few.Units == 0:
		o.Why = NotRead
	case few.Units == 1:
		o.Why = OneReading
	default:
		o.Kind = ""
		return false
	}
	return true
}

// shares compares two counts: the difference with Newcombe's interval, and Fisher's
// exact test.
func (o *Outcome) shares() {
	x, y := o.Of, o.Against
	o.Test = FisherTest
	o.Difference = x.Mean - y.Mean
	o.HasDifference = true
	interval, err := stats.Newcombe(x.Passes, x.Units, y.Passes, y.Units, Level)
	o.Interval, o.HasInterval = interval, err == nil
	exact, err := stats.Fisher(x.Passes, x.Units, y.Passes, y.Units)
	o.exact(exact, err)
	o.SmallestP = smallestP(x.Units, y.Units)
}

// numbers compares two lists of independent units: the difference of means with
// Welch's interval, and the exact permutation test.
func (c comparison) numbers(o *Outcome, x, y []quantity.Number) {
	o.Difference = mean(x).Sub(mean(y)).Float64()
	o.HasDifference = true
	o.SmallestP = smallestP(len(x), len(y))
	if alike(x, y) {
		o.Why = Alike
		return
	}
	exact, err := permutation(x, y, c.sampling())
	o.exact(exact, err)
	o.keep(x, y)
	if t, ok := o.t(Level); ok {
		o.Interval, o.HasInterval = t.Interval, true
	}
}

// keep remembers the units for Student's t.
func (o *Outcome) keep(x, y []quantity.Number) {
	first, errX := stats.NewSample(floats(x))
	second, errY := stats.NewSample(floats(y))
	if errX == nil && errY == nil {
		o.units = [2]stats.Sample{first, second}
	}
}

// t compares the units' means at a level: paired, or by Welch.
func (o *Outcome) t(level float64) (stats.TTest, bool) {
	if o.Paired {
		return stats.PairedT(o.units[0], o.units[1], level)
	}
	return stats.Welch(o.units[0], o.units[1], level)
}

// permutation is the exact test of a difference of means. Two-sided, it does not
// matter which list comes first; they are put in order, so that not even a sampled
// p depends on it.
func permutation(x, y []quantity.Number, o stats.Sampling) (stats.Exact, error) {
	if slices.CompareFunc(x, y, quantity.Number.Cmp) > 0 {
		x, y = y, x
	}
	scaled, _ := whole(x, y)
	first, err := stats.NewSample(scaled[0])
	if err != nil {
		return stats.Exact{}, err
	}
	second, err := stats.NewSample(scaled[1])
	if err != nil {
		return stats.Exact{}, err
	}
	return stats.Permutation(first, second, o)
}

// exact takes over the outcome of an exact test.
func (o *Outcome) exact(e stats.Exact, err error) {
	if err != nil {
		return
	}
	o.P, o.HasP = e.P, true
	o.PAdjusted = e.P
	o.Sampled, o.MonteCarloError = e.Sampled, e.MonteCarloError
}

// alike reports whether all readings of all lists are the same.
func alike(lists ...[]quantity.Number) bool {
	first := lists[0][0]
	for _, values := range lists {
		for _, v := range values {
			if !v.Equal(first) {
				return false
			}
		}
	}
	return true
}

// smallestP is the least two-sided p that two lists of these sizes can have: one
// arrangement of all, or two where the sizes are equal. It is what stats.SmallestP
// counts, without counting.
func smallestP(n1, n2 int) float64 {
	p := 1.0
	if n1 == n2 {
		p = 2
	}
	for i := 1; i <= min(n1, n2); i++ {
		p *= float64(i) / float64(max(n1, n2)+i)
	}
	return p
}
