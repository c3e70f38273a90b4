package preview

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/site"
)

// note is a trial with a figure, a table and a checked number. The data are invented.
func note(title, published string) string {
	return fmt.Sprintf(`---
title: %s
question: Does a lid keep tea hot?
%s
recipe:
  name: Tea
  makes: 4 cups
  ingredients:
    water: 1 kg water
    leaves: 12 g tea
    sugar: 2 tbsp granulated sugar
  steps:
    - Bring the water to a boil and pour it over the leaves.
    - "Let it stand for {standing}, lid: {lid}."
conditions: {lid: without, standing: 4 min}
samples:
  open: {name: Without a lid, control: true}
  covered: {name: With a lid, change: {lid: with}}
  short: {name: Half the time, change: {standing: 2 min}}
measures:
  temperature: {kind: temperature, primary: true}
  clear: {kind: yes or no}
verdict: {prefer: covered, because of: [temperature], in words: We leave the lid on.}
---

The lid made a difference: [](value:covered/temperature) against [](value:open/temperature).

![Temperature in the cup](figure:temperature)

![What happened](table:outcomes)
`, title, published)
}

func pieces() string {
	var b strings.Builder
	b.WriteString("sample,piece,temperature,clear\n")
	for i := range 8 {
		fmt.Fprintf(&b, "open,%d,%d,yes\ncovered,%d,%d.5,yes\nshort,%d,%d,no\n", i+1, 58+i%4, i+1, 68+i%5, i+1, 57+i%3)
	}
	return b.String()
}

// folder is a kitchen on disk.
type folder struct {
	t    testing.TB
	path string
}

const published = "published: 2026-01-12"

// newFolder has trials of the given names, all published.
func newFolder(t testing.TB, slugs ...string) folder {
	t.Helper()
	f := folder{t, t.TempDir()}
	f.write("kitchen.yaml", "name: Test kitchen\naddress: https://kitchen.example/tea/\n")
	for _, slug := range slugs {
		f.trial(slug, "Trial "+slug, published)
	}
	return f
}

func (f folder) at(name string) string { return filepath.Join(f.path, filepath.FromSlash(name)) }

func (f folder) write(name, text string) {
	f.t.Helper()
	if err := os.MkdirAll(filepath.Dir(f.at(name)), 0o755); err != nil {
		f.t.Fatal(err)
	}
	if err := os.WriteFile(f.at(name), []byte(text), 0o644); err != nil {
		f.t.Fatal(err)
	}
}

func (f folder) trial(slug, title, published string) {
	f.write(slug+"/pieces.csv", pieces())
	f.write(slug+"/trial.md", note(title, published))
}

func (f folder) do(what error) {
	f.t.Helper()
	if what != nil {
		f.t.Fatal(what)
	}
}

func (f folder) options() Options {
	return Options{
		Content: site.Content{FS: os.DirFS(f.path), Shown: "kitchen"},
		Folder:  f.path,
		Theme:   builtIn,
	}
}

func builtIn(s *site.Site) Theme {
	pages, err := page.New(nil)
	if err != nil {
		return Theme{Err: err}
	}
	methods, err := page.MethodTexts(nil, s.Kitchen.Language)
	return Theme{Look: site.Look{Pages: pages, Methods: methods}, Err: err}
}

// loaded is a desk with a kitchen on it that nobody watches.
func loaded(o Options) *desk {
	d := newDesk(o)
	d.load(touch{all: true, theme: true})
	return d
}

// patience is how long a test waits for what ought to take a few milliseconds.
const patience = 20 * time.Second

// run starts a preview and returns its address. It is stopped at the end of the
// test, which fails should it not stop cleanly.
func run(t *testing.T, o Options) string {
	t.Helper()
	ctx, stop := context.WithCancel(t.Context())
	address, done := make(chan string, 1), make(chan error, 1)
	o.Ready = func(a string, _ error) { address <- a }
	go func() { done <- Run(ctx, o) }()
	t.Cleanup(func() {
		stop()
		select {
		case err := <-done:
			if err != nil {
				t.Errorf("the preview ended with %v", err)
			}
		case <-time.After(patience):
			t.Error("the preview did not stop")
		}
	})
	select {
	case a := <-address:
		return a
	case err := <-done:
		done <- nil
		t.Fatalf("the preview did not start: %v", err)
	case <-time.After(patience):
		t.Fatal("the preview did not start")
	}
	return ""
}
