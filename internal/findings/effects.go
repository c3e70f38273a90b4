package findings

import (
	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
)

// Sections of the methods page that say how a finding was made.
const (
	ShareFindingMethod          = "two-shares"
	NumberFindingMethod         = "two-means"
	BatchFindingMethod          = "batch-findings"
	ScoreFindingMethod          = "scores"
	RankFindingMethod           = "ranks"
	DiscriminationFindingMethod = "discrimination"
)

// effects computes what every contrast showed on every measure. All contrasts of a
// measure are looked at together, for Holm.
func (f *Findings) effects() {
	for _, m := range f.Trial.Measures {
		if m.Kind.IsDiscrimination() {
			continue
		}
		tries := make([]*try, len(f.Contrasts))
		for i := range f.Contrasts {
			tries[i] = f.try(&f.Contrasts[i], m)
		}
		adjust(tries)
		for i, x := range tries {
			x.answer()
			x.effect.Detectable = x.effect.detectable()
			x.effect.Needed = x.effect.needed()
			x.effect.Words = f.effectWords(&f.Contrasts[i], &x.effect)
			f.Contrasts[i].Measures = append(f.Contrasts[i].Measures, x.effect)
		}
	}
}

// try is an effect on its way, with the pieces of both of its outcomes.
type try struct {
	effect        Effect
	putBackPieces *Outcome
}

func (f *Findings) try(c *Contrast, m trial.Measure) *try {
	compare := comparison{trial: f.Trial, measure: m, of: c.Of.Sample, against: c.Against.Sample, within: c.Within}
	found := compare.result(false)
	x := &try{effect: Effect{
		Measure: m,
		Outcome: found.Outcome,
		Pieces:  found.pieces,
		Also:    found.also,
		Factors: factorsBeside(c, m),
		Primary: m.Primary,
		Method:  methodOf(found.Outcome, m),
	}}
	x.effect.Confounded = len(x.effect.Factors) > 1
	x.effect.Exploratory = !m.Primary
	if found.Of.Aside+found.Against.Aside > 0 {
		again := compare.result(true)
		x.effect.PutBack, x.putBackPieces = &again.Outcome, again.pieces
	}
	return x
}

// factorsBeside names what differs in a contrast, except for the measure itself: a
// measure that turned out different is what was found, and cannot be confounded
// with itself.
func factorsBeside(c *Contrast, m trial.Measure) []string {
	var names []string
	for _, list := range [][]design.Difference{c.Planned, c.Unplanned} {
		for _, d := range list {
			if d.Factor.Kind != design.Observed || d.Factor.Name != m.Name {
				names = append(names, d.Factor.Name)
			}
		}
	}
	return names
}

func methodOf(o Outcome, m trial.Measure) string {
	switch {
	case o.Unit == OfBatch:
		return BatchFindingMethod
	case m.Kind == trial.Rank:
		return RankFindingMethod
	case o.Unit == OfAssessor:
		return ScoreFindingMethod
	case m.Kind.IsShare():
		return ShareFindingMethod
	}
	return NumberFindingMethod
}

// adjust adjusts the p of the single-factor contrasts of a measure for one another.
// These are the trial's evidence and make up the family. Contrasts with several
// factors, or with none, carry no claim: they keep their own p and cost the others
// nothing. Which contrasts belong is settled by the design and by there being
// something to test, not by what was found.
func adjust(tries []*try) {
	var family []*try
	for _, x := range tries {
		if len(x.effect.Factors) == 1 && x.effect.HasP {
			family = append(family, x)
		}
	}
	holm(family, func(x *try) *Outcome { return &x.effect.Outcome })
	holm(family, func(x *try) *Outcome { return tested(x.effect.Pieces) })
	holm(family, func(x *try) *Outcome { return tested(x.effect.Also) })
	for _, x := range family {
		x.effect.Family = len(family)
	}
	adjustPutBack(tries)
}

// adjustPutBack does the same with the readings put back: contrasts that have none
// set aside enter with what they have.
func adjustPutBack(tries []*try) {
	var outcomes, pieces []*Outcome
	for _, x := range tries {
		o, p := x.effect.Outcome, x.effect.Pieces
		if x.effect.PutBack == nil {
			x.putBackPieces = p
		} else {
			o, p = *x.effect.PutBack, x.putBackPieces
		}
		if len(x.effect.Factors) != 1 || !o.HasP {
			continue
		}
		if x.effect.PutBack != nil {
			outcomes = append(outcomes, x.effect.PutBack)
		} else {
			outcomes = append(outcomes, &o)
		}
		if tested(p) != nil {
			copied := *p
			x.putBackPieces = &copied
			pieces = append(pieces, &copied)
		}
	}
	self := func(o *Outcome) *Outcome { return o }
	holm(outcomes, self)
	holm(pieces, self)
}

// tested is an outcome with a p, or nil.
func tested(o *Outcome) *Outcome {
	if o == nil || !o.HasP {
		return nil
	}
	return o
}

// holm adjusts the outcomes of a family; those that are nil do not belong to it.
func holm[T any](family []T, of func(T) *Outcome) {
	var outcomes []*Outcome
	var ps []float64
	for _, x := range family {
		if o := of(x); o != nil {
			outcomes, ps = append(outcomes, o), append(ps, o.P)
		}
	}
	for i, p := range stats.Holm(ps) {
		outcomes[i].PAdjusted = p
	}
}

// answer settles what the outcomes say.
func (x *try) answer() {
	e := &x.effect
	e.decide(e.Pieces)
	if e.Pieces != nil {
		e.Pieces.decide(nil)
	}
	if e.Also != nil {
		e.Also.decide(nil)
	}
	if e.PutBack == nil {
		return
	}
	e.PutBack.decide(x.putBackPieces)
	turned := e.Difference*e.PutBack.Difference < 0 && e.Kind != NoneSeen
	e.Changes = e.Kind != e.PutBack.Kind || turned
}

// decide gives an outcome its answer. A p of at most 5 % after Holm is a difference,
// one of at most 10 % before it a leaning. Few batches cannot reach either: three
// pairs have no p below 25 %. There a leaning is also what is as extreme as so many
// batches can be, if the pieces say that these very batches differ that way.
func (o *Outcome) decide(pieces *Outcome) {
	switch {
	case o.Kind == Nothing:
	case !o.HasP:
		o.Kind = NoneSeen
	case o.PAdjusted <= Alpha*(1+1e-12):
		o.Kind = Differs
	case o.P <= LeaningAlpha*(1+1e-12), o.atLimit(pieces):
		o.Kind = Leans
	default:
		o.Kind = NoneSeen
	}
}

// atLimit reports whether batches too few for any p of 10 % are parted as far as
// they can be, and their pieces with them.
func (o *Outcome) atLimit(pieces *Outcome) bool {
	return pieces != nil && pieces.HasP && pieces.PAdjusted <= Alpha*(1+1e-12) &&
		o.Unit == OfBatch && o.SmallestP > LeaningAlpha && o.P <= o.SmallestP*(1+1e-9) &&
		pieces.Difference*o.Difference > 0
}
