package chart

import (
	"errors"
	"fmt"
	"regexp"
	"strings"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// Size of a share picture in pixels: the shape in which most places show one.
const (
	ShareWidth  = 1200
	ShareHeight = 630
)

// Share is a picture that stands for a trial where its address is shared: a card with
// the trial's title and a figure.
type Share struct {
	Title    string
	Question string // stands in the place of a figure
	Kitchen  string // whose trial it is, small
	Note     string // one or two words in the upper corner; may be empty
	Figure   Figure // nil: title and question alone
	// Colours are those of a theme on light paper, by the names of its custom
	// properties without the hyphens: the inks, the neutral colours of figures, and
	// card, paper, text, muted, rule and red. Each is #rrggbb.
	Colours map[string]string
}

// ErrColour says that a share picture was not given a colour.
var ErrColour = errors.New("a colour is missing")

// Names of the theme's colours about a figure.
const (
	cardName  = "card"
	paperName = "paper"
	titleName = "text"
	quietName = "muted"
	edgeName  = "rule"
	redName   = "red"
)

func (s Share) check() error {
	names := []string{cardName, paperName, titleName, quietName, edgeName, redName}
	for _, list := range [][]Ink{neutrals(), Inks()} {
		for _, ink := range list {
			names = append(names, ink.Name)
		}
	}
	form := regexp.MustCompile(`^#[0-9a-f]{6}$`)
	for _, name := range names {
		if !form.MatchString(s.Colours[name]) {
			return fmt.Errorf("%w: %s is %q (want #rrggbb in small letters)", ErrColour, name, s.Colours[name])
		}
	}
	return nil
}

// Places on the card, in pixels from its upper left corner.
const (
	shareSide   = 32.0 // of paper beside the card
	shareHead   = 76.0 // where the card begins
	shareMargin = 72.0 // where its text begins
	shareFoot   = 26.0 // below the figure
)

// shareLayout says where the parts of a share picture stand.
type shareLayout struct {
	title    lines
	question lines
	rule     float64 // the line between title and figure
	figure   *laid   // nil: none
	scale    float64 // pixels a unit of the figure
	top      float64 // of the figure
}

// lines is a block of text.
type lines struct {
	font     font.Font
	text     []string
	baseline float64 // of the first line
	leading  float64
}

func (l lines) bottom() float64 {
	return l.baseline + l.leading*float64(len(l.text)-1) + 0.3*float64(l.font.Size)
}

// Draw paints the picture as a PNG. A figure that would be too small to read stays
// away, and the question stands in its place; what the font cannot set stays away.
func (s Share) Draw() ([]byte, error) {
	return new(Easel).Draw(s)
}

// Fits reports whether a figure can be shown large enough to be read.
func (s Share) Fits() (bool, error) {
	l, err := s.layout()
	return l.figure != nil, err
}

// drawCard draws the card and whose it is.
func (s Share) drawCard(p pen) {
	const right = ShareWidth - shareSide
	p.area(plain(cardName), shareSide, shareHead, right-shareSide, ShareHeight-shareHead)
	p.line(stroke(plain(edgeName), 2), shareSide, ShareHeight, shareSide, shareHead, right, shareHead, right, ShareHeight)
	p.block(plain(titleName), shareSide, lines{font: kitchenFont(32), text: []string{s.kitchen()}, baseline: 50})
	p.block(plain(quietName).at(end), right, lines{font: sansAt(24), text: []string{clean(s.Note)}, baseline: 49})
}

// drawTitle draws what the trial is about.
func (Share) drawTitle(p pen, l shareLayout) {
	p.block(plain(titleName), shareMargin, l.title)
	p.block(plain(quietName), shareMargin, l.question)
	p.line(stroke(plain(redName), 4), shareSide, l.rule, ShareWidth-shareSide, l.rule)
}

// kitchen is the kitchen's name, in at most half of the width.
func (s Share) kitchen() string {
	return inFont(kitchenFont(32)).shorten(clean(s.Kitchen), ShareWidth/2)
}

// block sets lines of text under each other.
func (p pen) block(colour paint, x float64, l lines) {
	p.c.SetColor(colour)
	for i, line := range l.text {
		p.c.FillString(inFont(l.font).face, p.point(x, l.baseline+l.leading*float64(i)), line)
	}
}

func titleFont(size float64) font.Font {
	return font.Font{Typeface: "Liberation", Variant: "Serif", Weight: xfont.WeightBold, Size: vg.Length(size)}
}

func kitchenFont(size float64) font.Font {
	return font.Font{Typeface: "Liberation", Variant: "Serif", Style: xfont.StyleItalic, Size: vg.Length(size)}
}

// layout finds a place for everything.
func (s Share) layout() (shareLayout, error) {
	if s.Figure != nil {
		l := shareLayout{title: titleLines(s.Title, 54, 46)}
		l.rule = l.title.bottom() + 14
		err := l.fit(s.Figure)
		if err != nil || l.figure != nil {
			return l, err
		}
	}
	l := shareLayout{title: titleLines(s.Title, 76, 64)}
	l.rule = l.title.bottom() + 24
	l.question = lines{font: kitchenFont(44), baseline: l.rule + 74, leading: 56}
	l.question.text = broken(l.question.font, s.Question, 3)
	return l, nil
}

// titleLines sets the title in two lines at most, or smaller in three.
func titleLines(title string, large, small float64) lines {
	l := lines{font: titleFont(large)}
	l.text = broken(l.font, title, 3)
	if len(l.text) > 2 {
		l.font = titleFont(small)
		l.text = broken(l.font, title, 3)
	}
	size := float64(l.font.Size)
	l.leading = 1.16 * size
	l.baseline = shareHead + 24 + 0.8*size
	return l
}

// broken is a text as far as the font can set it, in lines of the card's width.
func broken(f font.Font, s string, most int) []string {
	r := inFont(f)
	s = r.settable(s)
	if s == "" {
		return nil
	}
	text, whole := r.wrap(s, ShareWidth-2*shareMargin, most)
	last := &text[len(text)-1]
	if at := strings.LastIndexByte(*last, ' '); !whole && at > len(*last)/2 {
		*last = strings.TrimRight((*last)[:at], " ,;:–-") + "…" // rather than within a word
	}
	return text
}

// fit lays a figure out in what is left of the card, as large as it may be. Below
// the least scale its small type would be under 9 pixels where the picture is shown
// at half its size; then there is no figure.
func (l *shareLayout) fit(f Figure) error {
	const largest, least = 23, 16 // tenths of a pixel a unit
	const airMost = 16.0
	wide, top := ShareWidth-2*shareMargin, l.rule+22
	high := ShareHeight - shareFoot - top
	for tenths := largest; tenths >= least; tenths-- {
		scale := float64(tenths) / 10
		on := sheet{wide: wide / scale, broad: true}
		tried, err := f.lay(on)
		if err != nil {
			return err
		}
		spare := high/scale - tried.height
		if spare < 0 {
			continue
		}
		on.air = spare / float64(max(tried.rows, 1))
		if !tried.upright {
			on.air = min(on.air, airMost)
		}
		if l.figure, err = f.lay(on); err != nil {
			return err
		}
		l.scale = scale
		l.top = top + (high-l.figure.height*scale)/2
		return nil
	}
	return nil
}
