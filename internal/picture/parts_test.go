package picture

import (
	"bytes"
	"encoding/binary"
	"strings"
	"testing"
)

// segmentsOf lists the marker segments of a JPEG, and chunksOf the chunks of a PNG.
func segmentsOf(t *testing.T, data []byte) (marks []byte) {
	t.Helper()
	rest := data[2:]
	for {
		var mark byte
		if mark, rest = nextMarker(rest); mark == markEOI {
			if len(rest) > 0 {
				t.Errorf("%d bytes after the end", len(rest))
			}
			return marks
		}
		marks = append(marks, mark)
		rest = rest[be16(rest):]
	}
}

func chunksOf(data []byte) (kinds []string) {
	for rest := data[8:]; len(rest) > 0; rest = rest[12+be32(rest):] {
		kinds = append(kinds, string(rest[4:8]))
	}
	return kinds
}

func TestNothingBesideThePixels(t *testing.T) {
	tiff := tiffOf(binary.BigEndian, 6)
	const xmp = "http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta><exif:GPSLatitude>48,51.49N</exif:GPSLatitude></x:xmpmeta>"
	secrets := []string{"Exif", "GPSLatitude", "Kettle", "xmpmeta", "ICC_PROFILE", "8BIM", "at home", "MPF", "ftypmp42", "48,51"}
	loaded := append(withSegments(asJPEG(t, photo(90, 60)),
		segment(0xe0, "JFIF\x00\x01\x02\x00\x00\x01\x00\x01\x00\x00"), exifSegment(tiff), segment(0xe1, xmp),
		segment(0xe2, "ICC_PROFILE\x00\x01\x01"+strings.Repeat("p", 200)), segment(0xe2, "MPF\x00MM\x00*"),
		segment(0xed, "8BIM at home"), segment(0xfe, "at home")), "\x00\x00\x00\x18ftypmp42 at home"...)
	chunks := []string{chunk("eXIf", tiff), chunk("tEXt", "Comment\x00at home"), chunk("iTXt", "XML:com.adobe.xmp\x00\x00\x00\x00\x00"+xmp),
		chunk("tIME", "\x07\xea\x02\x0e\x0a\x00\x00"), chunk("pHYs", "\x00\x00\x0b\x13\x00\x00\x0b\x13\x01")}
	drawing := withChunks(asPNG(t, scene(90, 60)), chunks...)
	snap := withChunks(asPNG(t, photo(90, 60)), chunks...)
	for _, data := range [][]byte{loaded, drawing, snap} {
		if !bytes.Contains(data, []byte("GPSLatitude")) || !bytes.Contains(data, []byte("at home")) {
			t.Fatal("the picture gives nothing away to begin with")
		}
	}
	webp := withEXIF(held(t, "lossy.webp"), tiff)
	cases := []struct {
		name   string
		data   []byte
		format string
	}{
		{"JPEG", loaded, JPEG}, {"PNG of a drawing", drawing, PNG}, {"PNG of a photo", snap, JPEG},
		{"WebP", webp, JPEG}, {"WebP with holes", withEXIF(held(t, "lossless-alpha.webp"), tiff), PNG},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			for _, width := range []int{20, 5_000} {
				m, err := Make(c.data, width)
				if err != nil {
					t.Fatal(err)
				}
				cropped, err := MakeCropped(c.data, width, width)
				if err != nil {
					t.Fatal(err)
				}
				for _, m := range []Made{m, cropped} {
					if m.Format != c.format {
						t.Errorf("got a %s, want a %s", m.Format, c.format)
					}
					for _, s := range secrets {
						if bytes.Contains(m.Data, []byte(s)) {
							t.Errorf("%q is still there", s)
						}
					}
					checkParts(t, m)
				}
			}
		})
	}
}

// checkParts allows what decoding needs, and nothing else.
func checkParts(t *testing.T, m Made) {
	t.Helper()
	if m.Format == PNG {
		for _, kind := range chunksOf(m.Data) {
			if !strings.Contains("IHDR PLTE tRNS IDAT IEND", kind) {
				t.Errorf("chunk %s", kind)
			}
		}
		return
	}
	const tables = 0xdb
	for _, mark := range segmentsOf(t, m.Data) {
		if !bytes.Contains([]byte{tables, markSOF0, markDHT, markSOS}, []byte{mark}) {
			t.Errorf("segment %x", mark)
		}
	}
}
