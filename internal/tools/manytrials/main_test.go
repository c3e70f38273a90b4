package main

import (
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/site"
)

// TestLoads reads kitchens of a few seeds as publish does. A value that did not agree
// with its log would be an error. The one question that chance alone brings about is
// whether a verdict is carried by its reason.
func TestLoads(t *testing.T) {
	const trials = 30
	for seed := range uint64(4) {
		folder := made(t, trials, seed)
		var problems problem.List
		content := site.Content{FS: os.DirFS(folder), Shown: "content"}
		s := site.Surveyor{Content: content, Kitchen: site.ReadKitchen(content, &problems)}.Survey(&problems)
		for _, p := range problems.Sorted() {
			if p.Weight == problem.Error || !strings.Contains(p.What, "the verdict is not carried") {
				t.Errorf("seed %d: %s", seed, p)
			}
		}
		if got := len(s.Trials) + len(s.InProgress); got != trials {
			t.Errorf("seed %d: %d trials were read, want %d", seed, got, trials)
		}
		if len(s.Trials) < trials*9/10 {
			t.Errorf("seed %d: only %d trials are published", seed, len(s.Trials))
		}
	}
}

// TestVaried: a kitchen has of everything that a trial can have.
func TestVaried(t *testing.T) {
	var all strings.Builder
	for name, text := range files(t, made(t, 200, 3)) {
		fmt.Fprintf(&all, "%s\n", name)
		if strings.HasSuffix(name, ".md") || strings.HasSuffix(name, ".csv") {
			all.WriteString(text)
		}
	}
	for _, part := range []string{"tasting.csv", "probe-curve.csv", "batches: side by side", "repeats: ", "kind: score", "kind: time",
		"kind: pass or fail", "kind: yes or no", "kind: length", "differences>)", "by taster>)", "like: ", "set aside",
		"household-1.csv", "people.yaml", "sample;", "sample-1.jpg", "table.png"} {
		if !strings.Contains(all.String(), part) {
			t.Errorf("no trial of 200 has %q", part)
		}
	}
}

func TestSameSeed(t *testing.T) {
	small, again, large, other := files(t, made(t, 20, 7)), files(t, made(t, 20, 7)), files(t, made(t, 40, 7)), files(t, made(t, 20, 8))
	if !maps.Equal(small, again) {
		t.Error("the same seed made two different kitchens")
	}
	for name, text := range small {
		if large[name] != text {
			t.Errorf("%s is another in the larger kitchen", name)
		}
	}
	if len(large) <= len(small) {
		t.Errorf("40 trials have %d files, 20 have %d", len(large), len(small))
	}
	if maps.Equal(small, other) {
		t.Error("two seeds made the same kitchen")
	}
}

func TestRefused(t *testing.T) {
	full := t.TempDir()
	if err := os.WriteFile(filepath.Join(full, "mine.txt"), []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	fresh := filepath.Join(t.TempDir(), "new")
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{full}, "is not empty (name a new folder)"},
		{[]string{filepath.Join(full, "mine.txt")}, "mine.txt"},
		{nil, "name one folder"},
		{[]string{fresh, fresh}, "name one folder"},
		{[]string{"--trials", "0", fresh}, "0 trials cannot be made (1 to 100000 can)"},
		{[]string{"--trials", "100001", fresh}, "100001 trials cannot be made"},
		{[]string{"--trials", "many", fresh}, "many"},
		{[]string{"--seed", "-1", fresh}, "-1"},
		{[]string{"--spices", fresh}, "spices"},
	} {
		if err := run(c.args, io.Discard); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.args, err, c.want)
		}
	}
	if got := files(t, full); !maps.Equal(got, map[string]string{"mine.txt": "mine"}) {
		t.Errorf("a folder that was refused now holds %q", slices.Sorted(maps.Keys(got)))
	}
	if _, err := os.Stat(fresh); err == nil {
		t.Error("a run that was refused made its folder")
	}
}

func made(t *testing.T, trials int, seed uint64) string {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "kitchen")
	if err := run([]string{"--trials", fmt.Sprint(trials), "--seed", fmt.Sprint(seed), folder}, io.Discard); err != nil {
		t.Fatal(err)
	}
	return folder
}

// files are the texts of a folder by their paths.
func files(t *testing.T, folder string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := fs.WalkDir(os.DirFS(folder), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(p)))
		all[p] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}
