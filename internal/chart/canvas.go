package chart

import (
	"errors"
	"image"
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// canvas takes what the plot library draws and keeps it as SVG elements. It is a
// vg.Canvas: the origin is at the bottom left and one length is one unit of the
// view box. Paths that follow each other in the same dress become one element.
type canvas struct {
	height float64
	state  dress
	stack  []dress

	body    strings.Builder
	open    string // attributes of the path element being filled, "" when there is none
	path    pathData
	hatches map[string]bool // inks whose pattern needs a definition
	refused error
}

// dress is how the next thing is drawn.
type dress struct {
	paint paint
	width float64
	dash  string
	shape affine
}

func newCanvas(height float64) *canvas {
	c := &canvas{height: height, hatches: map[string]bool{}}
	c.state = dress{paint: plain(textName), width: 1, shape: affine{xx: 1, yy: 1}}
	return c
}

// Size returns the size of the view box.
func (c *canvas) Size() (x, y vg.Length) { return vg.Length(wide), vg.Length(c.height) }

// SetLineWidth sets how wide the next lines are.
func (c *canvas) SetLineWidth(w vg.Length) { c.state.width = float64(w) }

// SetLineDash sets the dashes of the next lines. The figures begin every line with
// a whole dash, so the offset is not kept.
func (c *canvas) SetLineDash(pattern []vg.Length, _ vg.Length) {
	lengths := make([]string, len(pattern))
	for i, l := range pattern {
		lengths[i] = number(float64(l))
	}
	c.state.dash = strings.Join(lengths, " ")
}

// SetColor sets the next colour: a paint by its name, anything else as text.
func (c *canvas) SetColor(colour color.Color) {
	p, ok := colour.(paint)
	if !ok {
		p = plain(textName)
	}
	c.state.paint = p
}

// Rotate turns what follows, in radians, counterclockwise.
func (c *canvas) Rotate(angle float64) {
	sin, cos := math.Sincos(angle)
	c.state.shape = c.state.shape.after(affine{xx: cos, yx: sin, xy: -sin, yy: cos})
}

// Translate moves what follows.
func (c *canvas) Translate(by vg.Point) {
	c.state.shape = c.state.shape.after(affine{xx: 1, yy: 1, x0: float64(by.X), y0: float64(by.Y)})
}

// Scale stretches what follows.
func (c *canvas) Scale(x, y float64) { c.state.shape = c.state.shape.after(affine{xx: x, yy: y}) }

// Push keeps the dress for the Pop that belongs to it.
func (c *canvas) Push() { c.stack = append(c.stack, c.state) }

// Pop puts back the dress that Push kept.
func (c *canvas) Pop() {
	if len(c.stack) == 0 {
		return
	}
	c.state = c.stack[len(c.stack)-1]
	c.stack = c.stack[:len(c.stack)-1]
}

// Fill fills a path.
func (c *canvas) Fill(p vg.Path) {
	attributes := ""
	name := c.state.paint.name
	switch c.state.paint.filling {
	case hatched:
		c.hatches[name] = true
		attributes = ` fill="url(#` + patternMark + name + `)"`
	case tinted:
		attributes = ` class="` + name + `" opacity=".25"`
	default:
		attributes = ` class="` + name + `"`
	}
	c.add(attributes, p)
}

// Stroke draws a path's outline; a width that is not positive draws nothing.
func (c *canvas) Stroke(p vg.Path) {
	if c.state.width <= 0 {
		return
	}
	name := c.state.paint.name
	attributes := ` class="` + name + ` line"`
	if w := number(c.state.width * c.state.shape.scale()); w != "1" {
		attributes += ` stroke-width="` + w + `"`
	}
	if c.state.dash != "" {
		attributes += ` stroke-dasharray="` + c.state.dash + `"`
	}
	c.add(attributes, p)
}

// FillString sets a line of text; pt is on its baseline, at the paint's anchor.
func (c *canvas) FillString(f font.Face, pt vg.Point, s string) {
	if f.Font.Size == 0 || s == "" {
		return
	}
	c.close()
	name := c.state.paint.name
	classes := make([]string, 0, 3)
	if name != textName {
		classes = append(classes, name)
	}
	if f.Font.Size < nameSize {
		classes = append(classes, "small")
	}
	if a := [...]string{"", "mid", "end"}[c.state.paint.anchor]; a != "" {
		classes = append(classes, a)
	}
	x, y := c.state.shape.apply(float64(pt.X), float64(pt.Y))
	c.body.WriteString(`<text x="` + number(x) + `" y="` + number(c.height-y) + `"`)
	if len(classes) > 0 {
		c.body.WriteString(` class="` + strings.Join(classes, " ") + `"`)
	}
	if m := c.state.shape; m.xx != 1 || m.yy != 1 || m.xy != 0 || m.yx != 0 {
		c.body.WriteString(m.turnAbout(x, c.height-y))
	}
	c.body.WriteString(">" + escape(s) + "</text>")
}

var errPicture = errors.New("a figure holds no pictures")

// DrawImage refuses: a figure is lines, areas and text.
func (c *canvas) DrawImage(vg.Rectangle, image.Image) { c.refused = errPicture }

// add appends a path, to the element before it where the attributes are the same.
func (c *canvas) add(attributes string, p vg.Path) {
	if attributes != c.open {
		c.close()
		c.open = attributes
	}
	c.path.append(p, c.state.shape, c.height)
}

// close writes the path element that is open.
func (c *canvas) close() {
	if c.open != "" && c.path.data.Len() > 0 {
		c.body.WriteString("<path" + c.open + ` d="` + c.path.data.String() + `"/>`)
	}
	c.open = ""
	c.path = pathData{}
}
