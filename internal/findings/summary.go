package findings

import (
	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
)

// Level is the confidence level of every interval.
const Level = 0.95

// Summary sums up a sample's readings of one measure. Numbers are in the base
// unit of the measure: s, °C, mm, g, mL.
type Summary struct {
	Measure  trial.Measure
	N        int // readings that count
	SetAside int
	Missing  int      // empty cells
	Share    *Share   // of pass or fail, yes or no; nil without a reading
	Numbers  *Numbers // of a numeric measure or of ranks; nil without a reading
}

// Share is a count of passes with its Wilson interval (0..1).
type Share struct {
	Count, N        int
	Rate, Low, High float64
}

// Numbers describes numeric readings. SD needs two readings; the interval, which
// is Student's t interval of the mean, two that differ.
type Numbers struct {
	stats.Summary
	Interval    stats.Interval
	HasInterval bool
}

// ByPiece reports whether a summary's interval may stand for a sample: pieces of
// several batches are not so many independent ones, and an interval that counts
// them as such would claim too much about the recipe. Tastings count assessors.
func (s *Sample) ByPiece(m trial.Measure) bool {
	return s.Batches < 2 || m.Source == trial.OfTasting
}

func summarize(m trial.Measure, readings []trial.Reading) Summary {
	s := Summary{Measure: m}
	var values []float64
	passed := 0
	for _, r := range readings {
		switch {
		case r.Missing:
			s.Missing++
		case r.SetAside != "":
			s.SetAside++
		default:
			s.N++
			values = append(values, r.Value.Float64())
			passed += r.Value.Sign()
		}
	}
	if s.N == 0 {
		return s
	}
	if m.Kind.IsShare() {
		s.Share = share(passed, s.N)
		return s
	}
	s.Numbers = numbers(values)
	return s
}

// share computes the share of passes with its Wilson interval: Wilson 1927, J. Am.
// Stat. Assoc. 22:209, without continuity correction.
func share(count, n int) *Share {
	interval, err := stats.Wilson(count, n, Level)
	if err != nil {
		return nil
	}
	return &Share{Count: count, N: n, Rate: float64(count) / float64(n), Low: interval.Low, High: interval.High}
}

func numbers(values []float64) *Numbers {
	sample, err := stats.NewSample(values)
	if err != nil {
		return nil
	}
	n := &Numbers{Summary: stats.Describe(sample)}
	n.Interval, n.HasInterval = stats.TInterval(sample, Level)
	return n
}
