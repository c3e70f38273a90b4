package recipe

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
)

// TestNutritionRoundingTable checks every row of the reference table of label
// rounding (21 CFR 101.9 and Appendix H of the FDA Food Labeling Guide; source and
// from_memory columns of the table).
func TestNutritionRoundingTable(t *testing.T) {
	checks := map[string]func(*testing.T, map[string]string){
		"round":       checkRound,
		"daily_value": checkDailyValue,
		"percent_dv":  checkDailyPercent,
		"atwater":     checkGeneralEnergy,
	}
	rows := referenceRows(t, "nutrition_rounding.csv")
	if len(rows) < 60 {
		t.Fatalf("only %d rows", len(rows))
	}
	for _, row := range rows {
		t.Run(row["case"], func(t *testing.T) {
			check, known := checks[row["kind"]]
			if !known {
				t.Fatalf("no check for kind %q", row["kind"])
			}
			check(t, row)
		})
	}
}

// labelled are the nutrients by the table's names.
func labelled(t *testing.T, name string) food.Nutrient {
	t.Helper()
	names := map[string]food.Nutrient{
		"calories": food.Energy, "total_fat": food.Fat, "saturated_fat": food.Saturated, "cholesterol": food.Cholesterol,
		"sodium": food.Sodium, "total_carbohydrate": food.Carbohydrate, "dietary_fiber": food.Fibre,
		"total_sugars": food.Sugars, "protein": food.Protein, "vitamin_d": food.VitaminD, "calcium": food.Calcium,
		"iron": food.Iron, "potassium": food.Potassium,
	}
	n, ok := names[name]
	if !ok {
		t.Fatalf("no nutrient %q", name)
	}
	return n
}

// declaration writes a rounded amount as a label does.
func declaration(r Rounded) string {
	text := r.Number.String() + " " + r.Unit
	switch {
	case r.LessThan:
		return "less than " + text
	case r.AtLeast:
		return "at least " + text
	}
	return text
}

// shown writes a sum, or that nothing is known of it.
func shown(s Sum, n food.Nutrient) string {
	if r, known := s.Rounded(n); known {
		return declaration(r)
	}
	return "not known"
}

func checkRound(t *testing.T, row map[string]string) {
	n := labelled(t, row["nutrient"])
	if n.Unit() != row["unit"] {
		t.Fatalf("in %s, the table has %s", n.Unit(), row["unit"])
	}
	got, ok := LabelRound(n, number(t, row["amount"]))
	if !ok {
		t.Fatal("not rounded")
	}
	want := strings.TrimSuffix(row["expected"], " "+row["unit"]) + " " + row["unit"]
	if declaration(got) != want {
		t.Errorf("%s, want %s", declaration(got), want)
	}
	if row["also_allowed"] == "" {
		return
	}
	for _, also := range got.Also {
		if declaration(also) == row["also_allowed"]+" "+row["unit"] {
			return
		}
	}
	t.Errorf("%s is not among the others allowed, %v", row["also_allowed"], got.Also)
}

func checkDailyValue(t *testing.T, row map[string]string) {
	want := number(t, row["daily_value"])
	if row["nutrient"] == "added_sugars" {
		same(t, "daily value", AddedSugarsDailyValue(), want)
		return
	}
	n := labelled(t, row["nutrient"])
	if unit := strings.Replace(row["unit"], "ug", "µg", 1); n.Unit() != unit {
		t.Fatalf("in %s, the table has %s", n.Unit(), unit)
	}
	got, ok := DailyValue(n)
	if !ok {
		t.Fatal("no daily value")
	}
	same(t, "daily value", got, want)
}

func checkDailyPercent(t *testing.T, row map[string]string) {
	got, ok := DailyPercent(labelled(t, row["nutrient"]), number(t, row["amount"]))
	if !ok {
		t.Fatal("no percentage")
	}
	same(t, "percent", got, number(t, row["expected_percent_dv"]))
}

func checkGeneralEnergy(t *testing.T, row map[string]string) {
	grams := map[string]quantity.Number{}
	for _, part := range strings.Split(row["amount"], "; ") {
		name, amount, _ := strings.Cut(part, " ")
		grams[name] = number(t, amount)
	}
	got := GeneralEnergy(grams["protein"], grams["carbohydrate"], grams["fat"])
	same(t, "energy", got, number(t, row["expected"]))
	label, _ := LabelRound(food.Energy, got)
	if want := strings.TrimPrefix(row["also_allowed"], "label ") + " kcal"; declaration(label) != want {
		t.Errorf("on the label %s, want %s", declaration(label), want)
	}
}

// TestMineralRounding: increments by the size of the daily value. Below 250: 81 FR
// 33742, looked up; from 250 on: from memory. Percentages: 21 CFR 101.9(c)(8)(iii).
func TestMineralRounding(t *testing.T) {
	tests := []struct {
		name    string
		n       food.Nutrient
		in      string
		want    string
		percent string
	}{
		{"potassium to 10", food.Potassium, "235", "240 mg", "6"},
		{"calcium under 2 %", food.Calcium, "25.9", "30 mg", "0"},
		{"calcium at 2 %", food.Calcium, "26", "30 mg", "2"},
		{"iron to a tenth", food.Iron, "8.04", "8 mg", "45"},
		{"vitamin D to a tenth", food.VitaminD, "2.05", "2.1 µg", "10"},
		{"vitamin C to 1", food.VitaminC, "8.6", "9 mg", "10"},
		{"ten percent goes by 2", food.Iron, "1.8", "1.8 mg", "10"},
		{"above ten by 5", food.Iron, "2.34", "2.3 mg", "15"},
		{"above fifty by 10", food.Iron, "9.9", "9.9 mg", "60"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, _ := LabelRound(tt.n, number(t, tt.in))
			if declaration(got) != tt.want {
				t.Errorf("%s, want %s", declaration(got), tt.want)
			}
			percent, ok := DailyPercent(tt.n, number(t, tt.in))
			if !ok {
				t.Fatal("no percentage")
			}
			same(t, "percent", percent, number(t, tt.percent))
		})
	}
}

// TestUnlistedMinerals: what is below 2 % of the daily value may be declared as 0
// (21 CFR 101.9(c)(8)(iii)).
func TestUnlistedMinerals(t *testing.T) {
	below, _ := LabelRound(food.Calcium, number(t, "25.9"))
	if len(below.Also) != 1 || declaration(below.Also[0]) != "0 mg" {
		t.Errorf("25.9 mg calcium may also be %v, want 0 mg", below.Also)
	}
	if at, _ := LabelRound(food.Calcium, quantity.Int(26)); len(at.Also) != 0 {
		t.Errorf("26 mg calcium may also be %v", at.Also)
	}
}

func TestLabelRefusals(t *testing.T) {
	for _, n := range []food.Nutrient{food.Water, food.Alcohol, food.Ash} {
		if got, ok := LabelRound(n, quantity.Int(3)); ok {
			t.Errorf("%s is declared as %s", n.Name(), declaration(got))
		}
	}
	if got, ok := LabelRound(food.Fat, quantity.Int(-1)); ok {
		t.Errorf("−1 g fat is declared as %s", declaration(got))
	}
	for _, n := range []food.Nutrient{food.Protein, food.Trans, food.Sugars, food.Energy} {
		if got, ok := DailyPercent(n, quantity.Int(10)); ok {
			t.Errorf("10 of %s is %s %% of a daily value", n.Name(), got)
		}
	}
}

// TestSumRounded: a sum with gaps is never rounded up, and one that says nothing is
// not a 0.
func TestSumRounded(t *testing.T) {
	gap := []string{"flour"}
	tests := []struct {
		name string
		sum  Sum
		n    food.Nutrient
		want string
	}{
		{"whole", Sum{Amount: number(t, "47.9"), Complete: true, Counted: 3}, food.Energy, "50 kcal"},
		{"whole, nothing of it", Sum{Complete: true, Counted: 3}, food.Trans, "0 g"},
		{"whole, a little", Sum{Amount: number(t, "3"), Complete: true, Counted: 1}, food.Cholesterol, "less than 5 mg"},
		{"in part", Sum{Amount: number(t, "47.9"), Missing: gap, Counted: 2}, food.Energy, "at least 45 kcal"},
		{"in part, near the next step", Sum{Amount: number(t, "2.499"), Missing: gap, Counted: 2}, food.Trans, "at least 2 g"},
		{"in part, a little", Sum{Amount: number(t, "0.49"), Missing: gap, Counted: 2}, food.Trans, "at least 0.4 g"},
		{"in part, a trace", Sum{Amount: number(t, "0.04"), Missing: gap, Counted: 2}, food.Trans, "not known"},
		{"in part, none of it", Sum{Missing: gap, Counted: 2}, food.Trans, "not known"},
		{"not known", Sum{Missing: gap}, food.Trans, "not known"},
		{"no rule on labels", Sum{Amount: number(t, "34.44"), Complete: true, Counted: 1}, food.Water, "34.4 g"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := shown(tt.sum, tt.n); got != tt.want {
				t.Errorf("%q, want %q", got, tt.want)
			}
		})
	}
}

// TestLabelRoundLaws: no declaration is further off than its rule allows, more is
// never declared as less, and "at least" never says more than there is.
func TestLabelRoundLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SampledFrom(food.AllNutrients()).Draw(t, "nutrient")
		a := quantity.Ratio(rapid.Int64Range(0, 500_000).Draw(t, "thousandths"), 1000)
		more := a.Add(quantity.Ratio(rapid.Int64Range(0, 50_000).Draw(t, "more"), 1000))
		rule, ok := labelRuleOf(n)
		if !ok {
			return
		}
		got, _ := LabelRound(n, a)
		if off := got.Number.Sub(a).Abs(); !got.LessThan && a.Cmp(rule.zero) >= 0 && off.Add(off).Cmp(rule.step(a)) > 0 {
			t.Errorf("%s of %s is declared as %s", a, n.Name(), declaration(got))
		}
		if got.LessThan && a.Cmp(got.Number) > 0 {
			t.Errorf("%s of %s is declared as %s", a, n.Name(), declaration(got))
		}
		if next, _ := LabelRound(n, more); next.Number.Less(got.Number) {
			t.Errorf("%s of %s: %s, but %s: %s", a, n.Name(), declaration(got), more, declaration(next))
		}
		if least := down(a, rule.step(a)); a.Less(least) {
			t.Errorf("at least %s %s of %s", least, n.Name(), a)
		}
	})
}

func number(t testing.TB, text string) quantity.Number {
	t.Helper()
	n, err := quantity.ParseNumber(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func same(t testing.TB, what string, got, want quantity.Number) {
	t.Helper()
	if !got.Equal(want) {
		t.Errorf("%s %s, want %s", what, got, want)
	}
}
