package food

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// nine are the major allergens of US law (21 U.S.C. 321(qq), with sesame by Public
// Law 117-11).
func nine() []string {
	return []string{"milk", "eggs", "fish", "Crustacean shellfish", "tree nuts", "peanuts", "wheat", "soybeans", "sesame"}
}

// fourteen are those of Regulation (EU) No 1169/2011, Annex II, as worded here.
func fourteen() []string {
	return []string{
		"cereals containing gluten", "crustaceans", "eggs", "fish", "peanuts", "soybeans", "milk", "nuts", "celery",
		"mustard", "sesame seeds", "sulphur dioxide and sulphites", "lupin", "molluscs",
	}
}

// short writes findings as "wheat/cereals containing gluten: contains".
func short(found []Allergen) []string {
	var out []string
	for _, a := range found {
		out = append(out, fmt.Sprintf("%s/%s: %s", a.US, a.EU, a.Strength))
	}
	return out
}

func TestAllergens(t *testing.T) {
	const (
		wheat   = "wheat/cereals containing gluten: contains"
		milk    = "milk/milk: contains"
		eggs    = "eggs/eggs: contains"
		sesame  = "sesame/sesame seeds: contains"
		nuts    = "tree nuts/nuts: contains"
		soy     = "soybeans/soybeans: contains"
		peanuts = "peanuts/peanuts: contains"
		gluten  = "/cereals containing gluten: contains"
	)
	for _, test := range []struct {
		name string
		want []string
	}{
		{"flour", []string{wheat}},
		{"all-purpose flour", []string{wheat}},
		{"All‑Purpose FLOUR", []string{wheat}},
		{"bread flour", []string{wheat}},
		{"spelt flour", []string{wheat}},
		{"rye flour", []string{gluten}},
		{"rolled oats", []string{gluten, "wheat/cereals containing gluten: check the label"}},
		{"rice flour", nil},
		{"buckwheat flour", nil},
		{"almond flour", []string{nuts}},
		{"cornstarch", nil},
		{"milk", []string{milk}},
		{"butter", []string{milk}},
		{"Greek yogurt", []string{milk}},
		{"peanut butter", []string{peanuts}},
		{"cocoa butter", nil},
		{"coconut milk", nil},
		{"coconut", nil},
		{"almond milk", []string{nuts}},
		{"cream of tartar", nil},
		{"butternut squash", nil},
		{"nutmeg", nil},
		{"water chestnuts", nil},
		{"eggplant", nil},
		{"large egg", []string{eggs}},
		{"mayonnaise", []string{eggs, "/mustard: check the label"}},
		{"sesame oil", []string{sesame}},
		{"tahini", []string{sesame}},
		{"tofu", []string{soy}},
		{"soybean oil", nil}, // highly refined: exempt, see TestExempt
		{"pine nuts", []string{"tree nuts/: contains"}},
		{"salmon", []string{"fish/fish: contains"}},
		{"shrimp", []string{"Crustacean shellfish/crustaceans: contains", "/sulphur dioxide and sulphites: check the label"}},
		{"oyster mushrooms", nil},
		{"mussels", []string{"/molluscs: contains"}},
		{"celery", []string{"/celery: contains"}},
		{"dijon mustard", []string{"/mustard: contains"}},
		{"water", nil},
		{"salt", nil},
		{"sugar", nil},
	} {
		t.Run(test.name, func(t *testing.T) {
			m, ok := Find(test.name)
			if !ok {
				t.Fatalf("%q is not found", test.name)
			}
			f := m.Food
			if m.Via == EverydayAssumption {
				f = nil
			}
			found := Allergens(test.name, f)
			if got := short(found); !slices.Equal(got, test.want) {
				t.Errorf("got %q, want %q", got, test.want)
			}
			for _, a := range found {
				if a.Because.Words == "" {
					t.Errorf("%s is found without a reason", a.US)
				}
			}
		})
	}
}

// TestAllergensByName reads names that the table does not have.
func TestAllergensByName(t *testing.T) {
	for _, test := range []struct {
		name string
		want string // the allergen that must be there
		not  string // one that must not
	}{
		{"Aunt's sourdough starter (rye and wheat)", "wheat", ""},
		{"hazelnut praline", "tree nuts", ""},
		{"oat milk", "", "milk"},
		{"vegan mayonnaise", "", "eggs"},
		{"milk chocolate", "milk", ""},
		{"lobster bisque", "Crustacean shellfish", ""},
	} {
		found := Allergens(test.name, nil)
		has := func(us string) bool {
			return slices.ContainsFunc(found, func(a Allergen) bool { return a.US == us && us != "" })
		}
		if test.want != "" && !has(test.want) {
			t.Errorf("%s: %q, want %s", test.name, short(found), test.want)
		}
		if has(test.not) {
			t.Errorf("%s: %q, without %s", test.name, short(found), test.not)
		}
	}
	if found := Allergens("", nil); found != nil {
		t.Errorf("an empty name: %q", short(found))
	}
}

// TestAllergensOfRows uses the rules by description and by food group.
func TestAllergensOfRows(t *testing.T) {
	for _, test := range []struct {
		id   ID
		want string
	}{
		{"20080", "wheat/cereals containing gluten: contains"},
		{"01123", "eggs/eggs: contains"},
		{"15015", "fish/fish: contains"},
		{"16120", "soybeans/soybeans: contains"},                       // Soymilk: a description that goes on after the rule's words
		{"18279", "wheat/cereals containing gluten: usually contains"}, // corn muffins
		{"12061", "tree nuts/nuts: contains"},
	} {
		for _, name := range []string{"", string(test.id)} {
			if got := short(Allergens(name, get(t, test.id))); !slices.Contains(got, test.want) {
				t.Errorf("%s named %q: %q, want %q among them", test.id, name, got, test.want)
			}
		}
	}
	for _, id := range []ID{"02047", "14411", "18372"} {
		if got := Allergens("", get(t, id)); len(got) > 0 {
			t.Errorf("%s: %q", id, short(got))
		}
	}
	// Eggs are in the group with milk and hold none.
	if got := short(Allergens("", get(t, "01123"))); len(got) != 1 {
		t.Errorf("an egg: %q", got)
	}
}

func TestExempt(t *testing.T) {
	for name, want := range map[string]string{"soybean oil": "highly refined", "coconut": "taken off the US list"} {
		m, ok := Find(name)
		if !ok {
			t.Fatalf("%q is not found", name)
		}
		found := Exempt(name, m.Food)
		if !slices.ContainsFunc(found, func(a Allergen) bool { return strings.Contains(a.Because.Note, want) && a.Strength == None }) {
			t.Errorf("%s: %+v, want a note with %q", name, found, want)
		}
	}
	if found := Exempt("salt", nil); found != nil {
		t.Errorf("salt: %+v", found)
	}
}

func TestNotice(t *testing.T) {
	n := Notice()
	if !strings.Contains(n, "cannot replace reading the label") || strings.Contains(n, "Skip this row") {
		t.Errorf("the notice is %q", n)
	}
}

// TestRules counts the rules and holds their allergens against the two laws.
func TestRules(t *testing.T) {
	_, rows := records(t, allergensFile)
	book, err := openRules()
	if err != nil {
		t.Fatal(err)
	}
	n := len(book.descriptions) + len(book.groups)
	all := slices.Concat(book.descriptions, book.groups)
	for _, list := range book.words {
		n += len(list)
		all = append(all, list...)
	}
	if n != 667 || len(rows) != 668 { // data/SOURCES.md; one row is the notice
		t.Errorf("%d rules from %d rows, want 667 from 668", n, len(rows))
	}
	us, eu := make(map[string]bool), make(map[string]bool)
	for _, r := range all {
		us[r.allergen.US], eu[r.allergen.EU] = true, true
		if a := r.allergen.US; a != "" && !slices.Contains(nine(), a) {
			t.Errorf("%q names %q, which is none of the nine", r.match, a)
		}
		if a := r.allergen.EU; a != "" && !slices.Contains(fourteen(), a) {
			t.Errorf("%q names %q, which is none of the fourteen", r.match, a)
		}
	}
	for _, a := range nine() {
		if !us[a] {
			t.Errorf("no rule finds %s", a)
		}
	}
	for _, a := range fourteen() {
		if !eu[a] {
			t.Errorf("no rule finds %s", a)
		}
	}
}

func TestExcused(t *testing.T) {
	r := rule{unless: []string{"corn, ", "Egg"}}
	for description, want := range map[string]bool{
		"Muffins, corn, dry mix": true, "Cornbread": false, "popcorn, sweet": false,
		"Egg, whole": true, "Eggnog": false, "Bread, egg": true, "": false,
	} {
		if got := r.excused(description); got != want {
			t.Errorf("%q is excused: %v, want %v", description, got, want)
		}
	}
}

// FuzzAllergens holds that no name fails, that findings are sorted and single,
// and that a longer name of words apart from the rules loses nothing.
func FuzzAllergens(f *testing.F) {
	for _, seed := range []string{"flour", "coconut milk", "crème", "", "soy sauce, tamari", "beer batter"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, name string) {
		found := Allergens(name, nil)
		for i, a := range found {
			if a.Strength == None || a.US == "" && a.EU == "" || a.Because.Words == "" {
				t.Fatalf("%q: %+v", name, a)
			}
			if i > 0 && found[i-1].Strength < a.Strength {
				t.Fatalf("%q: %q is not sorted", name, short(found))
			}
			for _, b := range found[:i] {
				if a.US == b.US && a.EU == b.EU {
					t.Fatalf("%q: %q twice", name, a.US)
				}
			}
		}
		if got := short(Allergens("zzz "+name, nil)); !slices.Equal(got, short(found)) {
			t.Fatalf("%q: %q, with a word before it %q", name, short(found), got)
		}
	})
}
