package picture

import "image"

// lookWebP walks the chunks of a WebP (RFC 9649, section 2) and reads the sizes in
// VP8X, "VP8 " and VP8L, which must agree, and the EXIF chunk.
func lookWebP(data []byte) (head, *Wrong) {
	h := head{format: WebP, turn: asStored}
	size := uint64(le32(data[4:])) + 8
	if size < 12 {
		return h, broken("the head of it is damaged")
	}
	if size > uint64(len(data)) {
		return h, short()
	}
	found := false
	for rest := data[12:size]; len(rest) >= 8; {
		kind, length := string(rest[:4]), uint64(le32(rest[4:]))
		if length > uint64(len(rest)-8) {
			return h, short()
		}
		chunk := rest[8 : 8+length]
		rest = rest[min(uint64(len(rest)), 8+length+length%2):]
		switch kind {
		case "ANIM", "ANMF":
			return h, unsupported("an animated WebP", "export one of its pictures as JPEG")
		case "VP8X", "VP8 ", "VP8L":
			width, height := sizeInWebP(kind, chunk)
			if width == 0 || height == 0 {
				return h, broken("the head of it is damaged")
			}
			if h.width != 0 && (h.width != width || h.height != height) {
				return h, broken("it has two sizes")
			}
			h.width, h.height = width, height
			found = found || kind != "VP8X"
		case "EXIF":
			h.turn = orientation(withoutHeader(chunk))
		}
	}
	if !found {
		return h, broken("there is nothing in it")
	}
	if !tooManyPixels(h.width, h.height) {
		h.memory = 8 * h.width * h.height // colours, and alpha in a picture of its own
	}
	return h, nil
}

// sizeInWebP reads the size in a chunk; 0 where there is none.
func sizeInWebP(kind string, chunk []byte) (width, height int) {
	switch {
	case kind == "VP8X" && len(chunk) == 10: // RFC 9649, section 2.7: 24 bits each, less one
		return 1 + int(le32(chunk[3:])>>8), 1 + int(le32(chunk[6:])>>8)
	case kind == "VP8 " && len(chunk) >= 10 && string(chunk[3:6]) == "\x9d\x01\x2a": // RFC 6386, section 9.1: 14 bits each
		return int(le32(chunk[6:]) & 0x3fff), int(le32(chunk[6:]) >> 16 & 0x3fff)
	case kind == "VP8L" && len(chunk) >= 5 && chunk[0] == 0x2f: // RFC 9649, section 3.4: 14 bits each, less one
		return 1 + int(le32(chunk[1:])&0x3fff), 1 + int(le32(chunk[1:])>>14&0x3fff)
	}
	return 0, 0
}

// withoutHeader drops the header that belongs to JPEG but that some programs write
// into a WebP too.
func withoutHeader(exif []byte) []byte {
	if len(exif) >= len(exifHeader) && string(exif[:len(exifHeader)]) == exifHeader {
		return exif[len(exifHeader):]
	}
	return exif
}

// widen spreads the samples of a lossy WebP over the full range, in place. VP8 keeps
// luma in 16..235 and chroma in 16..240 (RFC 6386, section 9.2, by ITU-R BT.601);
// the decoder hands them on as they are (golang.org/issue/40173), but image.YCbCr
// means the full range of JFIF, in which they would look washed out.
func widen(m image.Image) {
	var planes *image.YCbCr
	switch m := m.(type) {
	case *image.YCbCr:
		planes = m
	case *image.NYCbCrA:
		planes = &m.YCbCr
	default:
		return // lossless: RGB already
	}
	luma, chroma := spread(16, 219, 0), spread(128, 224, 128)
	for i, y := range planes.Y {
		planes.Y[i] = luma[y]
	}
	for _, plane := range [][]uint8{planes.Cb, planes.Cr} {
		for i, c := range plane {
			plane[i] = chroma[c]
		}
	}
}

// spread is the table of (v − from) · 255/span + to, rounded and kept in 0..255.
func spread(from, span, to int) (table [256]uint8) {
	for v := range table {
		twice := 2*(v-from)*255 + span // of a numerator over 2·span, with the half to round by
		table[v] = uint8(min(max(floorDiv(twice, 2*span)+to, 0), 255))
	}
	return table
}

func floorDiv(a, b int) int {
	if a < 0 {
		return -((-a + b - 1) / b)
	}
	return a / b
}
