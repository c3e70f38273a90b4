package chart

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"
)

// affine maps (x, y) to (xx·x + xy·y + x0, yx·x + yy·y + y0).
type affine struct{ xx, xy, yx, yy, x0, y0 float64 }

// after returns the map that applies inner first.
func (m affine) after(inner affine) affine {
	return affine{
		xx: m.xx*inner.xx + m.xy*inner.yx, xy: m.xx*inner.xy + m.xy*inner.yy,
		yx: m.yx*inner.xx + m.yy*inner.yx, yy: m.yx*inner.xy + m.yy*inner.yy,
		x0: m.xx*inner.x0 + m.xy*inner.y0 + m.x0,
		y0: m.yx*inner.x0 + m.yy*inner.y0 + m.y0,
	}
}

func (m affine) apply(x, y float64) (float64, float64) {
	return m.xx*x + m.xy*y + m.x0, m.yx*x + m.yy*y + m.y0
}

// scale is by how much lengths grow on average: the root of the determinant.
func (m affine) scale() float64 { return math.Sqrt(math.Abs(m.xx*m.yy - m.xy*m.yx)) }

// turnAbout returns a transform attribute that applies the turn and the stretch
// about a point of the view box, whose y axis points down.
func (m affine) turnAbout(x, y float64) string {
	a, b, c, d := m.xx, -m.yx, -m.xy, m.yy
	return fmt.Sprintf(` transform="matrix(%s %s %s %s %s %s)"`, number(a), number(b), number(c), number(d),
		number(x-a*x-c*y), number(y-b*x-d*y))
}

// pathData is the d attribute of a path, in hundredths of a unit: each place is
// rounded before it is made relative to the last one, so that errors do not add up.
type pathData struct {
	data   strings.Builder
	x, y   int // where the pen is
	sx, sy int // where the subpath began
}

// append adds a path of the plot library; height turns its y axis over.
func (d *pathData) append(p vg.Path, m affine, height float64) {
	place := func(pt vg.Point) (int, int) {
		x, y := m.apply(float64(pt.X), float64(pt.Y))
		return hundredths(x), hundredths(height - y)
	}
	for _, part := range p {
		switch part.Type {
		case vg.MoveComp:
			d.move(place(part.Pos))
		case vg.LineComp:
			d.line(place(part.Pos))
		case vg.CurveComp:
			d.curve(part, place)
		case vg.ArcComp:
			d.arc(part, m, place)
		case vg.CloseComp:
			d.data.WriteByte('z')
			d.x, d.y = d.sx, d.sy
		}
	}
}

func (d *pathData) move(x, y int) {
	d.data.WriteString("M" + join(x, y))
	d.x, d.y, d.sx, d.sy = x, y, x, y
}

func (d *pathData) line(x, y int) {
	switch dx, dy := x-d.x, y-d.y; {
	case dx == 0 && dy == 0:
		return
	case dy == 0:
		d.data.WriteString("h" + decimal(dx))
	case dx == 0:
		d.data.WriteString("v" + decimal(dy))
	default:
		d.data.WriteString("l" + join(dx, dy))
	}
	d.x, d.y = x, y
}

func (d *pathData) curve(part vg.PathComp, place func(vg.Point) (int, int)) {
	command := "q"
	if len(part.Control) > 1 {
		command = "c"
	}
	var offsets []int
	for _, pt := range append(part.Control[:len(part.Control):len(part.Control)], part.Pos) {
		x, y := place(pt)
		offsets = append(offsets, x-d.x, y-d.y)
	}
	d.data.WriteString(command + join(offsets...))
	d.x, d.y = place(part.Pos)
}

// arc draws an arc in pieces of at most half a turn. Under a stretch that is not
// the same in both directions it becomes an ellipse, whose axes follow the map
// only while the map does not shear: none of the library's does.
func (d *pathData) arc(part vg.PathComp, m affine, place func(vg.Point) (int, int)) {
	on := func(angle float64) (int, int) {
		sin, cos := math.Sincos(angle)
		return place(vg.Point{X: part.Pos.X + part.Radius*vg.Length(cos), Y: part.Pos.Y + part.Radius*vg.Length(sin)})
	}
	pieces := max(int(math.Ceil(math.Abs(part.Angle)/math.Pi-1e-9)), 1)
	rx := hundredths(float64(part.Radius) * math.Hypot(m.xx, m.yx))
	ry := hundredths(float64(part.Radius) * math.Hypot(m.xy, m.yy))
	tilt := hundredths(-math.Atan2(m.yx, m.xx) * 180 / math.Pi)
	sweep := 0 // the y axis is turned over, so a positive angle runs against the clock
	if (part.Angle < 0) != (m.xx*m.yy-m.xy*m.yx < 0) {
		sweep = 100
	}
	if x, y := on(part.Start); d.data.Len() == 0 {
		d.move(x, y)
	} else {
		d.line(x, y)
	}
	for i := range pieces {
		x, y := on(part.Start + part.Angle*float64(i+1)/float64(pieces))
		d.data.WriteString("a" + join(rx, ry, tilt, 0, sweep, x-d.x, y-d.y))
		d.x, d.y = x, y
	}
}

func hundredths(v float64) int { return int(math.Round(v * 100)) }

// number prints a length rounded to a hundredth, as short as can be.
func number(v float64) string { return decimal(hundredths(v)) }

// decimal prints hundredths: 1250 as 12.5, -50 as -.5.
func decimal(n int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	whole, rest := n/100, n%100
	s := ""
	if whole != 0 || rest == 0 {
		s = strconv.Itoa(whole)
	}
	if rest != 0 {
		s += strings.TrimRight("."+strconv.Itoa(100 + rest)[1:], "0")
	}
	return sign + s
}

// join prints hundredths one after the other; a minus sign needs no space.
func join(values ...int) string {
	var s strings.Builder
	for i, v := range values {
		printed := decimal(v)
		if i > 0 && printed[0] != '-' {
			s.WriteByte(' ')
		}
		s.WriteString(printed)
	}
	return s.String()
}
