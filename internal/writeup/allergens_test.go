package writeup

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/wording"
)

// bunKitchen reads a kitchen with one note; what it says of allergens is put in.
func bunKitchen(t *testing.T, lists, allergens string) *findings.Findings {
	t.Helper()
	folder := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		path := filepath.Join(folder, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("kitchen.yaml", "allergens: "+lists+"\n")
	write("buns/trial.md", `---
title: T
question: Q?
recipe:
  name: Buns
  ingredients:
    flour: 300 g all-purpose flour
    fat: 100 g butter
    grain: 20 g barley flour
    nut: 20 g coconut
  flours: [flour]
`+allergens+`
samples:
  plain: {control: true}
  oil: {change: {fat: 80 g sunflower oil}}
verdict: {prefer: oil}
---
`)
	return read(t, folder, "buns")
}

// said writes a view as lines: "Contains: milk [list]: butter (A)".
func said(v *page.Allergens) string {
	var lines []string
	for _, g := range v.Groups {
		for _, l := range g.Lines {
			text := g.Strength + ": " + l.Name
			if l.List != "" {
				text += " [" + l.List + "]"
			}
			for _, from := range l.From {
				text += ", " + from.Food
				if from.Strength != "" {
					text += " (" + from.Strength + ")"
				}
				for _, s := range from.Samples {
					text += " " + s.Letter
				}
			}
			if l.Note != "" {
				text += " " + l.Note
			}
			lines = append(lines, text)
		}
	}
	return strings.Join(append(lines, v.Taken...), "\n")
}

func TestAllergens(t *testing.T) {
	tests := []struct {
		name, lists, front string
		writeUp, recipe    string
	}{
		{"both lists, on one line where they agree", "both", "",
			"Contains: milk, butter A\nContains: wheat [US list], all-purpose flour\nContains: cereals containing gluten [EU list], all-purpose flour, barley flour",
			"Contains: wheat [US list], all-purpose flour\nContains: cereals containing gluten [EU list], all-purpose flour, barley flour"},
		{"one list", "us", "",
			"Contains: milk, butter A\nContains: wheat, all-purpose flour",
			"Contains: wheat, all-purpose flour"},
		{"stated, from the other list too", "us", "allergens: {contains: [sesame, celery]}",
			"Contains: milk, butter A\nContains: wheat, all-purpose flour\nContains: sesame The note says so.\nContains: celery [EU list] The note says so.",
			"Contains: wheat, all-purpose flour\nContains: sesame The note says so.\nContains: celery [EU list] The note says so."},
		{"taken away", "us", "allergens: {free of: [milk, wheat]}",
			"Not listed: milk, which butter would point to; the label of what was used says so. Yours may say otherwise.\n" +
				"Not listed: wheat, which all-purpose flour would point to; the label of what was used says so. Yours may say otherwise.",
			"Not listed: wheat, which all-purpose flour would point to; the label of what was used says so. Yours may say otherwise."},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := bunKitchen(t, tt.lists, tt.front)
			for _, side := range []struct {
				what string
				got  *page.Allergens
				want string
			}{{"write-up", Of(f).Allergens, tt.writeUp}, {"recipe of B", Recipe(f).Allergens, tt.recipe}} {
				if got := said(side.got); got != side.want {
					t.Errorf("%s:\n%s\nwant\n%s", side.what, got, side.want)
				}
				if !strings.Contains(strings.ToLower(side.got.Notice), "label") || len(side.got.Notes) != 1 {
					t.Errorf("%s: notice %q, notes %q", side.what, side.got.Notice, side.got.Notes)
				}
			}
		})
	}
}

// TestNoFreeClaim: whatever the note says, no page claims that something is free
// of an allergen.
func TestNoFreeClaim(t *testing.T) {
	claim := regexp.MustCompile(`(?i)free[ -]of|-free|free from|contains no |no allergens`)
	for _, front := range []string{"", "allergens: {free of: [milk, gluten, wheat]}"} {
		f := bunKitchen(t, "both", front)
		data, err := json.Marshal([]any{Of(f), Recipe(f)})
		if err != nil {
			t.Fatal(err)
		}
		if found := claim.FindAll(data, -1); found != nil {
			t.Errorf("%q: %q", front, found)
		}
	}
}

// TestDeference: the page and results.json defer in the same words.
func TestDeference(t *testing.T) {
	page := wording.English().Of("page").Say("local rules")
	if page != findings.Deference(nil) {
		t.Errorf("%q and %q", page, findings.Deference(nil))
	}
}

func TestUnbroken(t *testing.T) {
	tests := []struct{ in, want string }{
		{"71.1 °C (160 °F)", "71.1\u00a0°C (160\u00a0°F)"},
		{"2 hours, 20 minutes, 305 m (1,000 ft)", "2\u00a0hours, 20\u00a0minutes, 305\u00a0m (1,000\u00a0ft)"},
		{"1 hour and 4 more", "1\u00a0hour and 4 more"},
		{"2004 and 2021", "2004 and 2021"},
	}
	for _, tt := range tests {
		if got := spoken(nil).unbroken()(tt.in); got != tt.want {
			t.Errorf("%q: %q, want %q", tt.in, got, tt.want)
		}
	}
}
