package writeup

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/testkit"
	"sidebatch.example/sidebatch/internal/trial"
)

// read reads a trial of a kitchen and computes its findings.
func read(t *testing.T, folder, slug string) *findings.Findings {
	t.Helper()
	var problems problem.List
	k := kitchen.Default()
	if data, err := os.ReadFile(filepath.Join(folder, kitchen.File)); err == nil {
		k = kitchen.Read(kitchen.File, data, &problems)
	}
	read := trial.Read(trial.Folder{FS: os.DirFS(folder), Slug: slug}, k, &problems)
	if read == nil || problems.Errors() > 0 {
		t.Fatal(problems.Sorted())
	}
	return findings.Of(read)
}

// TestViews holds what the pages say of every trial, word for word, without
// markup: a file that a cook could read.
func TestViews(t *testing.T) {
	for _, folder := range []string{"../../content", "../../testdata/kitchens/pancake", "../../testdata/kitchens/tiny"} {
		notes, err := filepath.Glob(filepath.Join(folder, "*", trial.NoteFile))
		if err != nil || len(notes) == 0 {
			t.Fatalf("no notes in %s: %v", folder, err)
		}
		for _, note := range notes {
			slug := filepath.Base(filepath.Dir(note))
			t.Run(slug, func(t *testing.T) {
				f := read(t, folder, slug)
				view := struct {
					WriteUp page.WriteUp
					Recipe  page.Recipe
					Card    page.Card
					Row     page.ArchiveRow
				}{Of(f), Recipe(f), Card(f), Row(f)}
				data, err := json.MarshalIndent(view, "", " ")
				if err != nil {
					t.Fatal(err)
				}
				testkit.Golden(t, filepath.Join("testdata", slug+".json"), append(data, '\n'))
			})
		}
	}
}

func TestSizeName(t *testing.T) {
	tests := []struct {
		of   quantity.Number
		want string
	}{
		{quantity.Int(1), "full batch"},
		{quantity.Ratio(1, 2), "half batch"},
		{quantity.Ratio(1, 3), "a third"},
		{quantity.Int(2), "double batch"},
		{quantity.Ratio(2, 3), "⅔ of a batch"},
	}
	for _, tt := range tests {
		if got := SizeName(nil, tt.of); got != tt.want {
			t.Errorf("%s is called %q, want %q", tt.of, got, tt.want)
		}
	}
}

func TestDurations(t *testing.T) {
	tests := []struct {
		seconds   int64
		text, iso string
	}{
		{45, "45 s", "PT45S"},
		{1200, "20 min", "PT20M"},
		{90, "1 min 30 s", "PT1M30S"},
		{3600, "1 h", "PT1H"},
		{5400, "1 h 30 min", "PT1H30M"},
		{86400, "24 h", "PT24H"},
	}
	for _, tt := range tests {
		if got := duration(tt.seconds); got != tt.text {
			t.Errorf("%d s is %q, want %q", tt.seconds, got, tt.text)
		}
		if got := iso(tt.seconds); got != tt.iso {
			t.Errorf("%d s is %q, want %q (ISO 8601)", tt.seconds, got, tt.iso)
		}
	}
}

// TestLetters: every test of the tray has a letter of its own, whatever they are
// called.
func TestLetters(t *testing.T) {
	named := func(names ...string) []trial.Measure {
		var all []trial.Measure
		for _, n := range names {
			all = append(all, trial.Measure{Name: n})
		}
		return all
	}
	got := testLetters(named("roll", "rise", "ro", "ор", "r"))
	want := []string{"R", "I", "O", "4", "5"}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("letters %q, want %q", got, want)
			break
		}
	}
}

// TestNutritionGaps: what the table does not report is named, and never counted as
// nothing. Trans fat of all-purpose flour is not reported (USDA SR28, 20581).
func TestNutritionGaps(t *testing.T) {
	f := read(t, "../../testdata/kitchens/pancake", "boiling-or-cool")
	n := nutrition(f.Trial, f.Trial.Recipe)
	for _, row := range n.Tables[0].Rows {
		if row[0] == "trans fat" && row[1] == "0 g" {
			t.Errorf("a gap shows as %q", row[1])
		}
	}
	if nutrition(f.Trial, recipe.Recipe{}) != nil {
		t.Error("nothing has nutrition")
	}
}
