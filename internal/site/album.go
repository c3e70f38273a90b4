package site

import (
	"sync"

	"sidebatch.example/sidebatch/internal/picture"
)

// album remembers which pictures were looked at, and what came of it, so that a
// kitchen that stays loaded decodes each only once; and it has the darkroom in which they
// are made. Several goroutines may use one.
type album struct {
	darkroom picture.Darkroom

	mutex sync.Mutex
	seen  map[string]looked
}

type looked struct {
	photo photo
	err   error
}

func newAlbum() *album { return &album{seen: map[string]looked{}} }

// look returns what is known of a picture, or looks. The key must hold all that the
// answer depends on.
func (a *album) look(key string, look func() (photo, error)) (photo, error) {
	a.mutex.Lock()
	l, known := a.seen[key]
	a.mutex.Unlock()
	if known {
		return l.photo, l.err
	}
	l.photo, l.err = look()
	a.mutex.Lock()
	a.seen[key] = l
	a.mutex.Unlock()
	return l.photo, l.err
}
