package picture

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"runtime"
	"strings"
	"testing"
)

func TestInspect(t *testing.T) {
	jpg, png := asJPEG(t, scene(60, 40)), asPNG(t, scene(60, 40))
	turned := tiffOf(binary.BigEndian, 6)
	cases := []struct {
		name, file string
		data       []byte
		want       Info
	}{
		{"a JPEG", "photos/a.jpg", jpg, Info{JPEG, 60, 40}},
		{"the long ending", "photos/a.jpeg", jpg, Info{JPEG, 60, 40}},
		{"a camera's capitals", "photos/DSC0001.JPG", jpg, Info{JPEG, 60, 40}},
		{"a PNG", "a.png", png, Info{PNG, 60, 40}},
		{"a lossy WebP", "a.webp", held(t, "lossy.webp"), Info{WebP, 64, 48}},
		{"a lossless WebP", "a.webp", held(t, "lossless-alpha.webp"), Info{WebP, 64, 48}},
		{"a JPEG on its side", "a.jpg", withSegments(jpg, exifSegment(turned)), Info{JPEG, 40, 60}},
		{"a PNG on its side", "a.png", withChunks(png, chunk("eXIf", turned)), Info{PNG, 40, 60}},
		{"a PNG that says so after its pixels", "a.png",
			append(bytes.Clone(png[:len(png)-12]), chunk("eXIf", turned)+chunk("IEND", "")...), Info{PNG, 40, 60}},
		{"a WebP on its side", "a.webp", withEXIF(held(t, "lossy.webp"), turned), Info{WebP, 48, 64}},
		{"a WebP with the header of a JPEG's Exif", "a.webp", withEXIF(held(t, "lossy.webp"), exifHeader+turned), Info{WebP, 48, 64}},
		{"an animated PNG", "a.png", withChunks(png, chunk("acTL", "\x00\x00\x00\x02\x00\x00\x00\x00")), Info{PNG, 60, 40}},
		{"a film after a JPEG", "a.jpg", append(bytes.Clone(jpg), "\x00\x00\x00\x18ftypmp42"...), Info{JPEG, 60, 40}},
		{"fill bytes before a marker", "a.jpg", withSegments(jpg, "\xff\xff\xff"), Info{JPEG, 60, 40}},
		{"only the first Exif counts", "a.jpg", withSegments(jpg, exifSegment(tiffOf(binary.BigEndian, 1)), exifSegment(turned)), Info{JPEG, 60, 40}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, err := Inspect(c.file, c.data)
			if err != nil {
				t.Fatal(err)
			}
			if got != c.want {
				t.Errorf("got %+v, want %+v", got, c.want)
			}
		})
	}
}

// sized puts another size into the head of a picture.
func sized(data []byte, width, height int) []byte {
	out := bytes.Clone(data)
	switch {
	case bytes.HasPrefix(out, []byte(pngSignature)):
		binary.BigEndian.PutUint32(out[16:], uint32(width))
		binary.BigEndian.PutUint32(out[20:], uint32(height))
		return append(append(bytes.Clone(out[:8]), chunk("IHDR", string(out[16:29]))...), out[33:]...)
	case bytes.HasPrefix(out, []byte("RIFF")):
		i := bytes.Index(out, []byte("\x9d\x01\x2a")) + 3
		binary.LittleEndian.PutUint16(out[i:], uint16(width))
		binary.LittleEndian.PutUint16(out[i+2:], uint16(height))
		copy(out[24:27], binary.LittleEndian.AppendUint32(nil, uint32(width-1)))
		copy(out[27:30], binary.LittleEndian.AppendUint32(nil, uint32(height-1)))
		return out
	}
	i := bytes.Index(out, []byte{0xff, 0xc0}) + 5
	binary.BigEndian.PutUint16(out[i:], uint16(height))
	binary.BigEndian.PutUint16(out[i+2:], uint16(width))
	return out
}

// changed replaces the first of some bytes.
func changed(t *testing.T, data []byte, old, now string) []byte {
	t.Helper()
	if !bytes.Contains(data, []byte(old)) {
		t.Fatalf("no % x to change", old)
	}
	return bytes.Replace(data, []byte(old), []byte(now), 1)
}

func TestWrong(t *testing.T) {
	jpg, png, webp := asJPEG(t, scene(60, 40)), asPNG(t, scene(60, 40)), held(t, "lossy.webp")
	ftyp := func(brands string) []byte {
		return append([]byte{0, 0, 0, byte(8 + len(brands)), 'f', 't', 'y', 'p'}, brands+"rest"...)
	}
	deep := asPNG(t, image.NewNRGBA64(image.Rect(0, 0, 9, 9)))
	cases := []struct {
		name, file string
		data       []byte
		what, hint string // parts of the message
	}{
		{"nothing", "a.jpg", nil, "a.jpg is empty", "camera"},
		{"too many bytes", "a.jpg", make([]byte, MaxBytes+1_000_000), "a.jpg has 41 MB, more than the 40 MB", "smaller"},
		{"text", "a.jpg", []byte("pieces.csv\n"), "a.jpg is no picture", "JPEG, PNG or WebP"},
		{"a JPEG by another name", "photos/a.png", jpg, "photos/a.png is a JPEG", "name it photos/a.jpg"},
		{"a PNG by another name", "photos/a.b.jpg", png, "photos/a.b.jpg is a PNG", "name it photos/a.b.png"},
		{"a WebP by another name", "a.jpg", webp, "a.jpg is a WebP", "name it a.webp"},
		{"no ending", "photos/a", jpg, "photos/a is a JPEG", "name it photos/a.jpg"},

		{"HEIC", "a.heic", ftyp("heic\x00\x00\x00\x00mif1heic"), "a.heic is a HEIC picture", "export it as JPEG"},
		{"HEIC by its second brand", "a.jpg", ftyp("mif1\x00\x00\x00\x00mif1heic"), "a.jpg is a HEIC picture", "export it as JPEG"},
		{"AVIF by its second brand", "a.avif", ftyp("mif1\x00\x00\x00\x00mif1avif"), "is an AVIF picture", "JPEG"},
		{"a raw file", "a.cr3", ftyp("crx \x00\x00\x00\x01crx isom"), "is a camera's raw file", "JPEG"},
		{"a video", "a.jpg", ftyp("mp42\x00\x00\x00\x00isommp42"), "is a video", "JPEG"},
		{"GIF", "a.gif", []byte("GIF89a\x01\x00\x01\x00"), "is a GIF", "PNG"},
		{"TIFF", "a.tif", []byte("II*\x00\x08\x00\x00\x00"), "is a TIFF or a camera's raw file", "JPEG"},
		{"BMP", "a.bmp", append([]byte("BM\x99\x00\x00\x00\x00\x00\x00\x00"), make([]byte, 40)...), "is a BMP", "PNG"},
		{"JPEG XL", "a.jxl", []byte("\xff\x0a\x00\x00"), "is a JPEG XL", "JPEG"},
		{"JPEG 2000", "a.jp2", []byte("\x00\x00\x00\x0cjP  \r\n\x87\n"), "is a JPEG 2000", "JPEG"},
		{"PDF", "a.pdf", []byte("%PDF-1.7\n"), "is a PDF", "PNG"},
		{"SVG", "a.svg", []byte("<?xml version=\"1.0\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\"/>"), "is an SVG drawing", "PNG"},
		{"an animated WebP", "a.webp", changed(t, webp, "ICCP", "ANIM"), "is an animated WebP", "JPEG"},
		{"a lossless JPEG", "a.jpg", changed(t, jpg, "\xff\xc0", "\xff\xc3"), "is a JPEG of an unusual kind", "ordinary"},
		{"12 bits a sample", "a.jpg", changed(t, jpg, "\xff\xc0\x00\x11\x08", "\xff\xc0\x00\x11\x0c"), "is a JPEG of an unusual kind", "ordinary"},

		{"a cut JPEG", "a.jpg", jpg[:len(jpg)-2], "a.jpg is broken: it ends too early", "camera"},
		{"a JPEG cut in its head", "a.jpg", jpg[:50], "ends too early", "camera"},
		{"two bytes of a JPEG", "a.jpg", jpg[:2], "ends too early", "camera"},
		{"a cut PNG", "a.png", png[:len(png)-12], "a.png is broken: it ends too early", "camera"},
		{"a PNG cut in a chunk", "a.png", png[:60], "ends too early", "camera"},
		{"a cut WebP", "a.webp", webp[:len(webp)-1], "a.webp is broken: it ends too early", "camera"},
		{"a chunk past the end", "a.webp", changed(t, webp, "ICCP\xc8\x01\x00\x00", "ICCP\xc8\x01\x00\xff"), "ends too early", "camera"},
		{"a JPEG without pixels", "a.jpg", []byte("\xff\xd8\xff\xd9"), "there is nothing in it", "again"},
		{"a segment without a length", "a.jpg", withSegments(jpg, "\xff\xe0\x00\x01"), "a part of it has no length", "again"},
		{"a WebP without pixels", "a.webp", []byte("RIFF\x04\x00\x00\x00WEBP"), "there is nothing in it", "again"},
		{"no height", "a.jpg", sized(jpg, 60, 0), "its size is missing", "again"},
		{"no width", "a.png", sized(png, 0, 40), "its size is missing", "again"},
		{"two frames in a JPEG", "a.jpg", withSegments(jpg, segment(0xc0, "\x08\x00\x01\x00\x01\x01\x01\x11\x00")), "it has two sizes", "again"},
		{"two heads in a PNG", "a.png", withChunks(png, string(png[8:33])), "it has two sizes", "again"},
		{"a PNG that starts otherwise", "a.png", append([]byte(pngSignature), chunk("tEXt", "a\x00b")...), "the head of it is damaged", "again"},
		{"another size in the frame of a WebP", "a.webp", changed(t, webp, "\x9d\x01\x2a\x40", "\x9d\x01\x2a\x41"), "it has two sizes", "again"},
		{"no sampling", "a.jpg", changed(t, jpg, "\x03\x01\x22", "\x03\x01\x02"), "the head of it is damaged", "again"},

		{"pixels", "a.jpg", sized(jpg, 10_000, 6_001), "is 10000 × 6001 pixels, more than the 60 million", "smaller"},
		{"the largest JPEG", "a.jpg", sized(jpg, 65_535, 65_535), "more than the 60 million", "smaller"},
		{"the largest PNG", "a.png", sized(png, 1<<31-1, 1<<31-1), "more than the 60 million", "smaller"},
		{"larger than the largest PNG", "a.png", sized(png, 1<<32-1, 1<<32-1), "the head of it is damaged", "again"},
		{"the largest WebP", "a.webp", sized(webp, 16_383, 16_383), "more than the 60 million", "smaller"},
		{"a long line", "a.png", sized(png, 65_536, 900), "has a side of 65536 pixels", "smaller"},
		{"little data for a JPEG's size", "a.jpg", sized(jpg, 10_000, 6_000), "cannot hold the 10000 × 6000 pixels", "again"},
		{"little data for a PNG's size", "a.png", sized(png, 10_000, 6_000), "bytes cannot hold the 10000 × 6000 pixels", "again"},
		{"memory of a deep interlaced PNG", "a.png", sized(changed(t, deep, "\x10\x06\x00\x00\x00", "\x10\x06\x00\x00\x01"), 10_000, 6_000),
			"would take 720 MB of memory", "smaller"},
		{"scans", "a.jpg", append(bytes.Clone(jpg[:len(jpg)-2]), strings.Repeat(segment(0xda, "\x01\x01\x00\x00\x00\x00"), 100)+"\xff\xd9"...),
			"goes over its pixels too many times", "again"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			info, err := Inspect(c.file, c.data)
			var wrong *Wrong
			if !errors.As(err, &wrong) {
				t.Fatalf("got %+v and %v", info, err)
			}
			if !strings.Contains(wrong.What, c.what) || !strings.Contains(wrong.Hint, c.hint) || c.hint == "" {
				t.Errorf("got %q, want it to hold %q and %q", wrong, c.what, c.hint)
			}
			if info != (Info{}) {
				t.Errorf("got %+v beside the error", info)
			}
			// The name apart, Make refuses the same for the same reason.
			if strings.Contains(wrong.Hint, "name it") {
				return
			}
			_, err = Make(c.data, 400)
			if want := "the picture" + strings.TrimPrefix(wrong.Error(), c.file); err == nil || err.Error() != want {
				t.Errorf("Make says %v, want %s", err, want)
			}
		})
	}
}

// A progressive photo keeps all its coefficients until the last scan.
func TestMemoryOfProgressive(t *testing.T) {
	frame := func(sampling byte) []byte {
		return []byte{8, 6000 >> 8, 6000 & 255, 9000 >> 8, 9000 & 255, 3, 1, sampling, 0, 2, 0x11, 1, 3, 0x11, 1}
	}
	cases := []struct {
		name     string
		mark     byte
		sampling byte
		want     int // bytes a pixel, times 2
	}{
		{"baseline, full colour", markSOF0, 0x11, 6},
		{"baseline, a quarter of the colour", markSOF0, 0x22, 3},
		{"progressive, full colour", markSOF2, 0x11, 30},
		{"progressive, a quarter of the colour", markSOF2, 0x22, 15},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			h := head{held: MaxBytes}
			if wrong := h.readFrame(c.mark, frame(c.sampling)); wrong != nil {
				t.Fatal(wrong)
			}
			if want := 9000 * 6000 * c.want / 2; h.memory != want {
				t.Errorf("got %d, want %d", h.memory, want)
			}
			wrong := h.check()
			if refused := wrong != nil && strings.Contains(wrong.What, "810 MB of memory"); refused != (c.want == 30) {
				t.Errorf("got %v", wrong)
			}
		})
	}
}

func TestOrientation(t *testing.T) {
	good := tiffOf(binary.LittleEndian, 6)
	with := func(at int, bytes string) string { return good[:at] + bytes + good[at+len(bytes):] }
	entry := 8 + 2 + 12 // where the tag stands
	cases := []struct {
		name, tiff string
		want       turn
	}{
		{"little-endian", good, 6},
		{"big-endian", tiffOf(binary.BigEndian, 8), 8},
		{"nothing", "", 1},
		{"no header", good[2:], 1},
		{"mixed byte order", with(0, "MM"), 1},
		{"zero", tiffOf(binary.LittleEndian, 0), 1},
		{"nine", tiffOf(binary.BigEndian, 9), 1},
		{"high byte set", tiffOf(binary.BigEndian, 0x0106), 1},
		{"as a LONG", with(entry+2, "\x04"), 1},
		{"two values", with(entry+4, "\x02"), 1},
		{"the directory is the header", with(4, "\x00\x00\x00\x00"), 1},
		{"the directory lies outside", with(4, "\xff\xff\xff\xff"), 1},
		{"the directory starts at the last byte", good[:4] + "\x09\x00\x00\x00" + "\x01\x00", 1},
		{"more entries than there is room for", with(8, "\xff\xff"), 6},
		{"more entries, none of them it", with(8, "\xff\xff")[:entry+11], 1},
		{"no entries", with(8, "\x00\x00"), 1},
		{"it stands behind the last entry", with(8, "\x01\x00"), 1},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if got := orientation([]byte(c.tiff)); got != c.want {
				t.Errorf("got %d, want %d", got, c.want)
			}
		})
	}
}

// A bomb is a small file whose pixels would fill the memory. It must go off in
// nobody's hands: refusing one costs next to no memory.
func TestBombs(t *testing.T) {
	jpg, png, webp := asJPEG(t, scene(60, 40)), asPNG(t, scene(60, 40)), held(t, "lossy.webp")
	bombs := map[string][]byte{
		"JPEG over the limit":     sized(jpg, 65_535, 65_535),
		"JPEG under the limit":    sized(jpg, 10_000, 6_000),
		"PNG over the limit":      sized(png, 1<<31-1, 1<<31-1),
		"PNG under the limit":     sized(png, 10_000, 6_000),
		"WebP over the limit":     sized(webp, 16_383, 16_383),
		"large frame, small head": changed(t, webp, "\x9d\x01\x2a\x40\x00\x30\x00", "\x9d\x01\x2a\xff\x1f\xff\x1f"),
	}
	for name, data := range bombs {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			_, err := Make(data, 400)
			_, croppedErr := MakeCropped(data, 400, 300)
			_, _, checkErr := Check("a", data)
			runtime.ReadMemStats(&after)
			if err == nil || croppedErr == nil || checkErr == nil {
				t.Errorf("got %v, %v and %v", err, croppedErr, checkErr)
			}
			if used := after.TotalAlloc - before.TotalAlloc; used > 200_000 {
				t.Errorf("it took %d bytes", used)
			}
		})
	}
}
