package planning

import (
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
)

// read reads a note with its logs; the kitchen is that of an empty file.
func read(t *testing.T, files map[string]string) *trial.Trial {
	t.Helper()
	fsys := fstest.MapFS{}
	for name, text := range files {
		fsys["crepes/"+name] = &fstest.MapFile{Data: []byte(text)}
	}
	var problems problem.List
	note := trial.Read(trial.Folder{FS: fsys, Slug: "crepes", Shown: "content"}, kitchen.Default(), &problems)
	if problems.Errors() > 0 {
		t.Fatal(problems.Sorted())
	}
	return note
}

const note = `---
title: Milk or water?
question: Does it matter?
recipe:
  name: Crepes
  makes: 8 crepes
  tested at: half batch
  ingredients:
    flour: 125 g all-purpose flour
    milk: 250 g whole milk
    eggs: 3 eggs, beaten
    salt: 1/4 tsp table salt
    pepper: black pepper, to taste
    butter: 1 tbsp unsalted butter, for the pan
  beside: [butter]
conditions: {rest: 0 min, pan: steel}
samples:
  milk: {control: true, divided into: 4}
  water: {change: {milk: 250 g water}, divided into: 4}
  rested: {like: water, change: {rest: 30 min}, divided into: 4}
  hot pan: {taken from: rested, change: {pan: "steel, hot"}, divided into: 1}
  salty: {change: {salt: 1/2 tsp table salt}, omit: [pepper], divided into: 4}
measures:
  tears: {kind: pass or fail, primary: true}
  side 1: {kind: time}
  liking: {kind: score, of: tasting}
  odd one: {kind: triangle, compares: [milk, water]}
---
`

// Sums done by hand. Half batches of four samples with a dough of their own, twice:
// eight half batches. "used beside" is in; the flour of the fifth sample is not, for it
// is taken from a dough.
//
//	flour   8 × 62.5 g                        = 500 g
//	milk    2 samples (milk, salty) × 2 × 125 = 500 g
//	eggs    8 × 1½                            = 12
//	salt    6 × ⅛ tsp + 2 × ¼ tsp             = 1¼ tsp
//	butter  8 × ½ tbsp                        = 4 tbsp = 12 tsp
//	water   2 samples × 2 × 125 g             = 500 g
func TestShoppingByHand(t *testing.T) {
	p := Of(read(t, map[string]string{"trial.md": note, "pieces.csv": rows("milk", "water", "rested", "salty")}), "")
	want := []struct {
		food, sum, samples string
		beside, taste      bool
	}{
		{"all-purpose flour", "500 g", "", false, false},
		{"whole milk", "500 g", "A E", false, false},
		{"eggs", "12", "", false, false},
		{"table salt", "1 1/4 tsp", "", false, false},
		{"black pepper", "", "A B C", false, true},
		{"unsalted butter", "12 tsp", "", true, false},
		{"water", "500 g", "B C", false, false},
	}
	if len(p.Shopping) != len(want) {
		t.Fatalf("%d lines, want %d: %+v", len(p.Shopping), len(want), p.Shopping)
	}
	for i, w := range want {
		l := p.Shopping[i]
		if l.Food != w.food || l.Beside != w.beside || l.ToTaste != w.taste || letters(l.Samples) != w.samples {
			t.Errorf("%s (beside %v, to taste %v, samples %q), want %+v", l.Food, l.Beside, l.ToTaste, letters(l.Samples), w)
		}
		switch {
		case w.sum == "" && len(l.Sums) > 0, w.sum != "" && len(l.Sums) != 1:
			t.Errorf("%s: sums %v, want %q", w.food, l.Sums, w.sum)
		case w.sum != "":
			sum, err := quantity.Parse(w.sum, quantity.USCustomary)
			if err != nil || !l.Sums[0].Amount.Equal(sum) {
				t.Errorf("%s: %v, want %s (%v)", w.food, l.Sums[0].Amount, w.sum, err)
			}
		}
	}
}

// rows is a log of two batches with a row for every piece and nothing in it.
func rows(samples ...string) string {
	var b strings.Builder
	b.WriteString("sample,batch,piece,tears,side 1\n")
	for _, s := range samples {
		for _, row := range []string{"1,1", "1,2", "1,3", "1,4", "2,1", "2,2", "2,3", "2,4"} {
			b.WriteString(s + "," + row + ",,\n")
		}
	}
	return b.String()
}

func letters(samples []*Sample) string {
	var all []string
	for _, s := range samples {
		all = append(all, s.Letter)
	}
	return strings.Join(all, " ")
}

// One egg too many is bought rather than half an egg too few.
func TestRoundUp(t *testing.T) {
	in := kitchen.Default().Instruments
	for _, x := range []struct {
		name, line string
		system     quantity.System
		want, used string
	}{
		{"a count", "2 1/2 eggs", quantity.MetricSystem, "3", "2½"},
		{"a whole count", "3 eggs", quantity.MetricSystem, "3", ""},
		{"a range of counts", "1 1/2–2 1/2 eggs", quantity.MetricSystem, "2–3", "1½–2½"},
		{"grams below a half", "100.2 g rice", quantity.MetricSystem, "101 g", ""},
		{"grams above a half", "100.7 g rice", quantity.MetricSystem, "101 g", ""},
		{"grams as they are", "100 g rice", quantity.MetricSystem, "100 g", ""},
		{"kilograms", "1234.1 g rice", quantity.MetricSystem, "1235 g", ""},
		{"ounces", "3.21 oz rice", quantity.USSystem, "3.3 oz", ""},
	} {
		t.Run(x.name, func(t *testing.T) {
			amount, rest, err := quantity.ParseLeading(x.line, quantity.USCustomary)
			if err != nil {
				t.Fatal(err)
			}
			got := RoundUp(recipe.Ingredient{Amount: amount, Food: rest}, in, x.system)
			if got.Shown.Text != x.want || got.Whole != (x.used != "") || got.Whole && got.Used != x.used {
				t.Errorf("%q, whole %v, %q used; want %q, %q used", got.Shown.Text, got.Whole, got.Used, x.want, x.used)
			}
		})
	}
}

// Flour by weight in the dough and by the spoon on the bench: for a reader of grams it
// is one amount, 450 g and 2 tbsp of about 7.8 g (125 g a cup, 16 tbsp a cup), for one of
// cups two.
func TestToBuyTogether(t *testing.T) {
	flour := strings.NewReplacer("milk: 250 g whole milk}", "flour: 450 g all-purpose flour, bench: 2 tbsp all-purpose flour}, beside: [bench]",
		"%PIECES%", "4", "change: {milk: 250 g water}", "omit: [flour]").Replace(two)
	p := Of(read(t, map[string]string{"trial.md": flour}), "")
	if len(p.Shopping) != 1 || !p.Shopping[0].Beside || len(p.Shopping[0].Sums) != 2 {
		t.Fatalf("%+v", p.Shopping)
	}
	in := kitchen.Default().Instruments
	metric := p.Shopping[0].ToBuy(in, quantity.MetricSystem)
	if len(metric) != 1 || metric[0].Shown.Text != "482 g" || !metric[0].Shown.About {
		t.Errorf("%+v", metric)
	}
	us := p.Shopping[0].ToBuy(in, quantity.USSystem)
	if len(us) != 2 || us[1].Shown.Text != "¼ cup" {
		t.Errorf("%+v", us)
	}
}

// What is bought is never less than what is used, and never so much more that another
// step of the instrument would have done.
func TestRoundUpNeverLess(t *testing.T) {
	in := kitchen.Default().Instruments
	units := []quantity.Unit{quantity.Gram, quantity.Ounce, quantity.Milliliter, quantity.Teaspoon, quantity.Cup, quantity.Each}
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom(units).Draw(t, "unit")
		n := quantity.Ratio(rapid.Int64Range(1, 500_000).Draw(t, "n"), rapid.SampledFrom([]int64{1, 3, 7, 8, 100}).Draw(t, "of"))
		system := rapid.SampledFrom([]quantity.System{quantity.MetricSystem, quantity.USSystem, quantity.ImperialSystem}).Draw(t, "system")
		exact := quantity.New(n, unit)
		got := RoundUp(recipe.Ingredient{Amount: exact, Food: "stock"}, in, system)
		value, _ := got.Shown.Value.Base()
		want, _ := exact.Base()
		if value.Less(want) {
			t.Fatalf("%s of %s", got.Shown.Text, exact)
		}
		if over := value.Sub(want).Float64(); over > math.Max(30, 0.06*want.Float64()) {
			t.Fatalf("%s of %s: %g too much", got.Shown.Text, exact, over)
		}
	})
}

func TestContrasts(t *testing.T) {
	p := Of(read(t, map[string]string{"trial.md": note}), "")
	got := map[string]int{}
	for _, c := range p.Contrasts {
		got[c.Of.Letter+c.Against.Letter] = c.Differing()
		if (len(c.Reach) > 0) != c.Single() {
			t.Errorf("%s against %s: %d things differ, reach of %d measures", c.Sample, c.Against.Key, c.Differing(), len(c.Reach))
		}
	}
	want := map[string]int{"BA": 1, "CA": 2, "CB": 1, "DA": 3, "DB": 2, "DC": 1, "EA": 2, "EB": 3, "EC": 4, "ED": 5}
	for pair, n := range want {
		if got[pair] != n {
			t.Errorf("%s: %d things differ, want %d", pair, got[pair], n)
		}
	}
	if p.family() != 3 {
		t.Errorf("a family of %d single-factor contrasts, want 3", p.family())
	}
}

const two = `---
title: Milk or water?
question: Does it matter?
recipe: {name: Crepes, ingredients: {milk: 250 g whole milk}}
samples:
  milk: {control: true, divided into: %PIECES%}
  water: {change: {milk: 250 g water}, divided into: %PIECES%}
measures:
  tears: {kind: pass or fail, primary: true}
  side 1: {kind: time}
  liking: {kind: score, of: tasting}
  order: {kind: rank}
  odd one: {kind: triangle, compares: [water, milk]}
---
`

// Pieces: R 4.2.2, the rows drop_from_100_n6 of testdata/reference/power.csv. Numbers:
// Cohen 1988, table 2.4.1 (17 of each for one standard deviation, from memory). Pairs:
// powers of a half. The triangle: ISO 4120:2004, table A.3 (16 for half who can tell,
// alpha 0.05 and beta 0.20; from memory), of which the number from which no larger one
// falls short again lies a little above.
func TestReach(t *testing.T) {
	p := Of(read(t, map[string]string{"trial.md": strings.ReplaceAll(two, "%PIECES%", "6")}), "")
	r := p.Contrasts[0].Reach
	if len(r) != 5 {
		t.Fatalf("%d measures, want 5", len(r))
	}
	tears, side, liking, order, odd := r[0], r[1], r[2], r[3], r[4]
	if tears.Never || math.Abs(tears.Smallest-0.13988068827) > 1e-8 || tears.Of != 6 {
		t.Errorf("tears: %+v", tears)
	}
	if side.Needed != 17 || side.Never || side.Unit != findings.OfPiece {
		t.Errorf("side 1: %+v", side)
	}
	if liking.Of != 8 || liking.Needed != 10 || !liking.Paired {
		t.Errorf("liking: %+v", liking)
	}
	if order.Never || order.Needed != 6 || order.Scale != ByOrder {
		t.Errorf("order: %+v", order)
	}
	if odd.Of != 8 || odd.Never || odd.Scale != ByPanel || odd.Needed < 16 || odd.Needed > 20 {
		t.Errorf("odd one: %+v", odd)
	}
}

func TestReachNever(t *testing.T) {
	p := Of(read(t, map[string]string{"trial.md": strings.ReplaceAll(two, "%PIECES%", "3")}), "")
	for _, r := range p.Contrasts[0].Reach[:2] {
		if !r.Never {
			t.Errorf("%s: three against three have no p below 10 %%, but %+v", r.Measure.Name, r)
		}
	}
}

// Two batches of both make the batch the unit, in pairs where they are side by side.
func TestBatches(t *testing.T) {
	log := rows("milk", "water")
	apart := strings.ReplaceAll(two, "%PIECES%", "4")
	beside := strings.Replace(apart, "measures:", "batches: side by side\nmeasures:", 1)
	for name, x := range map[string]struct {
		note   string
		paired bool
	}{"apart": {apart, false}, "side by side": {beside, true}} {
		p := Of(read(t, map[string]string{"trial.md": x.note, "pieces.csv": log}), "")
		r := p.Contrasts[0].Reach[0]
		if r.Unit != findings.OfBatch || r.Of != 2 || r.Paired != x.paired || !r.Never {
			t.Errorf("%s: %+v", name, r)
		}
		if p.Batches != 2 || len(p.Orders) != 2 || p.LeastPairs != 6 {
			t.Errorf("%s: %d batches, %d orders, least %d pairs", name, p.Batches, len(p.Orders), p.LeastPairs)
		}
	}
}

// The order is drawn from the slug: always the same, another with a seed, and over a
// whole design every sample is the first on the cold griddle equally often.
func TestOrders(t *testing.T) {
	log := "sample,batch,piece,tears,side 1\n"
	for _, s := range []string{"milk", "water"} {
		for _, batch := range []string{"1", "2", "3", "4"} {
			log += s + "," + batch + ",1,,\n"
		}
	}
	files := map[string]string{"trial.md": strings.ReplaceAll(two, "%PIECES%", "1"), "pieces.csv": log}
	first := map[string]int{}
	for i, order := range Of(read(t, files), "").Orders {
		first[order[0].Key]++
		again := Of(read(t, files), "").Orders[i]
		if len(order) != 2 || again[0].Key != order[0].Key {
			t.Errorf("batch %d: %v, then %v", i+1, order, again)
		}
	}
	if first["milk"] != 2 || first["water"] != 2 {
		t.Errorf("first on the griddle: %v", first)
	}
}

func TestCooked(t *testing.T) {
	plain := strings.ReplaceAll(two, "%PIECES%", "4")
	for name, x := range map[string]struct {
		log  string
		want bool
	}{
		"blank":  {rows("milk", "water"), false},
		"a time": {strings.Replace(rows("milk"), "milk,1,1,,", "milk,1,1,,40", 1), true},
	} {
		if got := Cooked(read(t, map[string]string{"trial.md": plain, "pieces.csv": x.log})); got != x.want {
			t.Errorf("%s: %v", name, got)
		}
	}
	answers := "assessor,set,odd,picked\nA1,1,,\nA2,1,,\nA3,1,,\n"
	p := Of(read(t, map[string]string{"trial.md": plain, "odd-one.csv": answers}), "")
	if Cooked(p.Trial) || p.Assessors != 3 || p.Contrasts[0].Reach[4].Of != 3 {
		t.Errorf("a blank log of three: cooked %v, %d assessors, %+v", Cooked(p.Trial), p.Assessors, p.Contrasts[0].Reach[4])
	}
}
