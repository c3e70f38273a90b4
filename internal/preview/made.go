package preview

import (
	"strings"
	"sync"

	"sidebatch.example/sidebatch/internal/press"
	"sidebatch.example/sidebatch/internal/site"
)

// mostMade bounds the bytes that are kept of what was made.
const mostMade = 64 << 20

// made keeps what was asked for, so that many browsers at once cost no more than
// one.
type made struct {
	mutex sync.Mutex
	files map[string]func() ([]byte, error)
	size  int
}

func newMade() *made { return &made{files: map[string]func() ([]byte, error){}} }

// next is what may be kept when something was saved: files that are named by what
// is in them, as pictures are.
func (m *made) next() *made {
	m.mutex.Lock()
	defer m.mutex.Unlock()
	kept := newMade()
	if m.size > mostMade/2 {
		return kept
	}
	for path, file := range m.files {
		if strings.Contains(path, "/photos/") {
			kept.files[path] = file
			kept.size = m.size // more than it is; it bounds all the same
		}
	}
	return kept
}

// make returns an output, made once however many ask for it at the same time. A
// panic in it is an error.
func (m *made) make(o site.Output) ([]byte, error) {
	m.mutex.Lock()
	file, known := m.files[o.Path]
	if !known {
		file = sync.OnceValues(func() ([]byte, error) {
			data, err := press.Make(o)
			m.add(len(data))
			return data, err
		})
		m.files[o.Path] = file
	}
	m.mutex.Unlock()
	return file()
}

// add counts bytes, and lets everything go when they are too many.
func (m *made) add(size int) {
	m.mutex.Lock()
	defer m.mutex.Unlock()
	if m.size += size; m.size > mostMade {
		m.files, m.size = map[string]func() ([]byte, error){}, 0
	}
}
