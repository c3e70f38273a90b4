package picture

import (
	"bytes"
	"slices"
	"unicode/utf8"
)

// reader reads the head of one format.
type reader func(data []byte) (head, *Wrong)

// readerOf tells by a file's first bytes what it is, and names the kinds that are
// often taken for a picture that a page can show.
func readerOf(data []byte) (reader, *Wrong) {
	starts := func(s string) bool { return bytes.HasPrefix(data, []byte(s)) }
	const export = "export it as JPEG"
	switch {
	case starts("\xff\xd8"):
		return lookJPEG, nil
	case starts(pngSignature):
		return lookPNG, nil
	case starts("RIFF") && len(data) >= 12 && string(data[8:12]) == "WEBP":
		return lookWebP, nil
	case len(data) >= 12 && string(data[4:8]) == "ftyp":
		return nil, ofMedia(data)
	case starts("GIF87a"), starts("GIF89a"):
		return nil, unsupported("a GIF", "export it as PNG, or as JPEG if it is a photo")
	case starts("II*\x00"), starts("MM\x00*"), starts("IIRO"), starts("IIU\x00"):
		return nil, unsupported("a TIFF or a camera's raw file", export)
	case starts("BM") && len(data) >= 26 && data[6]|data[7]|data[8]|data[9] == 0:
		return nil, unsupported("a BMP", "export it as PNG, or as JPEG if it is a photo")
	case starts("\xff\x0a"), starts("\x00\x00\x00\x0cJXL "):
		return nil, unsupported("a JPEG XL", export)
	case starts("\x00\x00\x00\x0cjP  "), starts("\xff\x4f\xff\x51"):
		return nil, unsupported("a JPEG 2000", export)
	case starts("%PDF-"):
		return nil, unsupported("a PDF", "export the page as PNG")
	case isSVG(data):
		return nil, unsupported("an SVG drawing", "export it as PNG")
	}
	return nil, &Wrong{What: "is no picture", Hint: "photos are JPEG, PNG or WebP files"}
}

func unsupported(kind, hint string) *Wrong {
	return &Wrong{What: "is " + kind + ", a kind of file that is not supported here", Hint: hint}
}

// ofMedia names a file in the ISO base media format by its brands (ISO/IEC 14496-12,
// section 4.3; the brands of HEIC stand in ISO/IEC 23008-12, those of AVIF in its own
// specification). The brand mif1 only says "pictures"; the compatible brands say
// which.
func ofMedia(data []byte) *Wrong {
	size := min(len(data), 16+4*32, int(be32(data)))
	brands := []string{string(data[8:12])}
	for i := 16; i+4 <= size; i += 4 {
		brands = append(brands, string(data[i:i+4]))
	}
	has := func(names ...string) bool {
		return slices.ContainsFunc(brands, func(b string) bool { return slices.Contains(names, b) })
	}
	switch {
	case has("avif", "avis"):
		return unsupported("an AVIF picture", "export it as JPEG")
	case has("heic", "heix", "heim", "heis", "hevc", "hevx", "hevm", "hevs", "mif1", "msf1"):
		return unsupported("a HEIC picture", "export it as JPEG, or let the camera save JPEG")
	case has("crx "):
		return unsupported("a camera's raw file", "export it as JPEG")
	}
	return unsupported("a video", "export one of its pictures as JPEG")
}

// isSVG looks for the root element near the beginning of a text.
func isSVG(data []byte) bool {
	start := data[:min(len(data), 1024)]
	for len(start) > 0 && len(data) > len(start) && !utf8.RuneStart(data[len(start)]) {
		start = start[:len(start)-1]
	}
	return utf8.Valid(start) && bytes.Contains(start, []byte("<svg"))
}

func be16(b []byte) uint16 { return uint16(b[0])<<8 | uint16(b[1]) }

func be32(b []byte) uint32 { return uint32(be16(b))<<16 | uint32(be16(b[2:])) }

func le32(b []byte) uint32 {
	return uint32(b[0]) | uint32(b[1])<<8 | uint32(b[2])<<16 | uint32(b[3])<<24
}
