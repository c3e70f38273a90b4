package site

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"sidebatch.example/sidebatch/internal/testkit"
)

// TestPassage: a passage is made where none was left that is made of the same, and left where
// it is known of what it is made.
func TestPassage(t *testing.T) {
	store := &blobs{held: map[string]blob{}}
	m := Remember(store)
	refused := errors.New("refused")
	for _, step := range []struct {
		what   string
		before func()
		from   Digest
		makes  string // "" where nothing is to be made
		want   string
	}{
		{"the first time", nil, Digest{1}, "one", "one"},
		{"again", nil, Digest{1}, "", "one"},
		{"of something else", nil, Digest{2}, "two", "two"},
		{"of what was before", nil, Digest{1}, "three", "three"},
		{"cut short", func() {
			for name, b := range store.held {
				store.held[name] = blob{data: b.data[:len(b.data)-1]}
			}
		}, Digest{1}, "four", "four"},
		{"of what is not known", nil, Digest{}, "five", "five"},
		{"and that was not left", nil, Digest{1}, "", "four"},
	} {
		if step.before != nil {
			step.before()
		}
		got, err := passage(m, "passage-1", step.from, func() (string, error) {
			if step.makes == "" {
				return "", refused
			}
			return step.makes, nil
		})
		if err != nil || got != step.want {
			t.Errorf("%s: %q, %v", step.what, got, err)
		}
	}
	if _, err := passage(m, "passage-2", Digest{1}, func() (string, error) { return "half", refused }); !errors.Is(err, refused) || len(store.held) != 1 {
		t.Errorf("what could not be made: %v, %d blobs", err, len(store.held))
	}
}

// TestShownTitles: of more trials than the page of a factor shows, the title of one that it
// does not name makes no page of a factor again, and every other change makes the page and the
// file that a clean run makes.
func TestShownTitles(t *testing.T) {
	look := testLook(t)
	look.Program = "this one"
	fsys := fstest.MapFS{"kitchen.yaml": {}}
	changes := 0
	note := func(i int, title, lid string) {
		changes++
		f := keptNote(title, fmt.Sprintf("published: 20%02d-01-01", 10+i), "cooked: "+fmt.Sprintf("20%02d-01-01", 10+i), "As we did.")
		f.Data = bytes.Replace(f.Data, []byte("change: {lid: with}"), []byte("change: {lid: "+lid+"}"), 1)
		f.ModTime = time.Unix(int64(changes), 0)
		fsys[fmt.Sprintf("trial-%02d/trial.md", i)] = f
	}
	log := func(i int, reading string) {
		changes++
		f := keptLog(reading)
		f.ModTime = time.Unix(int64(changes), 0)
		fsys[fmt.Sprintf("trial-%02d/pieces.csv", i)] = f
	}
	for i := range 60 {
		note(i, fmt.Sprintf("Trial %d", i), "with")
		log(i, fmt.Sprint(55+i%9))
	}
	store := &blobs{held: map[string]blob{}}
	const page, file = "factors/lid/index.html", "factors/lid/comparisons.csv"
	last := map[string]Digest{}
	for _, step := range []struct {
		what       string
		change     func()
		page, file bool // whether it is to be made again
	}{
		{"nothing before", func() {}, true, true},
		{"nothing", func() {}, false, false},
		{"an old title", func() { note(3, "Another", "with") }, false, false},
		{"a title in the list alone", func() { note(20, "Another", "with") }, true, false},
		{"a title in the rows", func() { note(50, "Another", "with") }, true, false},
		{"an old reading", func() { log(3, "71") }, true, true},
		{"an old level", func() { note(3, "Another", "half on") }, true, true},
		{"a trial less", func() { delete(fsys, "trial-05/trial.md"); delete(fsys, "trial-05/pieces.csv") }, true, true},
	} {
		step.change()
		x, problems := surveyed(t, fsys, store, look)
		clean, _ := surveyed(t, fsys, &blobs{held: map[string]blob{}}, look)
		if problems.Errors() > 0 {
			t.Fatal(step.what, problems.Sorted())
		}
		want := map[string][]byte{}
		for _, o := range All(clean.Plan()) {
			if strings.HasPrefix(o.Path, "factors/lid/") {
				data, err := o.Make()
				if err != nil {
					t.Fatal(err)
				}
				want[o.Path] = data
			}
		}
		for _, o := range All(x.Plan()) {
			again, looked := map[string]bool{page: step.page, file: step.file}[o.Path]
			if !looked {
				continue
			}
			if (o.From != last[o.Path]) != again {
				t.Errorf("%s: %s is to be made again: %t, want %t", step.what, o.Path, !again, again)
			}
			last[o.Path] = o.From
			if got, err := o.Make(); err != nil || !bytes.Equal(got, want[o.Path]) {
				t.Errorf("%s: %s differs (%v):\n%s", step.what, o.Path, err, testkit.Diff(want[o.Path], got))
			}
		}
	}
}
