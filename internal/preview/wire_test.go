package preview

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"sidebatch.example/sidebatch/internal/site"
)

// wires is a listener inside a bubble of testing/synctest, where time is exact: what
// waits for five seconds takes none.
type wires struct {
	calls  chan net.Conn
	closed chan struct{}
	once   sync.Once
}

func (w *wires) Accept() (net.Conn, error) {
	select {
	case c := <-w.calls:
		return c, nil
	case <-w.closed:
		return nil, net.ErrClosed
	}
}

func (w *wires) Close() error {
	w.once.Do(func() { close(w.closed) })
	return nil
}

func (w *wires) Addr() net.Addr { return &net.TCPAddr{IP: net.IPv4(127, 0, 0, 1), Port: 8123} }

// dial opens a connection and says something.
func (w *wires) dial(t *testing.T, say string) net.Conn {
	t.Helper()
	here, there := net.Pipe()
	w.calls <- there
	if _, err := io.WriteString(here, say); err != nil {
		t.Fatal(err)
	}
	return here
}

// wired serves a kitchen in memory to a test in a bubble. Whatever goroutine is left when
// the server has closed makes the test fail.
func wired(t *testing.T, test func(*testing.T, *server, *wires)) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		s := serve(loaded(Options{Content: site.Content{FS: small(), Shown: "kitchen"}, Theme: builtIn}))
		done := make(chan struct{})
		s.done = done
		l := &wires{calls: make(chan net.Conn), closed: make(chan struct{})}
		web := s.web()
		go func() { _ = web.Serve(l) }()
		test(t, s, l)
		close(done)
		if err := web.Close(); err != nil {
			t.Error(err)
		}
		time.Sleep(time.Second) // net/http waits half a second before it hangs up on what it refused
	})
}

const hostLine = "Host: 127.0.0.1:8123\r\n"

// What a request says before its path is looked at, byte for byte.
func TestRequestLines(t *testing.T) {
	tests := []struct {
		name, request string
		want          int
	}{
		{"usual", "GET /tea/ HTTP/1.1\r\n" + hostLine + "\r\n", 200},
		{"by a whole address", "GET http://127.0.0.1:8123/tea/ HTTP/1.1\r\n" + hostLine + "\r\n", 200},
		{"by a whole address without a path", "GET http://localhost:8123 HTTP/1.1\r\n" + hostLine + "\r\n", 200},
		{"by the address of another host", "GET http://rebound.example/tea/ HTTP/1.1\r\n" + hostLine + "\r\n", 421},
		{"by the address of another port", "GET http://127.0.0.1:80/tea/ HTTP/1.1\r\n" + hostLine + "\r\n", 421},
		{"another host", "GET /tea/ HTTP/1.1\r\nHost: rebound.example\r\n\r\n", 421},
		{"another host by IPv6", "GET /tea/ HTTP/1.1\r\nHost: [2001:db8::1]:8123\r\n\r\n", 421},
		{"this machine written otherwise", "GET /tea/ HTTP/1.1\r\nHost: 2130706433:8123\r\n\r\n", 421},
		{"a user before the host", "GET /tea/ HTTP/1.1\r\nHost: x@127.0.0.1:8123\r\n\r\n", 400},
		{"no host", "GET /tea/ HTTP/1.1\r\n\r\n", 400},
		{"no host, as it was in the beginning", "GET /tea/ HTTP/1.0\r\n\r\n", 421},
		{"two hosts", "GET /tea/ HTTP/1.1\r\n" + hostLine + "Host: rebound.example\r\n\r\n", 400},
		{"a backslash", "GET /..\\..\\kitchen.yaml HTTP/1.1\r\n" + hostLine + "\r\n", 404},
		{"up and up", "GET /../../etc/passwd HTTP/1.1\r\n" + hostLine + "\r\n", 404},
		{"no slash", "GET etc/passwd HTTP/1.1\r\n" + hostLine + "\r\n", 400},
		{"a broken escape", "GET /%zz HTTP/1.1\r\n" + hostLine + "\r\n", 400},
		{"a hidden NUL", "GET /tea/%00 HTTP/1.1\r\n" + hostLine + "\r\n", 404},
		{"everything", "OPTIONS * HTTP/1.1\r\n" + hostLine + "\r\n", 405},
		{"a way through", "CONNECT other.example:443 HTTP/1.1\r\nHost: other.example:443\r\n\r\n", 405},
		{"something is sent", "GET / HTTP/1.1\r\n" + hostLine + "Content-Length: 3\r\n\r\nabc", 413},
		{"something is sent in pieces", "GET / HTTP/1.1\r\n" + hostLine + "Transfer-Encoding: chunked\r\n\r\n0\r\n\r\n", 413},
		{"much is said", "GET / HTTP/1.1\r\n" + hostLine + "X: " + strings.Repeat("x", 2*headerSize) + "\r\n\r\n", 431},
		{"events, of which only the head is asked for", "HEAD /.preview/events?at=1&page=/ HTTP/1.1\r\n" + hostLine + "\r\n", 200},
	}
	wired(t, func(t *testing.T, _ *server, l *wires) {
		for _, tt := range tests {
			c := l.dial(t, "")
			go io.WriteString(c, tt.request) // the server need not read all of it
			answer, err := http.ReadResponse(bufio.NewReader(c), &http.Request{Method: tt.request[:strings.Index(tt.request, " ")]})
			if err != nil {
				t.Errorf("%s: %v", tt.name, err)
				continue
			}
			if answer.StatusCode != tt.want {
				t.Errorf("%s: %s, want %d", tt.name, answer.Status, tt.want)
			}
			c.Close()
		}
	})
}

// Who dawdles is given up, to the second.
func TestDawdlers(t *testing.T) {
	request := func(target string) string { return "GET " + target + " HTTP/1.1\r\n" + hostLine + "\r\n" }
	tests := []struct {
		name, say string
		reads     bool // everything that comes, else nothing
		want      time.Duration
	}{
		{"says nothing", "", true, headerTime},
		{"says half of it", "GET / HTTP/1.1\r\nHo", true, headerTime},
		{"announces more than it says", "GET / HTTP/1.1\r\n" + hostLine + "Content-Length: 9\r\n\r\nabc", true, headerTime},
		{"reads nothing", request("/tea/"), false, answerTime},
		{"reads no events", request("/.preview/events?at=9999999999999&page=/"), false, beat + answerTime},
		{"asks once", request("/tea/"), true, idleTime},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			wired(t, func(t *testing.T, s *server, l *wires) {
				start := time.Now()
				c := l.dial(t, tt.say)
				defer c.Close()
				if tt.reads {
					_, _ = io.Copy(io.Discard, c) // until the server hangs up
				} else {
					time.Sleep(tt.want - time.Millisecond)
					if synctest.Wait(); c.SetReadDeadline(start) != nil {
						t.Fatal("given up too early")
					}
					time.Sleep(time.Second)
					synctest.Wait()
				}
				took := time.Since(start).Truncate(time.Second)
				if took > tt.want || tt.reads && took != tt.want {
					t.Errorf("given up after %v, want %v", took, tt.want)
				}
				if n, err := c.Read(make([]byte, 1)); err == nil {
					t.Errorf("the connection is open, %d bytes come", n)
				}
				if len(s.streams) > 0 {
					t.Error("a place is still taken")
				}
			})
		})
	}
}

// As many pages as there are places for wait at once, one more is told that it is too
// many, and when they have gone nothing is left of them.
func TestManyStreams(t *testing.T) {
	wired(t, func(t *testing.T, s *server, l *wires) {
		request := fmt.Sprintf("GET %s?at=%d&page=/tea/ HTTP/1.1\r\n%s\r\n", eventsPage, s.desk.now().version, hostLine)
		var open []net.Conn
		for range mostStreams {
			c := l.dial(t, request)
			answer, err := http.ReadResponse(bufio.NewReader(c), nil)
			if err != nil || answer.StatusCode != http.StatusOK {
				t.Fatalf("stream %d: %v %v", len(open), answer, err)
			}
			open = append(open, c)
		}
		c := l.dial(t, request)
		answer, err := http.ReadResponse(bufio.NewReader(c), nil)
		if err != nil || answer.StatusCode != http.StatusServiceUnavailable || answer.Header.Get("Retry-After") == "" {
			t.Errorf("one too many: %v %v", answer, err)
		}
		for _, c := range append(open, c) {
			c.Close()
		}
		time.Sleep(2 * beat) // whoever has gone is missed at the next beat at the latest
		synctest.Wait()
		if n := len(s.streams); n != 0 {
			t.Errorf("%d places are taken, and everybody has gone", n)
		}
	})
}
