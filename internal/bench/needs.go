package bench

import (
	"fmt"
	"math"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// The risks that the sentences about panels are for: 5 % of a difference found where
// there is none, 80 % power.
const (
	alpha        = 0.05
	power        = 0.8
	mostSearched = 400
)

// Needs says, in sentences for a terminal, what a panel can find and how many
// assessors would be needed for what.
//
// For the sensory tests both are exact binomial; the shares of people who can tell
// are those that ISO 4120 names as large, medium and small. For scores and ranks it
// is the smallest number of assessors at which the exact test of pairs by assessor
// can come below 5 % at all, 2^(1−n) times the number of pairs of samples (Holm).
func Needs(t *trial.Trial, p Panel) ([]string, error) {
	var lines []string
	for _, m := range testMeasures(t) {
		some, err := testNeeds(m, p)
		if err != nil {
			return nil, err
		}
		lines = append(lines, some...)
	}
	if scored := scoredMeasures(t); len(scored) > 0 && len(t.Samples) > 1 {
		pairs := len(t.Samples) * (len(t.Samples) - 1) / 2
		least := leastPaired(pairs)
		line := fmt.Sprintf("scores and ranks: with %s and %s the exact test of a pair can come below 5 %% from %d assessors on",
			counted(len(t.Samples), "sample"), counted(pairs, "pair"), least)
		if p.Assessors < least {
			line += fmt.Sprintf("; with %d it cannot, whatever they taste", p.Assessors)
		}
		lines = append(lines, line)
	}
	return lines, nil
}

// leastPaired is the smallest n with 2^(1−n) · pairs ≤ alpha: all n assessors differ
// in the same direction, which is the clearest result there is.
func leastPaired(pairs int) int {
	n := 1
	for math.Ldexp(1, 1-n)*float64(pairs) > alpha {
		n++
	}
	return n
}

func testNeeds(m trial.Measure, p Panel) ([]string, error) {
	method := findings.TestMethod(m.Kind)
	n := p.Assessors * p.Sets
	if m.Kind == trial.PairedPreference {
		n = p.Assessors // an assessor counts once for a preference
	}
	k, possible, err := stats.CriticalNumber(method, n, alpha)
	if err != nil {
		return nil, err
	}
	what := fmt.Sprintf("%s (%s): of %s ", m.Name, method, counted(n, "answer"))
	switch {
	case !possible && m.Kind == trial.PairedPreference:
		what += "not even all for one sample are beyond chance at 5 %"
	case !possible:
		what += "no number of right ones is beyond guessing at 5 %"
	case m.Kind == trial.PairedPreference:
		what += fmt.Sprintf("%d or more for one sample are beyond chance at 5 %%", k)
	default:
		what += fmt.Sprintf("%d or more right ones are beyond guessing at 5 %%", k)
	}
	can := "can tell"
	if m.Kind == trial.PairedPreference {
		can = "prefer the same one"
	}
	lines := []string{what}
	needs := "  for 80 % power"
	for i, share := range []float64{0.5, 0.3, 0.2} {
		needed, found, err := stats.AssessorsNeeded(method, share, alpha, power, mostSearched)
		if err != nil {
			return nil, err
		}
		if i > 0 {
			needs += ";"
		}
		if !found {
			needs += fmt.Sprintf(" where %.0f %% of people %s: more than %d answers", 100*share, can, mostSearched)
			continue
		}
		needs += fmt.Sprintf(" where %.0f %% of people %s: %d answers", 100*share, can, needed.Safe)
	}
	return append(lines, needs), nil
}

func counted(n int, what string) string {
	switch {
	case n == 1:
		return "1 " + what
	case what == "batch":
		what = "batche"
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// Evenness says how even the orders are, in sentences of the kitchen's language, which
// stand on the pouring list.
func (k *Tasting) Evenness(t *trial.Trial, p Panel) []string {
	var lines []string
	say := phrases(t)
	if orders := k.servingOrders(t); len(orders) > 0 && len(t.Samples) > 1 {
		b := design.BalanceOf(orders, len(t.Samples))
		line := say.Say("scores spread", "places", between(say, b.PositionMin, b.PositionMax),
			"neighbours", between(say, b.NeighbourMin, b.NeighbourMax))
		if whole := len(design.Williams(len(t.Samples))); !b.Position() || !b.Neighbour() {
			line += " " + say.Count("even with assessors", whole)
		}
		lines = append(lines, line)
	}
	for _, m := range testMeasures(t) {
		test := testOf(m.Kind, p.Constant)
		e := test.EvennessOf(k.arrangements(m))
		arrangements := len(test.Arrangements())
		line := say.Count("arrangements spread", arrangements, "test", m.Name, "times", between(say, e.ArrangementMin, e.ArrangementMax))
		if !e.Even() {
			line += " " + say.Count("even with sets", arrangements)
		}
		lines = append(lines, line)
	}
	return lines
}

func between(say wording.Phrases, least, most int) string {
	if least == most {
		return say.Count("times", least)
	}
	return say.Count("from to times", most, "least", say.Language().Integer(least))
}

// servingOrders are the orders of what is scored, as numbers of the note's samples.
func (k *Tasting) servingOrders(t *trial.Trial) [][]int {
	all := keys(t)
	var orders [][]int
	for _, s := range k.sittings() {
		if s.test != "" {
			continue
		}
		var order []int
		for _, c := range s.cups {
			for i, key := range all {
				if key == c.Sample {
					order = append(order, i)
				}
			}
		}
		orders = append(orders, order)
	}
	return orders
}

// arrangements are the sets of a test as the design names them.
func (k *Tasting) arrangements(m trial.Measure) []design.Arrangement {
	var sets []design.Arrangement
	for _, s := range k.sittings() {
		if s.test != m.Name {
			continue
		}
		a := design.Arrangement{Answer: -1}
		for i, c := range s.cups {
			letter := "A"
			if c.Sample == m.Compares[1] {
				letter = "B"
			}
			a.Cups += letter
			if c.Right {
				a.Answer = i
			}
		}
		sets = append(sets, a)
	}
	return sets
}
