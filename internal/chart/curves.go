package chart

import (
	"fmt"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Curves is a thermometer's log: time to the right, a quantity upward, a line a
// probe. Where a reading is missing the line breaks.
type Curves struct {
	Head
	Quantity string // caption: "inside the loaf"
	Unit     string // "°C"
	Probes   []Probe
	Lines    []Line // drawn across the figure: "water boils, 99.6 °C"
}

// Probe is one probe's readings, in order of time.
type Probe struct {
	Label
	Readings []Reading
}

// Reading is a value at a time, in seconds from where the log begins.
type Reading struct {
	Seconds float64
	Value   float64
	Missing bool // nothing was read: the line breaks here
}

func (f Curves) check() error {
	var labels []Label
	drawn := 0
	for _, p := range f.Probes {
		of := fmt.Sprintf("probe %q", p.Name)
		labels = append(labels, p.Label)
		for i, r := range p.Readings {
			if err := checkNumbers(of, r.Seconds); err != nil {
				return err
			}
			if i > 0 && r.Seconds < p.Readings[i-1].Seconds {
				return fmt.Errorf("%w: %s goes back in time", ErrNumber, of)
			}
			if r.Missing {
				continue
			}
			drawn++
			if err := checkNumbers(of, r.Value); err != nil {
				return err
			}
		}
	}
	for _, l := range f.Lines {
		if err := checkNumbers(fmt.Sprintf("line %q", l.Name), l.Value); err != nil {
			return err
		}
	}
	if drawn == 0 {
		return fmt.Errorf("%w: figure %s has no readings", ErrEmpty, f.ID)
	}
	return checkLabels(labels)
}

const curvesHeight = 190.0

// Draw draws the figure. It is an error when there is nothing to draw, or when a
// number, a label or the id cannot be used.
func (f Curves) Draw() ([]byte, error) { return svg(f) }

func (f Curves) lay(on sheet) (*laid, error) {
	c, err := newCard(f.Head, on)
	if err != nil {
		return nil, err
	}
	if err := f.check(); err != nil {
		return nil, err
	}
	c.left, c.right = 2, 26
	var values []float64
	first, last := 0.0, 0.0
	seen := false
	for _, probe := range f.Probes {
		for _, r := range probe.Readings {
			if !seen {
				first, last, seen = r.Seconds, r.Seconds, true
			}
			first, last = min(first, r.Seconds), max(last, r.Seconds)
			if !r.Missing {
				values = append(values, r.Value)
			}
		}
	}
	for _, l := range f.Lines {
		values = append(values, l.Value)
	}
	last = max(last, first+10)
	low, high := spread(values, 2)
	field := c.fieldHeight(curvesHeight, len(f.Probes))
	y := newUpright(low, high, field, 24, tens)
	y.write = c.words.marked(y.write)
	x, unit := timeScale(first, last, frame{c.left + 36, c.room() - 36}, c.words)
	c.caption(f.Quantity, f.Unit)
	c.key(f.keyItems())
	c.above = append(c.above, band{height: 8, draw: func(pen, float64) {}})
	p := newPlot()
	p.X.Min, p.X.Max, p.X.Tick.Marker = x.low, x.high, x
	p.X.Label.Text = unit
	p.Y.Min, p.Y.Max, p.Y.Tick.Marker = y.low, y.high, y
	return c.draw(p, field, func(full float64) []plot.Plotter {
		return []plot.Plotter{curveLines{f, y, field, full}}
	})
}

// lineDashes are the dashes of a curve by its ink: neighbours differ.
func lineDashes(index int) []vg.Length {
	return [][]vg.Length{{}, {6, 2}, {2, 2}, {8, 2, 2, 2}, {4, 4}, {10, 3}}[index%6]
}

// crossDashes tell one line across the figure from the next.
func crossDashes(i int) []vg.Length {
	return [][]vg.Length{{4, 2}, {1, 2}, {9, 3}, {6, 2, 1, 2}}[i%4]
}

func (f Curves) keyItems() []keyItem {
	var labels []Label
	for _, p := range f.Probes {
		labels = append(labels, p.Label)
	}
	items := sampleKey(labels, 26, func(p pen, l Label, x, y float64) {
		p.line(stroke(inkOf(l), 2, lineDashes(l.Index)...), x, y, x+22, y)
	})
	for i, l := range f.Lines {
		items = append(items, keyItem{22, func(p pen, x, y float64) {
			p.line(stroke(plain(boilName), 1.25, crossDashes(i)...), x, y, x+22, y)
		}, clean(l.Name)})
	}
	return items
}

// curveLines draws the curves and their letters.
type curveLines struct {
	f           Curves
	y           scale
	field, full float64 // heights
}

// Plot draws into the field.
func (d curveLines) Plot(c draw.Canvas, p *plot.Plot) {
	tx, ty := p.Transforms(&c)
	pen := pen{c: c, height: d.full, at: func(v float64) float64 { return float64(tx(v)) }}
	down := func(v float64) float64 { return d.full - float64(ty(v)) }
	left, right := float64(c.Min.X), float64(c.Max.X)
	for _, t := range d.y.Ticks(d.y.low, d.y.high) {
		pen.line(stroke(plain(ruleName), .75), left, down(t.Value), right, down(t.Value))
	}
	for i, l := range d.f.Lines {
		pen.line(stroke(plain(boilName), 1.25, crossDashes(i)...), left, down(l.Value), right, down(l.Value))
	}
	for _, probe := range d.f.Probes {
		for _, run := range probe.runs() {
			places := make([]place, len(run))
			for i, r := range run {
				places[i] = place{pen.at(r.Seconds), down(r.Value)}
			}
			if len(places) == 1 {
				pen.dot(inkOf(probe.Label), places[0].x, places[0].y, 2)
				continue
			}
			var line []float64
			for _, at := range thin(places) {
				line = append(line, at.x, at.y)
			}
			pen.line(stroke(inkOf(probe.Label), 2, lineDashes(probe.Index)...), line...)
		}
	}
	d.letters(pen, down, right, d.full-float64(c.Max.Y))
}

// letters sets each curve's letter at its end, pushed apart, with a thin line to it.
func (d curveLines) letters(p pen, down func(float64) float64, right, top float64) {
	type tail struct {
		label Label
		x, y  float64
	}
	var tails []tail
	for _, probe := range d.f.Probes {
		runs := probe.runs()
		if len(runs) == 0 || clean(probe.Letter) == "" {
			continue
		}
		last := runs[len(runs)-1]
		r := last[len(last)-1]
		tails = append(tails, tail{probe.Label, p.at(r.Seconds), down(r.Value)})
	}
	order := make([]int, len(tails))
	for i := range order {
		order[i] = i
	}
	sortBy(order, func(i int) float64 { return tails[i].y })
	heights := make([]float64, len(tails))
	for k, i := range order {
		heights[k] = tails[i].y
	}
	apart := min(13, d.field/float64(max(len(tails), 1)))
	for k, y := range pushApart(heights, apart, top, top+d.field) {
		t := tails[order[k]]
		p.line(stroke(plain(ruleName), .75), t.x+1, t.y, right+1, t.y, right+6, y)
		p.text(plain(textName), smallSize, right+8, y+4, clean(t.label.Letter))
	}
}

// runs are the readings between gaps.
func (p Probe) runs() [][]Reading {
	var runs [][]Reading
	var run []Reading
	for _, r := range p.Readings {
		if !r.Missing {
			run = append(run, r)
			continue
		}
		if len(run) > 0 {
			runs = append(runs, run)
		}
		run = nil
	}
	if len(run) > 0 {
		runs = append(runs, run)
	}
	return runs
}

type place struct{ x, y float64 }
