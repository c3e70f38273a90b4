package site

import (
	"slices"
	"sync"
)

// A kitchen of no more than mostOpened trials is read once, and stays in memory while its
// pages are made. Of a larger one, the pages of a trial are made one after the other, so that
// few are needed at a time.
const (
	mostOpened = 64
	fewOpened  = 4
)

// opened are the trials that were opened last.
type opened struct {
	open   func(*Card) (*Entry, error)
	most   int
	mutex  sync.Mutex
	trials map[string]*opening
	order  []string // by when they were opened, the last one last
}

// opening is one trial, with the files that are made of it.
type opening struct {
	once  sync.Once
	entry *Entry
	err   error

	listed sync.Once
	files  map[string]Output
}

// newOpened opens trials of a kitchen of so many.
func newOpened(of int, open func(*Card) (*Entry, error)) *opened {
	o := &opened{open: open, most: mostOpened, trials: map[string]*opening{}}
	if of > mostOpened {
		o.most = fewOpened
	}
	return o
}

// put keeps a trial that was read just now.
func (o *opened) put(c *Card, e *Entry) {
	at := o.find(c.Slug)
	at.once.Do(func() { at.entry = e })
}

// get opens a trial, unless it is open.
func (o *opened) get(c *Card) (*opening, error) {
	at := o.find(c.Slug)
	at.once.Do(func() { at.entry, at.err = o.open(c) })
	return at, at.err
}

func (o *opened) find(slug string) *opening {
	o.mutex.Lock()
	defer o.mutex.Unlock()
	if at := o.trials[slug]; at != nil {
		return at
	}
	if len(o.order) == o.most {
		delete(o.trials, o.order[0])
		o.order = slices.Delete(o.order, 0, 1)
	}
	at := &opening{}
	o.trials[slug] = at
	o.order = append(o.order, slug)
	return at
}

// file finds one of the trial's files by its path.
func (at *opening) file(path string, list func(e *Entry) []Output) (Output, bool) {
	at.listed.Do(func() {
		at.files = map[string]Output{}
		for _, o := range list(at.entry) {
			at.files[o.Path] = o
		}
	})
	o, ok := at.files[path]
	return o, ok
}
