package chart

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
)

// raster takes what the plot library draws and paints it into a picture. It is a
// vg.Canvas like the one for SVG, with the same named inks, patterns and anchors;
// one length is one unit of the figure, and shape says where in the picture it lies.
//
// So that every machine paints the same, places are rounded to a 64th of a pixel
// before they reach the painter, which counts in those, and letters are painted as
// outlines.
type raster struct {
	wardrobe
	sheets     *sheets
	wide, high float64 // of the figure, in units
	colours    map[string]string
	refused    error
}

// dots is the resolution at which a length of the plot library is one pixel.
const dots = 72

// Size returns the size of the figure.
func (c *raster) Size() (x, y vg.Length) { return vg.Length(c.wide), vg.Length(c.high) }

// colour is an ink in the colours of the picture. Whoever makes a picture checks
// that it has them all.
func (c *raster) colour(name string) color.RGBA { return hex(c.colours[name]) }

// tintOf is a colour of which the ground shows through.
func tintOf(c color.RGBA) color.NRGBA {
	return color.NRGBA{c.R, c.G, c.B, uint8(math.Round(tint * 255))}
}

// Fill fills a path.
func (c *raster) Fill(p vg.Path) {
	ink := c.colour(c.state.paint.name)
	switch c.state.paint.filling {
	case hatched:
		c.hatch(p, ink)
	case tinted:
		c.paint(c.sheets.canvas, p, tintOf(ink))
	default:
		c.paint(c.sheets.canvas, p, ink)
	}
}

func (c *raster) paint(onto *vgimg.Canvas, p vg.Path, colour color.Color) {
	onto.SetColor(colour)
	onto.Fill(pixels(p, c.state.shape))
}

// Stroke draws a path's outline; a width that is not positive draws nothing.
func (c *raster) Stroke(p vg.Path) {
	if c.state.width <= 0 {
		return
	}
	c.line(c.sheets.canvas, p, c.colour(c.state.paint.name), c.state.width)
}

func (c *raster) line(onto *vgimg.Canvas, p vg.Path, colour color.Color, width float64) {
	scale := c.state.shape.scale()
	dashes := make([]vg.Length, len(c.state.dash))
	for i, d := range c.state.dash {
		dashes[i] = vg.Length(float64(d) * scale)
	}
	onto.SetColor(colour)
	onto.SetLineWidth(vg.Length(grid(width * scale)))
	onto.SetLineDash(dashes, 0)
	onto.Stroke(pixels(p, c.state.shape))
}

// hatch fills a path with the pattern of its ink: the marks are painted onto a tint
// of it, and both laid onto the picture through the path.
func (c *raster) hatch(p vg.Path, ink color.RGBA) {
	left, bottom, right, top := bounds(p)
	t := tileOf(c.state.paint.name)
	onto := c.sheets.picture()
	box := c.box(left, bottom, right, top)
	if box.Empty() {
		return
	}
	inBox := *c
	inBox.state.shape.x0 -= float64(box.Min.X)
	inBox.state.shape.y0 -= float64(onto.Bounds().Max.Y - box.Max.Y)
	inBox.state.dash = nil
	weave := c.sheets.swatchOf(box.Size())
	inBox.paint(weave, p, color.Opaque)
	mask := c.sheets.maskOf(weave)
	inBox.paint(weave, p, tintOf(ink))
	// Patterns begin at the figure's upper left corner, as in SVG. The painter looks through
	// all that it has in a line of pixels for each mark, so it gets one column at a time.
	for x := math.Floor(left/t.w) * t.w; x < right; x += t.w {
		var marks vg.Path
		for y := c.high - math.Floor((c.high-top)/t.h)*t.h; y > bottom; y -= t.h {
			t.marks(&marks, x, y)
		}
		inBox.line(weave, marks, ink, t.width)
	}
	draw.DrawMask(onto, box, weave.Image(), image.Point{}, mask, image.Point{}, draw.Over)
}

// box is the part of the picture that holds a rectangle of the figure.
func (c *raster) box(left, bottom, right, top float64) image.Rectangle {
	whole := c.sheets.picture().Bounds()
	x0, y0 := c.state.shape.apply(left, top)
	x1, y1 := c.state.shape.apply(right, bottom)
	high := float64(whole.Max.Y)
	return image.Rect(int(x0)-1, int(high-y0)-1, int(x1)+2, int(high-y1)+2).Intersect(whole)
}

// FillString sets a line of text; pt is on its baseline, at the paint's anchor.
func (c *raster) FillString(f font.Face, pt vg.Point, s string) {
	in := inFont(f.Font)
	path, run := in.outlined(in.settable(s), &c.sheets.letters)
	if len(path) == 0 {
		return
	}
	x := float64(pt.X) - run*[...]float64{0, .5, 1}[c.state.paint.anchor]
	// The outline is nobody else's and has no arcs: it is moved where it is.
	shape := c.state.shape.after(affine{xx: 1, yy: 1, x0: x, y0: float64(pt.Y)})
	for i := range path {
		path[i].Pos = shape.pixel(path[i].Pos)
		for k := range path[i].Control {
			path[i].Control[k] = shape.pixel(path[i].Control[k])
		}
	}
	c.sheets.canvas.SetColor(c.colour(c.state.paint.name))
	c.sheets.canvas.Fill(path)
}

// DrawImage refuses: a figure is lines, areas and text.
func (c *raster) DrawImage(vg.Rectangle, image.Image) { c.refused = errPicture }

// grid rounds a length in pixels to a 64th. Half of one more keeps it clear of the
// painter's own rounding, which is downward.
func grid(v float64) float64 { return (math.Round(v*64) + .5) / 64 }

// pixel is a place of the picture.
func (m affine) pixel(pt vg.Point) vg.Point {
	x, y := m.apply(float64(pt.X), float64(pt.Y))
	return vg.Point{X: vg.Length(grid(x)), Y: vg.Length(grid(y))}
}

// pixels is a path in places of the picture, with quarters of a turn and less in the
// place of arcs.
func pixels(p vg.Path, shape affine) vg.Path {
	at := shape.pixel
	placed := make(vg.Path, 0, len(p))
	for _, part := range p {
		switch part.Type {
		case vg.MoveComp:
			placed.Move(at(part.Pos))
		case vg.LineComp:
			placed.Line(at(part.Pos))
		case vg.CloseComp:
			placed.Close()
		case vg.CurveComp:
			if len(part.Control) > 1 {
				placed.CubeTo(at(part.Control[0]), at(part.Control[1]), at(part.Pos))
			} else {
				placed.QuadTo(at(part.Control[0]), at(part.Pos))
			}
		case vg.ArcComp:
			arcPixels(&placed, part, at)
		}
	}
	return placed
}

// arcPixels adds an arc as curves of at most an eighth of a turn. Each has its
// control where the tangents of its ends meet; what it strays by is under a
// thousandth of the radius.
func arcPixels(placed *vg.Path, part vg.PathComp, at func(vg.Point) vg.Point) {
	on := func(angle, radius float64) vg.Point {
		sin, cos := math.Sincos(angle)
		return at(vg.Point{X: part.Pos.X + vg.Length(radius*cos), Y: part.Pos.Y + vg.Length(radius*sin)})
	}
	radius := float64(part.Radius)
	pieces := max(math.Ceil(math.Abs(part.Angle)/(math.Pi/4)-1e-9), 1)
	step := part.Angle / pieces
	if start := on(part.Start, radius); len(*placed) == 0 {
		placed.Move(start)
	} else {
		placed.Line(start)
	}
	for i := range int(pieces) {
		from := part.Start + step*float64(i)
		placed.QuadTo(on(from+step/2, radius/math.Cos(step/2)), on(from+step, radius))
	}
}

// bounds is the box about the corners of a path.
func bounds(p vg.Path) (left, bottom, right, top float64) {
	left, bottom, right, top = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, part := range p {
		if part.Type == vg.CloseComp {
			continue
		}
		x, y, r := float64(part.Pos.X), float64(part.Pos.Y), float64(part.Radius)
		left, right = min(left, x-r), max(right, x+r)
		bottom, top = min(bottom, y-r), max(top, y+r)
	}
	return left, bottom, right, top
}
