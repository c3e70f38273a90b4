// Package preview shows a kitchen in a browser while people write in it: every
// save is read, and the pages that are open are loaded again.
//
// The way of a save: the watcher notices files (watch.go, poll.go), what belongs
// together is waited for (settle.go), the kitchen is brought up to date (desk.go,
// with site.Kept doing the reading), and the server tells the pages that changed
// (events.go). A page is made when somebody asks for it. A trial with an error keeps its
// last good page; in its place stands what is wrong, at the line it comes from
// (mend.go).
//
// The server is for the people at this machine. It listens on loopback addresses
// only, answers nothing but GET and HEAD to its own name and its own origin, and
// gives out what is in the list of outputs and nothing else. The package writes no
// file, starts no program, and puts nothing into the pages that publish writes.
package preview

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"time"

	"sidebatch.example/sidebatch/internal/site"
)

// Options say what is shown and where.
type Options struct {
	Content site.Content
	Folder  string                 // the same folder by the system's name for it, to be watched; "" watches nothing
	Theme   func(*site.Site) Theme // asked at the start, and when the kitchen's file or the theme changed
	Port    int                    // 0: a free one

	// Ready is called once, when the server answers, with the address of the
	// trial saved last and, where files can only be looked at again and again,
	// with why.
	Ready func(address string, polls error)
}

// Theme is how pages look, or why they cannot.
type Theme struct {
	Look   site.Look
	Err    error
	Folder string // to be watched; "" for the built-in theme
	FS     fs.FS  // the same folder
	Shown  string // how the user named it
}

// How long the server waits for a browser, and for all of them when it stops.
const (
	headerTime = 5 * time.Second
	answerTime = 30 * time.Second
	idleTime   = 2 * time.Minute
	stopTime   = time.Second
	headerSize = 16 << 10
)

// Run serves until the context ends, and then returns nil. An error means that no
// address could be listened on, or that serving broke off.
func Run(ctx context.Context, o Options) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	listeners, port, err := listen(ctx, o.Port)
	if err != nil {
		return err
	}
	d := newDesk(o)
	w := startWatch(ctx, o.Folder)
	d.themeMoved = w.watchTheme
	d.load(touch{all: true, theme: true})
	s := &server{desk: d, hosts: hosts(port), done: ctx.Done(), streams: make(chan struct{}, mostStreams)}
	web := s.web()
	settled := make(chan touch)
	go settle(ctx, w.touched, settled, times{quiet: quietTime, most: mostTime})
	go d.follow(ctx, settled)

	failed := make(chan error, len(listeners))
	for _, l := range listeners {
		go func() { failed <- web.Serve(limited(l)) }()
	}
	if o.Ready != nil {
		o.Ready("http://"+listeners[0].Addr().String()+d.now().start(), w.polls)
	}
	select {
	case <-ctx.Done():
	case err = <-failed:
	}
	stop()
	ending, end := context.WithTimeout(context.WithoutCancel(ctx), stopTime)
	defer end()
	if web.Shutdown(ending) != nil {
		_ = web.Close() // somebody holds a connection open; nothing is lost with it
	}
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// web is the server with its bounds on how long a browser may take and how much it
// may say.
func (s *server) web() *http.Server {
	return &http.Server{
		Handler:           s,
		ReadHeaderTimeout: headerTime,
		ReadTimeout:       headerTime,
		WriteTimeout:      answerTime,
		IdleTimeout:       idleTime,
		MaxHeaderBytes:    headerSize,
		// Else the library would answer OPTIONS * past the handler.
		DisableGeneralOptionsHandler: true,
		ErrorLog:                     slog.NewLogLogger(slog.DiscardHandler, slog.LevelError),
	}
}

// listen opens the port on both loopback addresses. A machine without IPv6 has
// one; a port that somebody else has on either of them is not used, for
// "localhost" may mean either.
func listen(ctx context.Context, port int) ([]net.Listener, int, error) {
	const tries = 20 // for a free port that is free on both
	var config net.ListenConfig
	for try := 1; ; try++ {
		four, err := config.Listen(ctx, "tcp4", fmt.Sprintf("127.0.0.1:%d", port))
		if err != nil {
			return nil, 0, fmt.Errorf("port %d of this machine cannot be used: %w", port, reason(err))
		}
		got := four.Addr().(*net.TCPAddr).Port
		six, err := config.Listen(ctx, "tcp6", fmt.Sprintf("[::1]:%d", got))
		switch {
		case err == nil:
			return []net.Listener{four, six}, got, nil
		case !hasSix(ctx):
			return []net.Listener{four}, got, nil
		}
		_ = four.Close() // nobody has used it
		if port != 0 || try == tries {
			return nil, 0, fmt.Errorf("port %d of this machine cannot be used: %w", got, reason(err))
		}
	}
}

// hasSix reports whether there is a loopback address of IPv6.
func hasSix(ctx context.Context) bool {
	var config net.ListenConfig
	l, err := config.Listen(ctx, "tcp6", "[::1]:0")
	return err == nil && l.Close() == nil
}

// reason leaves the addresses out of a network error.
func reason(err error) error {
	if op, ok := errors.AsType[*net.OpError](err); ok {
		return op.Err
	}
	return err
}
