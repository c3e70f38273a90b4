package site

import (
	"fmt"

	"sidebatch.example/sidebatch/internal/chart"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/writeup"
)

// drawEvidence draws what all trials showed about a factor on one measure, in the
// order and with the numbers of the rows below it: first the single-factor contrasts,
// filled, then what those add up to, then the confounded ones, open. It is nil where
// there is nothing to draw.
func drawEvidence(m findings.MeasureEvidence, id string) (*page.Figure, error) {
	if m.Measure.Kind == trial.Rank || m.Measure.Kind.IsDiscrimination() {
		return nil, nil // rank sums of other numbers of tasters, and answers, are no differences
	}
	title := m.Measure.Name + " over all trials"
	c := chart.Differences{Quantity: m.Measure.Name, Unit: m.Measure.In.Symbol(), Share: m.Measure.Kind.IsShare(), Time: m.Measure.Kind == trial.Time}
	summed := false
	for i, r := range m.Rows {
		if !r.Single && !summed {
			c.Rows = append(c.Rows, sumRows(m)...)
			summed = true
		}
		if !r.HasDifference {
			continue
		}
		row := chart.DifferenceRow{
			Name:   fmt.Sprintf("%d · %s", i+1, levels(r.Of, r.Against)),
			Note:   writeup.Day(r.Findings.Day()).Text + ", " + writeup.Change(m.Measure, r.Difference),
			Value:  shownDifference(m.Measure, r.Difference),
			Filled: r.Single,
		}
		row.Low, row.High = row.Value, row.Value
		if r.HasInterval {
			row.Low, row.High = shownDifference(m.Measure, r.Interval.Low), shownDifference(m.Measure, r.Interval.High)
		}
		c.Rows = append(c.Rows, row)
	}
	if !summed {
		c.Rows = append(c.Rows, sumRows(m)...)
	}
	if len(c.Rows) == 0 {
		return nil, nil
	}
	c.Head = chart.Head{ID: id, Title: title, Description: fmt.Sprintf(
		"The difference in %s in every contrast, oldest first, with its 95 %% interval. Filled where this factor alone differs, open where others differ too. The numbers are those of the rows of the table.", m.Measure.Name)}
	svg, err := c.Draw()
	drawn := figure(id, titled("", title), svg, page.Table{})
	return &drawn, err
}

func sumRows(m findings.MeasureEvidence) []chart.DifferenceRow {
	var rows []chart.DifferenceRow
	for _, p := range m.Pooled {
		if p.Why != findings.IsPooled {
			continue
		}
		rows = append(rows, chart.DifferenceRow{
			Name:   "Together · " + levels(p.Of, p.Against),
			Note:   trialsInWords(p.Trials) + ", " + writeup.Change(m.Measure, p.Difference),
			Value:  shownDifference(m.Measure, p.Difference),
			Low:    shownDifference(m.Measure, p.Interval.Low),
			High:   shownDifference(m.Measure, p.Interval.High),
			Filled: true,
		})
	}
	return rows
}

// shownDifference brings a difference into the unit that the measure is shown in.
func shownDifference(m trial.Measure, difference float64) float64 {
	if m.Kind.IsShare() || m.Kind == trial.Time {
		return difference
	}
	return findings.InUnit(m, difference) - findings.InUnit(m, 0)
}

// levels names two levels of a factor; an empty one is without it.
func levels(of, against string) string {
	if of == "" {
		of = "without"
	}
	if against == "" {
		against = "without"
	}
	return of + " against " + against
}
