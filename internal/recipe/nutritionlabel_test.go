package recipe

import (
	"slices"
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
)

func amount(t testing.TB, text string) quantity.Amount {
	t.Helper()
	a, err := quantity.Parse(text, quantity.USCustomary)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// TestLabelServings: a label is taken as many times as its serving is in the line:
// by weight, by volume, or through the weight of the food's measures. Those of
// grapeseed oil (SR28 04517): 1 tablespoon = 13.6 g, 1 tsp = 4.5 g; of an egg (01123):
// 1 large = 50 g.
func TestLabelServings(t *testing.T) {
	tests := []struct {
		name, line, serving string
		want                string // of 100 kcal a serving
		served              bool
	}{
		{"both weighed", "35 g 04517", "14 g", "250", true},
		{"both poured", "1/4 cup moon oil", "1 tbsp", "400", true},
		{"poured, label weighed", "2 tbsp 04517", "13.6 g", "200", true},
		{"weighed, label poured", "27.2 g 04517", "1 tbsp", "200", true},
		{"counted, label weighed", "3 large eggs", "50 g", "300", true},
		{"both counted", "3 moon eggs", "1", "300", true},
		{"a range counts with its middle", "20–40 g 04517", "10 g", "300", true},
		{"without a density", "1 tbsp moon oil", "14 g", "0", false},
		{"to taste", "04517, to taste", "14 g", "0", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := lines(t, 1, "it: "+tt.line)
			n := r.Nutrition([]Label{{Food: r.Ingredients[0].Food, Serving: amount(t, tt.serving),
				Values: map[food.Nutrient]quantity.Number{food.Energy: quantity.Int(100)}}})
			got := n.Batch.Dough.Of(food.Energy)
			same(t, "energy", got.Amount, number(t, tt.want))
			if got.Complete != tt.served || len(n.Labels) != 1 || n.Labels[0].Unserved == tt.served {
				t.Errorf("%+v with %+v, want served %t", got, n.Labels, tt.served)
			}
		})
	}
}

// TestLabelAgainstTable: what the label states counts, what it leaves out is the
// table's unless the table speaks of another fat. Lard (SR28 04002): saturated
// 39.2 g, monounsaturated 45.1 g, cholesterol 95 mg per 100 g.
func TestLabelAgainstTable(t *testing.T) {
	r := lines(t, 1, "fat: 100 g 04002")
	label := Label{Food: " 04002 ", Serving: amount(t, "10 g"), Values: map[food.Nutrient]quantity.Number{food.Saturated: quantity.Int(4)}}
	n := r.Nutrition([]Label{label})
	held := n.Batch.Dough
	same(t, "saturated by the label", held.Of(food.Saturated).Amount, quantity.Int(40))
	same(t, "cholesterol by the table", held.Of(food.Cholesterol).Amount, quantity.Int(95))
	for _, of := range []food.Nutrient{food.Fat, food.Monounsaturated, food.Polyunsaturated, food.Trans} {
		if got := held.Of(of); got.Known() {
			t.Errorf("%s is %s, mixed from the label and the table's other fat", of.Name(), got.Amount)
		}
	}
	if !slices.Contains(n.Labels[0].Table, food.Cholesterol) || slices.Contains(n.Labels[0].Table, food.Saturated) {
		t.Errorf("from the table %v", n.Labels[0].Table)
	}
}

// TestLabelOfStandIn: where the table has only another food, it adds nothing to a
// label.
func TestLabelOfStandIn(t *testing.T) {
	r := lines(t, 1, "scent: 5 g almond extract")
	n := r.Nutrition([]Label{{Food: "almond extract", Serving: amount(t, "5 g"),
		Values: map[food.Nutrient]quantity.Number{food.Energy: quantity.Int(12)}}})
	same(t, "energy", n.Batch.Dough.Of(food.Energy).Amount, quantity.Int(12))
	if got := n.Batch.Dough.Of(food.Alcohol); got.Known() {
		t.Errorf("alcohol %s from vanilla extract", got.Amount)
	}
	if len(n.StandIns) != 0 {
		t.Errorf("stands in for nothing, and is listed: %+v", n.StandIns)
	}
}

// TestLabelOfStandInByVolume: a teaspoon of it is weighed as vanilla extract (SR28
// 02050: 1 tsp = 4.2 g), which a page must say though the label gives the values.
func TestLabelOfStandInByVolume(t *testing.T) {
	n := lines(t, 1, "scent: 2 tsp almond extract").Nutrition([]Label{{Food: "almond extract", Serving: amount(t, "4.2 g"),
		Values: map[food.Nutrient]quantity.Number{food.Energy: quantity.Int(10)}}})
	same(t, "energy", n.Batch.Dough.Of(food.Energy).Amount, quantity.Int(20))
	if len(n.StandIns) != 1 {
		t.Errorf("weighed as another food, and not said: %+v", n.StandIns)
	}
}

// TestLabelValue: units as packages print them. Salt × 0.4 is sodium (Regulation
// (EU) No 1169/2011, Annex I); 4.184 kJ are 1 kcal (NIST SP 811, Appendix B).
func TestLabelValue(t *testing.T) {
	tests := []struct {
		name, in, unit string
		n              food.Nutrient
		want           string
		ok             bool
	}{
		{"energy", "120", "kcal", food.Energy, "120", true},
		{"energy", "1046", "kJ", food.Energy, "250", true},
		{"energy", "1046", "g", 0, "0", false},
		{"fat", "14", "g", food.Fat, "14", true},
		{"saturated", "1.5", "g", food.Saturated, "1.5", true},
		{"trans", "500", "mg", food.Trans, "0.5", true},
		{"salt", "1.25", "g", food.Sodium, "500", true},
		{"sodium", "0.4", "g", food.Sodium, "400", true},
		{"vitamin D", "2", "µg", food.VitaminD, "2", true},
		{"fibre", "3", "kcal", 0, "0", false},
		{"moonshine", "3", "g", 0, "0", false},
	}
	for _, tt := range tests {
		t.Run(tt.name+" in "+tt.unit, func(t *testing.T) {
			n, got, ok := LabelValue(tt.name, number(t, tt.in), tt.unit)
			if ok != tt.ok {
				t.Fatalf("ok %t", ok)
			}
			if ok && n != tt.n {
				t.Errorf("nutrient %s, want %s", n.Name(), tt.n.Name())
			}
			same(t, "value", got, number(t, tt.want))
		})
	}
}

// TestSaturatedShare: 52.362 g saturated × 9 kcal of 1903.5 kcal (by hand, see
// TestNutritionByHand) is 24.757 %.
func TestSaturatedShare(t *testing.T) {
	tests := []struct {
		name    string
		in      []string
		percent string
		bound   Bound
		ok      bool
		side    int // against 10 %
		sure    bool
	}{
		{"whole", []string{"flour: 200 g 20581", "butter: 100 g 01145", "sugar: 100 g 19335", "egg: 50 g 01123"}, "24.757", Exact, true, 1, true},
		{"below", []string{"flour: 100 g 20581"}, "0.383", Exact, true, -1, true}, // 0.155 × 900 / 364
		{"neither is known of a part", []string{"butter: 100 g 01145", "dust: 1 g moon dust"}, "63.375", Unbounded, true, 1, false},
		{"no energy", []string{"salt: 10 g 02047"}, "0", Exact, false, 0, false},
		{"nothing known", []string{"dust: 1 g moon dust"}, "0", Exact, false, 0, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, ok := lines(t, 1, tt.in...).Nutrition(nil).Batch.Dough.SaturatedShare()
			if ok != tt.ok {
				t.Fatalf("ok %t", ok)
			}
			if !ok {
				return
			}
			if got.Percent.Decimal(3) != tt.percent || got.Bound != tt.bound {
				t.Errorf("%s %s %%, want %s %s %%", got.Bound, got.Percent.Decimal(3), tt.bound, tt.percent)
			}
			if side, sure := got.Against(SaturatedPercent()); side != tt.side || sure != tt.sure {
				t.Errorf("%d against the limit, sure: %t", side, sure)
			}
		})
	}
}

// TestSaturatedShareBounds: a gap in the fat makes it at least, a gap in the energy
// at most, and neither is held against a limit that the gap could turn.
func TestSaturatedShareBounds(t *testing.T) {
	sums := func(saturated, energy Sum) Sums {
		s := make(Sums, len(food.AllNutrients()))
		s[food.Saturated], s[food.Energy] = saturated, energy
		return s
	}
	known := func(n int64) Sum { return Sum{Amount: quantity.Int(n), Complete: true, Counted: 1} }
	part := func(n int64, role string) Sum {
		return Sum{Amount: quantity.Int(n), Counted: 1, Missing: []string{role}}
	}
	tests := []struct {
		name    string
		of      Sums
		percent int64
		bound   Bound
		sure    bool
		missing []string
	}{
		{"at least 9 %", sums(part(1, "oil"), known(100)), 9, AtLeast, false, []string{"oil"}},
		{"at least 18 %", sums(part(2, "oil"), known(100)), 18, AtLeast, true, []string{"oil"}},
		{"at most 9 %", sums(known(1), part(100, "tea")), 9, AtMost, true, []string{"tea"}},
		{"at most 18 %", sums(known(2), part(100, "tea")), 18, AtMost, false, []string{"tea"}},
		{"both", sums(part(2, "oil"), part(100, "tea")), 18, Unbounded, false, []string{"oil", "tea"}},
		{"both of one", sums(part(2, "oil"), part(100, "oil")), 18, Unbounded, false, []string{"oil"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, ok := tt.of.SaturatedShare()
			if !ok {
				t.Fatal("no share")
			}
			same(t, "percent", got.Percent, quantity.Int(tt.percent))
			if tt.bound != Unbounded && !strings.HasPrefix(tt.name, got.Bound.String()) || got.Bound.String() == "" {
				t.Errorf("in words %q", got.Bound)
			}
			if _, sure := got.Against(SaturatedPercent()); got.Bound != tt.bound || sure != tt.sure || !slices.Equal(got.Missing, tt.missing) {
				t.Errorf("%+v, sure: %t", got, sure)
			}
		})
	}
}
