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
		words string
	}{
		{"half of itself", "6 g salt", scale("3 g"), "1/2", Poor, "6 g of salt on a scale that reads to 3 g is known to half of itself"},
		{"a quarter", "4 g yeast", quantity.Instruments{}, "1/4", Coarse, "4 g of yeast on a scale that reads to 1 g is known to a quarter of itself"},
		{"past a quarter", "3 g yeast", quantity.Instruments{}, "1/3", Poor, "3 g of yeast on a scale that reads to 1 g is known to a third of itself"},
		{"a twentieth", "20 g salt", quantity.Instruments{}, "1/20", Fine, "20 g of salt on a scale that reads to 1 g is known to 5 % of itself"},
		{"past a twentieth", "19 g salt", quantity.Instruments{}, "1/19", Coarse, "19 g of salt on a scale that reads to 1 g is known to about 5 % of itself"},
		{"far better", "600 g flour", quantity.Instruments{}, "1/600", Fine, "600 g of flour on a scale that reads to 1 g is known to better than 1 % of itself"},
		{"one step", "1 g yeast", quantity.Instruments{}, "1", Blind, "1 g of yeast on a scale that reads to 1 g is one step, known to no better than all of itself"},
		{"less than a step", "1/2 g yeast", quantity.Instruments{}, "2", Blind, "0.5 g of yeast on a scale that reads to 1 g is less than one step"},
		{"nearly a half", "5.9 g salt", scale("3 g"), "30/59", Poor, "5.9 g of salt on a scale that reads to 3 g is known to about half of itself"},
		{"ounces", "1 oz salt", scale("0.1 oz"), "1/10", Coarse, "1 oz of salt on a scale that reads to 0.1 oz is known to a tenth of itself"},
		{"spoons", "1/4 tsp baking soda", quantity.Instruments{}, "1/2", Poor, "¼ tsp of baking soda with spoons down to ⅛ tsp is known to half of itself"},
		{"a pinch", "1/16 tsp saffron", quantity.Instruments{}, "2", Blind, "1/16 tsp of saffron with spoons down to ⅛ tsp is less than one step"},
		{"cups alone", "1 cup water", quantity.Instruments{Spoons: none}, "1/4", Coarse, "1 cup of water with cups down to ¼ cup is known to a quarter of itself"},
		{"milliliters", "5 mL vanilla extract", quantity.Instruments{Spoons: []quantity.Amount{amount(t, "2.5 mL"), amount(t, "1 g")}}, "1/2", Poor, "5 mL of vanilla extract with spoons down to 2.5 mL is known to half of itself"},
		{"a range", "4–8 g salt", scale("3 g"), "1/2", Poor, "4–8 g of salt on a scale that reads to 3 g is known to half of itself"},
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
			if got.Words != tt.words {
				t.Errorf("%q, want %q", got.Words, tt.words)
			}
		})
	}
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
			t.Errorf("%s: %q", in, got.Words)
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
			t.Errorf("more is told worse: %s", scaled.Words)
		}
		if strings.Contains(scaled.Words, "/") {
			t.Errorf("weighed in fractions: %s", scaled.Words)
		}
	})
}
