package picture

import "bytes"

// maxScans bounds the passes over a JPEG. A progressive photo has about ten; a file
// of many thousand almost empty ones keeps a decoder busy for hours.
const maxScans = 100

// Markers of ITU-T T.81, table B.1.
const (
	markSOF0 = 0xc0 // baseline
	markSOF1 = 0xc1 // extended sequential
	markSOF2 = 0xc2 // progressive
	markDHT  = 0xc4
	markJPG  = 0xc8
	markDAC  = 0xcc
	markEOI  = 0xd9
	markSOS  = 0xda
	markAPP1 = 0xe1
)

// lookJPEG walks the segments of a JPEG to its end (ITU-T T.81, annex B) and reads
// the frame header and the Exif block. Between segments it skips whatever is no
// marker, as decoders do.
func lookJPEG(data []byte) (head, *Wrong) {
	h := head{format: JPEG, turn: asStored, held: len(data)}
	rest, scans, exif := data[2:], 0, false
	for {
		var mark byte
		if mark, rest = nextMarker(rest); mark == 0 {
			return h, short()
		}
		if mark == markEOI {
			break
		}
		if len(rest) < 2 {
			return h, short()
		}
		length := int(be16(rest))
		if length < 2 {
			return h, broken("a part of it has no length")
		}
		if length > len(rest) {
			return h, short()
		}
		segment := rest[2:length]
		rest = rest[length:]
		switch {
		case mark == markAPP1 && !exif && scans == 0 && bytes.HasPrefix(segment, []byte(exifHeader)):
			h.turn, exif = orientation(segment[len(exifHeader):]), true
		case mark == markSOS:
			if scans++; scans > maxScans {
				return h, broken("it goes over its pixels too many times")
			}
			if h.width == 0 || h.height == 0 {
				return h, broken("its size is missing")
			}
		case isFrame(mark):
			if wrong := h.readFrame(mark, segment); wrong != nil {
				return h, wrong
			}
		}
	}
	if scans == 0 {
		return h, broken("there is nothing in it")
	}
	return h, nil
}

// nextMarker returns the next marker that starts a segment or ends the picture, and
// what follows it; 0 where there is none. Stuffed zeros, restart markers and fill
// bytes are passed over.
func nextMarker(data []byte) (mark byte, rest []byte) {
	for {
		at := bytes.IndexByte(data, 0xff)
		if at < 0 {
			return 0, nil
		}
		data = data[at:]
		for len(data) > 0 && data[0] == 0xff {
			data = data[1:]
		}
		if len(data) == 0 {
			return 0, nil
		}
		mark, data = data[0], data[1:]
		if mark > 0x01 && (mark < 0xd0 || mark > 0xd7) {
			return mark, data
		}
	}
}

func isFrame(mark byte) bool {
	return mark >= markSOF0 && mark <= 0xcf && mark != markDHT && mark != markJPG && mark != markDAC
}

// readFrame reads a frame header: precision, height, width, then for each component
// its sampling factors (ITU-T T.81, B.2.2).
func (h *head) readFrame(mark byte, segment []byte) *Wrong {
	if mark > markSOF2 || len(segment) > 0 && segment[0] != 8 {
		return unusualJPEG()
	}
	if len(segment) < 6 || len(segment) != 6+3*int(segment[5]) {
		return broken("the head of it is damaged")
	}
	if h.width != 0 {
		return broken("it has two sizes")
	}
	h.height, h.width = int(be16(segment[1:])), int(be16(segment[3:]))
	if tooManyPixels(h.width, h.height) {
		return nil // check says so
	}
	components := segment[6:]
	var across, down int
	for c := components; len(c) > 0; c = c[3:] {
		across, down = max(across, int(c[1]>>4)), max(down, int(c[1]&15))
	}
	samples := 0
	for c := components; len(c) > 0; c = c[3:] {
		if c[1]>>4 == 0 || c[1]&15 == 0 {
			return broken("the head of it is damaged")
		}
		samples += ceil(h.width*int(c[1]>>4), across) * ceil(h.height*int(c[1]&15), down)
	}
	// Of a block of 64 samples, the first scan holds a bit at least.
	h.least = samples / 64 / 8
	h.memory = samples
	if mark == markSOF2 {
		h.memory += 4 * samples // all coefficients wait for the last scan
	}
	if n := len(components) / 3; n == 3 || n == 4 {
		h.memory += (n - 3) * 4 * h.width * h.height // a second copy with four inks
	}
	return nil
}

func unusualJPEG() *Wrong {
	return unsupported("a JPEG of an unusual kind", "export it as an ordinary JPEG")
}

func ceil(a, b int) int { return (a + b - 1) / b }
