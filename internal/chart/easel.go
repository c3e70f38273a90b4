package chart

import (
	"bytes"
	"image"
	"image/color"
	imagedraw "image/draw"
	"image/png"
	"maps"
	"slices"
	"sync"

	"golang.org/x/image/font/sfnt"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// Easel paints share pictures one after the other on the same sheets: a picture alone
// takes some ten megabytes, and its card looks the same for every trial of a kitchen. The
// zero Easel is ready, and several goroutines may paint at once.
type Easel struct {
	one  sync.Mutex
	free []*sheets
}

// mostFree is how many sheets wait for the next picture; the rest is given back.
const mostFree = 4

// Draw paints a picture; see [Share.Draw].
func (e *Easel) Draw(s Share) ([]byte, error) {
	on := e.take()
	defer e.giveBack(on)
	if err := on.paint(s); err != nil {
		return nil, err
	}
	return on.encode()
}

func (e *Easel) take() *sheets {
	e.one.Lock()
	defer e.one.Unlock()
	last := len(e.free) - 1
	if last < 0 {
		return newSheets()
	}
	on := e.free[last]
	e.free = e.free[:last]
	return on
}

func (e *Easel) giveBack(on *sheets) {
	e.one.Lock()
	defer e.one.Unlock()
	if len(e.free) < mostFree {
		e.free = append(e.free, on)
	}
}

// sheets are what one picture is painted and written with.
type sheets struct {
	canvas *vgimg.Canvas // one length is one pixel
	// card is the picture with whose it is and nothing else, as it was for the last
	// share; empty before the second, for a kitchen in which one trial changed needs it once.
	card   []byte
	cardOf Share
	before bool // the first was painted

	letters sfnt.Buffer // for outlines
	swatch  []byte      // an area with a pattern
	mask    []byte      // its outline

	tally   tally
	indexed *image.Paletted
	file    bytes.Buffer
	working *png.EncoderBuffer
}

func newSheets() *sheets {
	return &sheets{
		canvas:  newCanvasOf(empty(image.Rect(0, 0, ShareWidth, ShareHeight))),
		indexed: image.NewPaletted(image.Rect(0, 0, ShareWidth, ShareHeight), nil),
	}
}

// newCanvasOf returns a canvas as large as a picture; the library paints on a copy of it, in
// colour.
func newCanvasOf(size imagedraw.Image) *vgimg.Canvas {
	return vgimg.NewWith(vgimg.UseImage(size), vgimg.UseDPI(dots))
}

// empty is a picture of a size in which every line is the same one.
func empty(size image.Rectangle) *image.Gray {
	return &image.Gray{Pix: make([]uint8, size.Dx()), Stride: 0, Rect: size}
}

// pixelsOf are the pixels that a canvas paints on: it is always of this kind.
func pixelsOf(canvas *vgimg.Canvas) *image.RGBA { return canvas.Image().(*image.RGBA) }

// picture is what was painted last, until the next.
func (t *sheets) picture() *image.RGBA { return pixelsOf(t.canvas) }

func (t *sheets) paint(s Share) error {
	if err := s.check(); err != nil {
		return err
	}
	l, err := s.layout()
	if err != nil {
		return err
	}
	onto := &raster{wardrobe: newWardrobe(affine{xx: 1, yy: 1}), sheets: t, wide: ShareWidth, high: ShareHeight, colours: s.Colours}
	p := pen{c: draw.New(onto), height: ShareHeight}
	t.lay(p, s)
	s.drawTitle(p, l)
	if l.figure == nil {
		return nil
	}
	f := l.figure
	shape := affine{xx: l.scale, yy: l.scale, x0: shareMargin, y0: ShareHeight - l.top - f.height*l.scale}
	onFigure := &raster{wardrobe: newWardrobe(shape), sheets: t, wide: f.wide, high: f.height, colours: s.Colours}
	f.draw(onFigure)
	return onFigure.refused
}

// lay puts the card on the sheet, as it was before where it is the same.
func (t *sheets) lay(p pen, s Share) {
	pix := t.picture().Pix
	was := t.cardOf
	if t.card != nil && was.Kitchen == s.Kitchen && was.Note == s.Note && maps.Equal(was.Colours, s.Colours) {
		copy(pix, t.card)
		return
	}
	flood(t.picture(), hex(s.Colours[paperName]))
	s.drawCard(p)
	if !t.before {
		t.before = true
		return
	}
	t.card = append(t.card[:0], pix...)
	t.cardOf = Share{Kitchen: s.Kitchen, Note: s.Note, Colours: maps.Clone(s.Colours)}
}

// flood gives a whole picture one colour.
func flood(picture *image.RGBA, c color.RGBA) {
	pix := picture.Pix
	copy(pix, []byte{c.R, c.G, c.B, c.A})
	for done := 4; done < len(pix); done *= 2 {
		copy(pix[done:], pix[:done])
	}
}

// swatchOf returns an empty canvas of a size, to be used before the next is asked for.
func (t *sheets) swatchOf(size image.Point) *vgimg.Canvas {
	t.swatch = slices.Grow(t.swatch[:0], 4*size.X*size.Y)
	box := image.Rectangle{Max: size}
	canvas := newCanvasOf(&image.RGBA{Pix: t.swatch[:4*size.X*size.Y], Stride: 4 * size.X, Rect: box})
	clear(pixelsOf(canvas).Pix)
	return canvas
}

// maskOf takes over how much of each pixel of a canvas is painted, and empties it.
func (t *sheets) maskOf(canvas *vgimg.Canvas) *image.Alpha {
	painted := pixelsOf(canvas)
	size := painted.Rect.Size()
	t.mask = slices.Grow(t.mask[:0], size.X*size.Y)[:size.X*size.Y]
	for i := range t.mask {
		t.mask[i] = painted.Pix[4*i+3]
	}
	clear(painted.Pix)
	return &image.Alpha{Pix: t.mask, Stride: size.X, Rect: painted.Rect}
}

// encode writes the picture as a PNG with a palette: of a few inks on one ground there
// are little more than 256 colours, with the blends at the edges of letters. Packed as well
// as can be it would be a twentieth smaller and take three times as long.
func (t *sheets) encode() ([]byte, error) {
	t.tally.index(t.picture(), t.indexed)
	t.file.Reset()
	encoder := png.Encoder{CompressionLevel: png.BestSpeed, BufferPool: t}
	if err := encoder.Encode(&t.file, t.indexed); err != nil {
		return nil, err
	}
	return bytes.Clone(t.file.Bytes()), nil
}

// Get and Put lend the encoder what it worked with the last time.
func (t *sheets) Get() *png.EncoderBuffer { return t.working }

// Put takes it back.
func (t *sheets) Put(b *png.EncoderBuffer) { t.working = b }
