package chart

import (
	"cmp"
	"encoding/binary"
	"image"
	"image/color"
	"slices"
)

// pixel is a colour without transparent parts as it lies in a picture, red first.
type pixel uint32

func (p pixel) colour() color.RGBA {
	return color.RGBA{uint8(p >> 24), uint8(p >> 16), uint8(p >> 8), uint8(p)}
}

// tally counts the colours of a picture.
type tally struct {
	number map[pixel]int // of each colour, in the order in which they were met
	seen   []counted
	runs   []run

	// recent is where the numbers of colours are looked for first.
	recent [1024]struct {
		pixel
		next int // its number and one, 0 where there is none
	}
}

type counted struct {
	pixel
	pixels int
	index  uint8 // in the palette
}

// run is a row of pixels of one colour.
type run struct{ number, length int32 }

// usualRuns is more than most pictures have (25 to 51 thousand in the tests; one has 106).
const usualRuns = 1 << 16

// index writes a picture without transparent parts in its 256 most frequent colours;
// each of the others becomes the nearest of them.
func (t *tally) index(from *image.RGBA, to *image.Paletted) {
	t.count(from)
	order := make([]*counted, len(t.seen))
	for i := range t.seen {
		order[i] = &t.seen[i]
	}
	slices.SortFunc(order, func(a, b *counted) int {
		return cmp.Or(cmp.Compare(b.pixels, a.pixels), cmp.Compare(a.pixel, b.pixel))
	})
	chosen := order[:min(len(order), 256)]
	to.Palette = make(color.Palette, len(chosen))
	for i, c := range chosen {
		to.Palette[i], c.index = c.colour(), uint8(i)
	}
	spots := make([]spot, len(chosen))
	for i, c := range chosen {
		spots[i] = c.spot()
	}
	for _, c := range order[len(chosen):] {
		c.index = nearest(spots, c.spot())
	}
	at := 0
	for _, r := range t.runs {
		row := to.Pix[at : at+int(r.length)]
		for i, index := 0, t.seen[r.number].index; i < len(row); i++ {
			row[i] = index
		}
		at += len(row)
	}
}

// count notes the colours of a picture, and where they lie.
func (t *tally) count(picture *image.RGBA) {
	t.number, t.seen, t.runs = map[pixel]int{}, t.seen[:0], slices.Grow(t.runs[:0], usualRuns)
	clear(t.recent[:])
	runs(picture, func(p pixel, n int) {
		number := t.numberOf(p)
		t.seen[number].pixels += n
		t.runs = append(t.runs, run{int32(number), int32(n)})
	})
}

func (t *tally) numberOf(p pixel) int {
	// Nearly all runs are of few colours: asking the map for each would cost more than
	// looking at the picture.
	at := &t.recent[uint32(p)*0x9e3779b1>>22]
	if at.next > 0 && at.pixel == p {
		return at.next - 1
	}
	number, known := t.number[p]
	if !known {
		number = len(t.seen)
		t.number[p] = number
		t.seen = append(t.seen, counted{pixel: p})
	}
	at.pixel, at.next = p, number+1
	return number
}

// spot is where a colour lies among all.
type spot struct{ r, g, b int32 }

func (p pixel) spot() spot { return spot{int32(p >> 24), int32(p >> 16 & 0xff), int32(p >> 8 & 0xff)} }

// nearest is the place of the first of those colours from which another lies least far.
func nearest(of []spot, to spot) uint8 {
	least, at := int32(1<<31-1), 0
	for i, c := range of {
		r, g, b := c.r-to.r, c.g-to.g, c.b-to.b
		if far := r*r + g*g + b*b; far < least {
			least, at = far, i
		}
	}
	return uint8(at)
}

// runs calls do for each run of pixels of one colour, line by line, with its length.
func runs(picture *image.RGBA, do func(p pixel, n int)) {
	pix := picture.Pix
	for at := 0; at < len(pix); {
		p := binary.BigEndian.Uint32(pix[at:])
		end, two := at+4, uint64(p)<<32|uint64(p)
		for end+8 <= len(pix) && binary.BigEndian.Uint64(pix[end:]) == two {
			end += 8
		}
		for end < len(pix) && binary.BigEndian.Uint32(pix[end:]) == p {
			end += 4
		}
		do(pixel(p), (end-at)/4)
		at = end
	}
}
