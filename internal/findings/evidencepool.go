package findings

import (
	"math"

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
	// P is there in what households add up to that repeated one trial: of shares as Exact
	// has it, of numbers that of readings dealt again within each household.
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

	blocks []stats.Block // of shares that are pooled
}

// pool adds up the single-factor contrasts of each pair of levels that two trials or
// more compared, or a trial and a household that repeated it.
func (m *MeasureEvidence) pool() {
	m.Pooled = nil
	comparing := map[pair][]*EvidenceRow{}
	var order []pair
	for _, r := range m.Rows {
		if _, known := comparing[r.pair]; !known {
			order = append(order, r.pair)
			comparing[r.pair] = nil
		}
		if r.Single && r.HasDifference {
			comparing[r.pair] = append(comparing[r.pair], r)
		}
	}
	for _, p := range order {
		rows := comparing[p]
		if strata(rows) < 2 {
			continue
		}
		x := PooledEffect{Of: rows[0].Of, Against: rows[0].Against}
		x.add(rows)
		m.Pooled = append(m.Pooled, x)
	}
}

func (x *PooledEffect) add(rows []*EvidenceRow) {
	rows = independent(rows)
	x.count(rows)
	if x.Why = unlike(rows); x.Why != IsPooled {
		return
	}
	if rows[0].Measure().Kind.IsShare() {
		x.Why = x.shares(rows)
	} else {
		x.Why = x.numbers(rows)
	}
	for _, r := range rows {
		r.Counted = x.Why == IsPooled
	}
}

func (x *PooledEffect) count(rows []*EvidenceRow) {
	x.Trials, x.Households = trialsOf(rows)
	x.Recipes = recipesOf(rows)
	for _, r := range rows {
		x.Readings += r.Effect.Of.Readings + r.Effect.Against.Readings
	}
}

// unlike says what keeps rows from being the same thing measured again.
func unlike(rows []*EvidenceRow) Unpooled {
	first := rows[0].Measure()
	for _, r := range rows {
		m := r.Measure()
		switch {
		case !SameWords(m.Asks, first.Asks), m.From != first.From, m.To != first.To:
			return AsksOther
		case m.Kind == trial.Rank || r.Effect.Unit == OfAssessor:
			return ByTasters
		}
	}
	return IsPooled
}

// numbers pools differences of means by inverse variance.
func (x *PooledEffect) numbers(rows []*EvidenceRow) Unpooled {
	values, errors := make([]float64, 0, len(rows)), make([]float64, 0, len(rows))
	for _, r := range rows {
		if !r.Effect.HasStandardError {
			return NoScatter
		}
		values, errors = append(values, r.Difference), append(errors, r.Effect.StandardError)
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
	blocks := make([]stats.Block, 0, len(rows))
	for _, r := range rows {
		if r.Effect.Unit != OfPiece && !r.Effect.Paired {
			return LooseBatches
		}
		blocks = appendStrata(blocks, r)
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
	x.blocks = blocks
	return IsPooled
}

// Exact is the p of the exact conditional test over strata, for shares that are pooled; it is
// false where there is none. It is worked out when it is asked for: of many sums a page shows
// few.
func (x *PooledEffect) Exact() (p float64, ok bool) {
	if len(x.blocks) == 0 {
		return 0, false
	}
	p, defined, err := stats.ConditionalP(x.blocks)
	return p, err == nil && defined
}

// appendStrata adds the counts of a row, in the direction in which it is read.
func appendStrata(blocks []stats.Block, r *EvidenceRow) []stats.Block {
	for _, b := range r.Effect.Blocks {
		if r.Turned {
			b = stats.Block{X1: b.X2, N1: b.N2, X2: b.X1, N2: b.N1}
		}
		blocks = append(blocks, b)
	}
	return blocks
}
