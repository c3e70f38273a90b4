package picture

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"

	"golang.org/x/image/draw"
)

// fewColours bounds a drawing. Smooth edges between a handful of inks stay below it;
// photos pass it within their first rows, black and white ones mostly too.
const fewColours = 128

// formatFor tells the format in which a decoded picture is written.
func formatFor(h head, m image.Image) string {
	if h.format == JPEG {
		return JPEG
	}
	if o, ok := m.(interface{ Opaque() bool }); ok && !o.Opaque() {
		return PNG
	}
	if _, lossy := m.(*image.YCbCr); !lossy && hasFewColours(m) {
		return PNG
	}
	return JPEG
}

// hasFewColours counts colours in 8 bits a channel, and stops when there are many.
func hasFewColours(m image.Image) bool {
	at := colourAt(m)
	seen := make(map[color.RGBA]bool)
	var last color.RGBA
	b := m.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			c := at(x, y)
			if c == last {
				continue
			}
			last = c
			if seen[c] = true; len(seen) > fewColours {
				return false
			}
		}
	}
	return true
}

// colourAt reads a pixel; pictures of the standard library do so without making a
// value on the heap for each.
func colourAt(m image.Image) func(x, y int) color.RGBA {
	if quick, ok := m.(image.RGBA64Image); ok {
		return func(x, y int) color.RGBA {
			c := quick.RGBA64At(x, y)
			return color.RGBA{R: uint8(c.R >> 8), G: uint8(c.G >> 8), B: uint8(c.B >> 8), A: uint8(c.A >> 8)}
		}
	}
	return func(x, y int) color.RGBA { return color.RGBAModel.Convert(m.At(x, y)).(color.RGBA) }
}

func isGray(m image.Image) bool {
	model := m.ColorModel()
	return model == color.GrayModel || model == color.Gray16Model
}

// bandPixels is how many pixels of the original are in work at a time. The scaler
// keeps four float64 for each, so that this is two megabytes, which
// a processor has at hand.
const bandPixels = 1 << 16

// resize makes a part of a picture smaller, with the Catmull-Rom kernel, spread over
// all the pixels that fall into one. The kernel works on the values as they are
// stored, as browsers do, not on light.
//
// It goes first across, in bands of rows, then down, in bands of columns. One call
// for the whole picture gives the same to within a rounding, but keeps 32 bytes for
// every row of the original times every column of the result. Bands are all of one
// size, so that they share a scaler; the last one goes over some pixels again.
func (p *paper) resize(m image.Image, part image.Rectangle, size image.Point) *image.RGBA {
	whole := part.Size()
	narrow := p.sheet(image.Rect(0, 0, size.X, whole.Y))
	rows := min(whole.Y, max(1, bandPixels/whole.X))
	band := p.sheet(image.Rect(0, 0, whole.X, rows))
	defer p.back(band)
	scale := p.scale(image.Pt(size.X, rows), band.Rect.Max)
	for y := 0; y < whole.Y; y += rows {
		y = min(y, whole.Y-rows)
		draw.Draw(band, band.Rect, m, part.Min.Add(image.Pt(0, y)), draw.Src)
		scale(narrow, image.Pt(0, y), band, image.Point{})
	}
	if size.Y == whole.Y {
		return narrow
	}
	defer p.back(narrow)
	down := p.sheet(image.Rectangle{Max: size})
	columns := min(size.X, max(1, bandPixels/whole.Y))
	scale = p.scale(image.Pt(columns, size.Y), image.Pt(columns, whole.Y))
	for x := 0; x < size.X; x += columns {
		x = min(x, size.X-columns)
		scale(down, image.Pt(x, 0), narrow, image.Pt(x, 0))
	}
	return down
}

// across is about how many bytes resize needs beside the picture.
func across(part image.Rectangle, size image.Point) int {
	const pixel, weighed = 4, 32
	return pixel*size.X*(part.Dy()+size.Y) + (pixel+weighed)*bandPixels
}

// scale makes parts of the one size into parts of the other; it is told where they
// begin.
func (p *paper) scale(to, from image.Point) func(out *image.RGBA, at image.Point, in *image.RGBA, begin image.Point) {
	rect := func(begin, size image.Point) image.Rectangle {
		return image.Rectangle{Min: begin, Max: begin.Add(size)}
	}
	if to == from {
		return func(out *image.RGBA, at image.Point, in *image.RGBA, begin image.Point) {
			draw.Draw(out, rect(at, to), in, begin, draw.Src)
		}
	}
	s := p.scaler(to, from)
	return func(out *image.RGBA, at image.Point, in *image.RGBA, begin image.Point) {
		s.Scale(out, rect(at, to), in, rect(begin, from), draw.Src, nil)
	}
}

// stored is an upright size before the turn.
func (t turn) stored(upright image.Point) image.Point {
	if t.swaps() {
		return image.Pt(upright.Y, upright.X)
	}
	return upright
}

// source tells where the pixel of the upright picture at x, y is stored, in a stored
// picture of that size.
func (t turn) source(x, y int, stored image.Point) (int, int) {
	right, bottom := stored.X-1, stored.Y-1
	switch t {
	case 2:
		return right - x, y
	case 3:
		return right - x, bottom - y
	case 4:
		return x, bottom - y
	case 5:
		return y, x
	case 6:
		return y, bottom - x
	case 7:
		return right - y, bottom - x
	case 8:
		return right - y, x
	}
	return x, y
}

// back is where a part of an upright picture of that size is stored.
func (t turn) back(part image.Rectangle, upright image.Point) image.Rectangle {
	stored := t.stored(upright)
	x0, y0 := t.source(part.Min.X, part.Min.Y, stored)
	x1, y1 := t.source(part.Max.X-1, part.Max.Y-1, stored)
	return image.Rect(min(x0, x1), min(y0, y1), max(x0, x1)+1, max(y0, y1)+1)
}

// upright turns a stored picture.
func (t turn) upright(m *image.RGBA) *image.RGBA {
	if t <= asStored || t > 8 {
		return m
	}
	stored := m.Bounds().Size()
	out := image.NewRGBA(image.Rectangle{Max: t.stored(stored)})
	for y := range out.Rect.Dy() {
		row := out.Pix[y*out.Stride:]
		for x := range out.Rect.Dx() {
			sx, sy := t.source(x, y, stored)
			copy(row[4*x:4*x+4], m.Pix[sy*m.Stride+4*sx:])
		}
	}
	return out
}

// encode writes a picture with nothing but its pixels.
func encode(m *image.RGBA, format string, gray bool) ([]byte, error) {
	var out image.Image = m
	if gray {
		g := image.NewGray(m.Rect)
		draw.Draw(g, g.Rect, m, m.Rect.Min, draw.Src)
		out = g
	}
	var b bytes.Buffer
	if format == JPEG {
		err := jpeg.Encode(&b, out, &jpeg.Options{Quality: Quality})
		return b.Bytes(), err
	}
	if p := indexed(m); !gray && p != nil {
		out = p
	}
	err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, out)
	return b.Bytes(), err
}

// indexed is a picture of up to 256 colours with a palette, in the order in which
// the colours appear; nil if there are more.
func indexed(m *image.RGBA) *image.Paletted {
	index := make(map[color.RGBA]uint8)
	p := image.NewPaletted(m.Rect, nil)
	for i := range p.Pix {
		c := color.RGBA{R: m.Pix[4*i], G: m.Pix[4*i+1], B: m.Pix[4*i+2], A: m.Pix[4*i+3]}
		n, known := index[c]
		if !known {
			if len(index) == 256 {
				return nil
			}
			n = uint8(len(index))
			index[c] = n
			p.Palette = append(p.Palette, c)
		}
		p.Pix[i] = n
	}
	return p
}
