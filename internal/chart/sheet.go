package chart

import (
	"gonum.org/v1/plot/vg"
)

// sheet is what a figure is laid out on: a column of a page, where names stand above
// what is theirs, or a broad sheet, where they stand beside it.
type sheet struct {
	wide  float64
	broad bool
	air   float64 // on a broad sheet: what each row, or the field of curves, is higher than it must be
}

// column is the sheet of the figures on a page.
func column() sheet { return sheet{wide: wide} }

// Figure is one of the figures of this package.
type Figure interface {
	// Draw gives the figure as an svg element.
	Draw() ([]byte, error)
	// Describe says what the figure shows, in a sentence or two.
	Describe() string
	lay(on sheet) (*laid, error)
}

// laid is a figure laid out, ready to be drawn onto any canvas of its size.
type laid struct {
	head    Head
	full    []string // names that the figure shortens
	wide    float64
	height  float64
	rows    int  // how many rows would take air
	upright bool // one row, and it is a field that takes any
	draw    func(vg.CanvasSizer)
}

// svg lays a figure out as pages show it and draws it.
func svg(f Figure) ([]byte, error) {
	l, err := f.lay(column())
	if err != nil {
		return nil, err
	}
	return l.svg()
}

func (l *laid) svg() ([]byte, error) {
	c := newCanvas(l.wide, l.height)
	l.draw(c)
	return c.finish(l.head, l.full)
}
