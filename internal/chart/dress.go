package chart

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
)

// dress is how the next thing is drawn.
type dress struct {
	paint paint
	width float64
	dash  []vg.Length
	shape affine
}

// wardrobe keeps the dress of a canvas: the part of vg.Canvas that draws nothing.
type wardrobe struct {
	state dress
	stack []dress
}

func newWardrobe(shape affine) wardrobe {
	return wardrobe{state: dress{paint: plain(textName), width: 1, shape: shape}}
}

// SetLineWidth sets how wide the next lines are.
func (w *wardrobe) SetLineWidth(width vg.Length) { w.state.width = float64(width) }

// SetLineDash sets the dashes of the next lines. The figures begin every line with
// a whole dash, so the offset is not kept.
func (w *wardrobe) SetLineDash(pattern []vg.Length, _ vg.Length) { w.state.dash = pattern }

// SetColor sets the next colour: a paint by its name, anything else as text.
func (w *wardrobe) SetColor(colour color.Color) {
	p, ok := colour.(paint)
	if !ok {
		p = plain(textName)
	}
	w.state.paint = p
}

// Rotate turns what follows, in radians, counterclockwise.
func (w *wardrobe) Rotate(angle float64) {
	sin, cos := math.Sincos(angle)
	w.state.shape = w.state.shape.after(affine{xx: cos, yx: sin, xy: -sin, yy: cos})
}

// Translate moves what follows.
func (w *wardrobe) Translate(by vg.Point) {
	w.state.shape = w.state.shape.after(affine{xx: 1, yy: 1, x0: float64(by.X), y0: float64(by.Y)})
}

// Scale stretches what follows.
func (w *wardrobe) Scale(x, y float64) { w.state.shape = w.state.shape.after(affine{xx: x, yy: y}) }

// Push keeps the dress for the Pop that belongs to it.
func (w *wardrobe) Push() { w.stack = append(w.stack, w.state) }

// Pop puts back the dress that Push kept.
func (w *wardrobe) Pop() {
	if len(w.stack) == 0 {
		return
	}
	w.state = w.stack[len(w.stack)-1]
	w.stack = w.stack[:len(w.stack)-1]
}
