package main

import (
	"bytes"
	"image"
	"image/color"
	"image/png"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// marks is what a figure shows: lines of four points beside each other, and a name over
// some of them.
type marks struct {
	of   figure
	wide vg.Length // of a line
}

func (m marks) Plot(c draw.Canvas, p *plot.Plot) {
	across, _ := p.Transforms(&c)
	step := (c.Max.Y - c.Min.Y) / vg.Length(max(m.of.lines, m.of.texts, 1))
	c.SetLineStyle(draw.LineStyle{Color: color.Black, Width: m.wide})
	for i := range m.of.lines {
		y := c.Max.Y - step*vg.Length(i)
		x := across(float64(i % 40))
		var path vg.Path
		path.Move(vg.Point{X: x, Y: y})
		path.Line(vg.Point{X: x + 40, Y: y})
		path.Line(vg.Point{X: x + 40, Y: y + 6})
		path.Line(vg.Point{X: x, Y: y + 6})
		path.Close()
		c.Stroke(path)
	}
	for i := range m.of.texts {
		at := vg.Point{X: across(float64(i % 60)), Y: c.Max.Y - step*vg.Length(i)}
		c.FillText(p.X.Tick.Label, at, "rested long")
	}
}

// ticks are those of an axis, of which a figure has one.
const ticks = 5

// plotOf is a figure with one axis. What the axis draws is taken off the rest: a text for
// each tick, the ticks and the line.
func plotOf(f figure, wide vg.Length) *plot.Plot {
	p := plot.New()
	p.BackgroundColor = nil
	p.HideY()
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 100, 0, 1
	var at plot.ConstantTicks
	for i := range ticks {
		at = append(at, plot.Tick{Value: 25 * float64(i), Label: "25 %"})
	}
	p.X.Tick.Marker = at
	p.Add(marks{figure{max(f.texts-ticks, 0), max(f.lines-ticks-1, 0)}, wide})
	return p
}

// svg draws a figure for a page.
func svg(f figure) string {
	c := &canvas{wide: 360, high: 240}
	plotOf(f, 1).Draw(draw.New(c))
	return `<svg xmlns="http://www.w3.org/2000/svg" class="chart" viewBox="0 0 360 240" role="img">` + string(c.body) + "</svg>"
}

// sharePicture paints a card with a title and a figure, in a palette, as a PNG.
func sharePicture(f figure) ([]byte, error) {
	c := vgimg.NewWith(vgimg.UseWH(shareWidth, shareHeight), vgimg.UseDPI(72), vgimg.UseBackgroundColor(color.White))
	p := plotOf(f, 2)
	title := p.X.Tick.Label
	title.Font = font.From(title.Font, 54)
	whole := draw.New(c)
	whole.FillText(title, vg.Point{X: 72, Y: shareHeight - 120}, "Walnut oat biscuits and another fat")
	p.Draw(draw.Crop(whole, 72, -72, 26, -200))
	var made bytes.Buffer
	err := png.Encode(&made, paletted(c.Image()))
	return made.Bytes(), err
}

// paletted turns a picture of grey lines on white into one with a palette, in one pass.
func paletted(picture image.Image) image.Image {
	all, ok := picture.(*image.RGBA)
	if !ok {
		return picture
	}
	palette := make(color.Palette, 256)
	for i := range palette {
		palette[i] = color.Gray{uint8(i)}
	}
	made := image.NewPaletted(all.Rect, palette)
	for i := range made.Pix {
		made.Pix[i] = all.Pix[4*i]
	}
	return made
}
