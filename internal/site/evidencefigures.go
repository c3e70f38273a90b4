package site

import (
	"fmt"

	"sidebatch.example/sidebatch/internal/chart"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
	"sidebatch.example/sidebatch/internal/writeup"
)

// drawEvidence draws what all trials showed about a factor on one measure, in the
// order and with the numbers of the rows below it: first the single-factor contrasts,
// filled, then what those add up to, then the confounded ones, open. It is nil where
// there is nothing to draw.
func drawEvidence(say wording.Phrases, m findings.MeasureEvidence, id string) (*page.Figure, error) {
	measure := m.Measure.Measure(say.Language())
	if measure.Kind == trial.Rank || measure.Kind.IsDiscrimination() {
		return nil, nil // rank sums of other numbers of tasters, and answers, are no differences
	}
	title := say.Say("over all trials", "measure", measure.Name)
	c := chart.Differences{Quantity: measure.Name, Unit: measure.Symbol(), Share: measure.Kind.IsShare(), Time: measure.Kind == trial.Time}
	summed := false
	for _, i := range writeup.Newest(m) {
		r := m.Rows[i]
		if !r.Single && !summed {
			c.Rows = append(c.Rows, sumRows(say, measure, m)...)
			summed = true
		}
		if !r.HasDifference {
			continue
		}
		row := chart.DifferenceRow{
			Name:   fmt.Sprintf("%d · %s", i+1, levels(say, r.Of, r.Against)),
			Note:   whenOrWho(say, r) + ", " + writeup.Change(measure, r.Difference),
			Value:  shownDifference(measure, r.Difference),
			Filled: r.Single,
		}
		row.Low, row.High = row.Value, row.Value
		if r.HasInterval {
			row.Low, row.High = shownDifference(measure, r.Interval.Low), shownDifference(measure, r.Interval.High)
		}
		c.Rows = append(c.Rows, row)
	}
	if !summed {
		c.Rows = append(c.Rows, sumRows(say, measure, m)...)
	}
	if len(c.Rows) == 0 {
		return nil, nil
	}
	c.Head = chart.Head{ID: id, Title: title, Description: say.Say("evidence about", "measure", measure.Name), Words: chartWords(say)}
	svg, err := c.Draw()
	drawn := figure(id, titled("", title), svg, page.Table{})
	return &drawn, err
}

// whenOrWho tells rows of the same levels apart: by the day, or by the household.
func whenOrWho(say wording.Phrases, r *findings.EvidenceRow) string {
	if r.Household != nil {
		return r.Household.Name
	}
	return writeup.Day(say.Language(), r.Study.Day).Text
}

// summed counts what is behind a sum.
func summed(say wording.Phrases, p findings.PooledEffect) string {
	trials := say.Count("trial", p.Trials)
	if p.Households == 0 {
		return trials
	}
	return say.Language().List([]string{trials, say.Count("household", p.Households)})
}

func sumRows(say wording.Phrases, m trial.Measure, of findings.MeasureEvidence) []chart.DifferenceRow {
	var rows []chart.DifferenceRow
	for _, i := range writeup.Widest(of) {
		p := of.Pooled[i]
		if p.Why != findings.IsPooled {
			continue
		}
		rows = append(rows, chart.DifferenceRow{
			Name:   say.Say("together", "levels", levels(say, p.Of, p.Against)),
			Note:   summed(say, p) + ", " + writeup.Change(m, p.Difference),
			Value:  shownDifference(m, p.Difference),
			Low:    shownDifference(m, p.Interval.Low),
			High:   shownDifference(m, p.Interval.High),
			Filled: true,
			Sum:    true,
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
