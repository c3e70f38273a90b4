package chart

import (
	"fmt"
	"math"
)

// Marks is one quantity read of every piece: a mark a piece, with the mean and its
// interval under them, sample by sample. For temperatures, lengths and scores.
type Marks struct {
	Head
	Quantity string // caption: "surface temperature"
	Unit     string // "°C"; not used for times
	Samples  []MarkSample
	Lines    []Line  // drawn down the figure: "water boils, 99.6 °C"
	Accuracy float64 // half-width of what the thermometer may be off by, drawn to scale; 0 for none
	Written  string  // the accuracy as the write-up prints it: "±1.5 °C"
	Time     bool    // values are seconds
	Whole    bool    // only whole numbers can be read, as of scores and ranks
}

// MarkSample is one sample's readings. Mean and Interval are drawn where they are
// given. Note is set at the right of the name, as the write-up prints it.
type MarkSample struct {
	Label
	Note     string
	Marks    []Mark
	Mean     *float64
	Interval *Interval
}

// Mark is one reading; one set aside is drawn open.
type Mark struct {
	Value    float64
	SetAside bool
}

// Interval is a range of values, Low at most High.
type Interval struct{ Low, High float64 }

func (f Marks) check() error {
	var labels []Label
	drawn := 0
	for _, s := range f.Samples {
		of := fmt.Sprintf("sample %q", s.Name)
		labels = append(labels, s.Label)
		for _, m := range s.Marks {
			if err := checkNumbers(of, m.Value); err != nil {
				return err
			}
		}
		drawn += len(s.Marks)
		if s.Mean != nil {
			drawn++
			if err := checkNumbers(of, *s.Mean); err != nil {
				return err
			}
		}
		if s.Interval != nil {
			if err := checkInterval(of, s.Interval.Low, s.Interval.High); err != nil {
				return err
			}
		}
	}
	for _, l := range f.Lines {
		if err := checkNumbers(fmt.Sprintf("line %q", l.Name), l.Value); err != nil {
			return err
		}
	}
	if err := checkNumbers("the accuracy", f.Accuracy); err != nil {
		return err
	}
	switch {
	case f.Accuracy < 0:
		return fmt.Errorf("%w: the accuracy is below zero", ErrNumber)
	case drawn == 0:
		return fmt.Errorf("%w: figure %s has no readings", ErrEmpty, f.ID)
	}
	return checkLabels(labels)
}

// Draw draws the figure. It is an error when there is nothing to draw, or when a
// number, a label or the id cannot be used.
func (f Marks) Draw() ([]byte, error) { return svg(f) }

func (f Marks) lay(on sheet) (*laid, error) {
	c, err := newCard(f.Head, on)
	if err != nil {
		return nil, err
	}
	if err := f.check(); err != nil {
		return nil, err
	}
	for _, sample := range f.Samples {
		c.makeRoomFor(sample.Label, sample.Note)
	}
	c.margins(16, 16)
	s, unit := f.scale(c)
	c.caption(f.Quantity, unit)
	c.key(f.keyItems(c, s))
	bands := []band{f.lineNames(c, s)}
	for _, sample := range f.Samples {
		drawn := paragraph([]string{c.words.NoReadings}, plain(mutedName), smallSize, c.left)
		if len(sample.Marks) > 0 || sample.Mean != nil {
			drawn = sample.strip(s, c.room())
		}
		bands = append(bands, c.sample(sample.Label, sample.Note, drawn)...)
	}
	for i := range bands {
		bands[i] = f.crossed(bands[i], i == 0)
	}
	return c.drawRows(s, bands)
}

// scale holds all readings, means and lines. An interval may widen it by as much
// as the readings take; one that is wider still is cut and ends in an arrow.
func (f Marks) scale(c *card) (s scale, unit string) {
	var values []float64
	for _, s := range f.Samples {
		for _, m := range s.Marks {
			values = append(values, m.Value)
		}
		if s.Mean != nil {
			values = append(values, *s.Mean)
		}
	}
	for _, l := range f.Lines {
		values = append(values, l.Value)
	}
	low, high := spread(values, 4*f.Accuracy)
	core := Interval{low, high}
	span := high - low
	for _, s := range f.Samples {
		if s.Interval != nil {
			low = min(low, max(s.Interval.Low-0.02*span, core.Low-span))
			high = max(high, min(s.Interval.High+0.02*span, core.High+span))
		}
	}
	if f.Time {
		return timeScale(low, high, c.frame(), c.words)
	}
	steps := ladder(tens)
	if f.Whole {
		steps = wholes
	}
	return newScale(low, high, c.frame(), steps, c.words.marked(plainNumber)), f.Unit
}

func (f Marks) keyItems(c *card, s scale) []keyItem {
	var marks, aside, mean, interval bool
	for _, sample := range f.Samples {
		for _, m := range sample.Marks {
			marks, aside = marks || !m.SetAside, aside || m.SetAside
		}
		mean, interval = mean || sample.Mean != nil, interval || sample.Interval != nil
	}
	grey := plain(mutedName)
	var items []keyItem
	if marks {
		items = append(items, keyItem{7, func(p pen, x, y float64) { p.dot(grey, x+3.5, y, 3.5) }, c.words.Piece})
	}
	if aside {
		items = append(items, keyItem{7, func(p pen, x, y float64) { p.ring(stroke(grey, 1.25), x+3.5, y, 2.9) }, c.words.SetAside})
	}
	if mean {
		items = append(items, keyItem{4, func(p pen, x, y float64) { p.line(stroke(grey, 2.5), x+2, y-6, x+2, y+6) }, c.words.Mean})
	}
	if interval {
		items = append(items, keyItem{18, func(p pen, x, y float64) { p.area(grey.as(hatched), x, y-4, 18, 8) }, c.words.Interval})
	}
	if f.Accuracy > 0 {
		long := c.room() * 2 * f.Accuracy / (s.high - s.low)
		words := c.words.Thermometer
		if w := clean(f.Written); w != "" {
			words += " " + w
		}
		items = append(items, keyItem{long, func(p pen, x, y float64) { whisker(p, x, x+long, y, grey) }, words})
	}
	return items
}

// crossed draws the figure's lines through a band, behind what is in it. Through
// names they do not run.
func (f Marks) crossed(b band, first bool) band {
	if len(f.Lines) == 0 || first || !b.ruled {
		return b
	}
	inner := b.draw
	b.draw = func(p pen, top float64) {
		for _, l := range f.Lines {
			p.line(stroke(plain(boilName), 1.25, 4, 2), p.at(l.Value), top, p.at(l.Value), top+b.height)
		}
		inner(p, top)
	}
	return b
}

// lineNames is the band that names the lines, each on a row of its own beside the
// head of its line.
func (f Marks) lineNames(c *card, s scale) band {
	const leading = 15.0
	names := make([]string, len(f.Lines))
	for i, l := range f.Lines {
		name := clean(l.Name)
		x := c.left + c.room()*(l.Value-s.low)/(s.high-s.low)
		if names[i] = shorten(name, smallSize, max(x, c.wide-x)-8); names[i] != name {
			c.full = append(c.full, name)
		}
	}
	height := leading * float64(len(f.Lines))
	return band{height: height, draw: func(p pen, top float64) {
		for i, l := range f.Lines {
			x, y := p.at(l.Value), top+leading*float64(i)
			p.line(stroke(plain(boilName), 1.25, 4, 2), x, y+2, x, y+leading)
			if x > c.wide/2 {
				p.text(plain(boilName).at(end), smallSize, x-5, y+11, names[i])
			} else {
				p.text(plain(boilName), smallSize, x+5, y+11, names[i])
			}
		}
	}}
}

// strip is one sample's marks, with its interval and mean under them.
func (m MarkSample) strip(s scale, room float64) band {
	radius := 3.5
	if len(m.Marks) > 60 {
		radius = 2.25
	}
	at := func(v float64) float64 { return room * (v - s.low) / (s.high - s.low) }
	lanes, count := stackMarks(m.Marks, at, 2*radius+.5)
	marksHeight := (2*radius + 1) * float64(count)
	height := 4 + marksHeight + 2
	if m.Mean != nil || m.Interval != nil {
		height += 12
	}
	return band{height: height + 2, ruled: true, draw: func(p pen, top float64) {
		bottom := top + 4 + marksHeight
		m.summary(p, s, top+2, bottom+6)
		for _, open := range []bool{false, true} {
			for i, mark := range m.Marks {
				if mark.SetAside != open {
					continue
				}
				x, y := p.at(mark.Value), bottom-radius-(2*radius+1)*float64(lanes[i])-.5
				if open {
					p.ring(stroke(inkOf(m.Label), 1.25), x, y, radius-.6)
				} else {
					p.dot(inkOf(m.Label), x, y, radius)
				}
			}
		}
	}}
}

// summary draws the interval as a hatched bar about y and the mean as a line
// through it and the marks above.
func (m MarkSample) summary(p pen, s scale, top, y float64) {
	const half = 4.0
	colour := inkOf(m.Label)
	if m.Interval != nil {
		x0, x1 := p.at(max(m.Interval.Low, s.low)), p.at(min(m.Interval.High, s.high))
		p.area(colour.as(hatched), x0, y-half, x1-x0, 2*half)
		if m.Interval.Low < s.low {
			arrow(p, colour, x0, y, -1)
		}
		if m.Interval.High > s.high {
			arrow(p, colour, x1, y, 1)
		}
	}
	if m.Mean != nil {
		p.line(stroke(colour, 2.5), p.at(*m.Mean), y-half-2, p.at(*m.Mean), y+half+1)
	}
}

// arrow says that an interval goes on beyond the axis.
func arrow(p pen, colour paint, x, y, way float64) {
	p.line(stroke(colour, 1.5), x+way, y-4, x+5*way, y, x+way, y+4)
}

// stackMarks gives each mark a lane, 0 at the bottom, so that marks side by side do
// not hide each other: the lowest lane whose last mark is apart units away. Beyond
// nine lanes they overlap.
func stackMarks(marks []Mark, at func(float64) float64, apart float64) (lanes []int, count int) {
	order := make([]int, len(marks))
	for i := range order {
		order[i] = i
	}
	sortBy(order, func(i int) float64 { return marks[i].Value })
	lanes = make([]int, len(marks))
	var last []float64
	const most = 9
	for _, i := range order {
		x, lane := at(marks[i].Value), -1
		for k, taken := range last {
			if x-taken >= apart {
				lane = k
				break
			}
		}
		if lane < 0 && len(last) < most {
			lane, last = len(last), append(last, math.Inf(-1))
		}
		if lane < 0 {
			lane = leftmost(last)
		}
		lanes[i], last[lane] = lane, x
	}
	return lanes, len(last)
}

func leftmost(xs []float64) int {
	at := 0
	for i, x := range xs {
		if x < xs[at] {
			at = i
		}
	}
	return at
}
