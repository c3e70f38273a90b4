package picture

import (
	"encoding/binary"
	"errors"
	"image"
	"testing"

	"golang.org/x/image/draw"
)

func scaleAtOnce(to *image.RGBA, from image.Image, part image.Rectangle) {
	draw.CatmullRom.Scale(to, to.Rect, from, part, draw.Src, nil)
}

func seeds(f *testing.F) {
	tiff := tiffOf(binary.LittleEndian, 8)
	f.Add(withSegments(asJPEG(f, scene(30, 20)), exifSegment(tiff)))
	f.Add(withChunks(asPNG(f, scene(30, 20)), chunk("eXIf", tiff)))
	f.Add(asPNG(f, image.NewNRGBA64(image.Rect(0, 0, 9, 9))))
	for _, name := range []string{"lossy.webp", "lossy-alpha.webp", "lossless-alpha.webp", "progressive.jpg", "inks.jpg", "interlaced.png"} {
		f.Add(held(f, name))
	}
	f.Add([]byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"))
}

// FuzzInspect: an answer is within the limits, an error says something.
func FuzzInspect(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		info, err := Inspect("a.jpg", data)
		var wrong *Wrong
		if err != nil && (!errors.As(err, &wrong) || wrong.What == "a.jpg " || info != Info{}) {
			t.Fatalf("got %+v and %v", info, err)
		}
		if err == nil && (info.Width < 1 || info.Height < 1 || info.Width > MaxPixels/info.Height) {
			t.Fatalf("got %+v", info)
		}
	})
}

// FuzzOrientation: any bytes give one of the eight.
func FuzzOrientation(f *testing.F) {
	for i := range uint16(10) {
		f.Add([]byte(tiffOf(binary.LittleEndian, i)))
		f.Add([]byte(tiffOf(binary.BigEndian, i)))
	}
	f.Fuzz(func(t *testing.T, tiff []byte) {
		if got := orientation(tiff); got < 1 || got > 8 {
			t.Fatalf("got %d", got)
		}
	})
}

// FuzzMake: what is made can be looked at, has the size it says, and agrees with
// Inspect's.
func FuzzMake(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		h, wrong := look(data)
		if wrong == nil && h.width*h.height > 1<<18 {
			return // allowed, but slow
		}
		m, err := Make(data, 16)
		if err != nil {
			var wrong *Wrong
			if !errors.As(err, &wrong) {
				t.Fatal(err)
			}
			return
		}
		decoded(t, m)
		checkParts(t, m)
		if wrong != nil || m.Width != min(16, h.info().Width) {
			t.Fatalf("got %d × %d from %+v", m.Width, m.Height, h)
		}
	})
}

func BenchmarkInspect(b *testing.B) {
	data := withSegments(asJPEG(b, photo(4032, 3024)), exifSegment(tiffOf(binary.BigEndian, 6)))
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := Inspect("a.jpg", data); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkMake makes a phone's photo (12 megapixels, on its side) fit for a page.
func BenchmarkMake(b *testing.B) {
	data := withSegments(asJPEG(b, photo(4032, 3024)), exifSegment(tiffOf(binary.BigEndian, 6)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Make(data, 1600); err != nil {
			b.Fatal(err)
		}
	}
}
