package press

import (
	"errors"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// witness notes what it is shown.
type witness struct {
	mutex  sync.Mutex
	saw    files
	times  int
	refuse error
	others map[string]bool // asked names, with the answer
}

func (w *witness) Kind() string          { return "witness" }
func (w *witness) Before([]byte)         {}
func (w *witness) Recall(string, []byte) {}
func (w *witness) Lapse(string, []byte)  {}

func (w *witness) See(name string, data []byte) []byte {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	w.saw[name] = string(data)
	w.times++
	return nil
}

func (w *witness) Broken(others func(string) bool, _ func(string) ([]byte, error)) ([]byte, error) {
	for name := range w.others {
		w.others[name] = others(name)
	}
	return nil, w.refuse
}

// TestInspector: every file is shown once, unchanged ones too, and in verify mode; and a
// refusal leaves everything as it was.
func TestInspector(t *testing.T) {
	out := newFolder(t)
	first := files{"a": "1", "b/c": "2"}
	for _, o := range []Options{{Workers: 1}, {Workers: 8}, {Verify: true}} {
		w := &witness{saw: files{}}
		o.Out, o.Inspect = out, w
		if _, err := Run(t.Context(), first.outputs(), o); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(first, w.saw); d != "" || w.times != len(first) {
			t.Errorf("%+v: shown %d times: %s", o, w.times, d)
		}
	}
	for _, name := range []string{"letter", "b/note"} {
		if err := os.WriteFile(filepath.Join(out, filepath.FromSlash(name)), []byte("mine"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	before := held(t, out)
	refusal := errors.New("no")
	w := &witness{saw: files{}, refuse: refusal,
		others: map[string]bool{"letter": false, "b/note": false, "a": true, "b": true, "none": true, "letter/deep": true, "../site": true, "": true}}
	sum, err := Run(t.Context(), files{"a": "3", "new": "4"}.outputs(), Options{Out: out, Inspect: w})
	if !errors.Is(err, refusal) || sum != (Summary{}) {
		t.Errorf("%+v, %v", sum, err)
	}
	if d := cmp.Diff(before, held(t, out)); d != "" {
		t.Errorf("changed: %s", d)
	}
	beside, err := os.ReadDir(filepath.Dir(out))
	if err != nil || len(beside) > 2 {
		t.Errorf("beside the site: %v, %v", beside, err)
	}
	want := map[string]bool{"letter": true, "b/note": true, "a": false, "b": false, "none": false, "letter/deep": false, "../site": false, "": false}
	if d := cmp.Diff(want, w.others); d != "" {
		t.Errorf("of somebody else: %s", d)
	}
}
