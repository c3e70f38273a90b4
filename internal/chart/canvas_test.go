package chart

import (
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
)

var _ vg.CanvasSizer = (*canvas)(nil)

func square() vg.Path {
	var p vg.Path
	p.Move(vg.Point{X: 0, Y: 0})
	p.Line(vg.Point{X: 10, Y: 0})
	p.Line(vg.Point{X: 10, Y: 10})
	p.Line(vg.Point{X: 0, Y: 10})
	p.Close()
	return p
}

func TestCanvas(t *testing.T) {
	tests := []struct {
		name string
		draw func(c *canvas)
		want string
	}{
		{"origin at the bottom", func(c *canvas) { c.Fill(square()) },
			`<path class="figure-text" d="M0 100h10v-10h-10z"/>`},
		{"same dress, one element", func(c *canvas) { c.Fill(square()); c.Fill(square()) },
			`<path class="figure-text" d="M0 100h10v-10h-10zM0 100h10v-10h-10z"/>`},
		{"line, width and dashes", func(c *canvas) {
			c.SetColor(plain(ruleName))
			c.SetLineWidth(.75)
			c.SetLineDash([]vg.Length{4, 2}, 0)
			c.Stroke(square())
		}, `<path class="figure-rule line" stroke-width=".75" stroke-dasharray="4 2" d="M0 100h10v-10h-10z"/>`},
		{"no width, no line", func(c *canvas) { c.SetLineWidth(0); c.Stroke(square()) }, ``},
		{"an unknown colour is text", func(c *canvas) { c.SetColor(color.White); c.Fill(square()) },
			`<path class="figure-text" d="M0 100h10v-10h-10z"/>`},
		{"pattern", func(c *canvas) { c.SetColor(plain("ink-b").as(hatched)); c.Fill(square()) },
			`<path fill="url(#x-ink-b)" d="M0 100h10v-10h-10z"/>`},
		{"tint", func(c *canvas) { c.SetColor(plain("ink-b").as(tinted)); c.Fill(square()) },
			`<path class="ink-b" opacity=".25" d="M0 100h10v-10h-10z"/>`},
		{"moved", func(c *canvas) { c.Translate(vg.Point{X: 5, Y: 5}); c.Fill(square()) },
			`<path class="figure-text" d="M5 95h10v-10h-10z"/>`},
		{"turned a quarter, counterclockwise", func(c *canvas) {
			c.Translate(vg.Point{X: 20})
			c.Rotate(math.Pi / 2)
			c.Fill(square())
		}, `<path class="figure-text" d="M20 100v-10h-10v10z"/>`},
		{"stretched, then as before", func(c *canvas) {
			c.Push()
			c.Scale(2, 1)
			c.Fill(square())
			c.Pop()
			c.Pop()
			c.Fill(square())
		}, `<path class="figure-text" d="M0 100h20v-10h-20zM0 100h10v-10h-10z"/>`},
		{"circle in two halves", func(c *canvas) {
			var p vg.Path
			p.Move(vg.Point{X: 13, Y: 50})
			p.Arc(vg.Point{X: 10, Y: 50}, 3, 0, 2*math.Pi)
			p.Close()
			c.Fill(p)
		}, `<path class="figure-text" d="M13 50a3 3 0 0 0-6 0a3 3 0 0 0 6 0z"/>`},
		{"quarter circle upward", func(c *canvas) {
			var p vg.Path
			p.Arc(vg.Point{X: 10, Y: 50}, 4, 0, math.Pi/2)
			c.Stroke(p)
		}, `<path class="figure-text line" d="M14 50a4 4 0 0 0-4-4"/>`},
		{"curves", func(c *canvas) {
			var p vg.Path
			p.Move(vg.Point{X: 0, Y: 0})
			p.QuadTo(vg.Point{X: 5, Y: 5}, vg.Point{X: 10, Y: 0})
			p.CubeTo(vg.Point{X: 12, Y: 4}, vg.Point{X: 14, Y: 4}, vg.Point{X: 16, Y: 0})
			c.Stroke(p)
		}, `<path class="figure-text line" d="M0 100q5-5 10 0c2-4 4-4 6 0"/>`},
		{"text", func(c *canvas) {
			c.SetColor(plain(mutedName).at(end))
			c.FillString(inFont(sansAt(smallSize)).face, vg.Point{X: 10, Y: 20}, "a<b")
		}, `<text x="10" y="80" class="figure-muted small end">a&lt;b</text>`},
		{"turned text", func(c *canvas) {
			c.Rotate(math.Pi / 2)
			c.FillString(inFont(sansAt(nameSize)).face, vg.Point{X: 20, Y: -10}, "up")
		}, `<text x="10" y="80" transform="matrix(0 -1 1 0 -70 90)">up</text>`},
		{"no size, no text", func(c *canvas) {
			c.FillString(inFont(sansAt(0)).face, vg.Point{}, "x")
		}, ``},
	}
	for _, tc := range tests {
		t.Run(tc.name, func(t *testing.T) {
			c := newCanvas(wide, 100)
			tc.draw(c)
			svg, err := c.finish(Head{ID: "x", Title: "t"}, nil)
			if err != nil {
				t.Fatal(err)
			}
			body := strings.TrimSuffix(string(svg), "</svg>")
			for _, before := range []string{"</desc>", "</defs>"} {
				if _, after, ok := strings.Cut(body, before); ok {
					body = after
				}
			}
			if body != tc.want {
				t.Errorf("got  %s\nwant %s", body, tc.want)
			}
		})
	}
}

func TestCanvasRefusesPictures(t *testing.T) {
	c := newCanvas(wide, 100)
	c.DrawImage(vg.Rectangle{}, image.NewGray(image.Rect(0, 0, 1, 1)))
	if svg, err := c.finish(Head{ID: "x", Title: "t"}, nil); err == nil {
		t.Errorf("a picture was taken: %s", svg)
	}
}

func TestDecimal(t *testing.T) {
	for in, want := range map[int]string{0: "0", 5: ".05", -50: "-.5", 1250: "12.5", 1205: "12.05", 100: "1", -1234: "-12.34"} {
		if got := decimal(in); got != want {
			t.Errorf("%d hundredths: %q, want %q", in, got, want)
		}
	}
	if got := number(-0.004); got != "0" {
		t.Errorf("-0.004 is %q, want 0", got)
	}
}
