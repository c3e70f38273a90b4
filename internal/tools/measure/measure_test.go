package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func TestArgs(t *testing.T) {
	full := t.TempDir()
	if err := os.WriteFile(filepath.Join(full, "mine.txt"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	fresh := filepath.Join(full, "new")
	a, err := readArgs([]string{"--trials", "100, 1000,7", "--seed", "3", "--rounds", "2", "--turns", "4", "--as-it-is", fresh}, io.Discard)
	if err != nil || !slices.Equal(a.trials, []int{100, 1000, 7}) || a.seed != 3 || a.rounds != 2 || a.turns != 4 || !a.asItIs || a.folder != fresh {
		t.Errorf("%+v, %v", a, err)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{nil, "name one folder"},
		{[]string{fresh, fresh}, "name one folder"},
		{[]string{full}, "is not empty (name a new folder)"},
		{[]string{"--trials", "100,,7", fresh}, `"" is no number of trials`},
		{[]string{"--trials", "0", fresh}, `"0" is no number of trials`},
		{[]string{"--trials", "many", fresh}, `"many" is no number of trials`},
		{[]string{"--rounds", "0", fresh}, "at least one is needed"},
		{[]string{"--turns", "0", fresh}, "at least one is needed"},
	} {
		if _, err := readArgs(c.args, io.Discard); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.args, err, c.want)
		}
	}
}

func TestMedian(t *testing.T) {
	for _, c := range []struct {
		of   []float64
		want float64
	}{{[]float64{4}, 4}, {[]float64{3, 1}, 2}, {[]float64{9, 1, 2}, 2}, {[]float64{4, 1, 9, 2}, 3}} {
		before := slices.Clone(c.of)
		if got := median(c.of); got != c.want || !slices.Equal(before, c.of) {
			t.Errorf("%v: %v, want %v, and the order as it was", before, got, c.want)
		}
	}
}

func TestFloorSeconds(t *testing.T) {
	for _, c := range []struct {
		said             string
		seconds, working float64
		ok               bool
	}{
		{"figures 3  4 bytes  5.000 s\nsurvey 9.250 s\nfloor 12.345 s, processors 20.500 s, 8 files, 900 bytes\n", 12.345, 20.5, true},
		{"survey 9.250 s\n", 0, 0, false},
		{"the floor 1.000 s, processors 2.000 s,", 0, 0, false},
	} {
		seconds, working, err := floorSeconds(c.said)
		if seconds != c.seconds || working != c.working || (err == nil) != c.ok {
			t.Errorf("%q: %v, %v, %v", c.said, seconds, working, err)
		}
	}
}

func TestEdited(t *testing.T) {
	got, err := withSentence("---\na: b\n---\n\nOne.\n\n## Two\n\nThree.\n\n## Four\n\nFive.\n")
	if want := "---\na: b\n---\n\nOne.\n\n## Two\n\nThree. We looked twice.\n\n## Four\n\nFive.\n"; err != nil || got != want {
		t.Errorf("%q, %v", got, err)
	}
	if _, err := withSentence("---\n---\n\nOne.\n"); err == nil {
		t.Error("a note without a heading was edited")
	}
	if got, err := withTitle("---\ntitle: Bread\nby: [Odile]\n"); err != nil || got != "---\ntitle: Once more, Bread\nby: [Odile]\n" {
		t.Errorf("%q, %v", got, err)
	}
	if _, err := withTitle("---\nby: [Odile]\n"); err == nil {
		t.Error("a note without a title was edited")
	}
	if got, err := withLevel("samples:\n  b:\n    name: 9 g\n    change: {sugar: 98 g honey}\n  c:\n    change: {sugar: 3 g}\n"); err != nil || got != "samples:\n  b:\n    name: 9 g\n    change: {sugar: 99 g honey}\n  c:\n    change: {sugar: 3 g}\n" {
		t.Errorf("%q, %v", got, err)
	}
	if _, err := withLevel("    change: {flour: rye}\n"); err == nil {
		t.Error("a note without such a level was edited")
	}
	if got, err := withReading("piece,height,mass,note\n1,9.5,50.5,\n2,9.5,51,a 10,\n"); err != nil || got != "piece,height,mass,note\n1,9.5,50.5,\n2,9.5,52,a 10,\n" {
		t.Errorf("%q, %v", got, err)
	}
	if _, err := withReading("piece,height\n1,9.5\n"); err == nil {
		t.Error("a log without such a reading was edited")
	}
}

func TestPublishedNotes(t *testing.T) {
	kitchen := t.TempDir()
	for name, text := range map[string]string{"a": "\npublished: 2024-02-01\n", "b": "", "c": "\npublished: 2025-01-31\n", "d": "\npublished: 2024-12-31\n", "e": "\npublished: 2024-12-01\n"} {
		folder := filepath.Join(kitchen, name)
		if err := errors.Join(os.Mkdir(folder, 0o755), os.WriteFile(filepath.Join(folder, "trial.md"), []byte(text), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	want := notes{filepath.Join(kitchen, "d", "trial.md"), filepath.Join(kitchen, "c", "trial.md")}
	if got, err := publishedNotes(kitchen); err != nil || got != want {
		t.Errorf("%+v, %v", got, err)
	}
	if _, err := publishedNotes(t.TempDir()); err == nil {
		t.Error("an empty kitchen has a note")
	}
	if files, bytes, err := counted(kitchen); files != 5 || bytes != 92 || err != nil {
		t.Errorf("%d files, %d bytes, %v", files, bytes, err)
	}
}

func TestReport(t *testing.T) {
	all := &taken{files: 8, bytes: 900}
	for s := range subjects {
		for _, seconds := range []float64{2, 4, 3} {
			all.add(s, finished{seconds: seconds * float64(s+1), processor: 10 * seconds * float64(2*s+1), memory: int64(seconds) * 1e7})
		}
	}
	var said bytes.Buffer
	if err := errors.Join(heading(&said), all.report(&said, 100)); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"| 100 | the floor | 3.000 | 2.000–4.000 |  | 1.00 | 30.000 | 1.00 | 40 MB | 8 | 900 |\n",
		"| 100 | a sentence changed | 12.000 | 8.000–16.000 | 3.000 | 4.00 | 210.000 | 7.00 | 40 MB | 8 | 900 |\n",
	} {
		if !strings.Contains(said.String(), want) {
			t.Errorf("lacks %q:\n%s", want, &said)
		}
	}
	lines := strings.Split(strings.TrimSpace(said.String()), "\n")
	for _, line := range lines {
		if strings.Count(line, "|") != strings.Count(lines[0], "|") {
			t.Errorf("a row of another width: %s", line)
		}
	}
}
