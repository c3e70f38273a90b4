package findings

import (
	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
)

// panels compares all samples that the same assessors judged, where there are three
// or more: Friedman's test of scores and ranks, Cochran's of yes or no.
func (f *Findings) panels() {
	for _, m := range f.Trial.Measures {
		if m.Source != trial.OfTasting {
			continue
		}
		p, rows := f.panelRows(m)
		if len(p.Samples) < 3 {
			continue
		}
		p.test(rows, comparison{trial: f.Trial, measure: m}.sampling())
		p.Words = p.words(f.phrases())
		f.Panels = append(f.Panels, p)
	}
}

// panelRows gathers a row an assessor, a column a sample that anybody judged. An
// assessor who did not judge all of them is left out, for ranks within a row need
// the whole row.
func (f *Findings) panelRows(m trial.Measure) (Panel, [][]float64) {
	p := Panel{Measure: m, Method: ScoreFindingMethod}
	if m.Kind == trial.Rank {
		p.Method = RankFindingMethod
	}
	var said []map[string]float64
	for i := range f.Samples {
		readings := comparison{trial: f.Trial, measure: m}.by(f.Samples[i].Sample)
		if len(readings) == 0 {
			continue
		}
		column := map[string]float64{}
		for assessor, value := range readings {
			column[assessor] = value.Float64()
		}
		p.Samples = append(p.Samples, &f.Samples[i])
		said = append(said, column)
	}
	var rows [][]float64
	for _, assessor := range assessors(f.Trial) {
		var row []float64
		for _, column := range said {
			if value, ok := column[assessor]; ok {
				row = append(row, value)
			}
		}
		switch {
		case len(row) == len(said) && len(row) > 0:
			rows = append(rows, row)
		case len(row) > 0:
			p.LeftOut++
		}
	}
	p.Assessors = len(rows)
	return p, rows
}

func (p *Panel) test(rows [][]float64, o stats.Sampling) {
	p.Kind = Nothing
	if len(rows) < 2 {
		return
	}
	test, err := stats.Friedman(rows, o)
	p.Test = FriedmanTest
	if p.Measure.Kind.IsShare() {
		test, err = stats.CochranQ(rows, o)
		p.Test = CochranTest
	}
	if err != nil {
		return
	}
	p.RankSums = test.RankSums
	p.Kind = NoneSeen
	if !test.Defined {
		return // everybody tied everything
	}
	p.Statistic, p.DF = test.Statistic, test.DF
	p.W, p.HasW = test.KendallW, !p.Measure.Kind.IsShare()
	p.P, p.HasP = test.Exact.P, true
	p.Sampled, p.MonteCarloError = test.Exact.Sampled, test.Exact.MonteCarloError
	p.Kind = kindOf(p.P)
	if p.Measure.Kind == trial.Rank {
		critical, _, ok, err := stats.RankRange(len(p.Samples), len(rows), Alpha)
		p.Critical, p.HasCritical = critical, ok && err == nil
	}
}

// kindOf is the answer of a p that stands for itself.
func kindOf(p float64) Kind {
	switch {
	case p <= Alpha*(1+1e-12):
		return Differs
	case p <= LeaningAlpha*(1+1e-12):
		return Leans
	}
	return NoneSeen
}
