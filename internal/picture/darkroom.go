package picture

import (
	"crypto/sha256"
	"image"
	"slices"
	"sync"
)

// Bounds of a darkroom, in bytes of pixels.
const (
	roomFor   = 200_000_000 // pictures that are worked on at a time
	keptUnder = 32_000_000  // the largest that is kept for another size of it
	mostKept  = 2           // how many of them
)

// Darkroom makes pictures for a page, of which most are wanted in several sizes: it keeps
// the last few decoded. And it decodes no more at a time than it has room for, so that
// large photos wait for each other, in however many goroutines they are made. One that
// needs more than the room is worked on alone. The zero Darkroom is ready.
type Darkroom struct {
	mutex sync.Mutex
	left  *sync.Cond // somebody has left; its lock is the mutex
	busy  int        // who is in there
	used  int        // bytes, of those and of what is kept
	kept  []*print   // the one that was used last is the last

	paper paper
}

// print is a decoded picture.
type print struct {
	sum   [sha256.Size]byte
	bytes int
	users int

	once  sync.Once
	m     image.Image
	wrong *Wrong
}

// Check is [Check].
func (d *Darkroom) Check(name string, data []byte) (info Info, becomes string, err error) {
	if info, err = Inspect(name, data); err != nil {
		return Info{}, "", err
	}
	h, wrong := look(data)
	if wrong == nil {
		wrong = d.develop(h, data, 0, func(m image.Image) { becomes = formatFor(h, m) })
	}
	if wrong != nil {
		return Info{}, "", wrong.of(name)
	}
	return info, becomes, nil
}

// Make is [Make].
func (d *Darkroom) Make(data []byte, width int) (Made, error) {
	return d.made(data, narrowed(width))
}

// MakeCropped is [MakeCropped].
func (d *Darkroom) MakeCropped(data []byte, width, height int) (Made, error) {
	return d.made(data, croppedTo(width, height))
}

// develop calls use with the pixels of a picture, and waits for room before: for them, and
// for so many bytes beside them.
func (d *Darkroom) develop(h head, data []byte, beside int, use func(m image.Image)) *Wrong {
	p := d.enter(sha256.Sum256(data), h.memory, beside)
	defer d.leave(p, beside)
	p.once.Do(func() { p.m, p.wrong = decode(h, data) })
	if p.wrong == nil {
		use(p.m)
	}
	return p.wrong
}

func (d *Darkroom) enter(sum [sha256.Size]byte, bytes, beside int) *print {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	if d.left == nil {
		d.left = sync.NewCond(&d.mutex)
	}
	for {
		if at := slices.IndexFunc(d.kept, func(p *print) bool { return p.sum == sum }); at >= 0 {
			if p := d.kept[at]; d.busy == 0 || d.used+beside <= roomFor {
				d.kept = append(slices.Delete(d.kept, at, at+1), p)
				d.take(p, beside)
				return p
			}
		} else {
			d.forget(roomFor - bytes - beside)
			if d.busy == 0 || d.used+bytes+beside <= roomFor {
				p := &print{sum: sum, bytes: bytes}
				d.used += bytes
				d.kept = append(d.kept, p)
				d.take(p, beside)
				return p
			}
		}
		d.left.Wait()
	}
}

func (d *Darkroom) take(p *print, beside int) {
	d.busy++
	d.used += beside
	p.users++
}

func (d *Darkroom) leave(p *print, beside int) {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	d.busy--
	d.used -= beside
	p.users--
	d.forget(roomFor)
	d.left.Broadcast()
}

// forget drops what nobody uses: what is too large or too old to be kept, and the oldest
// of the rest until no more than so many bytes are used.
func (d *Darkroom) forget(most int) {
	idle := 0
	for _, p := range d.kept {
		if p.users == 0 {
			idle++
		}
	}
	d.kept = slices.DeleteFunc(d.kept, func(p *print) bool {
		if p.users > 0 || p.bytes <= keptUnder && idle <= mostKept && d.used <= most {
			return false
		}
		idle--
		d.used -= p.bytes
		return true
	})
}
