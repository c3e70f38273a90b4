package picture

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"

	"golang.org/x/image/webp"
)

// Quality is that of the JPEGs that are written, on the usual scale to 100 of the
// Independent JPEG Group. At 82 and twice a screen's resolution, the traces of the
// compression do not show in a photo (common practice, no source).
const Quality = 82

// Made is a picture that is ready for a page. Data holds pixels and what is needed to
// decode them, nothing else.
type Made struct {
	Width, Height int    // in pixels
	Format        string // JPEG or PNG
	Data          []byte
}

// Make turns a picture upright and makes it as wide as is asked, in pixels, with the
// height that keeps its shape to the nearest pixel. A picture that is narrower keeps
// its width. What Check says the picture becomes is its format.
//
// Errors are of type *Wrong.
func Make(data []byte, width int) (Made, error) { return new(Darkroom).Make(data, width) }

func narrowed(width int) frame {
	return func(whole image.Point) (part, size image.Point, wrong *Wrong) {
		if width < 1 {
			return part, size, &Wrong{What: fmt.Sprintf("cannot be %d pixels wide", width)}
		}
		return whole, fitted(whole, width), nil
	}
}

// MakeCropped is Make for pictures that stand side by side: it cuts the largest part
// of the shape width : height from the middle, and makes it that size in pixels. A
// picture too small for it keeps its pixels: it gets the shape, not the size.
//
// Errors are of type *Wrong.
func MakeCropped(data []byte, width, height int) (Made, error) {
	return new(Darkroom).MakeCropped(data, width, height)
}

func croppedTo(width, height int) frame {
	return func(whole image.Point) (part, size image.Point, wrong *Wrong) {
		if width < 1 || height < 1 || width > MaxPixels/height {
			return part, size, &Wrong{What: fmt.Sprintf("cannot be cropped to %d × %d pixels", width, height)}
		}
		part, size = cropped(whole, image.Pt(width, height))
		return part, size, nil
	}
}

// Check is Inspect that looks at the pixels too: it decodes the picture, so that
// damage among them is found before a page is made. It also tells in which format
// Make writes the picture: PNG for a PNG or WebP that is transparent somewhere or has
// few colours (a drawing, a screen), JPEG for the rest.
//
// Errors are of type *Wrong.
func Check(name string, data []byte) (info Info, becomes string, err error) {
	return new(Darkroom).Check(name, data)
}

// frame is asked with the size of the upright picture and answers with the part to take
// from its middle, and the size that this part gets.
type frame func(whole image.Point) (part, size image.Point, wrong *Wrong)

// made does what Make and MakeCropped share.
func (d *Darkroom) made(data []byte, f frame) (Made, error) {
	h, wrong := look(data)
	if wrong != nil {
		return Made{}, wrong.of("the picture")
	}
	whole := image.Pt(h.info().Width, h.info().Height)
	part, size, wrong := f(whole)
	if wrong != nil {
		return Made{}, wrong.of("the picture")
	}
	// The picture is cut and made smaller as it is stored, and turned when it is small.
	from, to := h.turn.back(middle(whole, part), whole), h.turn.stored(size)
	var out []byte
	var format string
	var err error
	wrong = d.develop(h, data, across(from, to), func(m image.Image) {
		format = formatFor(h, m)
		small := d.paper.resize(m, from.Add(m.Bounds().Min), to)
		defer d.paper.back(small)
		out, err = encode(h.turn.upright(small), format, isGray(m))
	})
	if wrong != nil {
		return Made{}, wrong.of("the picture")
	}
	if err != nil {
		return Made{}, (&Wrong{What: "cannot be written: " + err.Error()}).of("the picture")
	}
	return Made{Width: size.X, Height: size.Y, Format: format, Data: out}, nil
}

// middle is the part of that size in the middle of a picture.
func middle(whole, part image.Point) image.Rectangle {
	corner := whole.Sub(part).Div(2)
	return image.Rectangle{Min: corner, Max: corner.Add(part)}
}

// scaled is n · to/from, to the nearest integer, half up. The sizes here are below
// 2³¹, so that the products fit.
func scaled(n, to, from int) int {
	return int((2*int64(n)*int64(to) + int64(from)) / (2 * int64(from)))
}

// decode reads the pixels of a picture whose head is in order.
func decode(h head, data []byte) (m image.Image, wrong *Wrong) {
	defer func() {
		// Decoders of foreign data must not take the program down with them.
		if recover() != nil {
			m, wrong = nil, broken("its pixels are damaged")
		}
	}()
	var err error
	r := bytes.NewReader(data)
	switch h.format {
	case JPEG:
		m, err = jpeg.Decode(r)
	case PNG:
		m, err = png.Decode(r)
	default:
		m, err = webp.Decode(r)
	}
	var unusual jpeg.UnsupportedError
	switch {
	case errors.As(err, &unusual):
		return nil, unusualJPEG()
	case errors.Is(err, io.ErrUnexpectedEOF):
		return nil, short()
	case err != nil:
		return nil, broken("its pixels are damaged")
	case m.Bounds().Size() != image.Pt(h.width, h.height):
		return nil, broken("it has two sizes")
	}
	if h.format == WebP {
		widen(m)
	}
	return m, nil
}
