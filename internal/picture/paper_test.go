package picture

import (
	"bytes"
	"image"
	"image/color"
	"testing"
)

// TestPaperIsDrawnOver: on paper that others have drawn on, of whatever size, a picture is the
// same as on new paper, where it is transparent too.
func TestPaperIsDrawnOver(t *testing.T) {
	clear := image.NewNRGBA(image.Rect(0, 0, 95, 65))
	for y := range 65 {
		for x := range 95 {
			clear.SetNRGBA(x, y, color.NRGBA{R: uint8(3 * x), G: uint8(5 * y), B: 9, A: uint8(x * y)})
		}
	}
	pictures := [][]byte{asJPEG(t, photo(300, 230)), asPNG(t, clear), asPNG(t, scene(200, 45)), asJPEG(t, photo(60, 300)), asPNG(t, image.NewGray(image.Rect(0, 0, 150, 100)))}
	var used Darkroom
	for round := range 2 {
		for i, data := range pictures {
			for _, width := range []int{30 + 20*round, 1000} {
				want, err := Make(data, width)
				if err != nil {
					t.Fatal(err)
				}
				if got, err := used.Make(data, width); err != nil || !bytes.Equal(got.Data, want.Data) {
					t.Errorf("round %d, picture %d, %d wide: other bytes, %v", round, i, width, err)
				}
				want, err = MakeCropped(data, width, 40)
				if err != nil {
					t.Fatal(err)
				}
				if got, err := used.MakeCropped(data, width, 40); err != nil || !bytes.Equal(got.Data, want.Data) {
					t.Errorf("round %d, picture %d, %d × 40: other bytes, %v", round, i, width, err)
				}
			}
		}
	}
}
