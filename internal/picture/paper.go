package picture

import (
	"image"
	"slices"
	"sync"

	"golang.org/x/image/draw"
)

// paper lends pictures to draw on, which come back when they have been looked at, and the
// scalers that draw on them: there are several megabytes of them in the work on one photo, and
// photos are much of a size. Whoever gets a picture draws on all of it, for others have before.
type paper struct {
	mutex   sync.Mutex
	blank   [][]byte // the pixels of pictures that came back, the smallest first
	scalers []sizedScaler
}

// sizedScaler makes pictures of the one size into pictures of the other.
type sizedScaler struct {
	to, from image.Point
	draw.Scaler
}

// What is kept of either: as much as a few photos take that are worked on at a time.
const (
	mostBlank   = 16 << 20 // in bytes
	mostScalers = 12
)

func (p *paper) sheet(r image.Rectangle) *image.RGBA {
	n := 4 * r.Dx() * r.Dy()
	p.mutex.Lock()
	defer p.mutex.Unlock()
	at := slices.IndexFunc(p.blank, func(pix []byte) bool { return cap(pix) >= n })
	if at < 0 {
		return image.NewRGBA(r)
	}
	pix := p.blank[at]
	p.blank = slices.Delete(p.blank, at, at+1)
	return &image.RGBA{Pix: pix[:n], Stride: 4 * r.Dx(), Rect: r}
}

func (p *paper) back(m *image.RGBA) {
	p.mutex.Lock()
	defer p.mutex.Unlock()
	at, _ := slices.BinarySearchFunc(p.blank, cap(m.Pix), func(pix []byte, size int) int { return cap(pix) - size })
	p.blank = slices.Insert(p.blank, at, m.Pix)
	size := 0
	for _, pix := range p.blank {
		size += cap(pix)
	}
	for size > mostBlank { // a larger one does for a smaller one too
		size -= cap(p.blank[0])
		p.blank = slices.Delete(p.blank, 0, 1)
	}
}

// scaler is the Catmull-Rom kernel for these sizes.
func (p *paper) scaler(to, from image.Point) draw.Scaler {
	p.mutex.Lock()
	defer p.mutex.Unlock()
	for _, s := range p.scalers {
		if s.to == to && s.from == from {
			return s.Scaler
		}
	}
	if len(p.scalers) == mostScalers {
		p.scalers = slices.Delete(p.scalers, 0, 1)
	}
	s := sizedScaler{to, from, draw.CatmullRom.NewScaler(to.X, to.Y, from.X, from.Y)}
	p.scalers = append(p.scalers, s)
	return s.Scaler
}
