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

// atHome completes what viewers found: the addresses, and a figure of every measure.
func atHome(f *findings.Findings, v *page.WriteUp) error {
	if v.AtHome == nil {
		return nil
	}
	v.AtHome.Method = v.Frame.Root + methodsPage + "#" + v.AtHome.Method
	for i := range v.AtHome.Households {
		v.AtHome.Households[i].Log.Href = v.Sheets.Data + v.AtHome.Households[i].Log.Href
	}
	for i, m := range writeup.RepeatedMeasures(f) {
		drawn, err := drawRepeats(f, m, fmt.Sprintf("at-home-%d", i+1))
		if err != nil {
			return err
		}
		v.AtHome.Measures[i].Figure = &drawn
	}
	return nil
}

// drawRepeats draws one measure pair by pair: the kitchen's own difference, those of
// households, and what they come to. Filled is what differs in one factor alone.
func drawRepeats(f *findings.Findings, m trial.Measure, id string) (page.Figure, error) {
	say := phrasesFor(f.Trial)
	title := say.Say("repeated at home", "measure", wording.Capital(m.Name))
	c := chart.Differences{Quantity: m.Name, Unit: m.In.Symbol(), Share: m.Kind.IsShare(), Time: m.Kind == trial.Time}
	for i := range f.Repeats {
		x := &f.Repeats[i]
		if x.Measure.Name != m.Name {
			continue
		}
		pair := writeup.Pair(f, x.Contrast)
		for _, r := range x.Rows {
			row := chart.DifferenceRow{
				Name:   say.Say("kitchen and pair", "kitchen", writeup.KitchenName(r.Findings), "pair", pair),
				Note:   writeup.Change(m, r.Difference),
				Value:  shownDifference(m, r.Difference),
				Filled: r.Single,
			}
			row.Low, row.High = row.Value, row.Value
			if r.HasInterval {
				row.Low, row.High = shownDifference(m, r.Interval.Low), shownDifference(m, r.Interval.High)
			}
			c.Rows = append(c.Rows, row)
		}
		if p := x.Pooled; x.Added() {
			c.Rows = append(c.Rows, chart.DifferenceRow{
				Name:  say.Say("together", "levels", pair),
				Note:  say.Count("kitchen", x.Strata) + ", " + writeup.Change(m, p.Difference),
				Value: shownDifference(m, p.Difference), Filled: true, Sum: true,
				Low: shownDifference(m, p.Interval.Low), High: shownDifference(m, p.Interval.High),
			})
		}
	}
	c.Head = chart.Head{ID: id, Title: title, Words: chartWords(say),
		Description: say.Say("repeats about", "measure", m.Name)}
	svg, err := c.Draw()
	return figure(id, title, svg, writeup.RepeatTable(f, m, title)), err
}
