package planning

import (
	"math"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
)

// Scale is what a difference is measured by before there are readings.
type Scale string

// The scales.
const (
	ByShare   Scale = "share"   // pieces that pass: all against so many
	ByScatter Scale = "scatter" // numbers: in standard deviations of what is counted
	ByOrder   Scale = "order"   // ranks, and what tasters answer with yes or no: only whether it can show
	ByPanel   Scale = "panel"   // sensory tests: the share of people who can tell
)

// What Reach.Needed is the number for: a difference that is worth finding, by the
// scale. The figures are the project's own (common practice, no source); half who can
// tell are what ISO 4120 names a large share.
const (
	HalfPass   = 0.5 // all against half
	OneScatter = 1.0 // as wide as the scatter
	HalfTell   = 0.5 // half can tell
)

// Numbers above these are not searched.
const (
	mostPieces    = 60
	mostUnits     = 1000
	mostAssessors = 400
)

// Reach is what a contrast could show on one measure, at the size of test that Holm
// leaves it at worst, with the power that findings have.
type Reach struct {
	Measure     trial.Measure
	Scale       Scale
	Unit        findings.Unit
	Paired      bool
	Of, Against int // units on either side; of pairs, and of answers, the same
	// Never: no difference, however large, could show.
	Never bool
	// Smallest is the smallest true difference with a fair chance to show. ByShare: the
	// share below which the one side must lie where all of the other pass. ByScatter:
	// in standard deviations, of pairs those of their differences. ByPanel: the share of
	// people who can tell. ByOrder: nothing.
	Smallest float64
	// Needed is how many units on either side find what is worth finding; ByOrder, how
	// many it takes for anything to show. 0: more than is searched.
	Needed int
}

// reach fills in what every single-factor contrast could show.
func (p *Plan) reach() {
	alpha := findings.Alpha / float64(max(1, p.family()))
	needed := piecesNeeded(alpha)
	for i := range p.Contrasts {
		c := &p.Contrasts[i]
		if !c.Single() {
			continue
		}
		for _, m := range p.Trial.Measures {
			switch {
			case m.Source == trial.OfParts || m.NotControlled:
				// A sum says what its parts say; what nobody controls is no outcome.
			case m.Source != trial.OfSets:
				c.Reach = append(c.Reach, p.units(c, m).reach(alpha, needed))
			case c.compared(m):
				c.Reach = append(c.Reach, p.panel(m))
			}
		}
	}
}

func (c *Contrast) compared(m trial.Measure) bool {
	return len(m.Compares) == 2 &&
		(m.Compares[0] == c.Of.Key && m.Compares[1] == c.Against.Key || m.Compares[1] == c.Of.Key && m.Compares[0] == c.Against.Key)
}

// units says what the comparison of a measure will count, by the rules that findings
// go by: assessors in pairs; batches as soon as both samples have two, in pairs where
// they were made side by side or are of one dough; otherwise pieces.
func (p *Plan) units(c *Contrast, m trial.Measure) Reach {
	r := Reach{Measure: m, Scale: ByScatter, Unit: findings.OfPiece, Of: c.Of.pieces(), Against: c.Against.pieces()}
	if m.Source == trial.OfTasting {
		r.Unit, r.Paired, r.Of, r.Against = findings.OfAssessor, true, p.Assessors, p.Assessors
		if m.Kind == trial.Rank || m.Kind.IsShare() {
			r.Scale = ByOrder
		}
		return r
	}
	if m.Kind.IsShare() {
		r.Scale = ByShare
	}
	shared, of, against := common(c.Of, c.Against)
	switch {
	case (p.Trial.SideBySide || c.Within) && shared >= 2:
		r.Paired, r.Of, r.Against = true, shared, shared
	case (p.Trial.SideBySide || c.Within) && shared == 1:
		r.Of, r.Against = of, against
		return r
	case c.Of.Batches >= 2 && c.Against.Batches >= 2:
		r.Of, r.Against = c.Of.Batches, c.Against.Batches
	default:
		return r
	}
	r.Unit, r.Scale = findings.OfBatch, ByScatter
	return r
}

// common counts the batches that both samples have, and the pieces in them.
func common(a, b *Sample) (batches, of, against int) {
	for batch, n := range a.counts {
		if m, both := b.counts[batch]; both {
			batches, of, against = batches+1, of+n, against+m
		}
	}
	return batches, of, against
}

// piecesNeeded is how many pieces of each find all against half; 0 for more than is
// searched. The search goes through all tables of all sizes, so it is made once.
func piecesNeeded(alpha float64) int {
	n, ok, err := stats.PiecesNeeded(1, HalfPass, alpha, findings.Power, mostPieces)
	if !ok || err != nil {
		return 0
	}
	return n.First
}

// reach computes what so many units could show; pieces are how many are needed to find
// all against half.
func (r Reach) reach(alpha float64, pieces int) Reach {
	switch r.Scale {
	case ByShare:
		r.Needed = pieces
		return r.share(alpha)
	case ByOrder:
		r.Needed = leastPairs(alpha)
		r.Never = r.Of < r.Needed
		return r
	}
	plan := stats.MeansPlan{N1: r.Of, N2: r.Against, Paired: r.Paired, Alpha: alpha}
	shift, ok, err := plan.Shift(findings.Power)
	r.Smallest, r.Never = shift, !ok || err != nil
	if n, ok, err := plan.Needed(OneScatter, findings.Power, mostUnits); ok && err == nil {
		r.Needed = n
	}
	return r
}

// share takes the better of the two ways round: which sample is the one that always
// passes.
func (r Reach) share(alpha float64) Reach {
	r.Never = true
	for _, n := range [2][2]int{{r.Of, r.Against}, {r.Against, r.Of}} {
		drop, ok, err := stats.Plan{N1: n[0], N2: n[1], Alpha: alpha}.DropFromAll(findings.Power)
		if ok && err == nil && (r.Never || drop.Rate > r.Smallest) {
			r.Never, r.Smallest = false, drop.Rate
		}
	}
	return r
}

// panel is what the answers to a sensory test could show. An assessor counts once for
// a preference, and every answer for the other tests.
func (p *Plan) panel(m trial.Measure) Reach {
	r := Reach{Measure: m, Scale: ByPanel, Unit: findings.OfSet, Of: p.Assessors}
	answers := column(p.Trial, trial.LogName(m.Name), "assessor")
	if len(answers) > 0 {
		r.Of = len(answers)
	}
	if m.Kind == trial.PairedPreference && len(answers) > 0 {
		r.Of = len(distinct(answers))
	}
	r.Against = r.Of
	method := findings.TestMethod(m.Kind)
	r.Smallest, r.Never = smallestShare(method, r.Of)
	if n, ok, err := stats.AssessorsNeeded(method, HalfTell, findings.Alpha, findings.Power, mostAssessors); ok && err == nil {
		r.Needed = n.Safe
	}
	return r
}

func distinct(names []string) map[string]bool {
	all := map[string]bool{}
	for _, name := range names {
		all[name] = true
	}
	return all
}

// smallestShare is the smallest share of people who can tell that so many answers
// have a fair chance to show: found by halving, for the power rises with the share.
func smallestShare(method stats.Method, answers int) (share float64, never bool) {
	found := func(share float64) bool {
		power, err := stats.PanelPower(method, answers, share, findings.Alpha)
		return err == nil && power >= findings.Power
	}
	if !found(1) {
		return 0, true
	}
	low, high := 0.0, 1.0
	for high-low > 1e-6 {
		if mid := (low + high) / 2; found(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return high, false
}

// leastPairs is the smallest n with 2^(1−n) ≤ alpha: all pairs differ in the same
// direction, which is the clearest result there is.
func leastPairs(alpha float64) int {
	n := 1
	for math.Ldexp(1, 1-n) > alpha*(1+1e-12) {
		n++
	}
	return n
}
