package chart

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg/draw"
)

// Pairs is scores by assessor: the samples side by side, a line an assessor that
// joins what this person gave to each. A score that is missing leaves a gap.
type Pairs struct {
	Head
	Quantity  string   // caption: "chew"
	From, To  ScaleEnd // the ends of the scale
	Samples   []PairSample
	Assessors []Assessor
}

// ScaleEnd is one end of a scale of scores: 1, "tender".
type ScaleEnd struct {
	Value float64
	Words string
}

// PairSample is a sample; its mean is drawn where it is given.
type PairSample struct {
	Label
	Mean *float64
}

// Assessor is one person's scores, one for each sample, in the samples' order.
type Assessor struct {
	Name   string // a name or a code; may be empty
	Scores []Score
}

// Score is one score between the ends of the scale.
type Score struct {
	Value   float64
	Missing bool
}

func (f Pairs) check() error {
	var labels []Label
	for _, s := range f.Samples {
		labels = append(labels, s.Label)
		if s.Mean != nil {
			if err := checkNumbers(fmt.Sprintf("sample %q", s.Name), *s.Mean); err != nil {
				return err
			}
		}
	}
	if err := checkNumbers("the scale", f.From.Value, f.To.Value); err != nil {
		return err
	}
	if f.To.Value-f.From.Value < 1e-6 {
		return fmt.Errorf("%w: the scale of figure %s ends before it begins", ErrNumber, f.ID)
	}
	if len(f.Assessors) == 0 {
		return fmt.Errorf("%w: figure %s has no assessors", ErrEmpty, f.ID)
	}
	for _, a := range f.Assessors {
		if len(a.Scores) != len(f.Samples) {
			return fmt.Errorf("%w: assessor %q has %d scores for %d samples", ErrNumber, a.Name, len(a.Scores), len(f.Samples))
		}
		for _, s := range a.Scores {
			if s.Missing {
				continue
			}
			if err := checkNumbers(fmt.Sprintf("assessor %q", a.Name), s.Value); err != nil {
				return err
			}
			if s.Value < f.From.Value || s.Value > f.To.Value {
				return fmt.Errorf("%w: assessor %q has a score outside the scale", ErrNumber, a.Name)
			}
		}
	}
	return checkLabels(labels)
}

const pairsHeight = 200.0

// Draw draws the figure. It is an error when there is nothing to draw, or when a
// number, a label or the id cannot be used.
func (f Pairs) Draw() ([]byte, error) { return svg(f) }

func (f Pairs) lay(on sheet) (*laid, error) {
	c, err := newCard(f.Head, on)
	if err != nil {
		return nil, err
	}
	if err := f.check(); err != nil {
		return nil, err
	}
	c.caption(f.captionWords(c.words), "")
	c.key(f.keyItems(c))
	c.above = append(c.above, band{height: 10, draw: func(pen, float64) {}})
	air := 0.04 * (f.To.Value - f.From.Value)
	steps := wholes
	if f.To.Value-f.From.Value < 2 {
		steps = tens
	}
	field := c.fieldHeight(pairsHeight, 0)
	y := newUpright(f.From.Value-air, f.To.Value+air, field, 17, steps)
	y.write = c.words.marked(y.write)
	c.left, c.right = 2, 12
	names := f.endNames(c, y, field)
	for _, n := range names {
		c.right = max(c.right, width(n.words, smallSize)+14)
	}
	p := newPlot()
	p.Y.Min, p.Y.Max, p.Y.Tick.Marker = y.low, y.high, y
	p.Y.Padding = 4
	p.X.Min, p.X.Max = -.5, float64(len(f.Samples))-.5
	var letters plot.ConstantTicks
	for i, s := range f.Samples {
		letters = append(letters, plot.Tick{Value: float64(i), Label: clean(s.Letter)})
	}
	p.X.Tick.Marker, p.X.Tick.Label.Color = letters, plain(textName)
	return c.draw(p, field, func(full float64) []plot.Plotter {
		return []plot.Plotter{pairLines{f, y, names, full}}
	})
}

func (f Pairs) captionWords(w Words) string {
	write := func(e ScaleEnd) string {
		s := w.marked(plainNumber)(e.Value, decimalStep(e.Value))
		if words := clean(e.Words); words != "" {
			s += " " + words
		}
		return s
	}
	s := write(f.From) + " – " + write(f.To)
	if q := clean(f.Quantity); q != "" {
		s = q + ": " + s
	}
	return s
}

// decimalStep is the step with which a value that is given by hand is written whole.
func decimalStep(v float64) float64 {
	for _, step := range []float64{1, .1, .01, .001} {
		if math.Abs(v/step-math.Round(v/step)) < 1e-6 {
			return step
		}
	}
	return .001
}

func (f Pairs) keyItems(c *card) []keyItem {
	var labels []Label
	mean := false
	for _, s := range f.Samples {
		labels = append(labels, s.Label)
		mean = mean || s.Mean != nil
	}
	items := sampleKey(labels, 0, nil)
	if mean {
		items = append(items, keyItem{16, func(p pen, x, y float64) {
			p.line(stroke(plain(mutedName), 2.5), x, y, x+16, y)
		}, c.words.Mean})
	}
	return items
}

// last is the assessor's last score that is there.
func (a Assessor) last() (Score, bool) {
	for _, s := range slices.Backward(a.Scores) {
		if !s.Missing {
			return s, true
		}
	}
	return Score{}, false
}

// endName is an assessor's name at the right, at the height of the last score.
type endName struct {
	words   string
	from, y float64 // height of the score and of the name, in units under the field's top
}

// endNames gives every assessor a name at the right while they fit under each other.
func (f Pairs) endNames(c *card, y scale, field float64) []endName {
	const leading = 13.0
	if leading*float64(len(f.Assessors)) > field*0.95 {
		return nil
	}
	var names []endName
	for _, a := range f.Assessors {
		name := clean(a.Name)
		last, scored := a.last()
		if name == "" || !scored {
			continue
		}
		at := field * (y.high - last.Value) / (y.high - y.low)
		short := shorten(name, smallSize, 74)
		if short != name {
			c.full = append(c.full, name)
		}
		names = append(names, endName{short, at, at})
	}
	order := make([]int, len(names))
	for i := range order {
		order[i] = i
	}
	sortBy(order, func(i int) float64 { return names[i].y })
	heights := make([]float64, len(names))
	for k, i := range order {
		heights[k] = names[i].y
	}
	for k, h := range pushApart(heights, leading, 0, field) {
		names[order[k]].y = h
	}
	return names
}

// pairLines draws the lines, dots and names.
type pairLines struct {
	f     Pairs
	y     scale
	names []endName
	full  float64
}

// Plot draws into the field.
func (d pairLines) Plot(c draw.Canvas, p *plot.Plot) {
	tx, ty := p.Transforms(&c)
	pen := pen{c: c, height: d.full, at: func(v float64) float64 { return float64(tx(v)) }}
	down := func(v float64) float64 { return d.full - float64(ty(v)) }
	left, right := float64(c.Min.X), float64(c.Max.X)
	for _, t := range d.y.Ticks(d.y.low, d.y.high) {
		pen.line(stroke(plain(ruleName), .75), left, down(t.Value), right, down(t.Value))
	}
	for i, s := range d.f.Samples {
		if s.Mean != nil {
			x := pen.at(float64(i))
			pen.line(stroke(inkOf(s.Label), 2.5), x-9, down(*s.Mean), x+9, down(*s.Mean))
		}
	}
	aside := d.aside(pen.at(1) - pen.at(0))
	place := func(a, i int) (x, y float64) {
		return pen.at(float64(i)) + aside[a][i], down(d.f.Assessors[a].Scores[i].Value)
	}
	for a, assessor := range d.f.Assessors {
		for i := 1; i < len(assessor.Scores); i++ {
			if assessor.Scores[i-1].Missing || assessor.Scores[i].Missing {
				continue
			}
			x0, y0 := place(a, i-1)
			x1, y1 := place(a, i)
			pen.line(stroke(plain(mutedName), d.thickness()), x0, y0, x1, y1)
		}
	}
	for i, s := range d.f.Samples {
		for a, assessor := range d.f.Assessors {
			if !assessor.Scores[i].Missing {
				x, y := place(a, i)
				pen.dot(inkOf(s.Label), x, y, d.radius())
			}
		}
	}
	top := d.full - float64(c.Max.Y)
	for _, n := range d.names {
		pen.line(stroke(plain(ruleName), .75), right, top+n.from, right+8, top+n.y)
		pen.text(plain(mutedName), smallSize, right+11, top+n.y+4, n.words)
	}
}

// thickness and radius shrink where there are many.
func (d pairLines) thickness() float64 {
	if len(d.f.Assessors) > 30 {
		return .5
	}
	return 1
}

func (d pairLines) radius() float64 {
	if len(d.f.Assessors) > 30 || len(d.f.Samples) > 8 {
		return 2
	}
	return 3
}

// aside moves dots that share a place apart, left and right, within the sample's share of the width.
func (d pairLines) aside(between float64) [][]float64 {
	moved := make([][]float64, len(d.f.Assessors))
	for a := range moved {
		moved[a] = make([]float64, len(d.f.Samples))
	}
	for i := range d.f.Samples {
		var order []int
		for a, assessor := range d.f.Assessors {
			if !assessor.Scores[i].Missing {
				order = append(order, a)
			}
		}
		value := func(a int) float64 { return d.f.Assessors[a].Scores[i].Value }
		sortBy(order, value)
		for first := 0; first < len(order); {
			next := first
			for next < len(order) && value(order[next]) == value(order[first]) {
				next++
			}
			n := float64(next - first)
			apart := min(2*d.radius()+1, between*.7/max(n, 1))
			for k := first; k < next; k++ {
				moved[order[k]][i] = apart * (float64(k-first) - (n-1)/2)
			}
			first = next
		}
	}
	return moved
}
