package picture

import (
	"image"
	"image/color"
	"image/draw"
	"testing"
)

// What an area holds on average must not change, and flat areas must stay flat.
func TestColourKept(t *testing.T) {
	flat := image.NewRGBA(image.Rect(0, 0, 700, 500))
	mustard := color.RGBA{205, 160, 40, 255}
	draw.Draw(flat, flat.Rect, image.NewUniform(mustard), image.Point{}, draw.Src)
	stripes := image.NewGray(image.Rect(0, 0, 800, 100))
	for i := range stripes.Pix {
		stripes.Pix[i] = uint8(i % 2 * 200)
	}
	cases := []struct {
		name string
		data []byte
		want color.Color
		by   int
	}{
		{"flat PNG", asPNG(t, flat), mustard, 0},
		{"flat JPEG", asJPEG(t, flat), mustard, 3},
		{"stripes of a pixel", asPNG(t, stripes), color.Gray{100}, 1},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			made, err := Make(c.data, 133)
			if err != nil {
				t.Fatal(err)
			}
			m := decoded(t, made)
			for y := range made.Height {
				for x := 2; x < made.Width-2; x++ {
					if !near(m.At(x, y), c.want, c.by) {
						t.Fatalf("at %d, %d: got %v, want %v", x, y, m.At(x, y), c.want)
					}
				}
			}
		})
	}
}

// The files were drawn with these colours and written by libwebp, so that the values
// come from outside; a decoder that takes VP8's range for JFIF's gives 16 for black
// and 235 for white.
func TestWebPColours(t *testing.T) {
	black, white := color.NRGBA{0, 0, 0, 255}, color.NRGBA{255, 255, 255, 255}
	red, blue, hole := color.NRGBA{200, 40, 40, 255}, color.NRGBA{40, 80, 200, 255}, color.NRGBA{}
	cases := []struct {
		name, format string
		want         [4]color.NRGBA
	}{
		{"lossy.webp", JPEG, [4]color.NRGBA{black, white, red, blue}},
		{"lossy-alpha.webp", PNG, [4]color.NRGBA{black, white, red, hole}},
		{"lossless-alpha.webp", PNG, [4]color.NRGBA{black, white, red, hole}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			for _, width := range []int{64, 32} {
				made, err := Make(held(t, c.name), width)
				if err != nil {
					t.Fatal(err)
				}
				m := decoded(t, made)
				for i, want := range c.want {
					x, y := made.Width*(1+i%2*2)/4, made.Height*(1+i/2*2)/4
					if got := m.At(x, y); !near(got, want, 5) {
						t.Errorf("%d wide, at %d, %d: got %v, want %v", width, x, y, got, want)
					}
				}
				if made.Format != c.format {
					t.Errorf("got a %s, want a %s", made.Format, c.format)
				}
			}
		})
	}
}

// Kinds of files that the encoders of the standard library do not write; the colours
// were given to the program that did.
func TestOtherKinds(t *testing.T) {
	for _, name := range []string{"progressive.jpg", "inks.jpg", "interlaced.png", "gray.jpg"} {
		t.Run(name, func(t *testing.T) {
			if info, err := Inspect(name, held(t, name)); err != nil || info.Width != 120 || info.Height != 80 {
				t.Fatalf("got %+v and %v", info, err)
			}
			made, err := Make(held(t, name), 120)
			if err != nil {
				t.Fatal(err)
			}
			m := decoded(t, made)
			for row, colours := range tiles() {
				for column, want := range colours {
					var c color.Color = want
					if name == "gray.jpg" {
						c = color.GrayModel.Convert(want)
					}
					if got := m.At(40*column+20, 40*row+20); !near(got, c, 8) {
						t.Errorf("tile %d, %d: got %v, want %v", row, column, color.NRGBAModel.Convert(got), c)
					}
				}
			}
			if (m.ColorModel() == color.GrayModel) != (name == "gray.jpg") {
				t.Errorf("it is written as %T", m)
			}
			checkParts(t, made)
		})
	}
}
