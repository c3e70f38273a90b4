package main

import (
	"bytes"
	"image"
	"image/jpeg"
	"image/png"
	"path"

	"golang.org/x/image/draw"
)

// photo makes one size of a photo. Each original is decoded once; they take turns.
func (f *folder) photo(o output) ([]byte, error) {
	for _, data := range f.photos[len(f.pictures):] {
		picture, _, err := image.Decode(bytes.NewReader(data))
		if err != nil {
			return nil, err
		}
		f.pictures = append(f.pictures, picture)
	}
	f.scaled++
	return scaled(f.pictures[f.scaled%len(f.pictures)], o)
}

// scaled makes a picture of a size, and writes it in the kind that its name says.
func scaled(from image.Image, o output) ([]byte, error) {
	to := image.NewRGBA(image.Rectangle{Max: o.pixels})
	draw.CatmullRom.Scale(to, to.Rect, from, from.Bounds(), draw.Src, nil)
	var made bytes.Buffer
	if path.Ext(o.path) == ".png" {
		err := png.Encode(&made, to)
		return made.Bytes(), err
	}
	err := jpeg.Encode(&made, to, &jpeg.Options{Quality: 82})
	return made.Bytes(), err
}
