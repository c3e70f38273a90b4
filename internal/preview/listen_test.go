package preview

import (
	"net"
	"strings"
	"testing"
)

// Only so many connections at once, and a place is free again when one ends.
func TestLimited(t *testing.T) {
	inner, err := net.Listen("tcp4", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	l := limited(inner).(*limiter)
	l.places = make(chan struct{}, 1)
	dial := func() net.Conn {
		c, err := net.Dial("tcp4", inner.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { c.Close() })
		return c
	}
	dial()
	dial()
	first, err := l.Accept()
	if err != nil {
		t.Fatal(err)
	}
	second := make(chan error, 1)
	go func() {
		c, err := l.Accept()
		if err == nil {
			err = c.Close()
		}
		second <- err
	}()
	if len(l.places) != 1 {
		t.Fatal("the first has no place")
	}
	first.Close()
	first.Close() // a second time frees no second place
	if err := <-second; err != nil {
		t.Fatal(err)
	}
	if len(l.places) != 0 {
		t.Errorf("%d places taken at the end", len(l.places))
	}
	l.places <- struct{}{}
	go l.Close()
	if _, err := l.Accept(); err == nil {
		t.Error("closed, and accepts")
	}
}

func TestListenTaken(t *testing.T) {
	l, err := net.Listen("tcp4", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	port := l.Addr().(*net.TCPAddr).Port
	if _, _, err := listen(t.Context(), port); err == nil || !strings.Contains(err.Error(), "cannot be used") {
		t.Errorf("a taken port: %v", err)
	}
	listeners, _, err := listen(t.Context(), 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range listeners {
		if ip := l.Addr().(*net.TCPAddr).IP; !ip.IsLoopback() {
			t.Errorf("listens on %v", ip)
		}
		l.Close()
	}
}
