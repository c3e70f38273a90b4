package browser

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"sync"
	"testing"
	"time"
)

// patience is how long a browser may take for one thing before it counts as stuck.
const patience = 60 * time.Second

// chromium is one running browser, spoken to in the DevTools protocol over two
// pipes: no port that others could reach, and nothing to wait for. Of the
// protocol only the few fields that the checks read are named, so that a newer
// or older browser makes no difference.
type chromium struct {
	to      io.WriteCloser
	mu      sync.Mutex // guards what follows, and writing
	last    int
	waiting map[int]chan message
	tabs    map[string]*tab // by session
	ended   error
}

// message is a question, its answer, or an event.
type message struct {
	ID      int             `json:"id,omitempty"`
	Session string          `json:"sessionId,omitempty"`
	Method  string          `json:"method,omitempty"`
	Params  json.RawMessage `json:"params,omitempty"`
	Result  json.RawMessage `json:"result,omitempty"`
	Error   *struct {
		Message string `json:"message"`
	} `json:"error,omitempty"`
}

// startChromium starts the browser; it is closed when the test and its subtests
// are done.
func startChromium(t *testing.T, program string) *chromium {
	t.Helper()
	// Not t.TempDir, which fails the test when the browser is slow to let go of it.
	profile, err := os.MkdirTemp("", "sidebatch-browser")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(profile) })
	theirs, to, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	from, theirOut, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(program, append(flags(), "--user-data-dir="+profile)...)
	c.ExtraFiles = []*os.File{theirs, theirOut} // the protocol's descriptors 3 and 4
	if err := c.Start(); err != nil {
		t.Fatalf("the browser does not start: %v", err)
	}
	theirs.Close()
	theirOut.Close()
	b := &chromium{to: to, waiting: map[int]chan message{}, tabs: map[string]*tab{}}
	gone := make(chan struct{})
	go func() {
		b.listen(from)
		close(gone)
	}()
	t.Cleanup(func() {
		_ = b.ask("", "Browser.close", nil, nil) // it may go before it answers
		select {
		case <-gone:
		case <-time.After(patience):
			_ = c.Process.Kill()
		}
		_ = c.Wait()
		to.Close()
	})
	return b
}

// flags let the browser reach this machine and nothing else, and keep it from
// slowing down what is not in front.
func flags() []string {
	all := []string{
		"--headless", "--remote-debugging-pipe", "--disable-gpu", "--disable-quic", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-default-apps",
		"--disable-extensions", "--disable-dev-shm-usage", "--disable-renderer-backgrounding",
		"--disable-background-timer-throttling", "--disable-backgrounding-occluded-windows",
		"--force-color-profile=srgb", "--hide-scrollbars", "--lang=en",
		"--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
	}
	if os.Geteuid() == 0 { // the browser's own sandbox refuses to work for root
		all = append(all, "--no-sandbox")
	}
	return all
}

// listen hands answers to those who wait and events to their tab, until the
// browser closes its end.
func (b *chromium) listen(from io.Reader) {
	in := bufio.NewReaderSize(from, 1<<16)
	for {
		text, err := in.ReadBytes(0)
		if err != nil {
			b.end(fmt.Errorf("the browser is gone: %w", err))
			return
		}
		var m message
		if err := json.Unmarshal(text[:len(text)-1], &m); err != nil {
			b.end(fmt.Errorf("the browser said what nobody understands: %w", err))
			return
		}
		b.mu.Lock()
		answer, tab := b.waiting[m.ID], b.tabs[m.Session]
		delete(b.waiting, m.ID)
		b.mu.Unlock()
		switch {
		case answer != nil:
			answer <- m
		case tab != nil && m.Method != "":
			tab.heard(m)
		}
	}
}

func (b *chromium) end(why error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.ended = why
	for id, answer := range b.waiting {
		close(answer)
		delete(b.waiting, id)
	}
}

// ask sends a command, to the browser where session is empty, and reads what it
// answers into result, unless that is nil.
func (b *chromium) ask(session, method string, params, result any) error {
	m := message{Session: session, Method: method}
	if params != nil {
		text, err := json.Marshal(params)
		if err != nil {
			return err
		}
		m.Params = text
	}
	answer := make(chan message, 1)
	if err := b.send(m, answer); err != nil {
		return fmt.Errorf("%s: %w", method, err)
	}
	select {
	case got, open := <-answer:
		switch {
		case !open:
			return fmt.Errorf("%s: %w", method, b.ended)
		case got.Error != nil:
			return fmt.Errorf("%s: %s", method, got.Error.Message)
		case result == nil:
			return nil
		}
		return json.Unmarshal(got.Result, result)
	case <-time.After(patience):
		return fmt.Errorf("%s: %w", method, errStuck)
	}
}

var errStuck = errors.New("the browser does not answer")

func (b *chromium) send(m message, answer chan message) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.ended != nil {
		return b.ended
	}
	b.last++
	m.ID = b.last
	text, err := json.Marshal(m)
	if err != nil {
		return err
	}
	b.waiting[m.ID] = answer
	_, err = b.to.Write(append(text, 0))
	return err
}
