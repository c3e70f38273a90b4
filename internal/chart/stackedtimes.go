package chart

import (
	"fmt"
	"math"
	"slices"
)

// StackedTimes is cook time by piece: a bar a piece, its parts end to end, the
// pieces grouped by sample. Pieces set aside are drawn open and dashed.
type StackedTimes struct {
	Head
	Quantity string   // caption: "time on the griddle"; may be empty
	Parts    []string // 1 to 4 names of the stacked parts: "side 1", "side 2"
	Samples  []TimeSample
}

// TimeSample is one sample's pieces. Note is set at the right of the name, as the
// write-up prints it ("mean 1:10"); it may be empty.
type TimeSample struct {
	Label
	Note   string
	Pieces []TimePiece
}

// TimePiece is one piece: Seconds has one value, 0 or more, for each part. Missing
// says which of them were not read (nil: none); their Seconds do not count.
type TimePiece struct {
	Name     string
	Seconds  []float64
	Missing  []bool
	SetAside bool
}

func (t TimePiece) missing(part int) bool { return part < len(t.Missing) && t.Missing[part] }

// total is the length of the bar, in seconds, and whether a part of it is missing.
func (t TimePiece) total() (sum float64, short bool) {
	for i, s := range t.Seconds {
		if t.missing(i) {
			short = true
			continue
		}
		sum += s
	}
	return sum, short
}

// written is the total beside the bar: 1:10, or 0:40 + ? where a part is missing.
// Where the axis counts hours, so does every total: 0:40:00.
func (t TimePiece) written(look barLook) string {
	sum, short := t.total()
	step := 1.0
	if sum != math.Trunc(sum) {
		step = 0.1
	}
	minutes := look.words.marked(minutes)
	if look.long {
		minutes = look.words.marked(longMinutes)
	}
	switch {
	case !short:
		return minutes(sum, step)
	case sum == 0:
		return "?"
	}
	return minutes(sum, step) + " + ?"
}

func (f StackedTimes) check() error {
	var labels []Label
	pieces := 0
	for _, s := range f.Samples {
		labels = append(labels, s.Label)
		pieces += len(s.Pieces)
		for _, t := range s.Pieces {
			if err := f.checkPiece(s, t); err != nil {
				return err
			}
		}
	}
	switch {
	case len(f.Parts) == 0:
		return fmt.Errorf("%w: figure %s has no parts", ErrEmpty, f.ID)
	case len(f.Parts) > 4:
		return fmt.Errorf("%w: %d parts (at most 4)", ErrLabel, len(f.Parts))
	case pieces == 0:
		return fmt.Errorf("%w: figure %s has no pieces", ErrEmpty, f.ID)
	}
	return checkLabels(labels)
}

func (f StackedTimes) checkPiece(s TimeSample, t TimePiece) error {
	of := fmt.Sprintf("piece %q of sample %q", t.Name, s.Name)
	if len(t.Seconds) != len(f.Parts) || len(t.Missing) > len(f.Parts) {
		return fmt.Errorf("%w: %s has %d times for %d parts", ErrNumber, of, len(t.Seconds), len(f.Parts))
	}
	for i, v := range t.Seconds {
		if t.missing(i) {
			continue
		}
		if err := checkNumbers(of, v); err != nil {
			return err
		}
		if v < 0 {
			return fmt.Errorf("%w: %s has a time below zero", ErrNumber, of)
		}
	}
	return nil
}

// Draw draws the figure. It is an error when there is nothing to draw, or when a
// number, a label or the id cannot be used.
func (f StackedTimes) Draw() ([]byte, error) { return svg(f) }

func (f StackedTimes) lay(on sheet) (*laid, error) {
	c, err := newCard(f.Head, on)
	if err != nil {
		return nil, err
	}
	if err := f.check(); err != nil {
		return nil, err
	}
	for _, s := range f.Samples {
		c.makeRoomFor(s.Label, s.Note)
	}
	look := f.look(c)
	c.caption(f.Quantity, look.unit)
	c.key(f.keyItems(c))
	var bands []band
	for _, s := range f.Samples {
		drawn := paragraph([]string{c.words.NoReadings}, plain(mutedName), smallSize, c.left)
		if len(s.Pieces) > 0 {
			drawn = f.bars(s, look)
		}
		bands = append(bands, c.sample(s.Label, s.Note, drawn)...)
	}
	bands = append(bands, band{height: 6, ruled: true, draw: func(pen, float64) {}})
	return c.drawRows(look.scale, bands)
}

// barLook is the common measure of all bars in a figure.
type barLook struct {
	scale  scale
	unit   string
	row    float64 // height of a row
	long   bool    // the axis counts hours
	worded bool    // rows are high enough for their names and totals
	gutter float64 // where the field begins
	names  float64 // how wide a piece's name may be
	words  Words
}

// look fits the rows: up to 45 pieces have a name and a total each, beyond that
// the bars get thinner and the words go; on a broad sheet, which is low, from 13 on.
func (f StackedTimes) look(c *card) barLook {
	longest, names, totals, pieces := 0.0, 0.0, 0.0, 0
	for _, s := range f.Samples {
		for _, t := range s.Pieces {
			sum, _ := t.total()
			longest = max(longest, sum)
			names = max(names, width(clean(t.Name), smallSize))
			pieces++
		}
	}
	longest = max(longest, 10)
	look := barLook{row: 14, long: longest > 3600, words: c.words}
	for _, s := range f.Samples {
		for _, t := range s.Pieces {
			totals = max(totals, width(t.written(look), smallSize))
		}
	}
	most, room := 45, 600.0
	if c.broad {
		most, room = 12, 150
	}
	if look.worded = pieces <= most; look.worded {
		c.margins(max(min(names, 84)+7, 22), totals+7)
	} else {
		look.row = max(room/float64(pieces), 3)
		c.margins(22, 22)
	}
	look.gutter, look.names = c.left, c.left-c.names-5
	look.scale, look.unit = timeScale(0, longest, c.frame(), c.words)
	return look
}

// partFilling says how a part of a stack is filled: a single part shows the
// sample's pattern, several take turns.
func partFilling(part, of int) filling {
	if of == 1 {
		return hatched
	}
	return [...]filling{solid, hatched, tinted, framed}[part]
}

// keyItems explains the parts, in a grey that belongs to no sample, and the open
// bars where there are any.
func (f StackedTimes) keyItems(c *card) []keyItem {
	var items []keyItem
	if len(f.Parts) > 1 {
		for i, name := range f.Parts {
			look := plain(mutedName).as(partFilling(i, len(f.Parts)))
			items = append(items, keyItem{width: 16, words: clean(name), draw: func(p pen, x, y float64) {
				p.segment(look, x, y-4.5, 16, 9)
			}})
		}
	}
	open := slices.ContainsFunc(f.Samples, func(s TimeSample) bool {
		return slices.ContainsFunc(s.Pieces, func(t TimePiece) bool { return t.SetAside })
	})
	if open {
		items = append(items, keyItem{width: 16, words: c.words.SetAside, draw: func(p pen, x, y float64) {
			p.box(stroke(plain(mutedName), 1, 2, 2), x+.5, y-4, 15, 8)
		}})
	}
	return items
}

// bars is one sample's rows. Each dress is drawn for all pieces at once, so that it
// becomes one path.
func (f StackedTimes) bars(s TimeSample, look barLook) band {
	thick := look.row * 0.68
	return band{height: look.row * float64(len(s.Pieces)), ruled: true, draw: func(p pen, top float64) {
		top += (look.row - thick) / 2
		for part := range f.Parts {
			colour := inkOf(s.Label).as(partFilling(part, len(f.Parts)))
			f.eachPart(s, part, func(i int, from, to float64, open bool) {
				if !open {
					p.segment(colour, p.at(from), top+look.row*float64(i), p.at(to)-p.at(from), thick)
				}
			})
		}
		for part := range f.Parts {
			f.eachPart(s, part, func(i int, from, to float64, open bool) {
				if open {
					p.box(stroke(inkOf(s.Label), min(1, thick/3), 2, 2),
						p.at(from)+.5, top+look.row*float64(i)+.5, max(p.at(to)-p.at(from)-1, 0), thick-1)
				}
			})
		}
		if look.worded {
			wordRows(p, s, look, top+thick/2)
		}
	}}
}

// eachPart calls draw with where a part begins and ends in each piece's bar.
func (f StackedTimes) eachPart(s TimeSample, part int, draw func(i int, from, to float64, open bool)) {
	for i, t := range s.Pieces {
		if t.missing(part) {
			continue
		}
		from := 0.0
		for k := range part {
			if !t.missing(k) {
				from += t.Seconds[k]
			}
		}
		draw(i, from, from+t.Seconds[part], t.SetAside)
	}
}

// wordRows sets the pieces' names before and their totals after the bars.
func wordRows(p pen, s TimeSample, look barLook, y float64) {
	for i, t := range s.Pieces {
		baseline := y + look.row*float64(i) + 4
		if name := clean(t.Name); name != "" {
			p.text(plain(mutedName).at(end), smallSize, look.gutter-5, baseline, shorten(name, smallSize, look.names))
		}
		sum, _ := t.total()
		p.text(plain(textName), smallSize, p.at(sum)+5, baseline, t.written(look))
	}
}
