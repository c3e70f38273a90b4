package preview

import (
	"fmt"
	"io"
	"net"
	"net/http"
	"strconv"
	"sync"
	"time"
)

// Bounds on what browsers hold open at the same time.
const (
	mostStreams     = 200 // pages that wait for events
	mostConnections = 512 // all together, on each address
	beat            = 15 * time.Second
)

// events tells one page when it has changed since the version it shows: as
// server-sent events (HTML Living Standard, 9.2).
func (s *server) events(w http.ResponseWriter, r *http.Request) {
	at, err := strconv.ParseInt(r.URL.Query().Get("at"), 10, 64)
	page := r.URL.Query().Get("page")
	if err != nil || len(page) == 0 || page[0] != '/' {
		plain(w, http.StatusBadRequest, "at is a version, page a path")
		return
	}
	w.Header().Set("Content-Type", "text/event-stream")
	if r.Method == http.MethodHead {
		return // nobody listens
	}
	select {
	case s.streams <- struct{}{}:
		defer func() { <-s.streams }()
	default:
		w.Header().Set("Retry-After", "5")
		plain(w, http.StatusServiceUnavailable, "too many pages are open")
		return
	}
	s.wait(stream{w, http.NewResponseController(w)}, r, waiting{page: page, at: at})
}

// waiting is a page and the version that it shows.
type waiting struct {
	page string
	at   int64
}

// wait holds the stream open until the page is no longer what it was, the browser
// goes, or the server stops.
func (s *server) wait(to stream, r *http.Request, page waiting) {
	beats := time.NewTicker(beat)
	defer beats.Stop()
	if to.say("retry: 1000\n\n") != nil {
		return
	}
	for {
		now, next := s.desk.nowAndNext()
		if now.changedIn(page.page) > page.at {
			_ = to.say(fmt.Sprintf("event: refresh\ndata: %d\n\n", now.version)) // or the browser has gone
			return
		}
		select {
		case <-s.done:
			return
		case <-r.Context().Done():
			return
		case <-next:
		case <-beats.C:
			if to.say(": still here\n\n") != nil {
				return
			}
		}
	}
}

// stream is an answer that is sent bit by bit.
type stream struct {
	w       io.Writer
	control *http.ResponseController
}

// say sends a text at once. A browser that does not take it is given up after a
// while.
func (s stream) say(text string) error {
	// A recorder in a test has no deadlines; there is nothing to wait for either.
	_ = s.control.SetWriteDeadline(time.Now().Add(beat + answerTime))
	if _, err := io.WriteString(s.w, text); err != nil {
		return err
	}
	return s.control.Flush()
}

// limited lets in so many connections at once; more of them wait.
func limited(l net.Listener) net.Listener {
	return &limiter{Listener: l, places: make(chan struct{}, mostConnections), closed: make(chan struct{})}
}

type limiter struct {
	net.Listener
	places chan struct{}
	closed chan struct{}
	once   sync.Once
}

func (l *limiter) Accept() (net.Conn, error) {
	select {
	case l.places <- struct{}{}:
	case <-l.closed:
		return nil, net.ErrClosed
	}
	conn, err := l.Listener.Accept()
	if err != nil {
		<-l.places
		return nil, err
	}
	return &seated{Conn: conn, leave: sync.OnceFunc(func() { <-l.places })}, nil
}

func (l *limiter) Close() error {
	l.once.Do(func() { close(l.closed) })
	return l.Listener.Close()
}

// seated is a connection that takes a place until it is closed.
type seated struct {
	net.Conn
	leave func()
}

func (c *seated) Close() error {
	c.leave()
	return c.Conn.Close()
}
