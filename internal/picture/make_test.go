package picture

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"math"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"
)

// The pictures are stored as the standard's table says, turned back by Make, and held
// against the scene.
func TestTurnedUpright(t *testing.T) {
	const width, height = 480, 320 // half of it has tiles wider than the blocks of a JPEG
	whole := scene(width, height)
	for _, o := range standings() {
		stored := o.store(whole)
		inputs := map[string][]byte{
			JPEG: withSegments(asJPEG(t, stored), exifSegment(tiffOf(binary.LittleEndian, o.tag))),
			PNG:  withChunks(asPNG(t, stored), chunk("eXIf", tiffOf(binary.BigEndian, o.tag))),
		}
		for format, data := range inputs {
			t.Run(fmt.Sprintf("%d %s", o.tag, format), func(t *testing.T) {
				for _, w := range []int{width, width / 2} {
					m, err := Make(data, w)
					if err != nil {
						t.Fatal(err)
					}
					if m.Width != w || m.Height != w*height/width || m.Format != format {
						t.Fatalf("got %d × %d %s", m.Width, m.Height, m.Format)
					}
					checkTiles(t, decoded(t, m))
				}
				name := map[string]string{JPEG: "a.jpg", PNG: "a.png"}[format]
				if info, err := Inspect(name, data); err != nil || info.Width != width || info.Height != height {
					t.Errorf("Inspect says %+v, %v", info, err)
				}
			})
		}
	}
}

// checkTiles looks at the middle and near the corners of every tile.
func checkTiles(t *testing.T, m image.Image) {
	t.Helper()
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	for row, colours := range tiles() {
		for column, want := range colours {
			for _, at := range []float64{0.2, 0.5, 0.8} {
				x, y := int((float64(column)+at)*float64(w)/3), int((float64(row)+at)*float64(h)/2)
				if got := m.At(x, y); !near(got, want, 8) {
					t.Errorf("at %d, %d: got %v, want %v", x, y, color.NRGBAModel.Convert(got), want)
				}
			}
		}
	}
}

// Cropping must cut the same part however the camera was held.
func TestCroppedUpright(t *testing.T) {
	whole := scene(121, 80) // an odd rest on both sides
	want, err := MakeCropped(asPNG(t, whole), 40, 40)
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range standings() {
		got, err := MakeCropped(withChunks(asPNG(t, o.store(whole)), chunk("eXIf", tiffOf(binary.BigEndian, o.tag))), 40, 40)
		if err != nil {
			t.Fatal(err)
		}
		a, b := decoded(t, want), decoded(t, got)
		for y := range 40 {
			for x := range 40 {
				if !near(a.At(x, y), b.At(x, y), 3) { // the roundings lie elsewhere
					t.Fatalf("%d: at %d, %d: got %v, want %v", o.tag, x, y, b.At(x, y), a.At(x, y))
				}
			}
		}
	}
}

func TestShape(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		size := image.Pt(rapid.IntRange(1, 300).Draw(r, "across"), rapid.IntRange(1, 300).Draw(r, "down"))
		width := rapid.IntRange(1, 400).Draw(r, "width")
		data := asPNG(t, image.NewGray(image.Rectangle{Max: size}))
		m, err := Make(data, width)
		if err != nil {
			r.Fatal(err)
		}
		exact := float64(m.Width) * float64(size.Y) / float64(size.X)
		if m.Width != min(width, size.X) || m.Height != max(1, int(math.Floor(exact+0.5))) {
			r.Errorf("%v made %d wide is %d × %d", size, width, m.Width, m.Height)
		}
		height := rapid.IntRange(1, 400).Draw(r, "height")
		if m, err = MakeCropped(data, width, height); err != nil {
			r.Fatal(err)
		}
		if m.Width > size.X || m.Height > size.Y {
			r.Errorf("%v was enlarged to %d × %d", size, m.Width, m.Height)
		}
		if size.X >= width && size.Y >= height {
			if m.Width != width || m.Height != height {
				r.Errorf("%v cropped to %d × %d is %d × %d", size, width, height, m.Width, m.Height)
			}
			return
		}
		// The shape is right to within a pixel on the shorter way round.
		off := min(math.Abs(float64(m.Height)*float64(width)/float64(height)-float64(m.Width)),
			math.Abs(float64(m.Width)*float64(height)/float64(width)-float64(m.Height)))
		if off > 1 || m.Width != size.X && m.Height != size.Y {
			r.Errorf("%v cropped to %d : %d is %d × %d", size, width, height, m.Width, m.Height)
		}
	})
}

func TestCropKeepsTheMiddle(t *testing.T) {
	// Thirds of red, white and blue: a square of the height's size is all white.
	m := image.NewRGBA(image.Rect(0, 0, 90, 30))
	for i, c := range []color.RGBA{{255, 0, 0, 255}, {255, 255, 255, 255}, {0, 0, 255, 255}} {
		draw.Draw(m, image.Rect(30*i, 0, 30*i+30, 30), image.NewUniform(c), image.Point{}, draw.Src)
	}
	made, err := MakeCropped(asPNG(t, m), 15, 15)
	if err != nil {
		t.Fatal(err)
	}
	got := decoded(t, made)
	for y := range 15 {
		for x := range 15 {
			if !near(got.At(x, y), color.White, 0) {
				t.Fatalf("at %d, %d: %v", x, y, got.At(x, y))
			}
		}
	}
}

func TestBecomes(t *testing.T) {
	hole := photo(90, 60)
	hole.SetNRGBA(3, 3, color.NRGBA{})
	gray := image.NewGray(image.Rect(0, 0, 300, 200))
	for i := range gray.Pix {
		gray.Pix[i] = uint8(i % 300 * 255 / 299)
	}
	cases := []struct {
		name string
		data []byte
		want string
	}{
		{"a photo", asJPEG(t, photo(90, 60)), JPEG},
		{"a JPEG of few colours", asJPEG(t, scene(90, 60)), JPEG},
		{"a drawing", asPNG(t, scene(90, 60)), PNG},
		{"a photo as PNG", asPNG(t, photo(90, 60)), JPEG},
		{"a photo as PNG with a hole", asPNG(t, hole), PNG},
		{"a photo in black and white as PNG", asPNG(t, gray), JPEG},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			name := "a.png"
			if bytes.HasPrefix(c.data, []byte("\xff\xd8")) {
				name = "a.jpg"
			}
			info, got, err := Check(name, c.data)
			if inspected, _ := Inspect(name, c.data); info != inspected || err != nil || got != c.want {
				t.Errorf("got %q and %v, want %q", got, err, c.want)
			}
			for _, width := range []int{7, 50, 500} {
				if m, err := Make(c.data, width); err != nil || m.Format != c.want {
					t.Errorf("%d wide: got a %s and %v, want a %s", width, m.Format, err, c.want)
				}
			}
		})
	}
	if _, _, err := Check("a.gif", []byte("GIF89a")); err == nil || !strings.Contains(err.Error(), "a.gif is a GIF") {
		t.Errorf("got %v", err)
	}
}

func TestDamagedPixels(t *testing.T) {
	jpg, png, webp := asJPEG(t, scene(60, 40)), asPNG(t, photo(60, 40)), held(t, "lossless-alpha.webp")
	unzipped := bytes.Clone(png)
	unzipped[len(unzipped)-30] ^= 0xff
	vp8l := bytes.Clone(webp)
	at := bytes.Index(vp8l, []byte("VP8L"))
	for i := at + 14; i < at+24; i++ {
		vp8l[i] = 0xff
	}
	cases := []struct {
		name string
		data []byte
		what string // what Make says; Check says the same of the file by its name
	}{
		{"a JPEG without tables", changed(t, jpg, "\xff\xc4", "\xff\xc8"), "the picture is "},
		{"a checksum in a PNG", unzipped, "the picture is broken: its pixels are damaged"},
		{"half the pixels of a JPEG", append(bytes.Clone(jpg[:len(jpg)-100]), "\xff\xd9"...), "the picture is broken"},
		{"a lossless WebP", vp8l, "the picture is broken"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			m, err := Make(c.data, 30)
			if err == nil || !strings.Contains(err.Error(), c.what) || m.Data != nil {
				t.Errorf("got %d bytes and %v", len(m.Data), err)
			}
			ending := map[byte]string{0xff: ".jpg", 0x89: ".png", 'R': ".webp"}[c.data[0]]
			info, _, checked := Check("photos/a"+ending, c.data)
			if want := strings.Replace(err.Error(), "the picture", "photos/a"+ending, 1); checked == nil || checked.Error() != want || info != (Info{}) {
				t.Errorf("Check says %v, want %s", checked, want)
			}
			if _, err := MakeCropped(c.data, 30, 30); err == nil {
				t.Error("it was cropped all the same")
			}
		})
	}
}

func TestWrongSizes(t *testing.T) {
	data := asPNG(t, scene(6, 4))
	for _, width := range []int{0, -1, math.MinInt} {
		if _, err := Make(data, width); err == nil || !strings.Contains(err.Error(), "cannot be") {
			t.Errorf("%d wide: got %v", width, err)
		}
	}
	for _, size := range [][2]int{{0, 1}, {1, 0}, {-1, -1}, {math.MaxInt, 2}, {2, math.MaxInt}} {
		if _, err := MakeCropped(data, size[0], size[1]); err == nil || !strings.Contains(err.Error(), "cannot be cropped") {
			t.Errorf("%v: got %v", size, err)
		}
	}
	if m, err := Make(data, math.MaxInt); err != nil || m.Width != 6 || m.Height != 4 {
		t.Errorf("got %d × %d and %v", m.Width, m.Height, err)
	}
}

// Bands and strips must not show: the same in one call of the scaler.
func TestSameInBands(t *testing.T) {
	m := photo(900, 700) // more than two bands each way
	if 900*700 < 2*bandPixels {
		t.Fatal("one band only")
	}
	got := new(paper).resize(m, image.Rect(5, 3, 895, 690), image.Pt(211, 163))
	want := image.NewRGBA(got.Rect)
	scaleAtOnce(want, m, image.Rect(5, 3, 895, 690))
	for y := range 163 {
		for x := range 211 {
			if !near(got.At(x, y), want.At(x, y), 2) {
				t.Fatalf("at %d, %d: got %v, want %v", x, y, got.At(x, y), want.At(x, y))
			}
		}
	}
}

func TestSameBytes(t *testing.T) {
	for _, data := range [][]byte{asJPEG(t, photo(280, 200)), asPNG(t, scene(280, 200))} {
		before := bytes.Clone(data)
		want, err := Make(data, 120)
		if err != nil {
			t.Fatal(err)
		}
		var all sync.WaitGroup
		for range 4 {
			all.Go(func() {
				if got, err := Make(data, 120); err != nil || !bytes.Equal(got.Data, want.Data) {
					t.Errorf("got other bytes, and %v", err)
				}
			})
		}
		all.Wait()
		if !bytes.Equal(data, before) {
			t.Error("the original was changed")
		}
	}
}
