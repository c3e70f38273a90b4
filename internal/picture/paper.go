package picture

import (
	"image"
	"sync"
)

// paper lends pictures to draw on, which come back when they have been looked at: there are
// several megabytes of them in the work on one photo. Whoever gets one draws on all of it, for
// others have before.
type paper struct{ used sync.Pool }

func (p *paper) sheet(r image.Rectangle) *image.RGBA {
	n := 4 * r.Dx() * r.Dy()
	if m, _ := p.used.Get().(*image.RGBA); m != nil && cap(m.Pix) >= n {
		return &image.RGBA{Pix: m.Pix[:n], Stride: 4 * r.Dx(), Rect: r}
	}
	return image.NewRGBA(r)
}

func (p *paper) back(m *image.RGBA) { p.used.Put(m) }
