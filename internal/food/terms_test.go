package food

import (
	"slices"
	"strings"
	"testing"
)

func TestInEnglish(t *testing.T) {
	for _, c := range []struct{ language, text, want string }{
		{"en", "Hervir el agua", "Hervir el agua"},
		{"fi", "paista uunissa", "paista uunissa"},
		{"es", "", ""},
		{"es", "Hervir el agua", "boil el water"},
		{"es-MX", "Freír los huevos, en aceite.", "fry los egg, en oil."},
		{"es", "pan integral", "bread integral"},
		{"es", "leche de coco", "coconut milk"},
		{"es", "leche, de coco", "milk, de coconut"},
		{"es", "Huevos crudos (yemas)", "raw egg yolk)"},
		{"es", "reposar toda la noche", "rest overnight"},
		{"es", "98 °C", "98 °c"},
	} {
		if got := InEnglish(c.language, c.text); got != c.want {
			t.Errorf("%s %q: %q, want %q", c.language, c.text, got, c.want)
		}
	}
}

// TestSpanishAllergens: each of the fourteen allergens of the EU list (Regulation (EU)
// No 1169/2011, Annex II) is found by a food's Spanish name, but for sulphites, which
// are no food; and what only sounds like one is not.
func TestSpanishAllergens(t *testing.T) {
	for name, want := range map[string]string{
		"harina de trigo": "wheat", "leche entera": "milk", "huevos": "eggs", "salmón": "fish", "camarones": "Crustacean shellfish",
		"almendras": "tree nuts", "cacahuates": "peanuts", "salsa de soja": "soybeans", "ajonjolí": "sesame",
	} {
		if !slices.ContainsFunc(Allergens(InEnglish("es", name), nil), func(a Allergen) bool { return a.US == want }) {
			t.Errorf("%s: no %s in %v", name, want, Allergens(InEnglish("es", name), nil))
		}
	}
	for name, want := range map[string]string{"apio": "celery", "mostaza": "mustard", "lupinos": "lupin", "mejillones": "molluscs"} {
		if !slices.ContainsFunc(Allergens(InEnglish("es", name), nil), func(a Allergen) bool { return a.EU == want }) {
			t.Errorf("%s: no %s", name, want)
		}
	}
	for _, name := range []string{"leche de coco", "agua", "sal", "azúcar", "papas", "nuez moscada"} {
		for _, a := range Allergens(InEnglish("es", name), nil) {
			if a.Strength > Check {
				t.Errorf("%s: %+v", name, a)
			}
		}
	}
}

func TestTermsAreWellFormed(t *testing.T) {
	seen := map[string]bool{}
	for line := range strings.Lines(spanishTerms) {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		forms, english, is := strings.Cut(line, " = ")
		if !is || strings.TrimSpace(english) == "" {
			t.Errorf("%q is no term", line)
		}
		for form := range strings.SplitSeq(forms, "|") {
			if form != plainSpanish(form) || strings.TrimSpace(form) != form || form == "" {
				t.Errorf("%q is not written as it is looked for", form)
			}
			if seen[form] {
				t.Errorf("%q stands there twice", form)
			}
			seen[form] = true
		}
	}
}

func FuzzInEnglish(f *testing.F) {
	f.Add("Freír «los» huevos… en aceite.")
	f.Add("\xff á (")
	f.Fuzz(func(t *testing.T, text string) { InEnglish("es", text) })
}
