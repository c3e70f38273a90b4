package findings

import (
	"math"
	"strings"

	"sidebatch.example/sidebatch/internal/trial"
)

// Shown is an outcome in figures, as tables show it. What is not known is empty.
type Shown struct {
	Difference string // "+33 points", "−12.2 s"
	Interval   string // "−11 to +70 points"
	P          string // "0.45", "< 0.001"
	PAdjusted  string // empty where nothing was adjusted
	Test       string // "Fisher’s exact test"
	Unit       string // what the test counts: "pieces", "pairs of batches"
}

// Show writes an outcome of the effect: the finding itself, the one put back, the one
// of the pieces, or the second test. Shares are in points of 100, with a sign, so that
// they cannot be taken for shares of a handful of pieces.
func (e *Effect) Show(o *Outcome) Shown {
	say := phrasesOf(e.Measure)
	s := Shown{Test: say.Say("test " + string(o.Test)), Unit: say.Say(unitPhrase(o))}
	if o.Sampled {
		s.Test = say.Say("test drawn", "test", s.Test, "error", say.decimal(max(0.001, o.MonteCarloError), 3))
	}
	if o.HasDifference {
		s.Difference = unitOfDifference(e.Measure, o, signed(e.Measure, o.Difference))
	}
	if o.HasInterval {
		s.Interval = unitOfDifference(e.Measure, o,
			say.Say("from to", "low", signed(e.Measure, o.Interval.Low), "high", signed(e.Measure, o.Interval.High)))
	}
	if o.HasP {
		s.P = say.probability(o.P)
	}
	if o.HasP && e.Family > 1 {
		s.PAdjusted = say.probability(o.PAdjusted)
	}
	return s
}

func unitPhrase(o *Outcome) string {
	if o.Unit == OfBatch && o.Paired {
		return "unit pair of batches"
	}
	return "unit " + string(o.Unit)
}

// signed writes a difference with its sign and without its unit; one that rounds to
// nothing has no sign.
func signed(m trial.Measure, difference float64) string {
	text := ""
	switch {
	case m.Kind.IsShare():
		text = phrasesOf(m).decimal(100*difference, 0)
	case m.Kind == trial.Rank:
		text = phrasesOf(m).decimal(difference, 0)
	default:
		text = Spread(m, difference, 1)
	}
	if difference > 0 && strings.ContainsAny(text, "123456789") {
		return "+" + text
	}
	return text
}

func unitOfDifference(m trial.Measure, o *Outcome, text string) string {
	switch {
	case m.Kind.IsShare():
		return phrasesOf(m).Say("points", "n", text)
	case m.Kind == trial.Rank && o.Unit == OfAssessor:
		return phrasesOf(m).Say("rank sums", "n", text)
	case m.Kind == trial.Time:
		return text + " s"
	}
	return unitBehind(m, text)
}

// probability writes a p to two figures, and never as 0.
func (say phrases) probability(p float64) string {
	switch {
	case p < 0.001:
		return "< " + say.decimal(0.001, 3)
	case p < 0.0995:
		return say.decimal(p, 3)
	case p > 0.995:
		return "1"
	}
	return say.decimal(math.Min(p, 1), 2)
}
