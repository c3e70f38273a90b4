package main

import (
	"html"
	"image"
	"image/color"
	"math"
	"strconv"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// canvas writes what the plot library draws as SVG, and no more than that: one class
// for every line and area, numbers to two decimals.
type canvas struct {
	wide, high vg.Length
	body       []byte
	groups     []int // open elements at each Push
	open       int
}

func (c *canvas) Size() (x, y vg.Length)             { return c.wide, c.high }
func (c *canvas) SetLineWidth(vg.Length)             {}
func (c *canvas) SetLineDash([]vg.Length, vg.Length) {}
func (c *canvas) SetColor(color.Color)               {}
func (c *canvas) Rotate(rad float64)                 { c.group("rotate(", -rad*180/math.Pi) }
func (c *canvas) Translate(pt vg.Point)              { c.group("translate(", float64(pt.X), -float64(pt.Y)) }
func (c *canvas) Scale(x, y float64)                 { c.group("scale(", x, y) }
func (c *canvas) Push()                              { c.groups = append(c.groups, c.open) }
func (c *canvas) Stroke(p vg.Path)                   { c.path(`<path class="line" d="`, p) }
func (c *canvas) Fill(p vg.Path)                     { c.path(`<path d="`, p) }
func (c *canvas) DrawImage(vg.Rectangle, image.Image) {
	// A figure has no pictures in it.
}

func (c *canvas) Pop() {
	last := len(c.groups) - 1
	for ; c.open > c.groups[last]; c.open-- {
		c.body = append(c.body, "</g>"...)
	}
	c.groups = c.groups[:last]
}

func (c *canvas) FillString(_ font.Face, pt vg.Point, s string) {
	c.body = append(c.body, `<text class="small" x="`...)
	c.number(float64(pt.X))
	c.body = append(c.body, `" y="`...)
	c.number(float64(c.high - pt.Y))
	c.body = append(c.body, `">`...)
	c.body = append(c.body, html.EscapeString(s)...)
	c.body = append(c.body, "</text>"...)
}

func (c *canvas) group(how string, numbers ...float64) {
	c.body = append(c.body, `<g transform="`+how...)
	for _, n := range numbers {
		c.number(n)
		c.body = append(c.body, ' ')
	}
	c.body = append(c.body, `)">`...)
	c.open++
}

func (c *canvas) path(begin string, p vg.Path) {
	c.body = append(c.body, begin...)
	for _, part := range p {
		switch part.Type {
		case vg.MoveComp:
			c.body = append(c.body, 'M')
		case vg.CloseComp:
			c.body = append(c.body, 'z')
			continue
		default:
			c.body = append(c.body, 'L')
		}
		c.number(float64(part.Pos.X))
		c.body = append(c.body, ' ')
		c.number(float64(c.high - part.Pos.Y))
	}
	c.body = append(c.body, `"/>`...)
}

func (c *canvas) number(v float64) { c.body = strconv.AppendFloat(c.body, v, 'f', 2, 64) }
