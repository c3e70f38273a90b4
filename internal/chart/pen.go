package chart

import (
	"math"

	plottext "gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// pen draws on a figure in the view box's own units: x from the left, y from the top.
type pen struct {
	c      draw.Canvas
	height float64
	at     func(value float64) float64 // x of a value, in the field
}

func (p pen) point(x, y float64) vg.Point {
	return vg.Point{X: vg.Length(x), Y: vg.Length(p.height - y)}
}

func outline(p pen, x, y, w, h float64) vg.Path {
	var path vg.Path
	path.Move(p.point(x, y))
	path.Line(p.point(x+w, y))
	path.Line(p.point(x+w, y+h))
	path.Line(p.point(x, y+h))
	path.Close()
	return path
}

// area fills a rectangle.
func (p pen) area(colour paint, x, y, w, h float64) {
	p.c.SetColor(colour)
	p.c.Fill(outline(p, x, y, w, h))
}

// segment fills a part of a bar, or draws it framed.
func (p pen) segment(colour paint, x, y, w, h float64) {
	if colour.filling != framed {
		p.area(colour, x, y, w, h)
		return
	}
	line := min(1, h/3)
	p.box(stroke(colour, line), x+line/2, y+line/2, max(w-line, 0), h-line)
}

// box draws the outline of a rectangle.
func (p pen) box(l draw.LineStyle, x, y, w, h float64) {
	p.c.SetLineStyle(l)
	p.c.Stroke(outline(p, x, y, w, h))
}

// line draws a line through points given as x, y, x, y, …
func (p pen) line(l draw.LineStyle, places ...float64) {
	points := make([]vg.Point, 0, len(places)/2)
	for i := 0; i+1 < len(places); i += 2 {
		points = append(points, p.point(places[i], places[i+1]))
	}
	p.c.StrokeLines(l, points)
}

func circle(p pen, x, y, r float64) vg.Path {
	var path vg.Path
	path.Move(p.point(x+r, y))
	path.Arc(p.point(x, y), vg.Length(r), 0, 2*math.Pi)
	path.Close()
	return path
}

// dot fills a circle, ring draws one.
func (p pen) dot(colour paint, x, y, r float64) {
	p.c.SetColor(colour)
	p.c.Fill(circle(p, x, y, r))
}

func (p pen) ring(l draw.LineStyle, x, y, r float64) {
	p.c.SetLineStyle(l)
	p.c.Stroke(circle(p, x, y, r))
}

// text sets a line of text on a baseline.
func (p pen) text(colour paint, size, x, baseline float64, s string) {
	p.c.SetColor(colour)
	p.c.FillString(inFont(sansAt(size)).face, p.point(x, baseline), s)
}

func (p paint) at(a anchor) paint {
	p.anchor = a
	return p
}

// stroke is a line style; dashes are lengths of line and gap in turn.
func stroke(colour paint, thickness float64, dashes ...vg.Length) draw.LineStyle {
	return draw.LineStyle{Color: colour, Width: vg.Length(thickness), Dashes: dashes}
}

// textStyle is how the library sets the labels of an axis.
func textStyle(x plottext.XAlignment, y plottext.YAlignment) plottext.Style {
	return plottext.Style{Color: plain(mutedName), Font: sansAt(smallSize), XAlign: x, YAlign: y, Handler: newSetter()}
}
