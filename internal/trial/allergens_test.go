package trial

import (
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/recipe"
)

// TestListedAllergens holds the names against those of the rules of the food
// table, and the nine and the fourteen against what the laws count: FALCPA 2004
// with the FASTER Act 2021, and Regulation (EU) No 1169/2011, Annex II.
func TestListedAllergens(t *testing.T) {
	us, eu := map[string]bool{}, map[string]bool{}
	for _, l := range ListedAllergens() {
		if l.US != "" {
			us[l.US] = true
		}
		eu[l.EU] = true
	}
	if len(us) != 9 || len(eu) != 14 {
		t.Errorf("%d and %d names, want 9 and 14", len(us), len(eu))
	}
	for _, name := range []string{"butter", "eggs", "cod", "shrimp", "walnuts", "peanut butter", "wheat flour", "tofu", "tahini",
		"celery", "mustard", "dried apricots", "lupin flour", "mussels", "barley"} {
		found := food.Allergens(name, nil)
		if len(found) == 0 {
			t.Errorf("%s points to nothing", name)
		}
		for _, a := range found {
			if a.US != "" && !us[a.US] || a.EU != "" && !eu[a.EU] {
				t.Errorf("%s: %q, %q are on no list", name, a.US, a.EU)
			}
		}
	}
}

func TestAllergenNamed(t *testing.T) {
	tests := []struct {
		in   string
		want ListedAllergen
		ok   bool
	}{
		{"milk", ListedAllergen{"milk", "milk"}, true},
		{"Sesame", ListedAllergen{"sesame", "sesame seeds"}, true},
		{"sesame seeds", ListedAllergen{"sesame", "sesame seeds"}, true},
		{"nuts", ListedAllergen{"tree nuts", "nuts"}, true},
		{"crustacean shellfish", ListedAllergen{"Crustacean shellfish", "crustaceans"}, true},
		{"wheat", ListedAllergen{"wheat", "cereals containing gluten"}, true},
		{"gluten", ListedAllergen{"", "cereals containing gluten"}, true},
		{"cereals  containing gluten", ListedAllergen{"", "cereals containing gluten"}, true},
		{"sulfites", ListedAllergen{"", "sulphur dioxide and sulphites"}, true},
		{"lupine", ListedAllergen{"", "lupin"}, true},
		{"coconut", ListedAllergen{}, false},
		{"", ListedAllergen{}, false},
	}
	for _, tt := range tests {
		if got, ok := allergenNamed(tt.in); got != tt.want || ok != tt.ok {
			t.Errorf("%q: %v %v, want %v %v", tt.in, got, ok, tt.want, tt.ok)
		}
	}
	// Every short name leads somewhere.
	for short, full := range shortAllergens() {
		if _, ok := allergenNamed(short); !ok {
			t.Errorf("%q stands for %q, which is on no list", short, full)
		}
	}
}

func TestTakes(t *testing.T) {
	tests := []struct {
		stated string
		of     food.Allergen
		us, eu bool
	}{
		{"milk", food.Allergen{US: "milk", EU: "milk"}, true, true},
		{"milk", food.Allergen{US: "eggs", EU: "eggs"}, false, false},
		{"wheat", food.Allergen{US: "wheat", EU: "cereals containing gluten"}, true, true},
		{"wheat", food.Allergen{EU: "cereals containing gluten"}, false, false}, // barley
		{"gluten", food.Allergen{US: "wheat", EU: "cereals containing gluten"}, false, true},
		{"gluten", food.Allergen{EU: "cereals containing gluten"}, false, true},
		{"celery", food.Allergen{EU: "celery"}, false, true},
		{"tree nuts", food.Allergen{US: "tree nuts"}, true, false},
		{"mustard", food.Allergen{US: "wheat"}, false, false},
	}
	for _, tt := range tests {
		l, _ := allergenNamed(tt.stated)
		if us, eu := l.Takes(tt.of); us != tt.us || eu != tt.eu {
			t.Errorf("free of %s, of %v: %v %v, want %v %v", tt.stated, tt.of, us, eu, tt.us, tt.eu)
		}
	}
}

// TestAllergensIn: what a preparation names is to be checked, and the row of a
// stand-in says nothing of what was used.
func TestAllergensIn(t *testing.T) {
	tests := []struct {
		name, preparation string
		via               food.Via
		want              string
	}{
		{"butter", "", food.EverydayExact, "milk: contains"},
		{"potatoes", "rolled in sesame seeds", food.EverydayExact, "sesame: check the label"},
		{"potatoes", "sliced", food.EverydayExact, ""},
		{"milk", "with butter", food.EverydayExact, "milk: contains"},
		{"house spred", "", food.EverydayAssumption, ""},
		{"house spred", "", food.EverydayClose, "milk: contains"},
	}
	butter, found := food.Find("butter")
	if !found {
		t.Fatal("no butter in the table")
	}
	for _, tt := range tests {
		i := recipe.Ingredient{Food: tt.name, Preparation: tt.preparation}
		if tt.name == "house spred" {
			i.Match, i.Found = butter, true
			i.Match.Via = tt.via
		}
		var got []string
		for _, a := range new(Trial).AllergensIn(i) {
			got = append(got, a.US+": "+a.Strength.String())
		}
		if strings.Join(got, ", ") != tt.want {
			t.Errorf("%s, %s (%s): %v, want %q", tt.name, tt.preparation, tt.via, got, tt.want)
		}
	}
}

func TestReadAllergens(t *testing.T) {
	note := strings.Replace(plainNote, "\nsamples:", "\nallergens: {contains: [sesame], free of: [Wheat, gluten]}\nsamples:", 1)
	trial, problems := read(map[string][]byte{NoteFile: []byte(note)})
	if problems.Errors() > 0 {
		t.Fatal(problems.Sorted())
	}
	a := trial.Allergens
	if len(a.Contains) != 1 || a.Contains[0].Name() != "sesame" || len(a.FreeOf) != 2 || a.FreeOf[0].US != "wheat" || a.FreeOf[1].US != "" {
		t.Fatalf("%+v", a)
	}
	line := 1 + strings.Count(note[:strings.Index(note, "allergens:")], "\n")
	if at := a.FreeOf[1].Place; at.Line != line || at.Column != 50 {
		t.Errorf("gluten stands at %d:%d, want %d:50", at.Line, at.Column, line)
	}
	var asked problem.List
	trial.Check(&asked)
	n := 0
	for _, p := range asked.Sorted() {
		if p.Code == problem.FreeOf {
			n++
		}
	}
	if n != 2 {
		t.Errorf("%d questions about what is free of, want 2: %v", n, asked.Sorted())
	}
}
