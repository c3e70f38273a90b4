package chart

import (
	"bytes"
	"cmp"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"slices"
)

// encode writes a picture as a PNG with a palette: of a few inks on one ground there
// are little more than 256 colours, with the blends at the edges of letters.
func encode(picture image.Image) ([]byte, error) {
	var file bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.DefaultCompression}
	if err := encoder.Encode(&file, paletted(picture)); err != nil {
		return nil, err
	}
	return file.Bytes(), nil
}

// paletted is a picture without transparent parts in its 256 most frequent colours;
// each of the others becomes the nearest of them.
func paletted(picture image.Image) *image.Paletted {
	box := picture.Bounds()
	all := image.NewRGBA(box)
	draw.Draw(all, box, picture, box.Min, draw.Src)
	seen := map[color.RGBA]int{}
	runs(all, func(c color.RGBA, at, n int) { seen[c] += n })
	colours := make([]color.RGBA, 0, len(seen))
	for c := range seen {
		colours = append(colours, c)
	}
	slices.SortFunc(colours, func(a, b color.RGBA) int {
		return cmp.Or(cmp.Compare(seen[b], seen[a]), cmp.Compare(a.R, b.R), cmp.Compare(a.G, b.G), cmp.Compare(a.B, b.B))
	})
	var palette color.Palette
	for _, c := range colours[:min(len(colours), 256)] {
		palette = append(palette, c)
	}
	index := make(map[color.RGBA]uint8, len(colours))
	for i, c := range colours {
		if index[c] = uint8(i); i >= len(palette) {
			index[c] = uint8(palette.Index(c))
		}
	}
	made := image.NewPaletted(box, palette)
	runs(all, func(c color.RGBA, at, n int) {
		nearest := index[c]
		for i := range n {
			made.Pix[at+i] = nearest
		}
	})
	return made
}

// runs calls do for each run of pixels of one colour: where in the picture, line by
// line, it begins, and how long it is.
func runs(picture *image.RGBA, do func(c color.RGBA, at, n int)) {
	pixel := func(i int) color.RGBA {
		p := picture.Pix[4*i : 4*i+4]
		return color.RGBA{p[0], p[1], p[2], p[3]}
	}
	for at, all := 0, len(picture.Pix)/4; at < all; {
		c, n := pixel(at), 1
		for at+n < all && pixel(at+n) == c {
			n++
		}
		do(c, at, n)
		at += n
	}
}
