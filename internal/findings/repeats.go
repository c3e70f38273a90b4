package findings

import (
	"slices"

	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
)

// Repeat is one contrast on one measure, in the kitchen and in the households that
// repeated the trial.
type Repeat struct {
	Contrast *Contrast // the kitchen's own
	Measure  trial.Measure
	// Rows are the kitchen's own, where it compared the two, then those of households.
	// All are read as the trial has the contrast.
	Rows []RepeatRow
	// Households are those whose contrast differs in one factor alone. Same of them
	// point the way of the kitchen, Other the other way, Level neither; HasDirection
	// says whether the kitchen points anywhere. Without, Same is how many have more of
	// the contrast's sample.
	Households         int
	Same, Other, Level int
	HasDirection       bool
	Confounded         int // households in which more than one thing differs

	// Pooled is what the single-factor rows add up to. It means nothing unless Strata,
	// the kitchens that it rests on, are two or more.
	Pooled PooledEffect
	Strata int
	Words  string
}

// RepeatRow is what the kitchen or one household found of a contrast on a measure.
type RepeatRow struct {
	EvidenceRow
	Findings *Findings // whose it is
	Own      *Contrast // as they have it
	Found    *Effect
}

// repeats computes what every household found, and what they come to with the trial's
// own: for each contrast and measure on which some household has a difference that is
// evidence about one factor.
func (f *Findings) repeats() {
	for i := range f.Trial.Replications {
		r := &f.Trial.Replications[i]
		at := compared(f.Trial.RepeatedBy(*r))
		at.Household, at.Home = r, f
		f.Households = append(f.Households, at)
	}
	if len(f.Households) == 0 {
		return
	}
	s := &Study{Recipe: f.Trial.Recipe.Name, Households: make([]StudyHousehold, len(f.Households))}
	for _, m := range f.Trial.Measures {
		s.Measures = append(s.Measures, studyMeasure(m))
	}
	for i := range f.Contrasts {
		c := &f.Contrasts[i]
		for j := range c.Measures {
			if x := f.repeat(c, &c.Measures[j], s); x.Households > 0 {
				x.Words = f.repeatWords(&x)
				f.Repeats = append(f.Repeats, x)
			}
		}
	}
}

// repeat computes one contrast on one measure; the study stands for the trial and its
// households.
func (f *Findings) repeat(c *Contrast, e *Effect, s *Study) Repeat {
	x := Repeat{Contrast: c, Measure: e.Measure}
	measure := slices.IndexFunc(s.Measures, func(m StudyMeasure) bool { return m.Name == e.Measure.Name })
	row := func(at *Findings, own *Contrast, found *Effect) RepeatRow {
		contrast, effect := at.studyContrast(own), at.studyEffect(own, found, measure)
		r := RepeatRow{EvidenceRow: rowOf(s, nil, &contrast, &effect), Findings: at, Own: own, Found: found}
		r.Of, r.Against = own.Of.Name, own.Against.Name
		r.Single = len(found.Factors) == 1
		return r
	}
	if e.HasDifference {
		x.Rows = append(x.Rows, row(f, c, e))
	}
	for i, at := range f.Households {
		own := at.between(c.Of.Key, c.Against.Key)
		if own == nil {
			continue
		}
		for k := range own.Measures {
			if found := &own.Measures[k]; found.Measure.Name == e.Measure.Name && found.HasDifference {
				r := row(at, own, found)
				r.Household = &s.Households[i]
				x.Rows = append(x.Rows, r)
			}
		}
	}
	x.directions()
	x.pool()
	return x
}

// between is the contrast of two samples by their keys, or nil.
func (f *Findings) between(of, against string) *Contrast {
	for i := range f.Contrasts {
		if c := &f.Contrasts[i]; c.Of.Key == of && c.Against.Key == against {
			return c
		}
	}
	return nil
}

// directions counts which way households point. The kitchen's own direction is that of a
// contrast in which one factor differs. A difference that is written as none has none.
func (x *Repeat) directions() {
	s := sayer{phrases: spoken(x.Measure.Language), effect: &Effect{Measure: x.Measure}}
	level := func(difference float64) bool { return s.size(difference) == s.size(0) }
	way := 1.0
	for _, r := range x.Rows {
		if r.Findings.Home == nil && r.Single && !level(r.Difference) {
			way, x.HasDirection = r.Difference, true
		}
	}
	for _, r := range x.Rows {
		switch {
		case r.Findings.Home == nil:
			continue
		case !r.Single:
			x.Confounded++
			continue
		case level(r.Difference):
			x.Level++
		case r.Difference*way > 0:
			x.Same++
		default:
			x.Other++
		}
		x.Households++
	}
}

// pool adds up the rows that are evidence about one factor: each kitchen is a stratum.
func (x *Repeat) pool() {
	var rows []*EvidenceRow
	var own []*RepeatRow
	for i := range x.Rows {
		if r := &x.Rows[i]; r.Single {
			rows, own = append(rows, &r.EvidenceRow), append(own, r)
		}
	}
	x.Strata = strata(rows)
	if x.Strata < 2 {
		return
	}
	x.Pooled.Of, x.Pooled.Against = x.Contrast.Of.Name, x.Contrast.Against.Name
	x.Pooled.add(rows)
	p := &x.Pooled
	switch {
	case p.Why != IsPooled:
	case x.Measure.Kind.IsShare():
		p.P, p.HasP = p.Exact()
	default:
		var test stats.Exact
		if test, p.HasP = dealtWithin(own); p.HasP {
			p.P, p.Sampled, p.MonteCarloError = test.P, test.Sampled, test.MonteCarloError
		}
	}
}

// Added reports whether there is a sum of two kitchens or more.
func (x *Repeat) Added() bool { return x.Strata > 1 && x.Pooled.Why == IsPooled }

// dealtWithin is the exact test of no difference in any kitchen: readings are dealt again
// within each, or within each pair of batches that belong together. Batches that stand
// alone are no blocks, and then there is no such test.
func dealtWithin(rows []*RepeatRow) (exact stats.Exact, ok bool) {
	var lists [][]quantity.Number
	for _, r := range rows {
		t := r.Findings.Trial
		of, against := gather(t, r.Own.Of.Sample, r.Found.Measure, false), gather(t, r.Own.Against.Sample, r.Found.Measure, false)
		switch {
		case r.Effect.Unit == OfPiece:
			lists = append(lists, of.pieces(), against.pieces())
		case !r.Effect.Paired:
			return stats.Exact{}, false
		default:
			of, against = common(of, against)
			for i := range of.batches {
				lists = append(lists, of.batches[i].values, against.batches[i].values)
			}
		}
	}
	scaled, _ := whole(lists...)
	var blocks []stats.BlockPair
	for pair := range slices.Chunk(scaled, 2) {
		x, errX := stats.NewSample(pair[0])
		y, errY := stats.NewSample(pair[1])
		if errX != nil || errY != nil {
			return stats.Exact{}, false
		}
		blocks = append(blocks, stats.BlockPair{X: x, Y: y})
	}
	first := rows[0]
	seed := comparison{trial: first.Findings.Trial, measure: first.Found.Measure}
	test, err := stats.BlockedPermutation(blocks, seed.sampling())
	return test.Exact, err == nil
}
