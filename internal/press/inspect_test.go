package press

import (
	"bytes"
	"errors"
	"fmt"
	"iter"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/testkit"
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
	whole  string   // what it says of all together
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
	return factsOfWitness(string(data))
}

func (w *witness) Broken(has func(string) bool, facts func(string) []byte, others func(string) bool, read func(string) ([]byte, error)) ([]byte, error) {
	for name := range w.others {
		w.others[name] = others(name)
	}
	for name, text := range w.all {
		fact, is := facts(name), has(name)
		if data, err := read(name); !is || string(fact) != string(factsOfWitness(text)) || err != nil || string(data) != text {
			w.said = append(w.said, fmt.Sprintf("%s: facts %q %v, read %q %v", name, fact, is, data, err))
		}
	}
	if has("none") {
		w.said = append(w.said, "there is a file none")
	}
	w.asked = true
	return []byte(w.whole), w.refuse
}

// factsOfWitness are the same for texts that differ in what comes after a comma.
func factsOfWitness(text string) []byte {
	text, _, _ = strings.Cut(text, ",")
	return []byte("of " + text)
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
		w := &witness{saw: files{}, kind: c.kind, all: c.set, whole: "all"}
		publishKnown(t, out, c.set, Options{Inspect: w})
		if d := cmp.Diff(c.saw, w.saw); d != "" || w.asked != c.asked || !slices.Equal(w.said, c.said) {
			t.Errorf("%s: asked %v; told %q; shown: %s", c.name, w.asked, w.said, d)
		}
	}
	// What a file says to others is the same: nothing is read of what others said, nor written.
	start := files{"a": "1", "b": "2,3"}
	publishKnown(t, out, start, Options{Inspect: &witness{saw: files{}}})
	damaged := filepath.Join(CacheOf(out), factsName+".blob")
	before, err := os.Stat(damaged)
	if err != nil {
		t.Fatal(err)
	}
	for i, text := range []string{"2,4", "2,5"} {
		set := start.with(files{"b": text})
		w := &witness{saw: files{}, all: set}
		if publishKnown(t, out, set, Options{Inspect: w}); !w.asked || !slices.Equal(w.said, []string{"before ", "passed a "}) || len(w.saw) != 1 {
			t.Errorf("%d: asked %v; told %q; shown %q", i, w.asked, w.said, w.saw)
		}
	}
	if after, err := os.Stat(damaged); err != nil || !os.SameFile(before, after) {
		t.Errorf("the facts were written again: %v", err)
	}
	w := &witness{saw: files{}}
	publishKnown(t, out, files{"a": "1", "b": "8"}, Options{Inspect: w})
	if want := []string{"before ", "passed a of 1", "lapsed b of 2"}; !slices.Equal(w.said, want) {
		t.Errorf("told %q, want %q", w.said, want)
	}
	// Files that nobody looked at are looked at the next time.
	publishKnown(t, out, files{"a": "7"}, Options{})
	w = &witness{saw: files{}, kind: "2"}
	if publishKnown(t, out, files{"a": "7"}, Options{Inspect: w}); !w.asked || w.saw["a"] != "7" {
		t.Errorf("asked %v, shown %v", w.asked, w.saw)
	}
}

// TestFactsText: however many facts are those of before, in whatever order of files, what is
// printed reads as what it was printed from.
func TestFactsText(t *testing.T) {
	random := testkit.Rand(t)
	old := facts{"w", paths{}}
	want := [][]byte{}
	for range 300 {
		n := random.IntN(2 * (len(want) + 3))
		now, was := make([][]byte, n), make([]int, n)
		next := 0
		for i := range now {
			if next += random.IntN(4) / 2; next < len(want) && random.IntN(5) > 0 {
				was[i] = next
				next++
			} else {
				now[i] = []byte(strings.Repeat("f", random.IntN(4)))
			}
		}
		in := inspected{kind: "k", whole: "w", old: old}
		text := strings.Join(factsText(in, digest{1}, n, func(i int) ([]byte, int) { return now[i], was[i] }), "")
		for i := range now {
			if now[i] == nil {
				now[i] = want[was[i]]
			}
		}
		old, want = parseFacts(text, "k", digest{1}, n), now
		if old.len() != n {
			t.Fatalf("%d files, want %d", old.len(), n)
		}
		for i, facts := range want {
			if !bytes.Equal(old.of(i), facts) {
				t.Fatalf("file %d of %d: %q, want %q", i, n, old.of(i), facts)
			}
		}
	}
}
