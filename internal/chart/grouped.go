package chart

import (
	"fmt"
	"math"
)

// Grouped is the same few quantities for several things side by side, such as
// foods swapped for each other: a group of bars a quantity, a bar a thing, all on
// one axis from zero.
type Grouped struct {
	Head
	Quantity string // caption: "per tablespoon"; may be empty
	Unit     string // "g"
	Groups   []string
	Series   []Label
	Bars     [][]Bar // Bars[g][s]: group g, series s
}

// Bar is one value; Written is how the write-up prints it ("14 g"), set beside the
// bar. A missing value is drawn as missing, never as 0.
type Bar struct {
	Value   float64
	Written string
	Missing bool
}

func (f Grouped) check() error {
	if err := checkLabels(f.Series); err != nil {
		return err
	}
	if len(f.Groups) == 0 {
		return fmt.Errorf("%w: figure %s has no groups", ErrEmpty, f.ID)
	}
	if len(f.Bars) != len(f.Groups) {
		return fmt.Errorf("%w: %d rows of bars for %d groups", ErrNumber, len(f.Bars), len(f.Groups))
	}
	for g, row := range f.Bars {
		if len(row) != len(f.Series) {
			return fmt.Errorf("%w: group %q has %d bars for %d things", ErrNumber, f.Groups[g], len(row), len(f.Series))
		}
		for _, b := range row {
			if b.Missing {
				continue
			}
			if err := checkNumbers(fmt.Sprintf("group %q", f.Groups[g]), b.Value); err != nil {
				return err
			}
		}
	}
	return nil
}

// Draw draws the figure. It is an error when there is nothing to draw, or when a
// number, a label or the id cannot be used.
func (f Grouped) Draw() ([]byte, error) { return svg(f) }

func (f Grouped) lay(on sheet) (*laid, error) {
	c, err := newCard(f.Head, on)
	if err != nil {
		return nil, err
	}
	if err := f.check(); err != nil {
		return nil, err
	}
	low, high, written := 0.0, 0.0, 0.0
	for _, row := range f.Bars {
		for _, b := range row {
			if !b.Missing {
				low, high = min(low, b.Value), max(high, b.Value)
			}
			written = max(written, width(clean(b.Written), smallSize))
		}
	}
	if high-low < 1e-6 {
		high = low + 1
	}
	for _, l := range f.Series {
		c.left = max(c.left, width(clean(l.Letter), smallSize)+8)
	}
	c.right = min(max(written+7, 14), 120)
	s := newScale(low, high, c.frame(), tens, c.words.marked(plainNumber))
	c.caption(f.Quantity, f.Unit)
	c.key(sampleKey(f.Series, 22, func(p pen, l Label, x, y float64) {
		p.area(inkOf(l).as(hatched), x, y-5, 16, 10)
	}))
	var bands []band
	for g, name := range f.Groups {
		lines, whole := wrap(clean(name), nameSize, c.wide-2, 2)
		if !whole {
			c.full = append(c.full, clean(name))
		}
		bands = append(bands, band{height: 8, draw: func(pen, float64) {}}, paragraph(lines, plain(textName), nameSize, 0))
		bands = append(bands, f.group(f.Bars[g], c))
	}
	return c.drawRows(s, bands)
}

func (f Grouped) group(bars []Bar, c *card) band {
	const row, thick = 16.0, 11.0
	left, right := c.left, c.right
	return band{height: row * float64(len(bars)), ruled: true, draw: func(p pen, top float64) {
		zero := p.at(0)
		for i, b := range bars {
			y := top + row*float64(i) + row/2
			l := f.Series[i]
			p.text(plain(textName).at(end), smallSize, left-5, y+4, clean(l.Letter))
			if b.Missing {
				p.text(plain(mutedName), smallSize, zero+5, y+4, "–")
				continue
			}
			x := p.at(b.Value)
			p.area(inkOf(l).as(hatched), min(zero, x), y-thick/2, math.Abs(x-zero), thick)
			p.line(stroke(inkOf(l), 2), x, y-thick/2, x, y+thick/2)
			if w := clean(b.Written); w != "" {
				p.text(plain(textName), smallSize, max(x, zero)+5, y+4, shorten(w, smallSize, right-5))
			}
		}
		p.line(stroke(plain(mutedName), 1), zero, top, zero, top+row*float64(len(bars)))
	}}
}
