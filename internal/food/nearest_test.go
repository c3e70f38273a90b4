package food

import (
	"slices"
	"testing"
)

func TestNearest(t *testing.T) {
	for _, test := range []struct {
		words string
		first string // the name that comes first
		among []ID   // foods that are among the first five
	}{
		{"flur", "flour", []ID{"20581", "20083"}},
		{"chedder", "cheddar", nil},
		{"parmasan", "parmesan", []ID{"01032"}},
		{"cinammon", "cinnamon", nil},
		{"suger", "sugar", []ID{"19336", "19334"}},
		{"brown suger", "brown sugar", nil},
		{"tomatoe", "tomato", nil},
		{"buter", "butter", nil},
		{"margerine", "margarine", nil},
		{"strawbery jam", "strawberry jam", nil},
		{"bleached all purpose flour, sifted", "bleached all-purpose flour", nil},
		{"cider", "cider (UK)", []ID{"09016"}},
		{"crushed pineapple", "pineapple", []ID{"09268"}},
		{"potato chips", "Snacks, potato chips, reduced fat", []ID{"19411"}},
		{"vegetable lasagna", "Lasagna, Vegetable, frozen, baked", nil},
		{"whale", "Whale, beluga, eyes (Alaska Native)", nil},
		{"milk", "milk", []ID{"01082"}},
	} {
		t.Run(test.words, func(t *testing.T) {
			near := Nearest(test.words, 5)
			if len(near) == 0 {
				t.Fatal("nothing is near")
			}
			if near[0].Name != test.first {
				t.Errorf("first comes %q, want %q", near[0].Name, test.first)
			}
			for _, id := range test.among {
				if !slices.ContainsFunc(near, func(m Match) bool { return m.Food.ID == id }) {
					t.Errorf("%s is not among the first five", id)
				}
			}
		})
	}
}

func TestNearestNothing(t *testing.T) {
	for _, words := range []string{"", "!!!", "xylitol", "of the and", "qqqq"} {
		if near := Nearest(words, 5); len(near) > 0 {
			t.Errorf("%q is near %q", words, near[0].Name)
		}
	}
	if near := Nearest("flour", 0); near != nil {
		t.Error("none were asked for")
	}
}

// TestNearestSetsBack: what few kitchens mean comes after what they do.
func TestNearestSetsBack(t *testing.T) {
	for _, words := range []string{"cheese", "bacon", "potato", "beans", "shortening", "salmon", "tea", "rice"} {
		near := Nearest(words, 5)
		if len(near) < 5 {
			t.Fatalf("%q has %d near names", words, len(near))
		}
		for _, m := range near {
			if setBack(row{group: m.Food.Group, description: m.Food.Description}) >= 30 {
				t.Errorf("%q: %q is among the first five", words, m.Name)
			}
		}
	}
}

// TestNearestOrder: one food comes once, and the order is the same every time.
func TestNearestOrder(t *testing.T) {
	for _, words := range []string{"flour", "chopped nuts", "sweet cream buter"} {
		first := Nearest(words, 30)
		seen := make(map[ID]bool)
		for _, m := range first {
			if seen[m.Food.ID] {
				t.Errorf("%q: %s comes twice", words, m.Food.ID)
			}
			seen[m.Food.ID] = true
		}
		for range 5 {
			again := Nearest(words, 30)
			if !slices.EqualFunc(first, again, func(a, b Match) bool { return a.Food == b.Food && a.Name == b.Name }) {
				t.Fatalf("%q has another order", words)
			}
		}
		few := Nearest(words, 3)
		if !slices.EqualFunc(first[:3], few, func(a, b Match) bool { return a.Food == b.Food }) {
			t.Errorf("%q: asking for fewer changes the order", words)
		}
	}
}

// TestNearestFindsNames: every tenth everyday name comes first for its own words.
func TestNearestFindsNames(t *testing.T) {
	_, rows := records(t, everydayFile)
	for i := 0; i < len(rows); i += 10 {
		near := Nearest(rows[i][0], 3)
		if !slices.ContainsFunc(near, func(m Match) bool { return string(m.Food.ID) == rows[i][1] }) {
			t.Errorf("%q does not find %s", rows[i][0], rows[i][1])
		}
	}
}

// TestSlips has the textbook cases of the restricted Damerau-Levenshtein
// distance (Damerau 1964; "ca" and "abc" are 3 apart, not 2).
func TestSlips(t *testing.T) {
	for _, test := range []struct {
		a, b string
		want int
	}{
		{"flour", "flour", 0}, {"flur", "flour", 1}, {"flour", "flur", 1}, {"fluor", "flour", 1},
		{"kitten", "sitting", 3}, {"ca", "abc", 3}, {"", "ab", 2}, {"teh", "the", 1},
	} {
		if got := slips(test.a, test.b, 3); got != test.want {
			t.Errorf("slips(%q, %q) is %d, want %d", test.a, test.b, got, test.want)
		}
		if got := slips(test.a, test.b, 1); got != min(test.want, 2) {
			t.Errorf("slips(%q, %q) with 1 allowed is %d, want %d", test.a, test.b, got, min(test.want, 2))
		}
	}
}

// FuzzNearest holds that no text makes it fail and that it keeps to the number.
func FuzzNearest(f *testing.F) {
	f.Add("flur")
	f.Add("chopped fresh pasley")
	f.Add("\xff")
	f.Fuzz(func(t *testing.T, words string) {
		near := Nearest(words, 3)
		if len(near) > 3 {
			t.Fatalf("%d are near %q", len(near), words)
		}
		for _, m := range near {
			if m.Food == nil || m.Name == "" {
				t.Fatalf("%q: %+v", words, m)
			}
		}
	})
}
