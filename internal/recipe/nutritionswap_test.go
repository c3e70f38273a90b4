package recipe

import (
	"slices"
	"testing"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
)

// TestSwapsFats: 1 tbsp weighs 14.2 g of unsalted butter (01145), 12.8 g of lard
// (04002), and 3 tsp of 4.5 g of olive oil (04053; its tablespoon is 13.5 g). Energy
// and saturated fat per 100 g: 717 and 50.489; 902 and 39.2; 884 and 13.808 (all
// SR28). 48 g for 12 pieces is 4 g a piece.
func TestSwapsFats(t *testing.T) {
	with := func(name, fat string) Version {
		return Version{Name: name, Recipe: lines(t, 12, "flour: 200 g 20581", "fat: "+fat)}
	}
	swaps := Swaps([]Version{with("A", "48 g 01145"), with("B", "48 g 04002"), with("C", "48 g 04053"), with("D", "48 g 04002")})
	if len(swaps) != 1 || swaps[0].Role != "fat" || len(swaps[0].Options) != 3 {
		t.Fatalf("swaps %+v", swaps)
	}
	want := []struct {
		versions                                     []string
		spoonEnergy, spoonSaturated, piece, saturatd string
	}{
		{[]string{"A"}, "101.814", "7.169438", "28.68", "2.01956"},
		{[]string{"B", "D"}, "115.456", "5.0176", "36.08", "1.568"},
		{[]string{"C"}, "119.34", "1.86408", "35.36", "0.55232"},
	}
	for n, o := range swaps[0].Options {
		w := want[n]
		if !slices.Equal(o.Versions, w.versions) {
			t.Errorf("option %d of %q, want %q", n, o.Versions, w.versions)
		}
		same(t, "energy of a tablespoon", o.Tablespoon.Of(food.Energy).Amount, number(t, w.spoonEnergy))
		same(t, "saturated in a tablespoon", o.Tablespoon.Of(food.Saturated).Amount, number(t, w.spoonSaturated))
		same(t, "energy of a piece", o.Piece.Of(food.Energy).Amount, number(t, w.piece))
		same(t, "saturated in a piece", o.Piece.Of(food.Saturated).Amount, number(t, w.saturatd))
		if trans := o.Piece.Of(food.Trans); trans.Known() {
			t.Errorf("trans fat of option %d is %s, the table reports none of them", n, trans.Amount)
		}
	}
}

func TestSwaps(t *testing.T) {
	version := func(name string, text ...string) Version { return Version{Name: name, Recipe: lines(t, 4, text...)} }
	labelled := version("B", "oil: 10 g rapeseed oil")
	labelled.Labels = []Label{{Food: "rapeseed oil", Serving: amount(t, "10 g"), Values: map[food.Nutrient]quantity.Number{food.Energy: quantity.Int(80)}}}
	tests := []struct {
		name string
		in   []Version
		want []string // roles
	}{
		{"none", nil, nil},
		{"one version", []Version{version("A", "water: 10 g water")}, nil},
		{"the same row under two names", []Version{version("A", "water: 10 g cold water"), version("B", "water: 10 g boiling water")}, nil},
		{"another amount", []Version{version("A", "water: 10 g water"), version("B", "water: 20 g water")}, nil},
		{"another food", []Version{version("A", "wet: 10 g water"), version("B", "wet: 10 g whole milk")}, []string{"wet"}},
		{"one goes without", []Version{version("A", "wet: 10 g water"), version("B")}, []string{"wet"}},
		{"one adds", []Version{version("A"), version("B", "oil: 1 tsp sesame oil")}, []string{"oil"}},
		{"a label tells them apart", []Version{version("A", "oil: 10 g canola oil"), labelled}, []string{"oil"}},
		{"not in the table", []Version{version("A", "oil: 10 g moon oil"), version("B", "oil: 10 g star oil")}, []string{"oil"}},
		{"not in the table, the same", []Version{version("A", "oil: 10 g moon oil"), version("B", "oil: 9 g Moon oil")}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var got []string
			for _, s := range Swaps(tt.in) {
				got = append(got, s.Role)
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("roles %q, want %q", got, tt.want)
			}
		})
	}
}

// TestSwapAbsent: a version without the role is an option without figures.
func TestSwapAbsent(t *testing.T) {
	swaps := Swaps([]Version{
		{Name: "A", Recipe: lines(t, 4, "flour: 100 g 20581")},
		{Name: "B", Recipe: lines(t, 4, "flour: 100 g 20581", "fat: 10 g 04615", "scent: 4 g almond extract")},
	})
	if len(swaps) != 2 {
		t.Fatalf("swaps %+v", swaps)
	}
	without, with, scent := swaps[0].Options[0], swaps[0].Options[1], swaps[1].Options[1]
	if !without.Absent || without.Piece.Of(food.Energy).Known() || with.Absent {
		t.Errorf("options %+v", swaps[0].Options)
	}
	if !with.Dated || scent.Dated || scent.StandIn == "" || with.StandIn != "" {
		t.Errorf("dated %t, %t; stand-ins %q, %q", with.Dated, scent.Dated, with.StandIn, scent.StandIn)
	}
}

// TestSwapNutrients: what fats, flours and sweeteners are compared by.
func TestSwapNutrients(t *testing.T) {
	shown := SwapNutrients()
	for _, n := range []food.Nutrient{food.Energy, food.Saturated, food.Monounsaturated, food.Polyunsaturated, food.Trans, food.Sodium, food.Fibre} {
		if !slices.Contains(shown, n) {
			t.Errorf("without %s", n.Name())
		}
	}
	for n, of := range shown {
		if slices.Contains(shown[:n], of) {
			t.Errorf("%s twice", of.Name())
		}
	}
}
