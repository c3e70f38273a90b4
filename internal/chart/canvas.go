package chart

import (
	"errors"
	"image"
	"strings"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// canvas takes what the plot library draws and keeps it as SVG elements. It is a
// vg.Canvas: the origin is at the bottom left and one length is one unit of the
// view box. Paths that follow each other in the same dress become one element.
type canvas struct {
	wardrobe
	wide, height float64

	body    strings.Builder
	open    string // attributes of the path element being filled, "" when there is none
	path    pathData
	hatches map[string]bool // inks whose pattern needs a definition
	refused error
}

func newCanvas(wide, height float64) *canvas {
	return &canvas{wardrobe: newWardrobe(affine{xx: 1, yy: 1}), wide: wide, height: height, hatches: map[string]bool{}}
}

// Size returns the size of the view box.
func (c *canvas) Size() (x, y vg.Length) { return vg.Length(c.wide), vg.Length(c.height) }

// Fill fills a path.
func (c *canvas) Fill(p vg.Path) {
	attributes := ""
	name := c.state.paint.name
	switch c.state.paint.filling {
	case hatched:
		c.hatches[name] = true
		attributes = ` fill="url(#` + patternMark + name + `)"`
	case tinted:
		attributes = ` class="` + name + `" opacity="` + number(tint) + `"`
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
	if len(c.state.dash) > 0 {
		lengths := make([]string, len(c.state.dash))
		for i, l := range c.state.dash {
			lengths[i] = number(float64(l))
		}
		attributes += ` stroke-dasharray="` + strings.Join(lengths, " ") + `"`
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
