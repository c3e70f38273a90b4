package writeup

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
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
	v := page.Finding{
		Measure: e.Measure.Name,
		Primary: e.Primary,
		Test:    string(e.Test),
		Words:   e.Words,
	}
	if e.HasDifference {
		v.Difference = Change(e.Measure, e.Difference)
	}
	if e.HasInterval {
		v.Interval = Change(e.Measure, e.Interval.Low) + " to " + Change(e.Measure, e.Interval.High)
	}
	if e.HasP {
		v.P = Probability(e.P)
		if e.Sampled {
			v.P += fmt.Sprintf(" (± %s from drawing)", Probability(e.MonteCarloError))
		}
	}
	if e.HasP && e.Family > 1 {
		v.PAdjusted = Probability(e.PAdjusted)
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
		parts = append(parts, "p "+Probability(o.P))
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
		text := fmt.Sprintf("%.0f points", 100*size)
		if text == "0 points" {
			return text
		}
		return sign + text
	}
	if m.Kind == trial.Time && size >= 59.5 {
		return sign + findings.Measured(m, size, 0)
	}
	text := findings.Spread(m, size, 1)
	if strings.Trim(text, "0.") == "" {
		sign = ""
	}
	if symbol := m.In.Symbol(); symbol != "" && m.Kind != trial.Score && m.Kind != trial.Rank {
		text += " " + symbol
	}
	return sign + text
}

// Probability writes a p: two figures, and never 0.
func Probability(p float64) string {
	switch {
	case p < 0.001:
		return "under 0.001"
	case p < 0.0995:
		return fmt.Sprintf("%.3f", p)
	}
	return fmt.Sprintf("%.2f", p)
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
