package bench

import (
	"encoding/json"
	"strconv"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/writeup"
)

// counterPlan is what the script of the repeat page works from.
type counterPlan struct {
	Heading []string   `json:"heading"` // of the log, in its order
	Rows    [][]string `json:"rows"`    // sample, batch and piece of every row
	Columns []string   `json:"columns"` // that a piece needs to be done
}

// CounterOf is what takes the readings of a trial's pieces on the spot, or nil where a
// trial has none.
func CounterOf(f *findings.Findings, r Run) (*page.Counter, error) {
	t := f.Trial
	measures := measuresOf(t, trial.OfPiece)
	if len(measures) == 0 {
		return nil, nil
	}
	c := &page.Counter{Trial: t.Slug, Log: t.Slug + "-" + trial.PiecesFile}
	for i := range f.Samples {
		s := &f.Samples[i]
		c.Samples = append(c.Samples, page.CounterSample{SampleRef: writeup.Ref(s), Key: s.Key})
	}
	for _, m := range measures {
		c.Measures = append(c.Measures, counterMeasure(t, m))
	}
	plan := counterPlan{Heading: piecesHeading(t), Columns: names(measures)}
	for i := range f.Samples {
		s := f.Samples[i].Sample
		for batch := range r.Batches {
			for piece := range r.pieces(t, s) {
				plan.Rows = append(plan.Rows, []string{s.Key, strconv.Itoa(batch + 1), strconv.Itoa(piece + 1)})
			}
		}
	}
	var err error
	c.Plan, err = json.Marshal(plan)
	return c, err
}

func counterMeasure(t *trial.Trial, m trial.Measure) page.CounterMeasure {
	say := phrases(t)
	c := page.CounterMeasure{Name: m.Name, Kind: "number", Unit: unit(say, m), Asks: m.Asks}
	switch m.Kind {
	case trial.Time:
		c.Kind, c.Unit = "time", ""
	case trial.PassOrFail:
		c.Kind = "choice"
		c.Choices = []page.CounterChoice{{Value: "pass", Label: say.Say("pass")}, {Value: "fail", Label: say.Say("fail")}}
	case trial.YesOrNo:
		c.Kind = "choice"
		c.Choices = []page.CounterChoice{{Value: "yes", Label: say.Say("yes")}, {Value: "no", Label: say.Say("no")}}
	case trial.Score:
		for n := m.From; n <= m.To && m.To-m.From < 15; n++ {
			c.Kind = "choice"
			c.Choices = append(c.Choices, page.CounterChoice{Value: strconv.Itoa(n), Label: strconv.Itoa(n)})
		}
	case trial.Temperature:
		c.Units = otherUnits(m.In, quantity.Celsius, quantity.Fahrenheit)
	case trial.Length:
		c.Units = otherUnits(m.In, quantity.Millimeter, quantity.Centimeter, quantity.Inch)
	case trial.Mass:
		c.Units = otherUnits(m.In, quantity.Gram, quantity.Ounce)
	}
	return c
}

// otherUnits lists the units that somebody at home may read in, the measure's own first.
func otherUnits(own quantity.Unit, others ...quantity.Unit) []string {
	units := []string{own.Symbol()}
	for _, u := range others {
		if u != own {
			units = append(units, u.Symbol())
		}
	}
	return units
}
