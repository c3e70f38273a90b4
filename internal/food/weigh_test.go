package food

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/quantity"
)

func amount(t *testing.T, s string) quantity.Amount {
	t.Helper()
	a, err := quantity.Parse(s, quantity.USCustomary)
	if err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	return a
}

// TestGrams: the weights are the publisher's (data/SOURCES.md), chosen by the words.
func TestGrams(t *testing.T) {
	for _, test := range []struct {
		amount, word string
		want, by     string
	}{
		// Masses stand; NIST Handbook 44: 1 oz = 28.349523125 g.
		{"500 g", "all-purpose flour", "500", ""},
		{"1 kg", "all-purpose flour", "1000", ""},
		{"1 oz", "butter", "28.349523125", ""},

		{"1 cup", "all-purpose flour", "125", "1 cup = 125 g"},
		{"2 1/2 cups", "all-purpose flour", "312.5", "1 cup = 125 g"},
		{"1 tbsp", "all-purpose flour", "7.8125", "1 cup = 125 g"},
		{"1 tsp", "salt", "6", "1 tsp = 6 g"},
		{"1/4 tsp", "salt", "1.5", "1 tsp = 6 g"},
		{"1 tbsp", "salt", "18", "1 tbsp = 18 g"},
		{"1 tsp", "baking powder", "4.6", "1 tsp = 4.6 g"},
		{"1 cup", "honey", "339", "1 cup = 339 g"},
		{"1 tbsp", "peanut butter", "16", "2 tbsp = 32 g"},
		{"1 cup", "rolled oats", "81", "1 cup = 81 g"},
		{"1/3 cup", "rolled oats", "27", "1 cup = 81 g"},

		// The form that the words name, else the plain or usual one.
		{"1 cup", "packed brown sugar", "220", "1 cup packed = 220 g"},
		{"1 cup", "brown sugar, unpacked", "145", "1 cup unpacked = 145 g"},
		{"1 cup", "brown sugar", "220", "1 cup packed = 220 g"},
		{"1 tsp", "brown sugar", "4.6", "1 tsp packed = 4.6 g"},
		{"1 cup", "powdered sugar", "120", "1 cup unsifted = 120 g"},
		{"1 cup", "powdered sugar, sifted", "100", "1 cup sifted = 100 g"},
		{"1 cup", "heavy cream", "238", "1 cup, fluid (yields 2 cups whipped) = 238 g"},
		{"1 cup", "heavy cream, whipped", "120", "1 cup, whipped = 120 g"},
		{"1 cup", "almonds", "143", "1 cup, whole = 143 g"},
		{"1 cup", "sliced almonds", "92", "1 cup, sliced = 92 g"},
		{"1 cup", "flaked almonds", "92", "1 cup, sliced = 92 g"},
		{"1 cup", "almond flour", "95", "1 cup, ground = 95 g"},
		{"1 cup", "blanched almonds", "145", "1 cup whole kernels = 145 g"},
		{"1 cup", "onions, sliced", "115", "1 cup, sliced = 115 g"},
		{"1 cup", "cheddar", "113", "1 cup, shredded = 113 g"},
		{"1 cup", "diced cheddar", "132", "1 cup, diced = 132 g"},
		{"1 cup", "banana", "150", "1 cup, sliced = 150 g"}, // mashed comes first in the table
		{"1 cup", "macaroni", "122", "1 cup elbows = 122 g"},
		{"1 cup", "fresh breadcrumbs", "45", "1 cup, crumbs = 45 g"},
		{"1 tsp", "black pepper", "2.3", "1 tsp, ground = 2.3 g"},
		{"1 tbsp", "sliced onion", "7.1875", "1 cup, sliced = 115 g"},

		// Measures known to be wrong are passed over.
		{"1 tbsp", "agave syrup", "20.7", "1 tsp = 6.9 g"},
		{"1 cup", "agave syrup", "331.2", "1 tsp = 6.9 g"},
		{"1 tbsp", "nonfat dry milk", "7.5", "1/4 cup = 30 g"},
		{"1 tbsp", "sour cream", "14.375", "1 cup = 230 g"},
		{"1 tbsp", "grated parmesan", "6.25", "1 cup = 100 g"},

		// Water has no cup of its own: 8 fl oz of 29.6 g.
		{"1 cup", "water", "236.8", "1 fl oz = 29.6 g"},
		{"1 L", "water", "1000", "1 liter = 1000 g"},
		{"250 mL", "water", "250", "1 liter = 1000 g"},

		// Counts.
		{"1", "large egg", "50", "1 large = 50 g"},
		{"3", "large eggs", "150", "1 large = 50 g"},
		{"2", "eggs", "100", "1 large = 50 g"},
		{"1", "medium egg", "44", "1 medium = 44 g"},
		{"1", "extra large egg", "56", "1 extra large = 56 g"},
		{"1/2", "egg", "25", "1 large = 50 g"},
		{"3", "egg whites", "99", "1 large = 33 g"},
		{"1", "stick butter", "113", "1 stick = 113 g"},
		{"2", "cloves garlic", "6", "1 clove = 3 g"},
		{"1", "packet active dry yeast", "7.2", "1 packet = 7.2 g"},
		{"2", "slices bread", "58", "1 slice = 29 g"},
		{"4", "slices bacon", "112", "1 slice raw = 28 g"},
		{"1", "onion", "110", `1 medium (2-1/2" dia) = 110 g`},
		{"1", "large onion", "150", "1 large = 150 g"},
		{"1", "lemon", "58", `1 fruit (2-1/8" dia) = 58 g`},
		{"1", "avocado", "201", "1 avocado, NS as to Florida or California = 201 g"},
		{"1", "jalapeño", "14", "1 pepper = 14 g"},
		{"1", "large potato", "369", `1 Potato large (3" to 4-1/4" dia) = 369 g`},
	} {
		t.Run(test.amount+" "+test.word, func(t *testing.T) {
			name, _, _ := strings.Cut(test.word, ",")
			m, ok := Find(name)
			if !ok {
				t.Fatalf("%q is not found", name)
			}
			w, ok := Grams(m.Food, amount(t, test.amount), test.word)
			if !ok {
				t.Fatal("no weight")
			}
			if !w.Grams.Equal(num(t, test.want)) || w.By != test.by {
				t.Errorf("%s g by %q, want %s by %q", w.Grams, w.By, test.want, test.by)
			}
			if w.About != (test.by != "") {
				t.Errorf("about is %v", w.About)
			}
		})
	}
}

func TestGramsOr(t *testing.T) {
	for _, test := range []struct{ amount, food, word, want string }{
		{"1 cup", "brown sugar", "brown sugar", "1 cup unpacked = 145 g"},
		{"1 cup", "brown sugar", "packed brown sugar", ""},
		{"1 cup", "almonds", "almonds", "1 cup, sliced = 92 g"},
		{"1 cup", "all-purpose flour", "flour", ""},
		{"1 cup", "heavy cream", "heavy cream", ""}, // nobody means whipped
		{"100 g", "brown sugar", "brown sugar", ""},
	} {
		m, ok := Find(test.food)
		if !ok {
			t.Fatalf("%q is not found", test.food)
		}
		w, ok := Grams(m.Food, amount(t, test.amount), test.word)
		if !ok || w.Or != test.want {
			t.Errorf("%s %s: or %q, want %q", test.amount, test.word, w.Or, test.want)
		}
	}
}

func TestGramsRefuses(t *testing.T) {
	flour, garlic, greek := get(t, "20581"), get(t, "11215"), get(t, "01293")
	for _, test := range []struct {
		name string
		food *Food
		a    quantity.Amount
		word string
	}{
		{"to taste", flour, quantity.ToTaste(), "flour"},
		{"a time", flour, quantity.New(quantity.Int(3), quantity.Minute), "flour"},
		{"a temperature", flour, quantity.New(quantity.Int(3), quantity.Celsius), "flour"},
		{"a count of what has no pieces", flour, quantity.New(quantity.Int(3), quantity.Each), "flour"},
		{"garlic without a word for the piece", garlic, quantity.New(quantity.Int(2), quantity.Each), "garlic"},
		{"a head, which the table does not weigh", garlic, quantity.New(quantity.Int(2), quantity.Each), "head garlic"},
		{"a volume of what has no measure", greek, quantity.New(quantity.Int(1), quantity.Cup), "Greek yogurt"},
		{"no food", nil, quantity.New(quantity.Int(1), quantity.Cup), "xylitol"},
	} {
		if w, ok := Grams(test.food, test.a, test.word); ok {
			t.Errorf("%s weighs %s g by %q", test.name, w.Grams, w.By)
		}
	}
	if _, _, ok := Milliliters(greek, quantity.Int(100), ""); ok {
		t.Error("Greek yogurt has no measure of volume")
	}
	if _, _, ok := Milliliters(nil, quantity.Int(100), ""); ok {
		t.Error("no food has a volume")
	}
}

func TestGramsOfRange(t *testing.T) {
	a := quantity.Between(quantity.Int(20), quantity.Int(30), quantity.Gram)
	w, ok := Grams(get(t, "20581"), a, "flour")
	if !ok || !w.About || !w.Grams.Equal(quantity.Int(25)) {
		t.Errorf("20–30 g is %v, want about 25 g", w)
	}
}

// TestOtherCups: a metric cup (250 mL) is filled like a US one.
func TestOtherCups(t *testing.T) {
	w, ok := Grams(get(t, "20581"), quantity.New(quantity.Int(1), quantity.MetricCup), "flour")
	if !ok || !closeTo(w.Grams, num(t, "132.086"), "0.001") { // 125 g · 250/236.5882365
		t.Errorf("a metric cup of flour is %s g", w.Grams)
	}
}

// TestDensities holds measures against published densities, in g/mL.
func TestDensities(t *testing.T) {
	const codex = "Codex Alimentarius CXS 33-1981 and CXS 210-1999, relative density at 20 °C; from memory, sunflower looked up"
	for _, test := range []struct {
		name, low, high, source string
	}{
		{"olive oil", "0.910", "0.916", codex},
		{"sesame oil", "0.915", "0.924", codex},
		{"sunflower oil", "0.918", "0.923", codex},
		{"soybean oil", "0.919", "0.925", codex},
		{"corn oil", "0.917", "0.925", codex},
		{"grapeseed oil", "0.920", "0.926", codex},
		{"water", "0.998", "1.001", "IAPWS, water at 20 °C: 0.9982 g/mL"},
		{"whole milk", "1.025", "1.035", "common practice: 1.03, no source"},
		{"honey", "1.40", "1.45", "Codex CXS 12-1981 allows 20 % water: about 1.42; from memory"},
	} {
		m, ok := Find(test.name)
		if !ok {
			t.Fatalf("%q is not found", test.name)
		}
		w, ok := Grams(m.Food, quantity.New(quantity.Int(1), quantity.Cup), test.name)
		if !ok {
			t.Fatalf("%q has no weight", test.name)
		}
		one, _ := quantity.New(quantity.Int(1), quantity.Cup).Base()
		d, _ := w.Grams.Quo(one)
		// A cup is published in whole grams: half a gram is 0.002 g/mL.
		rounding := quantity.Ratio(22, 10000)
		if d.Add(rounding).Less(num(t, test.low)) || num(t, test.high).Less(d.Sub(rounding)) {
			t.Errorf("%s: %s g/mL, want %s to %s (%s)", test.name, d.Decimal(4), test.low, test.high, test.source)
		}
	}
	// A US stick is a quarter of a pound: 113.4 g (common practice, no source).
	stick, ok := Grams(get(t, "01145"), quantity.New(quantity.Int(1), quantity.Each), "stick butter")
	if !ok || !closeTo(stick.Grams, num(t, "113.398"), "0.5") {
		t.Errorf("a stick of butter is %s g", stick.Grams)
	}
}

func TestMilliliters(t *testing.T) {
	for _, test := range []struct{ food, grams, word, want, by string }{
		{"all-purpose flour", "125", "flour", "236.588236", "1 cup = 125 g"},
		{"salt", "6", "salt", "4.928922", "1 tsp = 6 g"},
		{"salt", "290", "salt", "234.967", "1 cup = 292 g"},
		{"brown sugar", "145", "brown sugar, unpacked", "236.588236", "1 cup unpacked = 145 g"},
		{"water", "1000", "water", "1000", "1 liter = 1000 g"},
	} {
		m, ok := Find(test.food)
		if !ok {
			t.Fatalf("%q is not found", test.food)
		}
		ml, by, ok := Milliliters(m.Food, num(t, test.grams), test.word)
		if !ok || by != test.by || !closeTo(ml, num(t, test.want), "0.001") {
			t.Errorf("%s g %s: %s mL by %q, want %s by %q", test.grams, test.food, ml.Decimal(6), by, test.want, test.by)
		}
	}
}

// TestGramsProperties: weight grows with the amount in proportion, exactly, and
// the way back over the same measure gives the volume again.
func TestGramsProperties(t *testing.T) {
	table, err := openTable()
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		f, err := table.food(rapid.IntRange(0, len(table.rows)-1).Draw(t, "food"))
		if err != nil {
			t.Fatal(err)
		}
		unit := rapid.SampledFrom([]quantity.Unit{quantity.Cup, quantity.Tablespoon, quantity.Teaspoon, quantity.FluidOunce, quantity.Each}).Draw(t, "unit")
		times := quantity.Ratio(rapid.Int64Range(1, 400).Draw(t, "times"), 8)
		word := rapid.SampledFrom([]string{"", "chopped", "packed", "large", "sliced whole"}).Draw(t, "word")
		one, ok1 := Grams(f, quantity.New(quantity.Int(1), unit), word)
		many, ok2 := Grams(f, quantity.New(times, unit), word)
		if ok1 != ok2 || ok1 && !many.Grams.Equal(one.Grams.Mul(times)) {
			t.Fatalf("%s %s: one is %s g, %s are %s g", f.Description, unit, one.Grams, times, many.Grams)
		}
		if ok1 && (one.Grams.Sign() <= 0 || one.By == "") {
			t.Fatalf("%s %s: %v", f.Description, unit, one)
		}
		if ok1 && unit != quantity.Each && !strings.Contains(one.By, " = ") {
			t.Fatalf("%s %s: by %q", f.Description, unit, one.By)
		}
	})
}
