// Package chart draws the figures of a write-up as SVG: cook times by piece,
// marks with means and intervals, shares, differences, scores by assessor,
// thermometer curves and grouped bars.
//
// It is handed numbers, labels and words, and it computes nothing: no mean, no
// interval, no quantile, no count. What it works out is where things go: the
// range of an axis, its ticks, where a label breaks. The one sum in it is the
// length of a stacked bar. It refuses to guess: an empty figure, a number that
// is not finite or an interval that is turned around is an error.
//
// Every figure is one svg element, 360 units wide, made to stand inside an HTML
// page. It holds a title and a description, real text in the page's typeface, and
// no style, no script, no picture and no address to load from, so that it obeys
// the strictest policy a page can be sent with. Colours are classes: the page's
// style sheet gives .ink-a to .ink-l, .figure-text, .figure-muted, .figure-rule
// and .figure-boil a colour each, and says what .line, .small, .mid and .end are.
// [File] adds the few rules that a figure needs to stand alone. The same input
// gives the same bytes.
//
// [Share] is the picture that stands for a trial where its address is shared: one of
// the figures on a card with the title, painted as a PNG with the colours of a theme
// and the fonts of the plot library, never with those of a machine.
package chart

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// Head is what every figure carries beside its numbers.
type Head struct {
	ID          string // begins every id in the figure: a letter, then letters a-z, digits and hyphens
	Title       string // the figure's name for those who cannot see it; must not be empty
	Description string // what the figure shows, in a sentence or two; names shortened in the figure are added
	Words       Words  // the few words that the figure itself says; empty ones are in English
}

// Describe returns the description.
func (h Head) Describe() string { return h.Description }

// Words are the words that figures say of their own accord, in the language of
// the page. An empty word stands for the English one in its comment.
type Words struct {
	Piece       string // one piece
	Mean        string // mean
	Interval    string // 95 % interval
	SetAside    string // set aside
	NoReadings  string // no readings
	Thermometer string // thermometer
	OneFactor   string // one factor differs
	MoreFactors string // more than one differs
	Minutes     string // min:s
	Hours       string // h:min
	Seconds     string // h:min:s
	Points      string // percentage points
	Decimal     string // . (parts whole from broken)
}

func (w Words) orEnglish() Words {
	for _, pair := range []struct {
		word    *string
		english string
	}{
		{&w.Piece, "one piece"},
		{&w.Mean, "mean"},
		{&w.Interval, "95\u00a0% interval"},
		{&w.SetAside, "set aside"},
		{&w.NoReadings, "no readings"},
		{&w.Thermometer, "thermometer"},
		{&w.OneFactor, "one factor differs"},
		{&w.MoreFactors, "more than one differs"},
		{&w.Minutes, "min:s"},
		{&w.Hours, "h:min"},
		{&w.Seconds, "h:min:s"},
		{&w.Points, "percentage points"},
		{&w.Decimal, "."},
	} {
		if *pair.word = clean(*pair.word); *pair.word == "" {
			*pair.word = pair.english
		}
	}
	return w
}

// marked writes numbers with the language's decimal mark instead of a point.
func (w Words) marked(write func(v, step float64) string) func(v, step float64) string {
	return func(v, step float64) string { return strings.Replace(write(v, step), ".", w.Decimal, 1) }
}

// Label says whose numbers these are. A sample keeps its letter, ink and pattern
// through a whole write-up.
type Label struct {
	Letter string // "A"; at most three letters
	Name   string // "Boiling water"; wrapped to two lines, then shortened with …
	Index  int    // 0 to 11: which ink and pattern
}

// Line is a value drawn across a figure, such as the boiling point of water.
type Line struct {
	Name  string // "water boils, 99.6 °C"
	Value float64
}

// Errors that a figure's input can earn, to be told apart with errors.Is.
var (
	ErrEmpty  = errors.New("nothing to draw")          // no samples, no readings
	ErrNumber = errors.New("a number cannot be drawn") // not finite, out of range, or too few or many of them
	ErrLabel  = errors.New("a label cannot be used")   // an id, title, letter, ink, or number of samples
)

// furthest bounds every value: beyond it an axis could not be labelled legibly.
const furthest = 1e9

func (h Head) check() error {
	if h.ID == "" || h.ID[0] < 'a' || h.ID[0] > 'z' {
		return fmt.Errorf("%w: the figure's id %q does not begin with a letter a to z", ErrLabel, h.ID)
	}
	for _, r := range h.ID {
		if (r < 'a' || r > 'z') && (r < '0' || r > '9') && r != '-' {
			return fmt.Errorf("%w: the figure's id %q holds %q (letters a to z, digits and hyphens)", ErrLabel, h.ID, r)
		}
	}
	if clean(h.Title) == "" {
		return fmt.Errorf("%w: figure %s has no title", ErrLabel, h.ID)
	}
	return nil
}

func (l Label) check() error {
	if l.Index < 0 || l.Index >= inkCount {
		return fmt.Errorf("%w: sample %q has ink %d (0 to %d)", ErrLabel, l.Name, l.Index, inkCount-1)
	}
	if len([]rune(clean(l.Letter))) > 3 {
		return fmt.Errorf("%w: the letter %q is longer than three letters", ErrLabel, l.Letter)
	}
	return nil
}

// checkLabels accepts 1 to 12 samples.
func checkLabels(labels []Label) error {
	if len(labels) == 0 {
		return fmt.Errorf("%w: no samples", ErrEmpty)
	}
	if len(labels) > inkCount {
		return fmt.Errorf("%w: %d samples (at most %d)", ErrLabel, len(labels), inkCount)
	}
	for _, l := range labels {
		if err := l.check(); err != nil {
			return err
		}
	}
	return nil
}

func checkNumbers(of string, values ...float64) error {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%w: %s has a value that is not finite", ErrNumber, of)
		}
		if math.Abs(v) > furthest {
			return fmt.Errorf("%w: %s has a value beyond ±%g", ErrNumber, of, furthest)
		}
	}
	return nil
}

func checkInterval(of string, low, high float64) error {
	if err := checkNumbers(of, low, high); err != nil {
		return err
	}
	if low > high {
		return fmt.Errorf("%w: the interval of %s ends before it begins", ErrNumber, of)
	}
	return nil
}

// clean makes text from outside safe to set: runs of white space become one
// space, control characters, marks that turn the writing direction and what is
// not valid in XML are dropped. No-break spaces stay.
func clean(s string) string {
	var kept strings.Builder
	gap := false
	for _, r := range s {
		switch {
		case r == ' ' || r == '\t' || r == '\n' || r == '\r' || r == '\u2028' || r == '\u2029':
			gap = true
			continue
		case r < 0x20 || r >= 0x7f && r < 0xa0 || r == '\ufffd' || r == '\ufffe' || r == '\uffff' || r == '\ufeff':
			continue
		case r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069':
			continue
		case r&0xfffe == 0xfffe: // the last two of each plane are no characters
			continue
		}
		if gap && kept.Len() > 0 {
			kept.WriteByte(' ')
		}
		gap = false
		kept.WriteRune(r)
	}
	return kept.String()
}
