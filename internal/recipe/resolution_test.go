package recipe

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/quantity"
)

func TestResolution(t *testing.T) {
	scale := func(step string) quantity.Instruments { return quantity.Instruments{Scale: amount(t, step)} }
	none := []quantity.Amount{}
	tests := []struct {
		name  string
		in    string
		with  quantity.Instruments
		share string
		grade Grade
		known string
	}{
		{"half of itself", "6 g salt", scale("3 g"), "1/2", Poor, "6 g by 3 g: part 0.5"},
		{"a quarter", "4 g yeast", quantity.Instruments{}, "1/4", Coarse, "4 g by 1 g: part 0.25"},
		{"past a quarter", "3 g yeast", quantity.Instruments{}, "1/3", Poor, "3 g by 1 g: part 1/3"},
		{"a twentieth", "20 g salt", quantity.Instruments{}, "1/20", Fine, "20 g by 1 g: percent 5"},
		{"past a twentieth", "19 g salt", quantity.Instruments{}, "1/19", Coarse, "19 g by 1 g: percent 5, about"},
		{"far better", "600 g flour", quantity.Instruments{}, "1/600", Fine, "600 g by 1 g: percent 0, about"},
		{"one step", "1 g yeast", quantity.Instruments{}, "1", Blind, "1 g by 1 g: one step"},
		{"less than a step", "1/2 g yeast", quantity.Instruments{}, "2", Blind, "0.5 g by 1 g: less than a step"},
		{"nearly a half", "5.9 g salt", scale("3 g"), "30/59", Poor, "5.9 g by 3 g: part 0.5, about"},
		{"ounces", "1 oz salt", scale("0.1 oz"), "1/10", Coarse, "1 oz by 0.1 oz: part 0.1"},
		{"spoons", "1/4 tsp baking soda", quantity.Instruments{}, "1/2", Poor, "¼ tsp by ⅛ tsp: part 0.5"},
		{"a pinch", "1/16 tsp saffron", quantity.Instruments{}, "2", Blind, "1/16 tsp by ⅛ tsp: less than a step"},
		{"cups alone", "1 cup water", quantity.Instruments{Spoons: none}, "1/4", Coarse, "1 cup by ¼ cup: part 0.25"},
		{"milliliters", "5 mL vanilla extract", quantity.Instruments{Spoons: []quantity.Amount{amount(t, "2.5 mL"), amount(t, "1 g")}}, "1/2", Poor, "5 mL by 2.5 mL: part 0.5"},
		{"a range", "4–8 g salt", scale("3 g"), "1/2", Poor, "4–8 g by 3 g: part 0.5"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, ok := line(t, "it", tt.in).Resolution(tt.with)
			if !ok {
				t.Fatal("no resolution")
			}
			same(t, "share", got.Share, number(t, tt.share))
			if got.Grade != tt.grade {
				t.Errorf("%s, want %s", got.Grade, tt.grade)
			}
			if known := told(got); known != tt.known {
				t.Errorf("%q, want %q", known, tt.known)
			}
		})
	}
}

// told writes what is known of an amount in short.
func told(r Resolution) string {
	how, to, about := r.Known()
	known := map[Known]string{LessThanStep: "less than a step", OneStep: "one step", ToPart: "part " + to.String(), ToPercent: "percent " + to.String()}[how]
	if about {
		known += ", about"
	}
	return r.Amount.Words(quantity.USCustomary) + " by " + r.Step.Words(quantity.USCustomary) + ": " + known
}

func TestGradeWords(t *testing.T) {
	for grade, want := range map[Grade]string{Fine: "fine", Coarse: "coarse", Poor: "poor", Blind: "cannot be told"} {
		if got := grade.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestResolutionOfNothing(t *testing.T) {
	none := quantity.Instruments{Spoons: []quantity.Amount{}, Cups: []quantity.Amount{}}
	for _, in := range []string{"3 eggs", "table salt, to taste", "0 g salt", "1 tsp salt"} {
		if got, ok := line(t, "it", in).Resolution(none); ok {
			t.Errorf("%s: %q", in, told(got))
		}
	}
}

// TestResolutionAtASize: half of it is known half as well.
func TestResolutionAtASize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		i := Ingredient{Role: "salt", Food: "salt", Amount: quantity.New(quantity.Ratio(rapid.Int64Range(1, 9000).Draw(t, "tenths"), 10), quantity.Gram)}
		r := Recipe{Ingredients: []Ingredient{i}}
		by := quantity.Ratio(rapid.Int64Range(1, 30).Draw(t, "times"), 3)
		one, _ := i.Resolution(quantity.Instruments{})
		scaled, ok := r.Scale(by).Ingredients[0].Resolution(quantity.Instruments{})
		if !ok || !scaled.Share.Mul(by).Equal(one.Share) {
			t.Fatalf("share %s of one batch, %s of %s", one.Share, scaled.Share, by)
		}
		if by.Cmp(quantity.Int(1)) >= 0 && scaled.Grade > one.Grade {
			t.Errorf("more is told worse: %s", told(scaled))
		}
		if amount := scaled.Amount.Words(quantity.USCustomary); strings.Contains(amount, "/") {
			t.Errorf("weighed in fractions: %s", amount)
		}
	})
}
