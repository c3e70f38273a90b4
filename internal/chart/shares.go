package chart

import (
	"fmt"
)

// Shares is how many pieces passed, sample by sample, as a bar with its interval:
// 4 of 6.
type Shares struct {
	Head
	Asks    string // caption: "rolls up without a crack"
	Samples []ShareSample
}

// ShareSample is one sample's count: Count of N pieces, Rate its share and Low to
// High the interval, all three as ratios 0 to 1; without an interval both are Rate. Note is set at the right of the
// name, as the write-up prints the count ("4 of 6"). With N 0 the row says that
// there are no readings and draws nothing.
type ShareSample struct {
	Label
	Note            string
	Count, N        int
	Rate, Low, High float64
}

func (s ShareSample) check() error {
	of := fmt.Sprintf("sample %q", s.Name)
	if s.N < 0 || s.Count < 0 || s.Count > s.N {
		return fmt.Errorf("%w: %s counts %d of %d", ErrNumber, of, s.Count, s.N)
	}
	if s.N == 0 {
		return nil
	}
	if err := checkInterval(of, s.Low, s.High); err != nil {
		return err
	}
	if err := checkNumbers(of, s.Rate); err != nil {
		return err
	}
	const slip = 1e-9
	if s.Rate < -slip || s.Rate > 1+slip || s.Low < -slip || s.High > 1+slip {
		return fmt.Errorf("%w: %s has a share outside 0 to 1", ErrNumber, of)
	}
	return nil
}

// Draw draws the figure. It is an error when there is nothing to draw, or when a
// number, a label or the id cannot be used.
func (f Shares) Draw() ([]byte, error) { return svg(f) }

func (f Shares) lay(on sheet) (*laid, error) {
	c, err := newCard(f.Head, on)
	if err != nil {
		return nil, err
	}
	var labels []Label
	for _, s := range f.Samples {
		if err := s.check(); err != nil {
			return nil, err
		}
		labels = append(labels, s.Label)
	}
	if err := checkLabels(labels); err != nil {
		return nil, err
	}
	for _, s := range f.Samples {
		c.makeRoomFor(s.Label, s.note(c.words))
	}
	c.margins(16, 20)
	c.caption(f.Asks, "")
	c.key([]keyItem{{width: 20, words: c.words.Interval, draw: func(p pen, x, y float64) { whisker(p, x, x+20, y, plain(textName)) }}})
	var bands []band
	for _, s := range f.Samples {
		bands = append(bands, c.sample(s.Label, s.note(c.words), shareBar(s))...)
	}
	return c.drawRows(scale{low: 0, high: 1, step: 0.25, write: percent}, bands)
}

func (s ShareSample) note(w Words) string {
	if s.N == 0 {
		return w.NoReadings
	}
	return s.Note
}

func shareBar(s ShareSample) band {
	return band{height: 20, ruled: true, draw: func(p pen, top float64) {
		const thick = 12.0
		left := p.at(0)
		p.box(stroke(plain(ruleName), .75), left, top+2, p.at(1)-left, thick)
		if s.N == 0 {
			return
		}
		if s.Rate > 0 {
			p.area(inkOf(s.Label).as(hatched), left, top+2, p.at(s.Rate)-left, thick)
		}
		p.line(stroke(inkOf(s.Label), 2), p.at(s.Rate), top+1, p.at(s.Rate), top+thick+3)
		if s.Low < s.High {
			whisker(p, p.at(s.Low), p.at(s.High), top+2+thick/2, plain(textName))
		}
	}}
}

// whisker is an interval: a line with a short stop at each end.
func whisker(p pen, x0, x1, y float64, colour paint) {
	const stop = 3.5
	line := stroke(colour, 1.5)
	p.line(line, x0, y, x1, y)
	p.line(line, x0, y-stop, x0, y+stop)
	p.line(line, x1, y-stop, x1, y+stop)
}
