package site

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/chart"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/writeup"
)

// sharesFigure is the name for the figures of all tests together.
const sharesFigure = "shares"

// most is how many samples one figure can tell apart.
const most = 12

// figureNames lists the figures that a trial has: one for each measure with a
// reading, one for all tests together, one for each thermometer log.
func figureNames(f *findings.Findings) []string {
	var names []string
	tests := false
	for _, m := range f.Trial.Measures {
		if hasReadings(f, m) {
			names = append(names, m.Name)
			tests = tests || m.Kind.IsShare()
		}
	}
	if tests {
		names = append(names, sharesFigure)
	}
	for _, p := range f.Trial.Probes {
		if len(p.Rows) > 0 && len(p.Probes) > 0 {
			names = append(names, p.Name)
		}
	}
	for _, swap := range fatSwaps(f) {
		names = append(names, swapFigure(swap))
	}
	return append(names, effectFigures(f)...)
}

// shownAnyway lists the figures that a page shows even where the prose places
// none: all but those of the parts of a sum, which the sum's figure stacks, and
// the one of all tests, which is the tests' own.
func shownAnyway(f *findings.Findings) []string {
	return slices.DeleteFunc(figureNames(f), func(name string) bool {
		m := f.Trial.Measure(name)
		effect := slices.Contains(effectFigures(f), name) && !turnsOn(f, name)
		return name == sharesFigure || (m != nil && m.PartOf != "") || effect
	})
}

// figureID is a figure's anchor on its page: by its place among the trial's
// figures, for a name may be in any script.
func figureID(f *findings.Findings, name string) string {
	return fmt.Sprintf("figure-%d", 1+slices.Index(figureNames(f), name))
}

func hasReadings(f *findings.Findings, m trial.Measure) bool {
	return !m.Kind.IsDiscrimination() && slices.ContainsFunc(f.Samples, func(s findings.Sample) bool {
		summary := s.Measure(m.Name)
		return summary != nil && (summary.Numbers != nil || summary.Share != nil)
	})
}

// draw draws a figure by its name. The id is unique on the page.
func draw(f *findings.Findings, name, caption, id string) (page.Figure, error) {
	for _, p := range f.Trial.Probes {
		if p.Name == name && f.Trial.Measure(name) == nil {
			return drawCurves(f, p, caption, id)
		}
	}
	for _, swap := range fatSwaps(f) {
		if swapFigure(swap) == name {
			return drawSwap(f, swap, caption, id)
		}
	}
	if drawn, ok, err := drawEffects(f, name, caption, id); ok {
		return drawn, err
	}
	m := f.Trial.Measure(name)
	switch {
	case m == nil:
		return page.Figure{}, fmt.Errorf("no figure is called %q", name)
	case m.Kind.IsShare():
		return drawShares(f, *m, caption, id)
	case m.Kind == trial.Time && m.Source == trial.OfParts && len(m.Parts) <= 4:
		return drawTimes(f, *m, caption, id)
	}
	return drawMarks(f, *m, caption, id)
}

func shown(f *findings.Findings) []findings.Sample { return f.Samples[:min(len(f.Samples), most)] }

func label(s findings.Sample) chart.Label {
	return chart.Label{Letter: s.Letter, Name: s.Name, Index: s.Index}
}

// figure puts a drawing and its numbers together.
func figure(id, title string, svg []byte, table page.Table) page.Figure {
	return page.Figure{ID: id, Title: title, SVG: page.HTML(svg), Table: table}
}

func titled(caption, otherwise string) string {
	if caption != "" {
		return caption
	}
	return strings.ToUpper(otherwise[:1]) + otherwise[1:]
}

func drawShares(f *findings.Findings, m trial.Measure, caption, id string) (page.Figure, error) {
	title := titled(caption, m.Name)
	c := chart.Shares{Asks: m.Asks}
	table := page.Table{
		Caption: title,
		Head:    []string{"Sample", "Count", "Share", "95 % interval"},
		Numeric: []bool{false, true, true, true},
	}
	var words []string
	for _, s := range shown(f) {
		row := chart.ShareSample{Label: label(s)}
		cells := []string{s.Letter + " " + s.Name, "–", "", ""}
		if share := s.Measure(m.Name).Share; share != nil {
			row.Count, row.N = share.Count, share.N
			row.Rate, row.Low, row.High = share.Rate, share.Low, share.High
			cells[1] = s.Measure(m.Name).Text()
			cells[2] = fmt.Sprintf("%.0f %%", 100*share.Rate)
			cells[3] = fmt.Sprintf("%.0f–%.0f %%", 100*share.Low, 100*share.High)
			words = append(words, s.Name+" "+cells[1])
		}
		c.Samples = append(c.Samples, row)
		table.Rows = append(table.Rows, cells)
	}
	c.Head = chart.Head{ID: id, Title: title, Description: "How many pieces passed, with the 95 % interval of the share: " + strings.Join(words, ", ") + "."}
	svg, err := c.Draw()
	return figure(id, title, svg, table), err
}

func drawTimes(f *findings.Findings, m trial.Measure, caption, id string) (page.Figure, error) {
	title := titled(caption, m.Name)
	c := chart.StackedTimes{Parts: m.Parts, Quantity: m.Name}
	table := page.Table{
		Caption: title,
		Head:    append(append([]string{"Sample", "Piece"}, m.Parts...), m.Name, "Set aside"),
		Numeric: slices.Concat([]bool{false, true}, slices.Repeat([]bool{true}, len(m.Parts)+1)),
	}
	var words []string
	for _, s := range shown(f) {
		sample := chart.TimeSample{Label: label(s)}
		if summary := s.Measure(m.Name); summary.N > 1 {
			sample.Note = "mean " + findings.Measured(m, summary.Numbers.Mean, 0)
			words = append(words, s.Name+" "+sample.Note)
		}
		for _, p := range f.Trial.Pieces {
			if p.Sample == s.Key {
				bar, cells := timesOf(f, p, m)
				sample.Pieces = append(sample.Pieces, bar)
				table.Rows = append(table.Rows, append([]string{s.Letter}, cells...))
			}
		}
		c.Samples = append(c.Samples, sample)
	}
	c.Head = chart.Head{ID: id, Title: title, Description: "A bar for each piece, its parts end to end: " +
		strings.Join(m.Parts, ", ") + ". " + strings.Join(words, ", ") + "."}
	svg, err := c.Draw()
	return figure(id, title, svg, table), err
}

// timesOf returns a piece's bar and its row in the table.
func timesOf(f *findings.Findings, p trial.Piece, m trial.Measure) (chart.TimePiece, []string) {
	bar := chart.TimePiece{Name: p.Number}
	cells := []string{pieceName(f, p)}
	for _, part := range m.Parts {
		reading, read := p.Readings[part]
		missing := !read || reading.Missing
		bar.Seconds = append(bar.Seconds, reading.Value.Float64())
		bar.Missing = append(bar.Missing, missing)
		bar.SetAside = bar.SetAside || reading.SetAside != ""
		cells = append(cells, readingText(*f.Trial.Measure(part), reading, missing))
	}
	sum := p.Readings[m.Name]
	return bar, append(cells, readingText(m, sum, sum.Missing), sum.SetAside)
}

// pieceName numbers a piece, with its batch where there are several.
func pieceName(f *findings.Findings, p trial.Piece) string {
	if s := f.Sample(p.Sample); s != nil && s.Batches > 1 {
		return fmt.Sprintf("%d.%s", p.Batch, p.Number)
	}
	return p.Number
}

func readingText(m trial.Measure, r trial.Reading, missing bool) string {
	if missing {
		return "–"
	}
	return findings.Measured(m, r.Value.Float64(), 0)
}

func drawMarks(f *findings.Findings, m trial.Measure, caption, id string) (page.Figure, error) {
	title := titled(caption, m.Name)
	c := chart.Marks{Quantity: m.Name, Unit: m.In.Symbol(), Time: m.Kind == trial.Time}
	if m.Kind == trial.Score {
		c.Quantity = fmt.Sprintf("%s, %d %s to %d %s", m.Name, m.From, m.FromIs, m.To, m.ToIs)
	}
	table := page.Table{
		Caption: title,
		Head:    []string{"Sample", "n", "Mean", "SD", "Median", "Range", "95 % interval of the mean", "Set aside"},
		Numeric: []bool{false, true, true, true, true, true, true, true},
	}
	highest := 0.0
	var words []string
	for _, s := range shown(f) {
		sample, top := marksOf(f, s, m)
		highest = max(highest, top)
		c.Samples = append(c.Samples, sample)
		table.Rows = append(table.Rows, numbersRow(s, m))
		if summary := s.Measure(m.Name); summary.N > 0 {
			words = append(words, s.Name+" "+summary.Text())
		}
	}
	if m.Kind == trial.Temperature {
		temperatures(f, m, highest, &c)
	}
	c.Head = chart.Head{ID: id, Title: title, Description: "A mark for each reading, with the mean and its 95 % interval: " + strings.Join(words, ", ") + "."}
	svg, err := c.Draw()
	return figure(id, title, svg, table), err
}

// marksOf returns a sample's marks in the unit shown, and its highest reading in
// the base unit.
func marksOf(f *findings.Findings, s findings.Sample, m trial.Measure) (chart.MarkSample, float64) {
	sample := chart.MarkSample{Label: label(s)}
	highest := 0.0
	for _, r := range f.Trial.Readings(s.Sample, m) {
		if r.Missing {
			continue
		}
		highest = max(highest, r.Value.Float64())
		sample.Marks = append(sample.Marks, chart.Mark{Value: findings.InUnit(m, r.Value.Float64()), SetAside: r.SetAside != ""})
	}
	if n := s.Measure(m.Name).Numbers; n != nil && n.N > 1 {
		mean := findings.InUnit(m, n.Mean)
		sample.Mean = &mean
		sample.Note = "mean " + findings.Measured(m, n.Mean, 1)
		if n.HasInterval && s.ByPiece(m) {
			sample.Interval = &chart.Interval{Low: findings.InUnit(m, n.Interval.Low), High: findings.InUnit(m, n.Interval.High)}
		}
	}
	return sample, highest
}

func numbersRow(s findings.Sample, m trial.Measure) []string {
	summary := s.Measure(m.Name)
	row := []string{s.Letter + " " + s.Name, fmt.Sprint(summary.N), "–", "", "", "", "", fmt.Sprint(summary.SetAside)}
	n := summary.Numbers
	if n == nil {
		return row
	}
	row[2] = summary.Text()
	row[4] = findings.Measured(m, n.Median, 0)
	row[5] = findings.Range(m, n.Min, n.Max, 0)
	if n.HasSD {
		row[3] = findings.Spread(m, n.SD, 1)
	}
	if n.HasInterval && s.ByPiece(m) {
		row[6] = findings.Range(m, n.Interval.Low, n.Interval.High, 1)
	}
	return row
}

// hot is the temperature, in °C, from which a reading makes the boiling point of
// water worth drawing; below it the line would only squeeze the marks together.
const hot = 60

// temperatures adds the boiling line and the thermometer's accuracy.
func temperatures(f *findings.Findings, m trial.Measure, highest float64, c *chart.Marks) {
	if highest >= hot && f.Boiling.Celsius > 0 {
		c.Lines = append(c.Lines, boilingLine(f, m))
	}
	accuracy := f.Trial.Kitchen.Accuracy
	if accuracy.IsZero() {
		return
	}
	low, _ := accuracy.Base()
	c.Accuracy = low.Float64()
	if m.In == quantity.Fahrenheit {
		c.Accuracy *= 9.0 / 5
	}
	c.Written = "±" + strconv.FormatFloat(c.Accuracy, 'f', -1, 64) + " " + m.In.Symbol()
}

func boilingLine(f *findings.Findings, m trial.Measure) chart.Line {
	return chart.Line{
		Name:  fmt.Sprintf("water boils, %s", findings.Measured(m, f.Boiling.Celsius, 1)),
		Value: findings.InUnit(m, f.Boiling.Celsius),
	}
}

func drawCurves(f *findings.Findings, p trial.Probe, caption, id string) (page.Figure, error) {
	title := titled(caption, "Thermometer log "+p.Name)
	celsius := trial.Measure{Kind: trial.Temperature, In: quantity.Celsius}
	c := chart.Curves{Quantity: p.Name, Unit: "°C"}
	table := page.Table{Caption: title, Head: append([]string{"Time"}, p.Probes...), Numeric: slices.Repeat([]bool{true}, len(p.Probes)+1)}
	highest := 0.0
	for i, name := range p.Probes[:min(len(p.Probes), most)] {
		probe := chart.Probe{Label: chart.Label{Letter: fmt.Sprint(i + 1), Name: name, Index: i}}
		for _, row := range p.Rows {
			r := row.Temperatures[i]
			highest = max(highest, r.Value.Float64())
			probe.Readings = append(probe.Readings, chart.Reading{
				Seconds: row.Seconds.Float64(), Value: r.Value.Float64(), Missing: r.Missing,
			})
		}
		c.Probes = append(c.Probes, probe)
	}
	clock := trial.Measure{Kind: trial.Time, In: quantity.Second}
	for _, row := range p.Rows {
		cells := []string{findings.Measured(clock, row.Seconds.Float64(), 0)}
		for _, r := range row.Temperatures {
			cells = append(cells, readingText(celsius, r, r.Missing))
		}
		table.Rows = append(table.Rows, cells)
	}
	if highest >= hot && f.Boiling.Celsius > 0 {
		c.Lines = append(c.Lines, boilingLine(f, celsius))
	}
	c.Head = chart.Head{ID: id, Title: title, Description: "Temperature against time for " + strings.Join(p.Probes, ", ") + "."}
	svg, err := c.Draw()
	return figure(id, title, svg, table), err
}

// tableNames are the tables that prose may place.
func tableNames() []string { return []string{"outcomes", "recipe", "samples"} }

// table renders a table for the prose.
func table(r *page.Renderer, f *findings.Findings, p placed, id string) (page.HTML, error) {
	language := f.Trial.Kitchen.Language
	switch p.name {
	case "outcomes":
		o := writeup.Outcomes(f)
		if o == nil {
			return "", nil
		}
		return r.OutcomeTable(language, *o)
	case "recipe":
		return r.Table(language, id, writeup.RecipeTable(f, p.caption))
	}
	return r.Table(language, id, writeup.SamplesTable(f, p.caption))
}
