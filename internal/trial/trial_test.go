package trial

import (
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/quantity"
)

// readLog reads the plain note with a log of pieces.
func readLog(t *testing.T, rows ...string) *Trial {
	t.Helper()
	log := "sample,batch,piece,side 1,side 2,surface,width,done,soft,set aside,note\n" + strings.Join(rows, "\n") + "\n"
	trial, problems := read(map[string][]byte{NoteFile: []byte(plainNote), PiecesFile: []byte(log)})
	for _, p := range problems.Sorted() {
		if p.Weight == 0 {
			t.Fatalf("unexpected problem: %s", p)
		}
	}
	return trial
}

func TestReadings(t *testing.T) {
	tests := []struct {
		name, row, measure string
		want               string // exact value in the base unit, or "missing"
		aside              string
	}{
		{"seconds", "short,1,1,40,50,300,2,yes,3,,", "side 1", "40", ""},
		{"seconds with a unit", "short,1,1,40 s,50,300,2,yes,3,,", "side 1", "40", ""},
		{"minutes and seconds", "short,1,1,1:10,50,300,2,yes,3,,", "side 1", "70", ""},
		{"minutes and seconds in words", "short,1,1,1 min 10 s,50,300,2,yes,3,,", "side 1", "70", ""},
		{"an empty cell", "short,1,1,,50,300,2,yes,3,,", "side 1", "missing", ""},
		{"the sum of the parts", "short,1,1,1:10,50,300,2,yes,3,,", "cook time", "120", ""},
		{"no sum where a part is missing", "short,1,1,,50,300,2,yes,3,,", "cook time", "missing", ""},
		{"fahrenheit, exactly", "short,1,1,40,50,300,2,yes,3,,", "surface", "148 8/9", ""},
		{"celsius where the unit says so", "short,1,1,40,50,150 °C,2,yes,3,,", "surface", "150", ""},
		{"centimetres", "short,1,1,40,50,300,2.5,yes,3,,", "width", "25", ""},
		{"millimetres where the unit says so", "short,1,1,40,50,300,24 mm,yes,3,,", "width", "24", ""},
		{"yes", "short,1,1,40,50,300,2,yes,3,,", "done", "1", ""},
		{"a tick", "short,1,1,40,50,300,2,✓,3,,", "done", "1", ""},
		{"no", "short,1,1,40,50,300,2,n,3,,", "done", "0", ""},
		{"a score", "short,1,1,40,50,300,2,yes,4,,", "soft", "4", ""},
		{"the whole piece set aside", "short,1,1,40,50,300,2,yes,3,fell down,", "soft", "3", "fell down"},
		{"a reason with a colon", "short,1,1,40,50,300,2,yes,3,note: fell down,", "soft", "3", "note: fell down"},
		{"one reading set aside", "short,1,1,40,50,300,2,yes,3,side 1: pan cold,", "side 1", "40", "pan cold"},
		{"the others count", "short,1,1,40,50,300,2,yes,3,side 1: pan cold,", "side 2", "50", ""},
		{"and the sum is set aside with its part", "short,1,1,40,50,300,2,yes,3,side 1: pan cold,", "cook time", "90", "pan cold"},
		{"two readings set aside", `short,1,1,40,50,300,2,yes,3,"side 1, surface: pan cold",`, "surface", "148 8/9", "pan cold"},
		{"a sum named for its parts", "short,1,1,40,50,300,2,yes,3,cook time: bell rang,", "side 2", "50", "bell rang"},
		{"two reasons", "short,1,1,40,50,300,2,yes,3,side 1: cold; surface: slipped,", "surface", "148 8/9", "slipped"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			trial := readLog(t, tt.row)
			if len(trial.Pieces) != 1 {
				t.Fatalf("%d pieces", len(trial.Pieces))
			}
			r, ok := trial.Pieces[0].Readings[tt.measure]
			if !ok {
				t.Fatalf("no reading of %s", tt.measure)
			}
			got := r.Value.String()
			if r.Missing {
				got = "missing"
			}
			if got != tt.want || r.SetAside != tt.aside {
				t.Errorf("%s is %s, set aside %q; want %s, %q", tt.measure, got, r.SetAside, tt.want, tt.aside)
			}
		})
	}
}

func TestParseDate(t *testing.T) {
	tests := []struct {
		in, want string
	}{
		{"2026-02-14", "2026-02-14"},
		{"2024-02-29", "2024-02-29"},
		{"2026-02-29", ""}, // no leap year
		{"2026-13-01", ""},
		{"2026-2-14", ""},
		{"14.2.2026", ""},
		{"1026-02-14", ""},
		{"2026-02-14T10:00", ""},
		{"", ""},
	}
	for _, tt := range tests {
		date, ok := ParseDate(tt.in)
		if date.String() != tt.want || ok != (tt.want != "") {
			t.Errorf("ParseDate(%q) is %q, %v; want %q", tt.in, date, ok, tt.want)
		}
	}
}

func TestSplit(t *testing.T) {
	tests := []struct {
		name, in     string
		front, prose string
		line         int
		ok           bool
	}{
		{"both", "---\na: b\n---\nText\n", "a: b\n", "Text\n", 4, true},
		{"no prose", "---\na: b\n---", "a: b\n", "", 4, true},
		{"an empty block", "---\n---\nText", "", "Text", 3, true},
		{"spaces behind the fence", "--- \na: b\n---\t\nText", "a: b\n", "Text", 4, true},
		{"a rule in the prose", "---\na: b\n---\nx\n---\ny", "a: b\n", "x\n---\ny", 4, true},
		{"never closed", "---\na: b\n", "", "", 0, false},
		{"no fence", "a: b\n---\n", "", "", 0, false},
		{"four hyphens", "----\na: b\n---\n", "", "", 0, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			front, prose, line, ok := split([]byte(tt.in))
			if string(front) != tt.front || string(prose) != tt.prose || line != tt.line || ok != tt.ok {
				t.Errorf("split is %q, %q, %d, %v", front, prose, line, ok)
			}
		})
	}
}

// TestPlans follows like, taken from, change and omit from sample to sample.
func TestPlans(t *testing.T) {
	note := `---
title: T
question: Q?
recipe:
  name: R
  amounts for: half batch
  tested at: 1/4 batch
  ingredients:
    rice: 100 g white rice
    salt: 1 tsp table salt
    topping: {onion: 30 g onions, oil: 1 tbsp olive oil}
conditions: {boil: 12 min, rest: 0 min}
samples:
  plain: {control: true, used: {salt: 3 g, topping: {oil: 10 g}}}
  long: {change: {boil: 18 min, rice: 120 g}}
  longer: {like: long, change: {rest: 5 min, topping: {onion: 60 g onions}}, omit: [salt]}
  rested: {taken from: plain, change: {rest: 10 min}}
measures: {done: {kind: yes or no}}
---
`
	trial, problems := read(map[string][]byte{NoteFile: []byte(note)})
	if problems.Errors() > 0 {
		t.Fatal(problems.Sorted())
	}
	amount := func(sample, role string) string {
		i, ok := trial.Sample(sample).Plan.Ingredient(role)
		if !ok {
			return "none"
		}
		return i.Amount.String() + " " + i.Food
	}
	made := func(sample, role string) string {
		i, _ := trial.Made(trial.Sample(sample)).Ingredient(role)
		return i.Amount.String()
	}
	for _, c := range []struct{ what, got, want string }{
		{"full batch", amount("plain", "rice"), "200 g white rice"},
		{"an amount alone keeps the food", amount("long", "rice"), "240 g white rice"},
		{"like carries the change on", amount("longer", "rice"), "240 g white rice"},
		{"a group's role", amount("longer", "topping/onion"), "120 g onions"},
		{"its neighbour stays", amount("longer", "topping/oil"), "2 tbsp olive oil"},
		{"omitted", amount("longer", "salt"), "none"},
		{"only there", amount("long", "salt"), "2 tsp table salt"},
		{"taken from shares the plan", amount("rested", "rice"), "200 g white rice"},
		{"planned at test size", made("long", "rice"), "60 g"},
		{"what really went in", made("plain", "salt"), "3 g"},
		{"in a group too", made("plain", "topping/oil"), "10 g"},
		{"and in what was taken from it", made("rested", "salt"), "3 g"},
		{"condition", setting(trial, "longer", "boil") + ", " + setting(trial, "longer", "rest"), "18 min, 5 min"},
		{"condition of a piece", setting(trial, "rested", "rest"), "10 min"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.what, c.got, c.want)
		}
	}
	if !trial.TestedAt.Equal(quantity.Ratio(1, 4)) || trial.Sample("rested").Origin() != trial.Sample("plain") {
		t.Error("test size or origin is wrong")
	}
}

func setting(t *Trial, sample, name string) string {
	for _, c := range t.Sample(sample).Conditions {
		if c.Name == name {
			return c.Value
		}
	}
	return ""
}
