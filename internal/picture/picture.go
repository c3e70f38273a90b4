// Package picture makes photos fit for the web: it turns them upright, makes them
// as wide as a page needs, crops them to a common shape, and leaves out everything
// that is not the picture itself: the place and time it was taken, the camera's
// serial number, thumbnails, comments, colour profiles.
//
// Bytes go in and bytes come out, the same bytes for the same picture (with one
// release of the Go library, whose encoders do the writing). JPEG, PNG and still
// WebP pictures are read, JPEG and PNG are written.
//
// It refuses to enlarge, to read or write files, to guess what a broken picture
// showed, and to convert between colour spaces: every picture is taken for sRGB, as
// CSS Color 4 asks of one without a profile. A photo with a profile of a wider
// space (many phones write Display P3) comes out a little paler than it was.
//
// Limits hold before a pixel is decoded: MaxBytes, MaxPixels, MaxSide, MaxMemory, and
// as much data as the size in the header calls for at the very least.
package picture

import (
	"fmt"
	"path"
	"strings"
)

// The formats of Info and Made.
const (
	JPEG = "jpeg"
	PNG  = "png"
	WebP = "webp"
)

// Ends of what is accepted.
const (
	MaxBytes  = 40_000_000  // a file, in bytes
	MaxPixels = 60_000_000  // a picture, width × height
	MaxSide   = 65_535      // its width, its height: what a JPEG can be
	MaxMemory = 512_000_000 // about what its decoder needs, in bytes
)

// Info is what the head of a picture says.
type Info struct {
	Format        string // JPEG, PNG or WebP
	Width, Height int    // in pixels, of the picture turned upright
}

// Wrong says what is wrong with a picture, and what would help.
type Wrong struct {
	What string // "photos/a.png is a JPEG"
	Hint string // "name it photos/a.jpg"; may be empty
}

func (w *Wrong) Error() string {
	if w.Hint == "" {
		return w.What
	}
	return w.What + " (" + w.Hint + ")"
}

// Inspect reads what stands around the pixels and decodes none of them, in time that
// the file's length bounds. The name is the file's path as messages should show it;
// its ending is held against what the file is. A picture that ends too early is
// found; other damage among the pixels is left for Check and Make to find.
//
// Errors are of type *Wrong.
func Inspect(name string, data []byte) (Info, error) {
	h, wrong := look(data)
	if wrong == nil {
		wrong = checkName(name, h.format)
	}
	if wrong != nil {
		return Info{}, wrong.of(name)
	}
	return h.info(), nil
}

// head is what is known of a picture before it is decoded.
type head struct {
	format        string
	width, height int // as stored
	turn          turn
	memory        int // bytes its decoder needs, about
	least         int // bytes its pixels take up at the very least
	held          int // bytes that hold them
}

// info turns the head upright.
func (h head) info() Info {
	if h.turn.swaps() {
		return Info{Format: h.format, Width: h.height, Height: h.width}
	}
	return Info{Format: h.format, Width: h.width, Height: h.height}
}

// look reads a picture's head and refuses what must not reach a decoder. What it
// says has no subject yet; see of.
func look(data []byte) (head, *Wrong) {
	if len(data) == 0 {
		return head{}, &Wrong{What: "is empty", Hint: "copy it from the camera again"}
	}
	if len(data) > MaxBytes {
		return head{}, &Wrong{
			What: fmt.Sprintf("has %d MB, more than the %d MB that a picture may have", len(data)/1_000_000, MaxBytes/1_000_000),
			Hint: smaller,
		}
	}
	read, wrong := readerOf(data)
	if wrong != nil {
		return head{}, wrong
	}
	h, wrong := read(data)
	if wrong == nil {
		wrong = h.check()
	}
	if wrong != nil {
		return head{}, wrong
	}
	return h, nil
}

const smaller = "export it smaller; a page shows it 1600 pixels wide at most"

// tooManyPixels is asked before sizes are multiplied.
func tooManyPixels(width, height int) bool { return height > 0 && width > MaxPixels/height }

// check holds a head against the limits and against what the file holds.
func (h head) check() *Wrong {
	switch {
	case h.width <= 0 || h.height <= 0:
		return broken("its size is missing")
	case tooManyPixels(h.width, h.height):
		return &Wrong{
			What: fmt.Sprintf("is %d × %d pixels, more than the %d million that a picture may have", h.width, h.height, MaxPixels/1_000_000),
			Hint: smaller,
		}
	case max(h.width, h.height) > MaxSide:
		return &Wrong{What: fmt.Sprintf("has a side of %d pixels, more than the %d that a picture may have", max(h.width, h.height), MaxSide), Hint: smaller}
	case h.memory > MaxMemory:
		return &Wrong{
			What: fmt.Sprintf("would take %d MB of memory to open, more than the %d MB that a picture may take", h.memory/1_000_000, MaxMemory/1_000_000),
			Hint: smaller,
		}
	case h.least > h.held:
		return broken(fmt.Sprintf("%d bytes cannot hold the %d × %d pixels it claims to have", h.held, h.width, h.height))
	}
	return nil
}

// of gives what is wrong its subject.
func (w *Wrong) of(subject string) *Wrong {
	return &Wrong{What: subject + " " + w.What, Hint: w.Hint}
}

func broken(how string) *Wrong {
	return &Wrong{What: "is broken: " + how, Hint: "copy or export it from the original again"}
}

func short() *Wrong {
	return &Wrong{What: "is broken: it ends too early", Hint: "copy it from the camera again"}
}

// checkName holds the ending of a name against the format of the file.
func checkName(name, format string) *Wrong {
	endings := map[string][]string{JPEG: {".jpg", ".jpeg"}, PNG: {".png"}, WebP: {".webp"}}[format]
	ending := path.Ext(name)
	for _, e := range endings {
		if strings.EqualFold(ending, e) {
			return nil
		}
	}
	spelled := map[string]string{JPEG: "JPEG", PNG: "PNG", WebP: "WebP"}[format]
	return &Wrong{What: "is a " + spelled, Hint: "name it " + strings.TrimSuffix(name, ending) + endings[0]}
}
