package cli

import (
	"fmt"
	"io"
	"sync"
	"time"
)

const (
	quietFor    = time.Second            // work that is done by then says nothing
	redrawAfter = 100 * time.Millisecond // so that writing the line costs nothing
)

// progress is one line on a terminal that says how far long work is, and is gone when
// it is done. On anything else it says nothing. It may be told from several goroutines.
type progress struct {
	mutex   sync.Mutex
	out     io.Writer // nil: nothing is shown
	now     func() time.Time
	started time.Time
	drawn   time.Time // zero: no line stands there
	most    map[string]int
}

// startProgress begins to measure. It shows something on terminals only.
func startProgress(w io.Writer) *progress {
	p := &progress{now: time.Now, most: map[string]int{}}
	if shows(w) {
		p.out = w
	}
	p.started = p.now()
	return p
}

// tell says that so many of all are done. What is told late is never shown in the place
// of more.
func (p *progress) tell(what string, done, of int) {
	p.mutex.Lock()
	defer p.mutex.Unlock()
	p.most[what] = max(p.most[what], done)
	now := p.now()
	if p.out == nil || now.Sub(p.started) < quietFor || !p.drawn.IsZero() && now.Sub(p.drawn) < redrawAfter {
		return
	}
	p.drawn = now
	// Back to the start of the line, the text, and clear what stands behind it (ECMA-48, EL).
	fmt.Fprintf(p.out, "\r%s: %d of %d\x1b[K", what, p.most[what], of)
}

// telling is tell for one kind of work.
func (p *progress) telling(what string) func(done, of int) {
	return func(done, of int) { p.tell(what, done, of) }
}

// end takes the line away. Nothing is shown afterwards.
func (p *progress) end() {
	p.mutex.Lock()
	defer p.mutex.Unlock()
	if p.out != nil && !p.drawn.IsZero() {
		fmt.Fprint(p.out, "\r\x1b[K")
	}
	p.out = nil
}
