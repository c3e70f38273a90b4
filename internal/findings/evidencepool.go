package findings

import (
	"math"
	"slices"

	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
)

// EvidenceMethod is the section of the methods page on what trials add up to.
const EvidenceMethod = "adding-up"

// DisagreeAlpha is the p of the test of agreement up to which trials are said to
// disagree. The test is weak with few trials, so the limit is wider than 5 %
// (Cochrane Handbook for Systematic Reviews of Interventions, s. 10.10.2, from memory).
const DisagreeAlpha = 0.10

// Unpooled says why contrasts were not added up.
type Unpooled string

// The reasons. IsPooled is none.
const (
	IsPooled     Unpooled = ""
	AsksOther    Unpooled = "asks something else"  // a test of the same name asks something else, or a scale has other ends
	ByTasters    Unpooled = "by tasters"           // the same people may have judged in each trial
	NoScatter    Unpooled = "no scatter"           // a trial whose readings are all alike, or only one, cannot be weighed
	LooseBatches Unpooled = "loose batches"        // pieces of batches that stand alone cannot be counted as strata
	AllAlike     Unpooled = "all alike"            // every piece of every trial came out the same
	Disagree     Unpooled = "the trials disagree"  // by more than chance, so that one number stands for none of them
	Unweighable  Unpooled = "cannot be weighed up" // precisions too far apart to be true
)

// PooledEffect is what the single-factor contrasts of one pair of levels add up to
// on one measure. Numbers mean nothing where Why says that there are none.
type PooledEffect struct {
	Of, Against string // the levels, as in the oldest trial
	Why         Unpooled

	Trials     int // independent trials behind it
	Households int // repeats of them by viewers, each a stratum of its own
	Recipes    int // different recipes among the trials
	Readings   int // pieces, or pairs of batches and so on, that count

	// Difference is the mean of the trials' differences, in the measure's base unit
	// or, for shares, from −1 to 1. Numbers: weighed by their precision, with the
	// scatter of the trials around it (DerSimonian and Laird). Shares: Mantel and
	// Haenszel, with Sato's interval; every trial, or every pair of batches made side
	// by side, is a stratum.
	Difference float64
	Interval   stats.Interval // 95 %
	// P is the exact conditional test over strata; for shares only. In what households
	// add up to it is there for numbers too: readings dealt again within each household.
	P    float64
	HasP bool
	// Sampled says that arrangements were drawn, and MonteCarloError by how much that may
	// shift P (a standard error).
	Sampled         bool
	MonteCarloError float64

	// AgreeP is the p of the test of agreement: Q for numbers, Breslow and Day for
	// shares, where it need not be defined.
	AgreeP    float64
	HasAgreeP bool
	ISquared  float64 // numbers: the share of the scatter that is more than chance
}

// pool adds up the single-factor contrasts of each pair of levels that two trials or
// more compared, or a trial and a household that repeated it.
func (m *MeasureEvidence) pool() {
	var done []pair
	for i := range m.Rows {
		p := m.Rows[i].pair
		if slices.Contains(done, p) {
			continue
		}
		done = append(done, p)
		rows := m.comparing(p)
		if strata(rows) < 2 {
			continue
		}
		x := PooledEffect{Of: rows[0].Of, Against: rows[0].Against}
		x.add(rows)
		m.Pooled = append(m.Pooled, x)
	}
}

// comparing are the single-factor rows of one pair of levels that have a difference.
func (m *MeasureEvidence) comparing(p pair) []*EvidenceRow {
	var rows []*EvidenceRow
	for i := range m.Rows {
		if r := &m.Rows[i]; r.Single && r.HasDifference && r.pair == p {
			rows = append(rows, r)
		}
	}
	return rows
}

// strata counts the kitchens behind rows: those of trials, and of households.
func strata(rows []*EvidenceRow) int {
	var kitchens []*Findings
	for _, r := range rows {
		if !slices.Contains(kitchens, r.Findings) {
			kitchens = append(kitchens, r.Findings)
		}
	}
	return len(kitchens)
}

// trialsOf counts the trials behind rows, and the households that repeated them.
func trialsOf(rows []*EvidenceRow) (trials, households int) {
	var found, kitchens []*Findings
	for _, r := range rows {
		if f := r.Findings; f.Home != nil && !slices.Contains(kitchens, f) {
			kitchens = append(kitchens, f)
		}
		if f := r.Findings.trialOwn(); !slices.Contains(found, f) {
			found = append(found, f)
		}
	}
	return len(found), len(kitchens)
}

func (x *PooledEffect) add(rows []*EvidenceRow) {
	rows = independent(rows)
	x.count(rows)
	if x.Why = unlike(rows); x.Why != IsPooled {
		return
	}
	if rows[0].Effect.Measure.Kind.IsShare() {
		x.Why = x.shares(rows)
	} else {
		x.Why = x.numbers(rows)
	}
	for _, r := range rows {
		r.Counted = x.Why == IsPooled
	}
}

// independent leaves out every contrast that shares a dough with an earlier one of
// its trial.
func independent(rows []*EvidenceRow) []*EvidenceRow {
	used := map[*trial.Sample]bool{}
	var kept []*EvidenceRow
	for _, r := range rows {
		of, against := r.Contrast.Of.Origin(), r.Contrast.Against.Origin()
		r.Shared = used[of] || used[against]
		if !r.Shared {
			kept = append(kept, r)
		}
		used[of], used[against] = true, true
	}
	return kept
}

func (x *PooledEffect) count(rows []*EvidenceRow) {
	x.Trials, x.Households = trialsOf(rows)
	var recipes []string
	for _, r := range rows {
		x.Readings += r.Effect.Of.Readings + r.Effect.Against.Readings
		name := r.Findings.Trial.Recipe.Name
		if !slices.ContainsFunc(recipes, func(other string) bool { return sameWords(name, other) }) {
			recipes = append(recipes, name)
		}
	}
	x.Recipes = len(recipes)
}

// unlike says what keeps rows from being the same thing measured again.
func unlike(rows []*EvidenceRow) Unpooled {
	first := rows[0].Effect.Measure
	for _, r := range rows {
		m := r.Effect.Measure
		switch {
		case !sameWords(m.Asks, first.Asks), m.From != first.From, m.To != first.To:
			return AsksOther
		case m.Kind == trial.Rank || r.Effect.Unit == OfAssessor:
			return ByTasters
		}
	}
	return IsPooled
}

// numbers pools differences of means by inverse variance.
func (x *PooledEffect) numbers(rows []*EvidenceRow) Unpooled {
	var values, errors []float64
	for _, r := range rows {
		se, ok := r.Effect.standardError()
		if !ok {
			return NoScatter
		}
		values, errors = append(values, r.Difference), append(errors, se)
	}
	c, err := stats.Combine(values, errors, Level)
	if err != nil {
		return Unweighable
	}
	x.Difference, x.Interval = c.Random.Value, c.Random.Interval
	x.AgreeP, x.HasAgreeP, x.ISquared = c.QP, true, c.ISquared
	return IsPooled
}

// standardError is that of the difference of means: √(s₁²/n₁ + s₂²/n₂), for pairs
// s/√n of their differences. It is not known without scatter.
func (e *Effect) standardError() (float64, bool) {
	x, y := e.units[0], e.units[1]
	if x.N() < 2 || y.N() < 2 {
		return 0, false
	}
	if e.Paired {
		d, err := stats.Differences(x, y)
		if err != nil {
			return 0, false
		}
		sd, ok := d.SD()
		return sd / math.Sqrt(float64(d.N())), ok && sd > 0
	}
	s1, ok1 := x.SD()
	s2, ok2 := y.SD()
	se := math.Sqrt(s1*s1/float64(x.N()) + s2*s2/float64(y.N()))
	return se, ok1 && ok2 && se > 0
}

// shares pools counts over strata.
func (x *PooledEffect) shares(rows []*EvidenceRow) Unpooled {
	var blocks []stats.Block
	for _, r := range rows {
		own, why := strataOf(r)
		if why != IsPooled {
			return why
		}
		blocks = append(blocks, own...)
	}
	pooled, err := stats.MantelHaenszel(blocks, Level)
	switch {
	case err != nil:
		return Unweighable
	case !pooled.Sato.Defined:
		return AllAlike
	}
	agree, err := stats.Homogeneity(blocks)
	x.AgreeP, x.HasAgreeP = agree.P, err == nil && agree.Defined
	if x.HasAgreeP && x.AgreeP < DisagreeAlpha {
		return Disagree
	}
	x.Difference = pooled.Difference
	x.Interval = stats.Interval{Low: max(pooled.Sato.Interval.Low, -1), High: min(pooled.Sato.Interval.High, 1)}
	test, err := stats.ConditionalTest(blocks, Level)
	x.P, x.HasP = test.Exact.P, err == nil && test.Defined
	return IsPooled
}

// strataOf are the counts of a row: one stratum for pieces of one batch a sample, and
// one for each pair of batches that belong together.
func strataOf(r *EvidenceRow) ([]stats.Block, Unpooled) {
	block := func(of, against Group) stats.Block {
		if r.Turned {
			of, against = against, of
		}
		return stats.Block{X1: of.Passes, N1: of.Readings, X2: against.Passes, N2: against.Readings}
	}
	if r.Effect.Unit == OfPiece {
		return []stats.Block{block(r.Effect.Of, r.Effect.Against)}, IsPooled
	}
	if !r.Effect.Paired {
		return nil, LooseBatches
	}
	c, t := r.Contrast, r.Findings.Trial
	of, against := common(gather(t, c.Of.Sample, r.Effect.Measure, false), gather(t, c.Against.Sample, r.Effect.Measure, false))
	var blocks []stats.Block
	for i := range of.batches {
		x, y := side{batches: of.batches[i : i+1]}, side{batches: against.batches[i : i+1]}
		blocks = append(blocks, block(x.group(nil, true), y.group(nil, true)))
	}
	return blocks, IsPooled
}
