package recipe

import (
	"testing"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
)

// noted makes an ingredient as a note has it.
func noted(t *testing.T, role, amount, name string) Ingredient {
	t.Helper()
	a, err := quantity.Parse(amount, quantity.USCustomary)
	if err != nil {
		t.Fatal(err)
	}
	i := Ingredient{Role: role, Amount: a, Food: name}
	i.Match, i.Found = food.Find(name)
	return i
}

// TestUnknownFlour: with a flour of unknown mass nothing is known of the 100 %.
func TestUnknownFlour(t *testing.T) {
	r := Recipe{
		Ingredients: []Ingredient{noted(t, "flour", "300 g", "all-purpose flour"), noted(t, "other", "1 cup", "moonberry flour"), noted(t, "water", "200 g", "water")},
		Flours:      []string{"flour", "other"},
	}
	if p, ok := r.Batch().Percentages(); ok {
		t.Errorf("percentages of an unknown flour: %+v", p)
	}
	r.Flours = []string{"flour"}
	p, ok := r.Batch().Percentages()
	if !ok || p.Hydration.Decimal(2) != "66.67" {
		t.Errorf("hydration %s, %v", p.Hydration, ok)
	}
}

// TestShow: what a spoon of something becomes for a reader who weighs.
func TestShow(t *testing.T) {
	tests := []struct {
		name   string
		in     Ingredient
		system quantity.System
		want   string
		about  bool
	}{
		{"salt is weighed", noted(t, "salt", "1 tsp", "table salt"), quantity.MetricSystem, "6 g", true},
		{"and spooned", noted(t, "salt", "1 tsp", "table salt"), quantity.USSystem, "1 tsp", false},
		{"milk is poured", noted(t, "milk", "1 cup", "whole milk"), quantity.MetricSystem, "237 mL", false},
		{"grams stay grams", noted(t, "flour", "300 g", "all-purpose flour"), quantity.MetricSystem, "300 g", false},
		{"grams become ounces", noted(t, "flour", "600 g", "all-purpose flour"), quantity.USSystem, "1 lb 5.2 oz", false},
		{"an unknown food is not weighed", noted(t, "dust", "1 tsp", "moon dust"), quantity.MetricSystem, "5 mL", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.in.Show(quantity.Instruments{}, tt.system); got.Text != tt.want || got.About != tt.about {
				t.Errorf("%q, about %v; want %q, %v", got.Text, got.About, tt.want, tt.about)
			}
		})
	}
}

// TestToWeigh: half an egg has a mass, a whole one needs none. A large egg is 50 g
// without its shell (USDA SR28, 01123).
func TestToWeigh(t *testing.T) {
	half := noted(t, "eggs", "1/2", "eggs")
	if shown, ok := half.ToWeigh(quantity.Instruments{}); !ok || shown.Text != "25 g" {
		t.Errorf("half an egg is %q, %v", shown.Text, ok)
	}
	for _, amount := range []string{"2", "1-2", "25 g"} {
		if shown, ok := noted(t, "eggs", amount, "eggs").ToWeigh(quantity.Instruments{}); ok {
			t.Errorf("%s of egg is weighed: %s", amount, shown.Text)
		}
	}
	if shown, ok := noted(t, "x", "1/2", "moon egg").ToWeigh(quantity.Instruments{}); ok {
		t.Errorf("half of what nobody knows is %s", shown.Text)
	}
}

// TestSpooned: 250 g of flour is two of the table's cups of 125 g (USDA SR28, 20581).
func TestSpooned(t *testing.T) {
	flour := noted(t, "flour", "250 g", "all-purpose flour")
	shown, by, ok := flour.Spooned(quantity.Instruments{}, quantity.USSystem)
	if !ok || shown.Text != "2 cups" || !shown.About || by == "" {
		t.Errorf("%q by %q, about %v, %v", shown.Text, by, shown.About, ok)
	}
	for _, i := range []Ingredient{noted(t, "milk", "1 cup", "whole milk"), noted(t, "eggs", "2", "eggs"), noted(t, "x", "5 g", "moon dust")} {
		if shown, _, ok := i.Spooned(quantity.Instruments{}, quantity.USSystem); ok {
			t.Errorf("%s is spooned: %s", i.Food, shown.Text)
		}
	}
}

// TestBalance: what went in against what was weighed, and what is not known.
func TestBalance(t *testing.T) {
	grams := func(text string) quantity.Amount {
		a, err := quantity.Parse(text, quantity.USCustomary)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	r := Recipe{
		Ingredients: []Ingredient{noted(t, "flour", "300 g", "all-purpose flour"), noted(t, "water", "180 g", "water"), noted(t, "oil", "20 g", "sunflower oil")},
		Beside:      []string{"oil"},
	}
	b := r.Balance(Weighed{Dough: grams("474 g"), Each: grams("78 g"), Divided: 6})
	if b.In.String() != "480" || b.Loss.String() != "6" || b.Percent.String() != "1.25" || b.Pieces.String() != "468" || !b.Known {
		t.Errorf("%+v", b)
	}
	r.Ingredients = append(r.Ingredients, Ingredient{Role: "salt", Amount: quantity.ToTaste(), Food: "salt"})
	b = r.Balance(Weighed{Dough: grams("474 g")})
	if b.Known || len(b.Missing) != 1 || b.Missing[0] != "salt" {
		t.Errorf("a loss with salt to taste: %+v", b)
	}
	if b := r.Balance(Weighed{}); b.Known || b.Dough.Sign() != 0 {
		t.Errorf("a loss where nothing was weighed: %+v", b)
	}
}
