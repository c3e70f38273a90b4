package press

import (
	"bytes"
	"errors"
	"fmt"
	"iter"
	"os"
	"path/filepath"
	"slices"
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
	kind   string
	said   []string // what it was told of files that it was not shown
	all    files    // what it should get when it asks for them
	asked  bool     // for a judgement
}

func (w *witness) Kind() string { return "witness" + w.kind }
func (w *witness) Before(whole []byte, passed, lapsed iter.Seq2[string, []byte]) {
	w.said = append(w.said, fmt.Sprintf("before %s", whole))
	for name, fact := range passed {
		w.said = append(w.said, "passed "+name+" "+string(fact))
	}
	for name, fact := range lapsed {
		w.said = append(w.said, "lapsed "+name+" "+string(fact))
	}
}

func (w *witness) See(name string, data []byte) []byte {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	w.saw[name] = string(data)
	w.times++
	return []byte("of " + string(data))
}

func (w *witness) Broken(facts func(string) ([]byte, bool), others func(string) bool, read func(string) ([]byte, error)) ([]byte, error) {
	for name := range w.others {
		w.others[name] = others(name)
	}
	for name, text := range w.all {
		fact, is := facts(name)
		if data, err := read(name); !is || string(fact) != "of "+text || err != nil || string(data) != text {
			w.said = append(w.said, fmt.Sprintf("%s: facts %q %v, read %q %v", name, fact, is, data, err))
		}
	}
	if fact, is := facts("none"); is {
		w.said = append(w.said, fmt.Sprintf("none: facts %q", fact))
	}
	w.asked = true
	return []byte("all"), w.refuse
}

// TestInspector: every file is shown once, unchanged ones too, and in verify mode; and a
// refusal leaves everything as it was.
func TestInspector(t *testing.T) {
	out := newFolder(t)
	first := files{"a": "1", "b/c": "2"}
	for _, o := range []Options{{Workers: 1}, {Workers: 8}, {Verify: true}} {
		w := &witness{saw: files{}}
		o.Out, o.Inspect = out, w
		if _, err := publishAll(t.Context(), first.outputs(), o); err != nil {
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
	sum, err := publishAll(t.Context(), files{"a": "3", "new": "4"}.outputs(), Options{Out: out, Inspect: w})
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

// TestInspectorIsTold: of files that stay the inspector is told what it said of them, or is
// shown them where that is not known; where nothing changed it is not asked.
func TestInspectorIsTold(t *testing.T) {
	out := newFolder(t)
	forget := func(name string) {
		if err := os.Remove(filepath.Join(CacheOf(out), name+".blob")); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		name   string
		before func()
		kind   string
		set    files
		saw    files
		said   []string
		asked  bool
	}{
		{"first", nil, "", files{"a": "1", "b": "2", "c": "3"}, files{"a": "1", "b": "2", "c": "3"}, nil, true},
		{"nothing changed", nil, "", files{"a": "1", "b": "2", "c": "3"}, files{}, nil, false},
		{"one changed, one gone, one new", nil, "", files{"a": "1", "b": "4", "d": "5"}, files{"b": "4", "d": "5"},
			[]string{"before all", "passed a of 1", "lapsed b of 2", "lapsed c of 3"}, true},
		{"again", nil, "", files{"a": "1", "b": "6", "d": "5"}, files{"b": "6"}, []string{"before all", "passed a of 1", "passed d of 5", "lapsed b of 4"}, true},
		{"facts lost, nothing changed", func() { forget(factsName) }, "", files{"a": "1", "b": "6", "d": "5"}, files{}, nil, false},
		{"facts lost, one gone", nil, "", files{"a": "1", "b": "6"}, files{"a": "1", "b": "6"}, nil, true},
		{"table lost, nothing changed", func() { forget(tableName) }, "", files{"a": "1", "b": "6"}, files{"a": "1", "b": "6"},
			[]string{"before all", "lapsed a of 1", "lapsed b of 6"}, true},
		{"other rules", nil, "2", files{"a": "1", "b": "6"}, files{"a": "1", "b": "6"}, nil, true},
	} {
		if c.before != nil {
			c.before()
		}
		w := &witness{saw: files{}, kind: c.kind, all: c.set}
		publishKnown(t, out, c.set, Options{Inspect: w})
		if d := cmp.Diff(c.saw, w.saw); d != "" || w.asked != c.asked || !slices.Equal(w.said, c.said) {
			t.Errorf("%s: asked %v; told %q; shown: %s", c.name, w.asked, w.said, d)
		}
	}
	// Files that nobody looked at are looked at the next time.
	publishKnown(t, out, files{"a": "7"}, Options{})
	w := &witness{saw: files{}, kind: "2"}
	if publishKnown(t, out, files{"a": "7"}, Options{Inspect: w}); !w.asked || w.saw["a"] != "7" {
		t.Errorf("asked %v, shown %v", w.asked, w.saw)
	}
}

// TestSpans: whatever is copied and what is not, the parts make the same text.
func TestSpans(t *testing.T) {
	old := make([]byte, 5*enough)
	for i := range old {
		old[i] = byte(i * 7 % 251)
	}
	for step := range 40 {
		var s spans
		var want []byte
		for at, k := 0, 0; at < len(old); k++ {
			piece := old[at:min(len(old), at+enough/3)]
			at += len(piece)
			if k%(step+2) == step/2 {
				piece = []byte("made again")
			}
			if step%3 == 1 && k%5 == 0 {
				continue // gone
			}
			s.add(piece)
			want = append(want, piece...)
		}
		if got := bytes.Join(append(s.full, s.last), nil); !bytes.Equal(got, want) {
			t.Errorf("%d: %d bytes, want %d", step, len(got), len(want))
		}
	}
	if old[100] != byte(700%251) {
		t.Error("what was lent was written to")
	}
}
