package findings

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

const allergenNote = `---
title: T
question: Q?
recipe:
  name: Buns
  ingredients:
    flour: 300 g all-purpose flour
    fat: 100 g butter
    barley: 20 g barley flour
    leavening: 5 g baking powder
    nut: 20 g coconut
  flours: [flour]
samples:
  plain: {control: true}
  oil: {change: {fat: 80 g sunflower oil}}
  seeded: {change: {seeds: 20 g sesame seeds}}
%s---
`

// allergensOf reads a note in a kitchen that goes by a list.
func allergensOf(t *testing.T, lists kitchen.Allergens, note string) Allergens {
	t.Helper()
	k := kitchen.Default()
	k.Allergens = lists
	var problems problem.List
	read := trial.Read(trial.Folder{FS: fstest.MapFS{"buns/trial.md": {Data: []byte(note)}}, Slug: "buns"}, k, &problems)
	if read == nil || problems.Errors() > 0 {
		t.Fatal(problems.Sorted())
	}
	return Of(read).Allergens
}

// entryText writes an entry as "us milk contains: fat/butter[plain seeded]".
func entryText(a Allergen) string {
	text := a.List + " " + a.Name + " " + a.Strength.String() + ":"
	for _, s := range a.From {
		text += fmt.Sprintf(" %s/%s%v", s.Role, s.Food, s.Samples)
	}
	if a.Stated {
		text += " stated"
	}
	return text
}

func TestAllergens(t *testing.T) {
	const all = "[plain oil seeded]"
	tests := []struct {
		name        string
		lists       kitchen.Allergens
		front       string
		found, away []string
	}{
		{"the nine", kitchen.AllergensUS, "", []string{
			"us milk contains: fat/butter[plain seeded]",
			"us wheat contains: flour/all-purpose flour" + all + " leavening/baking powder" + all,
			"us sesame contains: seeds/sesame seeds[seeded]",
		}, nil},
		{"the fourteen", kitchen.AllergensEU, "", []string{
			"eu milk contains: fat/butter[plain seeded]",
			"eu cereals containing gluten contains: flour/all-purpose flour" + all + " barley/barley flour" + all + " leavening/baking powder" + all,
			"eu sesame seeds contains: seeds/sesame seeds[seeded]",
		}, nil},
		{"free of wheat says nothing of barley", kitchen.AllergensEU, "allergens: {free of: [wheat]}\n", []string{
			"eu milk contains: fat/butter[plain seeded]",
			"eu cereals containing gluten contains: barley/barley flour" + all,
			"eu sesame seeds contains: seeds/sesame seeds[seeded]",
		}, []string{"eu cereals containing gluten contains: flour/all-purpose flour" + all + " leavening/baking powder" + all}},
		{"free of gluten says nothing of wheat", kitchen.AllergensUS, "allergens: {free of: [gluten, milk]}\n", []string{
			"us wheat contains: flour/all-purpose flour" + all + " leavening/baking powder" + all,
			"us sesame contains: seeds/sesame seeds[seeded]",
		}, []string{"us milk contains: fat/butter[plain seeded]"}},
		{"stated", kitchen.AllergensUS, "allergens: {contains: [soy, celery]}\n", []string{
			"us milk contains: fat/butter[plain seeded]",
			"us wheat contains: flour/all-purpose flour" + all + " leavening/baking powder" + all,
			"us soybeans contains: stated",
			"us sesame contains: seeds/sesame seeds[seeded]",
			"eu celery contains: stated",
		}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := allergensOf(t, tt.lists, fmt.Sprintf(allergenNote, tt.front))
			for _, side := range []struct {
				what string
				got  []Allergen
				want []string
			}{{"found", got.Found, tt.found}, {"taken away", got.TakenAway, tt.away}} {
				var lines []string
				for _, a := range side.got {
					lines = append(lines, entryText(a))
				}
				if strings.Join(lines, "\n") != strings.Join(side.want, "\n") {
					t.Errorf("%s:\n%s\nwant\n%s", side.what, strings.Join(lines, "\n"), strings.Join(side.want, "\n"))
				}
			}
			if len(got.Exempt) != 1 || got.Exempt[0].Food != "coconut" {
				t.Errorf("exempt: %v", got.Exempt)
			}
		})
	}
}

// TestAllergensBoth: the two lists are told apart, and no more is found than on one.
func TestAllergensBoth(t *testing.T) {
	both := allergensOf(t, kitchen.AllergensBoth, fmt.Sprintf(allergenNote, ""))
	for _, list := range []kitchen.Allergens{kitchen.AllergensUS, kitchen.AllergensEU} {
		var want, got []string
		for _, a := range allergensOf(t, list, fmt.Sprintf(allergenNote, "")).Found {
			want = append(want, entryText(a))
		}
		for _, a := range both.Found {
			if a.List == string(list) {
				got = append(got, entryText(a))
			}
		}
		if strings.Join(got, "\n") != strings.Join(want, "\n") {
			t.Errorf("%s:\n%s\nwant\n%s", list, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
}

func TestAllergensBySample(t *testing.T) {
	found := allergensOf(t, kitchen.AllergensUS, fmt.Sprintf(allergenNote, "")).Found
	tests := []struct{ name, want string }{
		{"milk", "[{plain contains [fat]} {oil does not count []} {seeded contains [fat]}]"},
		{"wheat", "[]"}, // alike in all
		{"sesame", "[{plain does not count []} {oil does not count []} {seeded contains [seeds]}]"},
	}
	for _, tt := range tests {
		for _, a := range found {
			if got := fmt.Sprint(a.Samples); a.Name == tt.name && got != tt.want {
				t.Errorf("%s: %s, want %s", tt.name, got, tt.want)
			}
		}
	}
	if len(found) != len(tests) {
		t.Errorf("%d allergens, want %d", len(found), len(tests))
	}
	strength, from := found[0].In("oil")
	if strength.String() != "does not count" || from != nil {
		t.Errorf("milk in oil: %s, %v", strength, from)
	}
}
