package chart

import "fmt"

// Differences is the contrasts of a trial: each a difference with its interval,
// about a line at zero. A contrast in which one factor differs is filled, a
// confounded one open.
type Differences struct {
	Head
	Quantity string // caption: "thickness"; may be empty
	Unit     string // "mm"; not used for shares
	Share    bool   // values are differences of ratios, −1 to 1, shown in percentage points
	Time     bool   // values are seconds, shown as min:s
	Rows     []DifferenceRow
}

// DifferenceRow is one contrast. Note is set at the right of the name or under it,
// as the write-up prints it; it may be empty.
type DifferenceRow struct {
	Name             string // "Boiling water against cool water"
	Note             string
	Value, Low, High float64
	Filled           bool // exactly one factor differs
	Sum              bool // what other rows add up to: drawn as a lozenge from Low to High
}

func (f Differences) check() error {
	if len(f.Rows) == 0 {
		return fmt.Errorf("%w: figure %s has no contrasts", ErrEmpty, f.ID)
	}
	for _, r := range f.Rows {
		if err := checkInterval(fmt.Sprintf("contrast %q", r.Name), r.Low, r.High); err != nil {
			return err
		}
		if err := checkNumbers(fmt.Sprintf("contrast %q", r.Name), r.Value); err != nil {
			return err
		}
	}
	return nil
}

// Draw draws the figure. It is an error when there is nothing to draw, or when a
// number or the id cannot be used.
func (f Differences) Draw() ([]byte, error) { return svg(f) }

func (f Differences) lay(on sheet) (*laid, error) {
	c, err := newCard(f.Head, on)
	if err != nil {
		return nil, err
	}
	if err := f.check(); err != nil {
		return nil, err
	}
	for _, r := range f.Rows {
		c.makeRoom(0, r.Name, r.Note)
	}
	c.margins(20, 20)
	s, unit := f.scale(c)
	c.caption(f.Quantity, unit)
	c.key(f.keyItems(c))
	var bands []band
	for _, r := range f.Rows {
		bands = append(bands, c.contrast(r)...)
	}
	return c.drawRows(s, bands)
}

func (f Differences) scale(c *card) (s scale, unit string) {
	values := []float64{0}
	for _, r := range f.Rows {
		values = append(values, r.Value, r.Low, r.High)
	}
	least := 0.0
	if f.Share {
		least = 0.1
	} else if f.Time {
		least = 10
	}
	low, high := spread(values, least)
	switch {
	case f.Share:
		return newScale(low, high, c.frame(), tens, c.words.marked(signedPoints)), c.words.Points
	case f.Time:
		s, unit = timeScale(low, high, c.frame(), c.words)
		s.write = signed(s.write)
		return s, unit
	}
	return newScale(low, high, c.frame(), tens, c.words.marked(signedNumber)), f.Unit
}

func (f Differences) keyItems(c *card) []keyItem {
	var filled, open bool
	for _, r := range f.Rows {
		filled, open = filled || r.Filled, open || !r.Filled
	}
	var items []keyItem
	if filled {
		items = append(items, keyItem{width: 9, words: c.words.OneFactor, draw: func(p pen, x, y float64) {
			p.dot(plain(textName), x+4.5, y, 4)
		}})
	}
	if open {
		items = append(items, keyItem{width: 9, words: c.words.MoreFactors, draw: func(p pen, x, y float64) {
			p.ring(stroke(plain(textName), 1.5), x+4.5, y, 3.5)
		}})
	}
	return append(items, keyItem{width: 20, words: c.words.Interval, draw: func(p pen, x, y float64) {
		whisker(p, x, x+20, y, plain(textName))
	}})
}

func contrast(r DifferenceRow) band {
	return band{height: 20, ruled: true, draw: func(p pen, top float64) {
		y := top + 10
		colour := plain(textName)
		p.line(stroke(plain(mutedName), 1.25), p.at(0), top, p.at(0), top+20)
		x := p.at(r.Value)
		if r.Sum {
			low, high := p.at(r.Low), p.at(r.High)
			p.line(stroke(colour, 1.5), low, y, x, y-6, high, y, x, y+6, low, y)
			return
		}
		if r.Filled {
			whisker(p, p.at(r.Low), p.at(r.High), y, colour)
			p.dot(colour, x, y, 4.5)
			return
		}
		openWhisker(p, p.at(r.Low), p.at(r.High), y, x)
	}}
}

// openWhisker is an interval about an open dot: the line does not run through it.
func openWhisker(p pen, x0, x1, y, x float64) {
	const r, stop = 4.0, 3.5
	line := stroke(plain(textName), 1.5)
	if x-r > x0 {
		p.line(line, x0, y, x-r, y)
	}
	if x+r < x1 {
		p.line(line, x+r, y, x1, y)
	}
	p.line(line, x0, y-stop, x0, y+stop)
	p.line(line, x1, y-stop, x1, y+stop)
	p.ring(line, x, y, r)
}
