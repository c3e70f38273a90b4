package recipe

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/quantity"
)

// TestBakerWet works the second hydration out by hand. Water per 100 g in SR28:
// whole milk (01077) 88.13 g, egg (01123) 76.15 g, unsalted butter (01145) 17.94 g,
// honey (19296) 17.1 g. Of 500 g flour: milk 100 g × 0.8813 = 88.13 g or 17.626 %,
// egg 200 g × 0.7615 = 152.3 g or 30.46 %; together 48.086 %.
func TestBakerWet(t *testing.T) {
	r := lines(t, 12, "flour: 500 g bread flour", "milk: 100 g whole milk", "egg: 200 g eggs", "butter: 200 g butter",
		"honey: 60 g honey", "salt: 10 g fine sea salt", "yeast: 7 g active dry yeast")
	r.Flours = []string{"flour"}
	b, ok := r.Baker()
	if !ok {
		t.Fatal("no page")
	}
	same(t, "plain hydration", b.Lines.Hydration, quantity.Int(0))
	shares(t, "wet", b.Wet, "48.086", "milk 17.626", "egg 30.46")
	shares(t, "salt", b.Salt, "2", "salt 2")
	shares(t, "yeast", b.Yeast, "1.4", "yeast 1.4")
	shares(t, "chemical", b.Chemical, "0")
	if len(b.Kept)+len(b.NotFound)+len(b.Missing)+len(b.Wet.Missing)+len(b.Preferments) != 0 || b.About {
		t.Errorf("%+v", b)
	}
}

// TestBakerPreferment: a poolish of 200 g flour and 200 g water in a dough of 500 g
// flour in all: 40 % of the flour is prefermented, the poolish is at 100 %, the
// dough at (200 + 125) / 500 = 65 %. Several flours: 400 g wheat is 80 %, 100 g rye 20 %.
func TestBakerPreferment(t *testing.T) {
	r := lines(t, 2, "poolish/flour: 200 g bread flour", "poolish/water: 200 g water", "poolish/yeast: 1 g active dry yeast",
		"flour: 200 g bread flour", "rye: 100 g rye flour", "water: 125 g warm water", "salt: 10 g table salt",
		"yeast: 2 g active dry yeast")
	r.Flours = []string{"poolish/flour", "flour", "rye"}
	b, ok := r.Baker()
	if !ok {
		t.Fatal("no page")
	}
	total := map[string]string{"flour": "80", "rye": "20", "water": "65", "salt": "2", "yeast": "0.6"}
	if len(b.Total.Parts) != len(total) {
		t.Errorf("the total formula has %v", b.Total.Parts)
	}
	for _, p := range b.Total.Parts {
		same(t, "total "+p.Role, p.Share, number(t, total[p.Role]))
	}
	same(t, "hydration", b.Total.Hydration, quantity.Int(65))
	same(t, "hydration by the lines", b.Lines.Hydration, quantity.Int(65))
	same(t, "prefermented", b.Lines.Prefermented, quantity.Int(40))
	shares(t, "wet", b.Wet, "65", "poolish/water 40", "water 25")
	shares(t, "yeast", b.Yeast, "0.6", "poolish/yeast 0.2", "yeast 0.4")
	if len(b.Preferments) != 1 {
		t.Fatalf("preferments %+v", b.Preferments)
	}
	p := b.Preferments[0]
	same(t, "of the flour", p.OfFlour, quantity.Int(40))
	same(t, "its hydration", p.Hydration, quantity.Int(100))
	same(t, "its mass", p.Grams, quantity.Int(401))
	if p.Name != "poolish" {
		t.Errorf("called %q", p.Name)
	}
}

// TestBakerOtherFlour: flour of another kind in the preferment stays apart.
func TestBakerOtherFlour(t *testing.T) {
	r := lines(t, 1, "levain/flour: 50 g rye flour", "levain/water: 50 g water", "flour: 450 g bread flour", "water: 250 g water")
	r.Flours = []string{"levain/flour", "flour"}
	b, _ := r.Baker()
	var roles []string
	for _, p := range b.Total.Parts {
		roles = append(roles, p.Role)
	}
	if want := []string{"levain/flour", "water", "flour"}; !slices.Equal(roles, want) {
		t.Errorf("total of %q, want %q", roles, want)
	}
}

// TestBakerDusting: flour for the bench is no flour of the dough, and gives the
// poolish's no name. A cup of who knows what flour leaves nothing to hold against.
func TestBakerDusting(t *testing.T) {
	r := lines(t, 1, "poolish/flour: 50 g bread flour", "poolish/water: 50 g water", "flour: 10 g bread flour", "water: 5 g water")
	r.Flours, r.Beside = []string{"poolish/flour", "flour"}, []string{"flour"}
	b, _ := r.Baker()
	if first := b.Total.Parts[0]; first.Role != "poolish/flour" {
		t.Errorf("the poolish's flour is called %q", first.Role)
	}
	r.Flours, r.Beside = []string{"poolish/flour"}, nil // now a roux that the cook does not count as flour
	b, _ = r.Baker()
	same(t, "flour that counts", b.Total.Flour, quantity.Int(50))
	r = lines(t, 1, "flour: 100 g bread flour", "other: 1 cup moon flour")
	r.Flours = []string{"flour", "other"}
	if b, ok := r.Baker(); ok {
		t.Errorf("percentages of %s g flour and more", b.Lines.Flour)
	}
}

// TestBakerPlaces: which foods count where. Water per 100 g, SR28, from 50 g on is
// wet; pieces keep it.
func TestBakerPlaces(t *testing.T) {
	tests := []struct {
		name, in       string
		wet, kept, not bool // counts as wet, keeps its water in pieces, not known
	}{
		{"water", "10 g water", true, false, false},
		{"milk, 88 %", "10 g whole milk", true, false, false},
		{"egg white, 88 %", "10 g egg whites", true, false, false},
		{"yogurt, 88 %", "10 g plain yogurt", true, false, false},
		{"heavy cream, 58 %", "10 g heavy cream", true, false, false},
		{"fresh yeast, 69 %", "10 g fresh yeast", true, false, false},
		{"beer, 92 %", "10 g beer", true, false, false},
		{"lemon juice, 92 %", "10 g lemon juice", true, false, false},
		{"pumpkin puree", "10 g pumpkin puree", true, false, false},
		{"mashed banana", "10 g banana, mashed", true, false, false},
		{"grated zucchini", "10 g zucchini, grated", true, false, false},
		{"cream cheese, 54 %", "10 g cream cheese", true, false, false},
		{"banana, sliced", "10 g banana, sliced", false, true, false},
		{"scallions", "10 g scallions, thinly sliced", false, true, false},
		{"mozzarella, 50 %", "10 g mozzarella, grated", false, true, false},
		{"butter, 18 %", "10 g butter", false, false, false},
		{"maple syrup, 32 %", "10 g maple syrup", false, false, false},
		{"honey, 17 %", "10 g honey", false, false, false},
		{"oil", "10 g olive oil", false, false, false},
		{"not in the table", "10 g moon milk", false, false, true},
		{"of unknown mass", "whole milk, to taste", false, false, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := lines(t, 1, "flour: 100 g bread flour", "it: "+tt.in)
			r.Flours = []string{"flour"}
			b, _ := r.Baker()
			wet, kept, not := b.Wet.Total.Sign() > 0, len(b.Kept) > 0, len(b.Wet.Missing) > 0
			if wet != tt.wet || kept != tt.kept || not != tt.not {
				t.Errorf("wet %t, kept %t, not known %t", wet, kept, not)
			}
		})
	}
}

func TestBakerGaps(t *testing.T) {
	r := lines(t, 1, "flour: 200 g bread flour", "salt: table salt, to taste", "powder: 1 tsp baking powder", "soda: 1 g baking soda",
		"dust: 5 g moon dust", "oil: 10 g olive oil")
	r.Flours, r.Beside = []string{"flour"}, []string{"oil"}
	b, ok := r.Baker()
	if !ok {
		t.Fatal("no page")
	}
	if !slices.Equal(b.Salt.Missing, []string{"salt"}) || !slices.Equal(b.NotFound, []string{"dust"}) || !slices.Equal(b.Missing, []string{"salt"}) {
		t.Errorf("salt missing %q, not found %q, missing %q", b.Salt.Missing, b.NotFound, b.Missing)
	}
	shares(t, "chemical", b.Chemical, "2.8", "powder 2.3", "soda 0.5") // 1 tsp baking powder weighs 4.6 g in SR28
	if !b.About {
		t.Error("a teaspoon was not weighed")
	}
	if _, ok := lines(t, 1, "oats: 100 g rolled oats").Baker(); ok {
		t.Error("a baker's page without flour")
	}
}

func shares(t *testing.T, what string, got Shares, total string, parts ...string) {
	t.Helper()
	same(t, what, got.Total, number(t, total))
	var have []string
	for _, p := range got.Parts {
		have = append(have, p.Role+" "+p.Share.String())
	}
	if !slices.Equal(have, parts) {
		t.Errorf("%s of %q, want %q", what, have, parts)
	}
}

// TestBakerLaws: the page does not change with the size, the second hydration is
// no less than the first, and the total formula weighs what the lines weigh.
func TestBakerLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRecipe(t)
		for n, i := range r.Ingredients {
			if n > 0 && rapid.Bool().Draw(t, "in a poolish?") {
				i.Role = "poolish/" + rapid.SampledFrom([]string{i.Role, "a"}).Draw(t, "role")
				if _, taken := r.Ingredient(i.Role); taken {
					continue
				}
				r.Ingredients[n].Role = i.Role
			}
			if rapid.Bool().Draw(t, "flour?") {
				r.Flours = append(r.Flours, i.Role)
			}
		}
		b, ok := r.Baker()
		many, alsoOK := r.Scale(quantity.Ratio(rapid.Int64Range(1, 50).Draw(t, "times"), 7)).Baker()
		if ok != alsoOK {
			t.Fatal("a page at one size only")
		}
		if !ok {
			return
		}
		if !many.Wet.Total.Equal(b.Wet.Total) || !many.Salt.Total.Equal(b.Salt.Total) || !many.Total.Total.Equal(b.Total.Total) {
			t.Error("the page changed with the size")
		}
		if b.Wet.Total.Less(b.Lines.Hydration) {
			t.Errorf("hydration %s, with wet foods %s", b.Lines.Hydration, b.Wet.Total)
		}
		if !b.Total.Total.Equal(b.Lines.Total) || !b.Total.Flour.Equal(b.Lines.Flour) {
			t.Error("the total formula is not the lines'")
		}
	})
}
