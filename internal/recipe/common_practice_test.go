package recipe

import (
	"testing"

	"sidebatch.example/sidebatch/internal/quantity"
)

// TestCommonPractice holds the facts of the trade that the program states against
// common_practice.csv, whose rows have no published source and say so, and what
// the food table says of salt against the first of them.
func TestCommonPractice(t *testing.T) {
	stated := map[string]Practice{
		"salt-teaspoon":       SaltTeaspoon(),
		"warm-water":          WarmWater(),
		"dough-loss":          DoughLoss(),
		"thin-flatbread-side": ThinSide(),
		"puffed-surface":      PuffedSurface(),
		"powder-gas":          PowderGas(),
		"dough-rest":          DoughRest(),
	}
	units := map[string]string{"oz": "oz", "degF": "°F", "percent": "percent", "s": "s", "min": "min"}
	rows := referenceRows(t, "common_practice.csv")
	if len(rows) != len(stated) {
		t.Fatalf("the table has %d rows, the program states %d", len(rows), len(stated))
	}
	for _, row := range rows {
		p, known := stated[row["case"]]
		if !known {
			t.Errorf("%s is not stated", row["case"])
			continue
		}
		if p.Claim != row["claim"] || !p.Low.Equal(parse(t, row["low"])) || !p.High.Equal(parse(t, row["high"])) || p.Unit != units[row["unit"]] {
			t.Errorf("%s: stated as %+v, the table has %s, %s to %s %s", row["case"], p, row["claim"], row["low"], row["high"], row["unit"])
		}
		if row["source"] != "common practice (no source)" {
			t.Errorf("%s has a source now: state it", row["case"])
		}
	}
	salt, ok := noted(t, "salt", "1 tsp", "table salt").Mass()
	ounces, _ := quantity.New(salt.Grams, quantity.Gram).In(quantity.Ounce)
	if p := SaltTeaspoon(); !ok || ounces.Low().Less(p.Low) || p.High.Less(ounces.Low()) {
		t.Errorf("a teaspoon of salt weighs %s in the food table", ounces)
	}
}
