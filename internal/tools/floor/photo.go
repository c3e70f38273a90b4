package main

import (
	"bytes"
	"image"
	"image/jpeg"
	"image/png"
	"path"

	"golang.org/x/image/draw"
)

// decoded are the photos of a folder.
func decoded(photos [][]byte) ([]image.Image, error) {
	var all []image.Image
	for _, data := range photos {
		picture, _, err := image.Decode(bytes.NewReader(data))
		if err != nil {
			return nil, err
		}
		all = append(all, picture)
	}
	return all, nil
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
