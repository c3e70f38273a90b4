package picture

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"testing"
)

// side is a side of the scene.
type side string

const (
	top    side = "top"
	bottom side = "bottom"
	left   side = "left"
	right  side = "right"
)

// standing is what the standard says of an orientation: the sides of the scene that
// the stored picture's row 0 and column 0 are.
type standing struct {
	tag         uint16
	row, column side
}

// standings is the table under the tag Orientation. Source: CIPA DC-008-2012 (Exif
// 2.3), section 4.6.4 A; the same words stand in TIFF 6.0, page 36.
func standings() []standing {
	return []standing{
		{1, top, left}, {2, top, right}, {3, bottom, right}, {4, bottom, left},
		{5, left, top}, {6, right, top}, {7, right, bottom}, {8, left, bottom},
	}
}

// from is how far a point of the scene lies from a side.
func (s side) from(x, y int, scene image.Rectangle) int {
	switch s {
	case top:
		return y
	case bottom:
		return scene.Dy() - 1 - y
	case left:
		return x
	}
	return scene.Dx() - 1 - x
}

// store is the scene as a camera held that way writes it.
func (o standing) store(scene *image.NRGBA) *image.NRGBA {
	b := scene.Bounds()
	size := image.Pt(b.Dx(), b.Dy())
	if o.row == left || o.row == right {
		size = image.Pt(b.Dy(), b.Dx())
	}
	stored := image.NewNRGBA(image.Rectangle{Max: size})
	for y := range b.Dy() {
		for x := range b.Dx() {
			stored.SetNRGBA(o.column.from(x, y, b), o.row.from(x, y, b), scene.NRGBAAt(x, y))
		}
	}
	return stored
}

// tiles are six colours in two rows, none of them twice: no turn looks like another.
func tiles() [2][3]color.NRGBA {
	return [2][3]color.NRGBA{
		{{200, 40, 40, 255}, {240, 220, 60, 255}, {40, 160, 70, 255}},
		{{250, 250, 250, 255}, {40, 70, 190, 255}, {20, 20, 20, 255}},
	}
}

// scene is a picture of tiles.
func scene(width, height int) *image.NRGBA {
	m := image.NewNRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			m.SetNRGBA(x, y, tiles()[2*y/height][3*x/width])
		}
	}
	return m
}

// photo is a picture of smooth changes, with many colours and no noise.
func photo(width, height int) *image.NRGBA {
	m := image.NewNRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			m.SetNRGBA(x, y, color.NRGBA{uint8(40 + 200*x/width), uint8(40 + 200*y/height), uint8(x*y>>6) & 63, 255})
		}
	}
	return m
}

func asJPEG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asPNG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// segment is a marker segment of a JPEG.
func segment(mark byte, content string) string {
	n := len(content) + 2
	return string([]byte{0xff, mark, byte(n >> 8), byte(n)}) + content
}

// withSegments puts segments right after the start of a JPEG.
func withSegments(data []byte, segments ...string) []byte {
	out := bytes.Clone(data[:2])
	for _, s := range segments {
		out = append(out, s...)
	}
	return append(out, data[2:]...)
}

// chunk is a chunk of a PNG.
func chunk(kind, content string) string {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(content)))
	out = append(append(out, kind...), content...)
	return string(binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:])))
}

// withChunks puts chunks right after the head of a PNG.
func withChunks(data []byte, chunks ...string) []byte {
	const head = 8 + 25
	out := bytes.Clone(data[:head])
	for _, c := range chunks {
		out = append(out, c...)
	}
	return append(out, data[head:]...)
}

// withEXIF puts a chunk EXIF at the end of a WebP.
func withEXIF(data []byte, tiff string) []byte {
	out := append(bytes.Clone(data), "EXIF"...)
	out = append(binary.LittleEndian.AppendUint32(out, uint32(len(tiff))), tiff...)
	out = append(out, make([]byte, len(tiff)%2)...)
	binary.LittleEndian.PutUint32(out[4:], uint32(len(out)-8))
	return out
}

// byteOrder is that of a TIFF header.
type byteOrder interface {
	binary.ByteOrder
	binary.AppendByteOrder
}

// tiffOf is an Exif block with the maker's name, the orientation, and a directory of
// places with a latitude and a longitude.
func tiffOf(order byteOrder, orientation uint16) string {
	const ascii, short, long, rational = 2, 3, 4, 5
	out := []byte("II*\x00")
	if order.String() == binary.BigEndian.String() {
		out = []byte("MM\x00*")
	}
	entry := func(tag, kind uint16, count, value uint32) {
		out = order.AppendUint16(order.AppendUint16(out, tag), kind)
		out = order.AppendUint32(order.AppendUint32(out, count), value)
	}
	shortValue := func(v uint16) uint32 { // left-justified in its four bytes
		return order.Uint32(order.AppendUint16(order.AppendUint16(nil, v), 0))
	}
	out = order.AppendUint32(out, 8)
	out = order.AppendUint16(out, 3)
	entry(0x010f, ascii, 12, 8+2+36+4)
	entry(0x0112, short, 1, shortValue(orientation))
	entry(0x8825, long, 1, 8+2+36+4+12)
	out = order.AppendUint32(out, 0)
	out = append(out, "Kettle & Co\x00"...)
	out = order.AppendUint16(out, 1)
	entry(0x0002, rational, 3, uint32(len(out)+12+4))
	out = order.AppendUint32(out, 0)
	for _, n := range []uint32{48, 1, 51, 1, 2960, 100} {
		out = order.AppendUint32(out, n)
	}
	return string(append(out, "GPSLatitude"...))
}

func exifSegment(tiff string) string { return segment(0xe1, "Exif\x00\x00"+tiff) }

func held(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func decoded(t testing.TB, m Made) image.Image {
	t.Helper()
	got, format, err := image.Decode(bytes.NewReader(m.Data))
	if err != nil {
		t.Fatal(err)
	}
	if format != m.Format || got.Bounds() != image.Rect(0, 0, m.Width, m.Height) {
		t.Errorf("the bytes hold a %s of %v, but it says a %s of %d × %d", format, got.Bounds(), m.Format, m.Width, m.Height)
	}
	return got
}

// near reports whether two colours differ by no more than that in each channel.
func near(a, b color.Color, by int) bool {
	x, y := color.NRGBAModel.Convert(a).(color.NRGBA), color.NRGBAModel.Convert(b).(color.NRGBA)
	for _, d := range []int{int(x.R) - int(y.R), int(x.G) - int(y.G), int(x.B) - int(y.B), int(x.A) - int(y.A)} {
		if d < -by || d > by {
			return false
		}
	}
	return true
}
