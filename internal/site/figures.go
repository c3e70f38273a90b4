package site

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"sidebatch.example/sidebatch/internal/chart"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
	"sidebatch.example/sidebatch/internal/writeup"
)

// sharesFigure is the name for the figures of all tests together.
const sharesFigure = "shares"

// most is how many samples one figure can tell apart.
const most = 12

func hasReadings(f *findings.Findings, m trial.Measure) bool {
	return !m.Kind.IsDiscrimination() && slices.ContainsFunc(f.Samples, func(s findings.Sample) bool {
		summary := s.Measure(m.Name)
		return summary != nil && (summary.Numbers != nil || summary.Share != nil)
	})
}

// drawing is a figure before it is drawn, with its numbers.
type drawing struct {
	chart     chart.Figure
	id, title string
	table     page.Table
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
	return wording.Capital(otherwise)
}

func drawShares(f *findings.Findings, m trial.Measure, caption, id string) (drawing, error) {
	title, say := titled(caption, m.Name), phrasesFor(f.Trial)
	c := chart.Shares{Asks: m.Asks}
	table := page.Table{
		Caption: title,
		Head:    []string{say.Say("head sample"), say.Say("head count"), say.Say("head share"), say.Say("head interval")},
		Numeric: []bool{false, true, true, true},
	}
	var words []string
	for _, s := range shown(f) {
		row := chart.ShareSample{Label: label(s)}
		cells := []string{s.Letter + " " + s.Name, "–", "", ""}
		if share := s.Measure(m.Name).Share; share != nil {
			row.Count, row.N = share.Count, share.N
			row.Rate, row.Low, row.High = share.Rate, share.Rate, share.Rate
			cells[1] = s.Measure(m.Name).Text()
			row.Note = cells[1]
			cells[2] = fmt.Sprintf("%.0f %%", 100*share.Rate)
			if s.ByPiece(m) {
				row.Low, row.High = share.Low, share.High
				cells[3] = fmt.Sprintf("%.0f–%.0f %%", 100*share.Low, 100*share.High)
			}
			words = append(words, s.Name+" "+cells[1])
		}
		c.Samples = append(c.Samples, row)
		table.Rows = append(table.Rows, cells)
	}
	c.Head = chart.Head{ID: id, Title: title, Description: say.Say("shares about", "samples", named(words)), Words: chartWords(say)}
	return drawing{c, id, title, table}, nil
}

func drawTimes(f *findings.Findings, m trial.Measure, caption, id string) (drawing, error) {
	title, say := titled(caption, m.Name), phrasesFor(f.Trial)
	c := chart.StackedTimes{Parts: m.Parts, Quantity: m.Name}
	table := page.Table{
		Caption: title,
		Head:    append(append([]string{say.Say("head sample"), say.Say("head piece")}, m.Parts...), m.Name, say.Say("head set aside")),
		Numeric: slices.Concat([]bool{false, true}, slices.Repeat([]bool{true}, len(m.Parts)+1)),
	}
	var words []string
	for _, s := range shown(f) {
		sample := chart.TimeSample{Label: label(s)}
		if summary := s.Measure(m.Name); summary.N > 1 {
			sample.Note = say.Say("mean of", "value", findings.Measured(m, summary.Numbers.Mean, 0))
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
	c.Head = chart.Head{ID: id, Title: title, Words: chartWords(say),
		Description: say.Say("times about", "parts", named(m.Parts), "samples", named(words))}
	return drawing{c, id, title, table}, nil
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

func drawMarks(f *findings.Findings, m trial.Measure, caption, id string) (drawing, error) {
	title, say := titled(caption, m.Name), phrasesFor(f.Trial)
	c := chart.Marks{Quantity: m.Name, Unit: m.Symbol(), Time: m.Kind == trial.Time}
	if m.Kind == trial.Score {
		c.Quantity = say.Say("score scale", "measure", m.Name,
			"low", fmt.Sprintf("%d %s", m.From, m.FromIs), "high", fmt.Sprintf("%d %s", m.To, m.ToIs))
	}
	if m.Kind == trial.Rank {
		c.Quantity = say.Say("rank axis", "measure", m.Name)
	}
	c.Whole = m.Kind == trial.Score || m.Kind == trial.Rank
	words := chartWords(say)
	if m.Source == trial.OfTasting {
		words.Piece = say.Say("one taster")
	}
	table := page.Table{
		Caption: title,
		Head: []string{say.Say("head sample"), say.Say("head n"), say.Say("head mean"), say.Say("head sd"), say.Say("head median"),
			say.Say("head range"), say.Say("head interval of the mean"), say.Say("head set aside")},
		Numeric: []bool{false, true, true, true, true, true, true, true},
	}
	read := nothingRead()
	var seen []string
	for _, s := range shown(f) {
		sample, own := marksOf(f, s, m)
		read = chart.Interval{Low: min(read.Low, own.Low), High: max(read.High, own.High)}
		c.Samples = append(c.Samples, sample)
		table.Rows = append(table.Rows, numbersRow(s, m))
		if summary := s.Measure(m.Name); summary.N > 0 {
			seen = append(seen, s.Name+" "+summary.Text())
		}
	}
	if m.Kind == trial.Temperature {
		temperatures(f, m, read, &c)
	}
	c.Head = chart.Head{ID: id, Title: title, Description: say.Say("marks about", "samples", named(seen)), Words: words}
	return drawing{c, id, title, table}, nil
}

// marksOf returns a sample's marks in the unit shown, and from where to where they were
// read in the base unit.
func marksOf(f *findings.Findings, s findings.Sample, m trial.Measure) (chart.MarkSample, chart.Interval) {
	sample := chart.MarkSample{Label: label(s)}
	read := nothingRead()
	for _, r := range f.Trial.Readings(s.Sample, m) {
		if r.Missing {
			continue
		}
		read = widened(read, r.Value.Float64())
		sample.Marks = append(sample.Marks, chart.Mark{Value: findings.InUnit(m, r.Value.Float64()), SetAside: r.SetAside != ""})
	}
	if n := s.Measure(m.Name).Numbers; n != nil && n.N > 1 {
		mean := findings.InUnit(m, n.Mean)
		sample.Mean = &mean
		sample.Note = phrasesFor(f.Trial).Say("mean of", "value", findings.Measured(m, n.Mean, 1))
		if n.HasInterval && s.ByPiece(m) {
			sample.Interval = &chart.Interval{Low: findings.InUnit(m, n.Interval.Low), High: findings.InUnit(m, n.Interval.High)}
		}
	}
	return sample, read
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

// nothingRead is the span of no reading at all.
func nothingRead() chart.Interval { return chart.Interval{Low: math.Inf(1), High: math.Inf(-1)} }

func widened(read chart.Interval, value float64) chart.Interval {
	return chart.Interval{Low: min(read.Low, value), High: max(read.High, value)}
}

// mostMoments is how many rows of a thermometer's log a table on a page has, give or take
// one; the log itself is beside it.
const mostMoments = 100

// worthDrawing reports whether the boiling point of water is near enough to what was read,
// in °C, to stand in the figure: it lies among the readings, or beside them by no more
// than half of their span or 15 degrees. Farther off the line would only squeeze the marks
// together. Nothing was read where the span is below nothing.
func worthDrawing(boiling float64, read chart.Interval) bool {
	span := read.High - read.Low
	beside := max(15, span/2)
	return boiling > 0 && span >= 0 && boiling >= read.Low-beside && boiling <= read.High+beside
}

// temperatures adds the boiling line and the thermometer's accuracy.
func temperatures(f *findings.Findings, m trial.Measure, read chart.Interval, c *chart.Marks) {
	if worthDrawing(f.Boiling.Celsius, read) {
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
	written := f.Trial.Kitchen.Words.Decimal(strconv.FormatFloat(c.Accuracy, 'f', -1, 64))
	c.Written = "±" + written + " " + m.Symbol()
}

func boilingLine(f *findings.Findings, m trial.Measure) chart.Line {
	return chart.Line{
		Name:  phrasesFor(f.Trial).Say("water boils", "temperature", findings.Measured(m, f.Boiling.Celsius, 1)),
		Value: findings.InUnit(m, f.Boiling.Celsius),
	}
}

func drawCurves(f *findings.Findings, p trial.Probe, caption, id string) (drawing, error) {
	say, language := phrasesFor(f.Trial), f.Trial.Kitchen.Words
	title := titled(caption, say.Say("thermometer log", "name", p.Name))
	celsius := trial.Measure{Kind: trial.Temperature, In: quantity.Celsius, Language: language}
	c := chart.Curves{Quantity: p.Name, Unit: "°C"}
	table := page.Table{Caption: title, Head: append([]string{say.Say("head time")}, p.Probes...), Numeric: slices.Repeat([]bool{true}, len(p.Probes)+1)}
	read := nothingRead()
	for i, name := range p.Probes[:min(len(p.Probes), most)] {
		probe := chart.Probe{Label: chart.Label{Letter: fmt.Sprint(i + 1), Name: name, Index: i}}
		for _, row := range p.Rows {
			r := row.Temperatures[i]
			if !r.Missing {
				read = widened(read, r.Value.Float64())
			}
			probe.Readings = append(probe.Readings, chart.Reading{
				Seconds: row.Seconds.Float64(), Value: r.Value.Float64(), Missing: r.Missing,
			})
		}
		c.Probes = append(c.Probes, probe)
	}
	clock := trial.Measure{Kind: trial.Time, In: quantity.Second, Language: language}
	every := (len(p.Rows) + mostMoments - 1) / mostMoments
	if every > 1 {
		table.Caption = say.Count("some moments", len(p.Rows), "title", title, "every", f.Trial.Kitchen.Words.Integer(every))
	}
	for i, row := range p.Rows {
		if i%every != 0 && i != len(p.Rows)-1 {
			continue
		}
		cells := []string{findings.Measured(clock, row.Seconds.Float64(), 0)}
		for _, r := range row.Temperatures {
			cells = append(cells, readingText(celsius, r, r.Missing))
		}
		table.Rows = append(table.Rows, cells)
	}
	if worthDrawing(f.Boiling.Celsius, read) {
		c.Lines = append(c.Lines, boilingLine(f, celsius))
	}
	c.Head = chart.Head{ID: id, Title: title, Description: say.Say("curves about", "probes", named(p.Probes)), Words: chartWords(say)}
	return drawing{c, id, title, table}, nil
}

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
