package findings

import (
	"slices"

	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
)

// byAssessor compares what the same assessors said of both samples. An assessor who
// judged only one of them cannot be paired and is left out.
//
// Scores: the signed-rank test with the middle of its shifts (Hodges and Lehmann)
// as difference, and the sign-flip test of the mean beside it. Ranks: the sign-flip
// test of the difference of rank sums. Yes or no: the sign test of those who told
// the samples apart (McNemar's exact test).
func (c comparison) byAssessor() result {
	x, y := c.judged()
	o := Outcome{Unit: OfAssessor, Paired: true, Of: judgedGroup(x), Against: judgedGroup(y)}
	if len(x) < 2 {
		o.Kind = Nothing
		o.Why = c.lacking(len(x))
		return result{Outcome: o}
	}
	differences := make([]quantity.Number, len(x))
	for i := range x {
		differences[i] = x[i].Sub(y[i])
	}
	o.SmallestP = smallestFlip(len(x))
	if allZero(differences) {
		o.Why, o.HasDifference = Alike, true
		o.Test = c.assessorTest()
		return result{Outcome: o}
	}
	switch {
	case c.isShare():
		o.Of.Passes, o.Against.Passes = passes(x), passes(y)
		o.signs(differences)
	case c.measure.Kind == trial.Rank:
		c.pairs(&o, x, y)
		o.Test = SignFlipTest
		o.Difference *= float64(len(x))
		o.Interval, o.HasInterval = stats.Interval{}, false
	default:
		also := o
		c.pairs(&also, x, y)
		o.units = also.units
		c.scores(&o, differences)
		also.Test = SignFlipTest
		return result{Outcome: o, also: &also}
	}
	return result{Outcome: o}
}

func (c comparison) assessorTest() Test {
	switch {
	case c.isShare():
		return SignTest
	case c.measure.Kind == trial.Rank:
		return SignFlipTest
	}
	return SignedRankTest
}

// judged lists what each assessor said of both samples, in the order of their names.
func (c comparison) judged() (x, y []quantity.Number) {
	of, against := c.by(c.of), c.by(c.against)
	for _, assessor := range assessors(c.trial) {
		a, first := of[assessor]
		b, second := against[assessor]
		if first && second {
			x, y = append(x, a), append(y, b)
		}
	}
	return x, y
}

// by maps assessors to what they said of a sample.
func (c comparison) by(s *trial.Sample) map[string]quantity.Number {
	found := map[string]quantity.Number{}
	for _, row := range c.trial.Tastings {
		r, read := row.Readings[c.measure.Name]
		if row.Sample == s.Key && read && r.Counts() {
			found[row.Assessor] = r.Value
		}
	}
	return found
}

// assessors are all who tasted, sorted.
func assessors(t *trial.Trial) []string {
	var names []string
	for _, row := range t.Tastings {
		names = append(names, row.Assessor)
	}
	slices.Sort(names)
	return slices.Compact(names)
}

func judgedGroup(values []quantity.Number) Group {
	g := Group{Units: len(values), Readings: len(values)}
	if len(values) > 0 {
		g.Mean = mean(values).Float64()
	}
	return g
}

// lacking says why there are fewer than two pairs.
func (c comparison) lacking(pairs int) Reason {
	switch {
	case pairs == 1:
		return OnePair
	case len(c.by(c.of)) == 0 || len(c.by(c.against)) == 0:
		return NotRead
	}
	return NoPair
}

// signs counts who passed one sample and failed the other.
func (o *Outcome) signs(differences []quantity.Number) {
	o.Test = SignTest
	o.Difference, o.HasDifference = mean(differences).Float64(), true
	sample, err := stats.NewSample(floats(differences))
	if err != nil {
		return
	}
	test, err := stats.Sign(sample)
	o.exact(test.Exact, err)
}

// scores ranks the differences of the assessors.
func (c comparison) scores(o *Outcome, differences []quantity.Number) {
	o.Test = SignedRankTest
	scaled, scale := whole(differences)
	sample, err := stats.NewSample(scaled[0])
	if err != nil {
		return
	}
	test, err := stats.SignedRank(sample, Level, c.sampling())
	if err != nil {
		return
	}
	o.exact(test.Exact, nil)
	o.Difference, o.HasDifference = test.Estimate/scale, true
	o.Interval = stats.Interval{Low: test.Interval.Low / scale, High: test.Interval.High / scale}
	o.HasInterval = test.HasInterval
}
