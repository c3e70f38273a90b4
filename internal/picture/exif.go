package picture

import "encoding/binary"

// turn is an orientation as Exif counts them, 1 to 8; 1 is upright. It tells which
// sides of the scene the stored picture's first row and first column are.
type turn uint8

const asStored turn = 1

// swaps reports whether width and height change places.
func (t turn) swaps() bool { return t >= 5 && t <= 8 }

// exifHeader stands before the TIFF structure in a JPEG's APP1 segment.
const exifHeader = "Exif\x00\x00"

// orientation reads the tag Orientation (0x0112) from an Exif block that starts with
// its TIFF header, and nothing else. It visits the entries of the first image file
// directory once, follows no other offset, and takes whatever is missing, doubled,
// of another type or out of range for "as stored".
//
// Source: CIPA DC-008-2012 (Exif 2.3), sections 4.5.2 (header), 4.6.2 (directory: a
// count, then entries of 12 bytes: tag, type, count, value) and 4.6.4 A (the tag: one
// SHORT, 1 to 8).
func orientation(tiff []byte) turn {
	const (
		header = 8
		entry  = 12
		tag    = 0x0112
		short  = 3
	)
	if len(tiff) < header {
		return asStored
	}
	var order binary.ByteOrder
	switch string(tiff[:4]) {
	case "II*\x00":
		order = binary.LittleEndian
	case "MM\x00*":
		order = binary.BigEndian
	default:
		return asStored
	}
	offset := uint64(order.Uint32(tiff[4:]))
	if offset < header || offset+2 > uint64(len(tiff)) {
		return asStored
	}
	directory := tiff[offset:]
	count := int(order.Uint16(directory))
	directory = directory[2:]
	for range count {
		if len(directory) < entry {
			return asStored
		}
		e := directory[:entry]
		directory = directory[entry:]
		if order.Uint16(e) != tag {
			continue
		}
		value := order.Uint16(e[8:])
		if order.Uint16(e[2:]) != short || order.Uint32(e[4:]) != 1 || value < 1 || value > 8 {
			return asStored
		}
		return turn(value)
	}
	return asStored
}
