package main

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
)

const tablePhoto = "photos/table.png"

func photoName(sample int) string { return fmt.Sprintf("photos/sample-%d.jpg", sample+1) }

// photoLines are the photos in the note, with words for those who do not see them.
func (p *plan) photoLines(line func(string, ...any)) {
	if !p.extras.photos {
		return
	}
	line("\nphotos:")
	for i, s := range p.samples {
		line("  %s:\n    file: %s\n    shows: \"Drawing of a plate from above with %d %s on it\"", s.key, photoName(i), len(p.samples)+i, p.dish.pieces)
	}
}

// Sizes of drawings in pixels.
const (
	photoWidth  = 960
	photoHeight = 720
)

// plate paints a plate with so many round pieces on it. Where they lie and how brown
// they are is drawn by chance.
func (x extras) plate(pieces int) image.Image {
	picture := image.NewRGBA(image.Rect(0, 0, photoWidth, photoHeight))
	shade := uint8(x.draw.IntN(60))
	disc(picture, spot{photoWidth / 2, photoHeight / 2, 2 * photoWidth}, color.RGBA{160 + shade/2, 170, 150 + shade/2, 255})
	disc(picture, spot{photoWidth / 2, photoHeight / 2, 330}, color.RGBA{240, 238, 230, 255})
	disc(picture, spot{photoWidth / 2, photoHeight / 2, 300}, color.RGBA{250, 249, 244, 255})
	for range pieces {
		at := spot{photoWidth/2 + x.draw.IntN(360) - 180, photoHeight/2 + x.draw.IntN(360) - 180, 50 + x.draw.IntN(20)}
		brown := uint8(x.draw.IntN(70))
		disc(picture, at, color.RGBA{150 + brown, 100 + brown, 50 + brown/2, 255})
		disc(picture, spot{at.x - 6, at.y - 8, at.radius - 14}, color.RGBA{170 + brown, 120 + brown, 60 + brown/2, 255})
	}
	return picture
}

type spot struct{ x, y, radius int }

func disc(picture *image.RGBA, s spot, colour color.RGBA) {
	inside := image.Rect(s.x-s.radius, s.y-s.radius, s.x+s.radius+1, s.y+s.radius+1).Intersect(picture.Bounds())
	for y := inside.Min.Y; y < inside.Max.Y; y++ {
		for x := inside.Min.X; x < inside.Max.X; x++ {
			if dx, dy := x-s.x, y-s.y; dx*dx+dy*dy <= s.radius*s.radius {
				picture.SetRGBA(x, y, colour)
			}
		}
	}
}

// photo is a JPEG. Writing into memory does not fail.
func (x extras) photo(pieces int) string {
	var b bytes.Buffer
	_ = jpeg.Encode(&b, x.plate(pieces), &jpeg.Options{Quality: 80})
	return b.String()
}

// drawing is the same as a PNG.
func (x extras) drawing(pieces int) string {
	var b bytes.Buffer
	_ = png.Encode(&b, x.plate(pieces))
	return b.String()
}
