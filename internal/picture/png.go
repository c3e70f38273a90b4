package picture

const pngSignature = "\x89PNG\r\n\x1a\n"

// Colour types (PNG Specification, Third Edition, 11.2.1).
const (
	pngGray         = 0
	pngColour       = 2
	pngIndexed      = 3
	pngGrayAlpha    = 4
	pngColourAlpha  = 6
	pngMostInflated = 1032 // times, by deflate: 258 bytes from 2 bits
)

// lookPNG walks the chunks of a PNG to its end (PNG Specification, Third Edition,
// section 5) and reads IHDR and, before or after the pixels, eXIf. The frames of an
// animated PNG are passed over: what remains is its still picture.
func lookPNG(data []byte) (head, *Wrong) {
	h := head{format: PNG, turn: asStored}
	rest := data[len(pngSignature):]
	for first := true; ; first = false {
		if len(rest) < 12 {
			return h, short()
		}
		length, kind := uint64(be32(rest)), string(rest[4:8])
		if first && (kind != "IHDR" || length != 13) {
			return h, broken("the head of it is damaged")
		}
		if length > uint64(len(rest)-12) {
			return h, short()
		}
		chunk := rest[8 : 8+length]
		rest = rest[12+length:]
		switch kind {
		case "IHDR":
			if !first {
				return h, broken("it has two sizes")
			}
			if wrong := h.readIHDR(chunk); wrong != nil {
				return h, wrong
			}
		case "IDAT":
			h.held += len(chunk)
		case "eXIf":
			h.turn = orientation(chunk)
		case "IEND":
			return h, nil
		}
	}
}

// readIHDR reads size, depth, colour type and interlacing.
func (h *head) readIHDR(chunk []byte) *Wrong {
	width, height := be32(chunk), be32(chunk[4:])
	if width > 1<<31-1 || height > 1<<31-1 {
		return broken("the head of it is damaged")
	}
	h.width, h.height = int(width), int(height)
	depth, colour, interlaced := int(chunk[8]), chunk[9], chunk[12] != 0
	channels := map[byte]int{pngGray: 1, pngColour: 3, pngIndexed: 1, pngGrayAlpha: 2, pngColourAlpha: 4}[colour]
	if channels == 0 || depth == 0 || depth > 16 || depth&(depth-1) != 0 {
		return broken("the head of it is damaged")
	}
	if tooManyPixels(h.width, h.height) {
		return nil // check says so; the products below would be too large
	}
	h.least = h.height * (1 + ceil(h.width*channels*depth, 8)) / pngMostInflated
	h.memory = 4 * h.width * h.height
	if depth == 16 {
		h.memory *= 2
	}
	if interlaced {
		h.memory += h.memory / 2 // the last of seven passes beside the whole
	}
	return nil
}
