package recipe

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"text/tabwriter"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/testkit"
)

// line reads an ingredient as a note has it: "100 g butter" or "salt, to taste".
func line(t testing.TB, role, text string) Ingredient {
	t.Helper()
	i := Ingredient{Role: role}
	amount, name := text, ""
	if rest, taste := strings.CutSuffix(text, ", to taste"); taste {
		i.Amount, name = quantity.ToTaste(), rest
	} else {
		words := strings.Fields(text)
		var err error
		for n := len(words) - 1; n > 0; n-- { // the longest beginning that is an amount
			amount, name = strings.Join(words[:n], " "), strings.Join(words[n:], " ")
			if i.Amount, err = quantity.Parse(amount, quantity.USCustomary); err == nil {
				break
			}
		}
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
	}
	i.Food, i.Preparation, _ = strings.Cut(name, ", ")
	i.Match, i.Found = food.Find(i.Food)
	return i
}

// lines makes a recipe of "role: amount food" lines.
func lines(t testing.TB, makes int64, text ...string) Recipe {
	t.Helper()
	r := Recipe{Makes: Yield{Count: quantity.Int(makes), What: "pieces"}}
	for _, l := range text {
		role, rest, _ := strings.Cut(l, ": ")
		r.Ingredients = append(r.Ingredients, line(t, role, rest))
	}
	return r
}

// shortbread is worked out by hand below.
func shortbread(t testing.TB) Recipe {
	return lines(t, 12, "flour: 200 g 20581", "butter: 100 g 01145", "sugar: 100 g 19335", "egg: 1 large egg")
}

// TestNutritionByHand adds up four rows of the USDA National Nutrient Database for
// Standard Reference, Release 28, per 100 g:
//
//	          kcal  saturated g  trans g  sodium mg  fibre g
//	20581      364        0.155        –          2      2.7   all-purpose flour
//	01145      717       50.489        –         11        0   unsalted butter
//	19335      387            0        –          1        0   granulated sugar
//	01123      143        3.126    0.038        142        0   egg, 50 g a large one
func TestNutritionByHand(t *testing.T) {
	n := shortbread(t).Nutrition(nil)
	tests := []struct {
		name string
		of   Sums
		n    food.Nutrient
		want Sum
	}{
		{"energy of the batch", n.Batch.Dough, food.Energy, whole(t, "1903.5", 4)}, // 2×364 + 717 + 387 + 143/2
		{"energy of a piece", n.Piece.Dough, food.Energy, whole(t, "158.625", 4)},
		{"energy of 100 g", n.Hundred, food.Energy, whole(t, "423", 4)}, // of 450 g
		{"saturated", n.Batch.Dough, food.Saturated, whole(t, "52.362", 4)},
		{"sodium", n.Batch.Dough, food.Sodium, whole(t, "87", 4)},
		{"sodium of a piece", n.Piece.Dough, food.Sodium, whole(t, "7.25", 4)},
		{"fibre", n.Batch.Dough, food.Fibre, whole(t, "5.4", 4)},
		{"trans", n.Batch.Dough, food.Trans, Sum{Amount: number(t, "0.019"), Missing: []string{"flour", "butter", "sugar"}, Counted: 1}},
		{"nothing beside", n.Batch.Beside, food.Energy, Sum{Complete: true}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, tt.of.Of(tt.n)); diff != "" {
				t.Error(diff)
			}
		})
	}
	same(t, "raw mass", n.Grams, quantity.Int(450))
	if !n.About {
		t.Error("an egg by count is weighed by the table, and nothing says about")
	}
}

func whole(t testing.TB, amount string, counted int) Sum {
	return Sum{Amount: number(t, amount), Complete: true, Counted: counted}
}

// TestNutritionEnergyIsThePublishers: cocoa powder has 228 kcal per 100 g in SR28
// and 433.3 by the general factors from its own 19.6 g protein, 57.9 g carbohydrate
// and 13.7 g fat (20 g of it, a fifth).
func TestNutritionEnergyIsThePublishers(t *testing.T) {
	n := lines(t, 1, "cocoa: 100 g 19165").Nutrition(nil).Batch.Dough
	same(t, "energy", n.Of(food.Energy).Amount, quantity.Int(228))
	general := GeneralEnergy(n.Of(food.Protein).Amount, n.Of(food.Carbohydrate).Amount, n.Of(food.Fat).Amount)
	same(t, "by the general factors", general, number(t, "433.3"))
}

// TestNutritionGaps: what is not known is named, and what is left is no 0.
func TestNutritionGaps(t *testing.T) {
	flour := "flour: 100 g 20581"
	tests := []struct {
		name     string
		in       []string
		n        food.Nutrient
		complete bool
		known    bool
		missing  []string
		want     string
	}{
		{"not in the table", []string{flour, "dust: 5 g moon dust"}, food.Energy, false, true, []string{"dust"}, "364"},
		{"to taste", []string{flour, "salt: table salt, to taste"}, food.Sodium, false, true, []string{"salt"}, "2"},
		{"none of it at any mass", []string{flour, "salt: table salt, to taste"}, food.Energy, true, true, nil, "364"},
		{"a cup of who knows", []string{flour, "dust: 1 cup moon dust"}, food.Fat, false, true, []string{"dust"}, "0.98"},
		{"no value reported", []string{flour}, food.Trans, false, false, []string{"flour"}, "0"},
		{"nothing known", []string{"dust: 1 g moon dust"}, food.Fat, false, false, []string{"dust"}, "0"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := lines(t, 1, tt.in...).Nutrition(nil).Batch.Dough.Of(tt.n)
			same(t, tt.n.Name(), got.Amount, number(t, tt.want))
			if got.Complete != tt.complete || got.Known() != tt.known || !slices.Equal(got.Missing, tt.missing) {
				t.Errorf("%+v, want complete %t, known %t, missing %q", got, tt.complete, tt.known, tt.missing)
			}
		})
	}
}

// TestNutritionHundred: what cannot be weighed is not in 100 g, and is named.
func TestNutritionHundred(t *testing.T) {
	n := lines(t, 0, "flour: 200 g 20581", "spread: 2 tbsp moon spread", "salt: table salt, to taste").
		Nutrition([]Label{{Food: "Moon spread", Serving: quantity.New(quantity.Int(1), quantity.Tablespoon),
			Values: map[food.Nutrient]quantity.Number{food.Energy: quantity.Int(80)}}})
	same(t, "mass", n.Grams, quantity.Int(200))
	if want := []string{"spread", "salt"}; !slices.Equal(n.Unweighed, want) {
		t.Errorf("unweighed %q, want %q", n.Unweighed, want)
	}
	same(t, "energy of the batch", n.Batch.Dough.Of(food.Energy).Amount, quantity.Int(728+160))
	if diff := cmp.Diff(Sum{Amount: quantity.Int(364), Missing: []string{"spread"}, Counted: 2}, n.Hundred.Of(food.Energy)); diff != "" {
		t.Errorf("energy of 100 g: %s", diff)
	}
	if n.Piece.Dough != nil || n.Piece.All() != nil || n.Piece.Dough.Of(food.Energy).Known() {
		t.Error("a recipe that does not say what it makes has figures for a piece")
	}
	if empty := (Recipe{}).Nutrition(nil); empty.Hundred != nil {
		t.Error("nothing has figures for 100 g")
	}
}

// TestNutritionBeside: oil for the pan is a sum of its own. 13.6 g a tablespoon and
// 884 kcal per 100 g of oil (SR28 04517): 120.224 kcal.
func TestNutritionBeside(t *testing.T) {
	r := lines(t, 4, "flour: 200 g 20581", "oil: 1 tbsp 04517")
	r.Beside = []string{"oil"}
	n := r.Nutrition(nil)
	same(t, "in the dough", n.Batch.Dough.Of(food.Energy).Amount, quantity.Int(728))
	same(t, "beside it", n.Batch.Beside.Of(food.Energy).Amount, number(t, "120.224"))
	same(t, "at most a piece", n.Piece.All().Of(food.Energy).Amount, number(t, "212.056"))
	same(t, "mass", n.Grams, quantity.Int(200))
}

func TestNutritionNotes(t *testing.T) {
	r := lines(t, 1, "extract: 5 g almond extract", "fat: 50 g 04615", "flour: 100 g 20581")
	n := r.Nutrition(nil)
	if len(n.StandIns) != 1 || n.StandIns[0].Role != "extract" || !strings.Contains(n.StandIns[0].Note, "vanilla extract stands in") {
		t.Errorf("stand-ins %+v", n.StandIns)
	}
	if len(n.Dated) != 1 || n.Dated[0].Role != "fat" || !strings.Contains(n.Dated[0].Row, "Shortening") {
		t.Errorf("dated %+v", n.Dated)
	}
	label := Label{Food: "04615", Serving: quantity.New(quantity.Int(10), quantity.Gram),
		Values: map[food.Nutrient]quantity.Number{food.Saturated: quantity.Int(5), food.Energy: quantity.Int(90)}}
	n = r.Nutrition([]Label{label})
	if len(n.Dated) != 0 {
		t.Errorf("with its label still dated: %+v", n.Dated)
	}
	delete(label.Values, food.Saturated)
	if n = r.Nutrition([]Label{label}); len(n.Dated) != 1 {
		t.Error("a label without a fat leaves the table's trans fat, and nobody is asked for more")
	}
}

// TestNutritionGolden is a whole recipe as a table to be looked at.
func TestNutritionGolden(t *testing.T) {
	r := griddleCakes(t)
	labels := []Label{{Food: "vegetable shortening", Serving: quantity.New(quantity.Int(12), quantity.Gram),
		Values: map[food.Nutrient]quantity.Number{food.Energy: quantity.Int(110), food.Fat: quantity.Int(12), food.Saturated: number(t, "3.5"), food.Trans: {}}}}
	testkit.Golden(t, "testdata/nutrition.txt", nutritionTable(r.Nutrition(labels)))
}

// griddleCakes is an invented recipe of twelve ingredients.
func griddleCakes(t testing.TB) Recipe {
	r := lines(t, 16,
		"flour: 2 cups all-purpose flour", "rye: 60 g rye flour", "milk: 1 1/2 cups whole milk", "egg: 2 large eggs",
		"fat: 3 tbsp vegetable shortening", "sugar: 2 tbsp granulated sugar", "powder: 2 tsp baking powder",
		"soda: 1/4 tsp baking soda", "salt: table salt, to taste", "honey: 1 tbsp honey", "scent: 1 tsp almond extract",
		"oil: 2 tbsp sunflower oil")
	r.Beside = []string{"oil"}
	r.Flours = []string{"flour", "rye"}
	return r
}

// nutritionTable prints exact numbers with three decimals, and what rests on what.
func nutritionTable(n Nutrition) []byte {
	var out bytes.Buffer
	w := tabwriter.NewWriter(&out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "nutrient\tbatch\tbeside\tpiece\t100 g\ton a label, a piece\tmissing")
	for _, of := range food.AllNutrients() {
		cell := func(s Sums) string {
			sum := s.Of(of)
			text := sum.Amount.Decimal(3)
			switch {
			case !sum.Known():
				return "not known"
			case !sum.Complete:
				text = "at least " + text
			}
			return text
		}
		fmt.Fprintf(w, "%s, %s\t%s\t%s\t%s\t%s\t%s\t%s\n", of.Name(), of.Unit(), cell(n.Batch.Dough), cell(n.Batch.Beside),
			cell(n.Piece.Dough), cell(n.Hundred), shown(n.Piece.Dough.Of(of), of), strings.Join(n.Batch.Dough.Of(of).Missing, ", "))
	}
	w.Flush()
	fmt.Fprintf(&out, "\nmass %s g, about: %t, unweighed: %s\n", n.Grams.Decimal(3), n.About, strings.Join(n.Unweighed, ", "))
	for _, s := range n.StandIns {
		fmt.Fprintf(&out, "stand-in: %s (%s) for %s: %s\n", s.Row, s.Role, s.Food, s.Note)
	}
	for _, d := range n.Dated {
		fmt.Fprintf(&out, "dated: %s (%s)\n", d.Row, d.Role)
	}
	for _, l := range n.Labels {
		fmt.Fprintf(&out, "label: %s (%s), %d values from the table\n", l.Food, l.Role, len(l.Table))
	}
	if share, ok := n.Piece.Dough.SaturatedShare(); ok {
		fmt.Fprintf(&out, "energy from saturated fat: %s %s %% (missing: %s)\n", share.Bound, share.Percent.Decimal(2), strings.Join(share.Missing, ", "))
	}
	return bytes.ReplaceAll(out.Bytes(), []byte(" \n"), []byte("\n"))
}

func BenchmarkNutrition(b *testing.B) {
	r := griddleCakes(b)
	if len(r.Ingredients) != 12 {
		b.Fatal("not twelve ingredients")
	}
	b.ReportAllocs()
	for b.Loop() {
		if !r.Nutrition(nil).Batch.Dough.Of(food.Energy).Known() {
			b.Fatal("no energy")
		}
	}
}
