package chart

import (
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// band is a strip across the figure, drawn from its top.
type band struct {
	height float64
	ruled  bool // the ticks' lines run through it
	draw   func(p pen, top float64)
}

// card is a figure being laid out: bands above the field (caption, key), then the
// field with its axes.
type card struct {
	sheet
	head        Head
	words       Words
	above       []band
	left, right float64 // margins of the field
	names       float64 // on a broad sheet: the column of names left of the field
	rows        int     // rows that take air
	upright     bool    // the field takes any
	full        []string
}

func newCard(h Head, on sheet) (*card, error) {
	if err := h.check(); err != nil {
		return nil, err
	}
	return &card{sheet: on, head: h, words: h.Words.orEnglish(), left: 8, right: 8}, nil
}

// room is how wide the field is.
func (c *card) room() float64 { return c.wide - c.left - c.right }

func (c *card) frame() frame { return frame{c.left, c.room()} }

// caption says above the field what is measured and in what.
func (c *card) caption(quantity, unit string) {
	s := clean(quantity)
	if u := clean(unit); u != "" && s != "" {
		s += ", " + u
	} else if u != "" {
		s = u
	}
	if s == "" {
		return
	}
	lines, whole := wrap(s, smallSize, c.wide-2, 3)
	if !whole {
		c.full = append(c.full, s)
	}
	c.above = append(c.above, paragraph(lines, plain(mutedName), smallSize, 0))
}

// paragraph is a band of text lines.
func paragraph(lines []string, colour paint, size, x float64) band {
	leading := size + 3
	return band{height: leading*float64(len(lines)) + 3, draw: func(p pen, top float64) {
		for i, line := range lines {
			p.text(colour, size, x, top+leading*float64(i)+size-1, line)
		}
	}}
}

// keyItem explains one sign; draw is given the left end and the middle of its place.
type keyItem struct {
	width float64
	draw  func(p pen, x, y float64)
	words string
}

// key adds lines of signs and what they mean.
func (c *card) key(items []keyItem) {
	const leading, between, before = 17.0, 14.0, 5.0
	type placed struct {
		keyItem
		x    float64
		line int
	}
	var row []placed
	x, line := 0.0, 0
	for _, item := range items {
		if room := c.wide - 2 - item.width - before; width(item.words, smallSize) > room {
			c.full = append(c.full, item.words)
			item.words = shorten(item.words, smallSize, room)
		}
		taken := item.width + before + width(item.words, smallSize)
		if x > 0 && x+taken > c.wide-2 {
			x, line = 0, line+1
		}
		row = append(row, placed{item, x, line})
		x += taken + between
	}
	if len(row) == 0 {
		return
	}
	c.above = append(c.above, band{height: leading*float64(line+1) + 2, draw: func(p pen, top float64) {
		for _, item := range row {
			item.draw(p, item.x, top+leading*float64(item.line)+7)
		}
		for _, item := range row {
			p.text(plain(textName), smallSize, item.x+item.width+before, top+leading*float64(item.line)+11, item.words)
		}
	}})
}

const chipSize = 15.0

func chipWidth(letter string) float64 { return max(chipSize, width(letter, smallSize)+6) }

// chip draws a sample's letter in a frame of its ink.
func chip(p pen, l Label, x, y float64) {
	letter := clean(l.Letter)
	w := chipWidth(letter)
	p.box(stroke(inkOf(l), 1.5), x+.75, y-chipSize/2+.75, w-1.5, chipSize-1.5)
	p.text(plain(textName).at(middle), smallSize, x+w/2, y+4, letter)
}

// sampleKey lists samples by chip and name.
func sampleKey(labels []Label, swatch float64, draw func(p pen, l Label, x, y float64)) []keyItem {
	var items []keyItem
	for _, l := range labels {
		w := chipWidth(clean(l.Letter))
		items = append(items, keyItem{
			width: w + swatch,
			draw: func(p pen, x, y float64) {
				chip(p, l, x, y)
				if draw != nil {
					draw(p, l, x+w+4, y)
				}
			},
			words: clean(l.Name),
		})
	}
	return items
}

// rows is the field of a figure whose samples stand under each other: a plotter
// that draws bands, after the ticks' lines behind those that are ruled.
type rows struct {
	bands []band
	scale scale
	full  float64 // height of the whole figure
}

// Plot draws the bands from the top of the field down.
func (r rows) Plot(c draw.Canvas, p *plot.Plot) {
	x, _ := p.Transforms(&c)
	pen := pen{c: c, height: r.full, at: func(v float64) float64 { return float64(x(v)) }}
	first := r.full - float64(c.Max.Y)
	top := first
	ticks := r.scale.Ticks(r.scale.low, r.scale.high)
	for _, b := range r.bands {
		if b.ruled {
			for _, t := range ticks {
				pen.line(stroke(plain(ruleName), .75), pen.at(t.Value), top, pen.at(t.Value), top+b.height)
			}
		}
		top += b.height
	}
	top = first
	for _, b := range r.bands {
		b.draw(pen, top)
		top += b.height
	}
}

// newPlot returns a plot without the library's dress: no background, no title,
// thin rules, our own typeface and ticks.
func newPlot() *plot.Plot {
	p := plot.New()
	p.BackgroundColor = nil
	for _, axis := range []*plot.Axis{&p.X, &p.Y} {
		axis.LineStyle = stroke(plain(mutedName), 1)
		axis.Tick.LineStyle = stroke(plain(mutedName), 1)
		axis.Tick.Length = 4
		axis.Padding = 0
	}
	p.X.Tick.Label = textStyle(draw.XCenter, draw.YTop)
	p.Y.Tick.Label = textStyle(draw.XRight, draw.YCenter)
	p.X.Label.TextStyle = textStyle(draw.XCenter, draw.YBottom)
	p.Y.Label.TextStyle = textStyle(draw.XCenter, draw.YBottom)
	return p
}

// drawRows draws a figure of bands over a value axis.
func (c *card) drawRows(s scale, bands []band) (*laid, error) {
	p := newPlot()
	p.X.Min, p.X.Max, p.X.Tick.Marker = s.low, s.high, s
	p.Y.Min, p.Y.Max = 0, 1
	p.HideY()
	field := 0.0
	for _, b := range bands {
		field += b.height
	}
	return c.draw(p, field, func(full float64) []plot.Plotter {
		return []plot.Plotter{rows{bands: bands, scale: s, full: full}}
	})
}

// draw makes the figure so high that its field is field units high, and finishes it.
func (c *card) draw(p *plot.Plot, field float64, plotters func(full float64) []plot.Plotter) (*laid, error) {
	above := 0.0
	for _, b := range c.above {
		above += b.height
	}
	const trial, foot = 1000.0, 2.0
	inside := func(onto vg.CanvasSizer) draw.Canvas {
		whole := draw.New(onto)
		return draw.Crop(whole, vg.Length(c.left), -vg.Length(c.right), foot, -vg.Length(above))
	}
	measured := p.DataCanvas(inside(newCanvas(c.wide, trial)))
	full := field + trial - float64(measured.Max.Y-measured.Min.Y)
	p.Add(plotters(full)...)
	return &laid{head: c.head, full: c.full, wide: c.wide, height: full, rows: c.rows, upright: c.upright, draw: func(onto vg.CanvasSizer) {
		top := 0.0
		for _, b := range c.above {
			b.draw(pen{c: draw.New(onto), height: full}, top)
			top += b.height
		}
		p.Draw(inside(onto))
	}}, nil
}
