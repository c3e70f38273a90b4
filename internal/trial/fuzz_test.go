package trial

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
)

// notes are the notes of the demo and of the small kitchens: seeds for fuzzing.
func notes(tb testing.TB, name string) [][]byte {
	tb.Helper()
	var all [][]byte
	for _, pattern := range []string{"../../content/*/" + name, "../../testdata/kitchens/*/*/" + name} {
		files, _ := filepath.Glob(pattern)
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				tb.Fatal(err)
			}
			all = append(all, data)
		}
	}
	if len(all) == 0 {
		tb.Fatalf("no seeds called %s", name)
	}
	return all
}

// usual is the kitchen of an empty file, with its words read once: a fuzzer would read little else.
var usual = sync.OnceValue(kitchen.Default)

func read(files map[string][]byte) (*Trial, problem.List) {
	content := fstest.MapFS{}
	for name, data := range files {
		content["rice/"+name] = &fstest.MapFile{Data: data}
	}
	var problems problem.List
	t := Read(Folder{FS: content, Slug: "rice", Shown: "content"}, usual(), &problems)
	if t != nil {
		t.Check(&problems)
	}
	return t, problems
}

// checkPlaces fails for a problem outside the trial's files or beyond their ends.
func checkPlaces(t *testing.T, files map[string][]byte, problems problem.List) {
	t.Helper()
	for _, p := range problems.Sorted() {
		name, inside := strings.CutPrefix(p.Pos.File, "content/rice/")
		if !inside {
			t.Fatalf("a problem in %q: %s", p.Pos.File, p)
		}
		unified := strings.ReplaceAll(strings.ReplaceAll(string(files[name]), "\r\n", "\n"), "\r", "\n")
		lines := strings.Split(unified, "\n")
		if p.Pos.Line < 0 || p.Pos.Line > len(lines) || p.Pos.Column < 0 {
			t.Fatalf("a problem beyond the file's %d lines: %s", len(lines), p)
		}
		if p.What == "" || p.Code == "" {
			t.Fatalf("a problem that says nothing: %#v", p)
		}
	}
}

// FuzzNote reads any bytes as a note: no panic, no loop, every problem at a place
// in the file, and the same outcome on a second reading.
func FuzzNote(f *testing.F) {
	for _, note := range notes(f, NoteFile) {
		f.Add(note)
	}
	log := notes(f, PiecesFile)[0]
	f.Fuzz(func(t *testing.T, note []byte) {
		if len(note) > 20_000 {
			return
		}
		files := map[string][]byte{NoteFile: note, PiecesFile: log}
		_, problems := read(files)
		checkPlaces(t, files, problems)
		_, again := read(files)
		if len(again.Sorted()) != len(problems.Sorted()) {
			t.Fatal("two readings found different problems")
		}
	})
}

// FuzzPieces reads any bytes as the log of pieces of a note that is in order.
func FuzzPieces(f *testing.F) {
	for _, log := range notes(f, PiecesFile) {
		f.Add(log)
	}
	note := []byte(plainNote)
	f.Fuzz(func(t *testing.T, log []byte) {
		if len(log) > 20_000 {
			return
		}
		files := map[string][]byte{NoteFile: note, PiecesFile: log}
		trial, problems := read(files)
		checkPlaces(t, files, problems)
		for _, p := range trial.Pieces {
			if trial.Sample(p.Sample) == nil || p.Number == "" || p.Batch < 1 {
				t.Fatalf("a piece that belongs nowhere: %+v", p)
			}
			for name, r := range p.Readings {
				if trial.Measure(name) == nil {
					t.Fatalf("a reading of no measure: %q", name)
				}
				if r.Missing && r.Value.Sign() != 0 {
					t.Fatalf("a missing reading with a value: %+v", r)
				}
			}
		}
	})
}

const plainNote = `---
title: How long for rice?
question: Is rice done after twelve minutes?
recipe:
  name: Boiled rice
  ingredients:
    rice: 200 g white rice
    water: 400 g water
conditions: {boil: 12 min}
samples:
  short: {control: true, divided into: 4}
  long: {change: {boil: 18 min}, divided into: 4}
measures:
  side 1: {kind: time, part of: cook time}
  side 2: {kind: time, part of: cook time}
  surface: {kind: temperature, in: °F}
  width: {kind: length, in: cm}
  done: {kind: yes or no, primary: true}
  soft: {kind: score, from: 1 hard, to: 5 soft}
---
`
