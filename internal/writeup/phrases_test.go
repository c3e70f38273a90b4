package writeup

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// saidInCode are the keys that the code names where it speaks.
func saidInCode(t *testing.T) map[string]bool {
	t.Helper()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]bool{}
	call := regexp.MustCompile(`\b(?:Say|Count|add)\("([^"]+)"`)
	for _, file := range append(files, "../trial/resolution.go", "../findings/allergens.go") {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range call.FindAllStringSubmatch(string(text), -1) {
			said[m[1]] = true
		}
	}
	return said
}

// TestNoPhraseIsIdle: every phrase of the two sections is said by the code or named
// after something that it shows; and everything that is shown has its phrase.
func TestNoPhraseIsIdle(t *testing.T) {
	said := saidInCode(t)
	writeup, allergens := wording.English().Of("writeup"), wording.English().Of("allergens")
	needs := func(of wording.Phrases, key string) {
		said[key] = true
		if !of.Has(key) {
			t.Errorf("no words for %q", key)
		}
	}
	for _, n := range append(labelRows(), recipe.SwapNutrients()...) {
		needs(writeup, "nutrient "+n.Name())
	}
	for _, l := range trial.ListedAllergens() {
		needs(allergens, "name "+findings.EUList+" "+l.EU)
		if l.US != "" {
			needs(allergens, "name "+findings.USList+" "+l.US)
		}
	}
	for _, note := range exemptNotes(t) {
		needs(allergens, "note "+note)
	}
	for _, phrases := range []wording.Phrases{writeup, allergens} {
		for key := range phrases.All() {
			if !said[key] {
				t.Errorf("nothing says %q", key)
			}
		}
	}
}

// exemptNotes are the notes of the rules that exempt, met by what is exempt.
func exemptNotes(t *testing.T) []string {
	t.Helper()
	var notes []string
	for _, name := range []string{"coconut", "dextrose", "soybean oil", "Nuts, acorns, raw"} {
		m, _ := food.Find(name)
		exempt := food.Exempt(name, m.Food)
		if len(exempt) == 0 {
			t.Errorf("%s is not exempt", name)
		}
		for _, a := range exempt {
			notes = append(notes, a.Because.Note)
		}
	}
	return notes
}

// TestNotices: the English notices are the food table's own, one in its voice and one
// in that of a page.
func TestNotices(t *testing.T) {
	if got := findings.AllergenNotice(nil); got != food.Notice() {
		t.Errorf("%q, the food table has %q", got, food.Notice())
	}
	page := strings.Replace(food.Notice(), "AID ONLY: ", "An aid only: ", 1)
	if got := spoken(nil).allergens().Say("notice"); got != page {
		t.Errorf("%q, want %q", got, page)
	}
}

// TestParts: every simple part of an amount has a name.
func TestParts(t *testing.T) {
	names := map[string]bool{}
	for _, part := range recipe.SimpleParts() {
		words := trial.ResolutionWords(wording.English(), kitchen.Default().Instruments, "salt", recipe.Resolution{Share: part})
		if strings.ContainsAny(words, "½⅓¼⅕⅙⅛⅒/[{") || names[words] {
			t.Errorf("%s: %q", part, words)
		}
		names[words] = true
	}
}
