package writeup

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// effects puts what a contrast showed into words and numbers, the primary measure
// first. What the trial turns on stands open: the primary measure and those that
// the verdict rests on, where one factor differs. The rest is there on demand.
func effects(f *findings.Findings, c findings.Contrast) []page.Finding {
	var first, rest []page.Finding
	for _, e := range c.Measures {
		v := effect(e)
		turns := e.Primary || slices.Contains(f.Trial.Verdict.BecauseOf, e.Measure.Name)
		v.Aside = !turns || e.Confounded || e.Kind == findings.Nothing
		if e.Primary {
			first = append(first, v)
		} else {
			rest = append(rest, v)
		}
	}
	return append(first, rest...)
}

func effect(e findings.Effect) page.Finding {
	say := spoken(e.Measure.Language)
	v := page.Finding{
		Measure: e.Measure.Name,
		Primary: e.Primary,
		Test:    say.test(e.Test),
		Words:   e.Words,
	}
	if e.HasDifference {
		v.Difference = Change(e.Measure, e.Difference)
	}
	if e.HasInterval {
		v.Interval = say.span(e.Measure, e.Interval.Low, e.Interval.High)
	}
	if e.HasP {
		v.P = say.probability(e.P)
		if e.Sampled {
			v.P = say.Say("p drawn", "p", v.P, "error", say.probability(e.MonteCarloError))
		}
	}
	if e.HasP && e.Family > 1 {
		v.PAdjusted = say.probability(e.PAdjusted)
	}
	if back := e.PutBack; back != nil {
		v.PutBack = putBack(e.Measure, *back)
	}
	return v
}

func putBack(m trial.Measure, o findings.Outcome) string {
	var parts []string
	if o.HasDifference {
		parts = append(parts, Change(m, o.Difference))
	}
	if o.HasP {
		parts = append(parts, "p "+spoken(m.Language).probability(o.P))
	}
	return strings.Join(parts, ", ")
}

// Change writes a difference with its sign and unit: +33 points, −4.2 s.
func Change(m trial.Measure, difference float64) string {
	sign := "+"
	if difference < 0 {
		sign = "−"
	}
	size := math.Abs(difference)
	if m.Kind.IsShare() {
		text := fmt.Sprintf("%.0f", 100*size)
		if text == "0" {
			sign = ""
		}
		return spoken(m.Language).Say("points", "n", sign+text)
	}
	if m.Kind == trial.Time && size >= 59.5 {
		return sign + findings.Measured(m, size, 0)
	}
	text := findings.Spread(m, size, 1)
	if strings.Trim(text, "0.,") == "" {
		sign = ""
	}
	if symbol := m.Symbol(); symbol != "" && m.Kind != trial.Score && m.Kind != trial.Rank {
		text += " " + symbol
	}
	return sign + text
}

// Probability writes a p in the notation of a language: two figures, and never 0. A
// nil language is English.
func Probability(l *wording.Language, p float64) string { return spoken(l).probability(p) }

func (say phrases) probability(p float64) string {
	number := func(format string, p float64) string { return say.Language().Decimal(fmt.Sprintf(format, p)) }
	switch {
	case p < 0.001:
		return say.Say("under", "number", number("%.3f", 0.001))
	case p < 0.0995:
		return number("%.3f", p)
	}
	return number("%.2f", p)
}

// test names a test of a contrast in a word or two.
func (say phrases) test(t findings.Test) string {
	switch t {
	case findings.FisherTest:
		return say.Say("Fisher exact")
	case findings.PermutationTest:
		return say.Say("permutation")
	case findings.BlockedTest:
		return say.Say("permutation within batches")
	case findings.StratifiedTest:
		return say.Say("Mantel-Haenszel exact")
	case findings.BatchTest:
		return say.Say("permutation of batches")
	case findings.BatchPairTest:
		return say.Say("sign-flip of batch pairs")
	case findings.SignedRankTest:
		return say.Say("signed-rank")
	case findings.SignFlipTest:
		return say.Say("sign-flip")
	case findings.SignTest:
		return say.Say("sign")
	}
	return string(t)
}

// panels are the sentences about all samples together, and about discrimination
// tests.
func panels(f *findings.Findings) []string {
	var all []string
	for _, d := range f.Discriminations {
		if d.Words != "" {
			all = append(all, d.Words)
		}
	}
	for _, p := range f.Panels {
		if p.Words != "" {
			all = append(all, p.Words)
		}
	}
	return all
}
