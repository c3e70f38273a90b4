package findings

import (
	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
)

// observed returns the differences that nobody planned but the log shows: the
// measures marked not controlled whose 95 % interval of the difference leaves out
// zero. Shares are held against each other by Newcombe's interval, numbers by
// Welch's.
func observed(t *trial.Trial) func(sample, against *trial.Sample) []design.Difference {
	return func(sample, against *trial.Sample) []design.Difference {
		var found []design.Difference
		for _, m := range t.Measures {
			if !m.NotControlled {
				continue
			}
			a := summarize(m, t.Readings(sample, m))
			b := summarize(m, t.Readings(against, m))
			if !turnedOut(t, sample, against, m) {
				continue
			}
			found = append(found, design.Difference{
				Factor:  design.Factor{Kind: design.Observed, Name: m.Name},
				Sample:  a.Text(),
				Against: b.Text(),
			})
		}
		return found
	}
}

func turnedOut(t *trial.Trial, sample, against *trial.Sample, m trial.Measure) bool {
	a, b := t.Readings(sample, m), t.Readings(against, m)
	if m.Kind.IsShare() {
		x, y := summarize(m, a).Share, summarize(m, b).Share
		if x == nil || y == nil {
			return false
		}
		interval, err := stats.Newcombe(x.Count, x.N, y.Count, y.N, Level)
		return err == nil && !interval.Contains(0)
	}
	x, errX := stats.NewSample(counted(a))
	y, errY := stats.NewSample(counted(b))
	if errX != nil || errY != nil {
		return false
	}
	test, ok := stats.Welch(x, y, Level)
	return ok && !test.Interval.Contains(0)
}

func counted(readings []trial.Reading) []float64 {
	var values []float64
	for _, r := range readings {
		if r.Counts() {
			values = append(values, r.Value.Float64())
		}
	}
	return values
}
