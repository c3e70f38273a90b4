package quantity_test

import (
	"encoding/csv"
	"math"
	"math/big"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	. "sidebatch.example/sidebatch/internal/quantity"
)

// table reads a reference table: worked cases with their sources, see the source
// column of each row.
func table(t *testing.T, name string, atLeast int) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/reference/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, record := range records[1:] {
		row := map[string]string{}
		for i, name := range records[0] {
			row[name] = record[i]
		}
		rows = append(rows, row)
	}
	if len(rows) < atLeast {
		t.Fatalf("%s has %d rows, want %d or more", name, len(rows), atLeast)
	}
	return rows
}

// unitOf knows the codes of the table.
func unitOf(t *testing.T, code, kind string) Unit {
	t.Helper()
	u, ok := map[string]Unit{
		"g": Gram, "kg": Kilogram, "oz": Ounce, "lb": Pound, "mL": Milliliter,
		"mm": Millimeter, "cm": Centimeter, "in": Inch,
		"tsp_us": Teaspoon, "tbsp_us": Tablespoon, "floz_us": FluidOunce, "cup_us": Cup,
		"pt_us": Pint, "qt_us": Quart, "gal_us": Gallon,
		"tsp_metric": MetricTeaspoon, "tbsp_metric": MetricTablespoon, "cup_metric": MetricCup,
		"tbsp_au": AustralianTablespoon, "floz_imp": ImperialFluidOunce, "pt_imp": ImperialPint,
		"tsp_label": LabelTeaspoon, "tbsp_label": LabelTablespoon, "cup_label": LabelCup,
		"floz_label": LabelFluidOunce, "oz_label": LabelOunce,
		"degC": Celsius, "degF": Fahrenheit,
	}[code]
	if !ok {
		t.Fatalf("no unit for the code %q", code)
	}
	if kind == "temperature_difference" {
		u = map[Unit]Unit{Celsius: CelsiusDegree, Fahrenheit: FahrenheitDegree}[u]
	}
	return u
}

// rat reads an exact value of the table, which may have more digits than an amount.
func rat(t *testing.T, s string) *big.Rat {
	t.Helper()
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		t.Fatalf("no number: %q", s)
	}
	return r
}

// TestUnitsAgainstReference checks every conversion against NIST SP 811, NIST Handbook 44,
// the UK Weights and Measures Act 1985 and 21 CFR 101.9, as named in the rows.
func TestUnitsAgainstReference(t *testing.T) {
	for _, row := range table(t, "units.csv", 53) {
		t.Run(row["case"], func(t *testing.T) {
			from, to := unitOf(t, row["from_unit"], row["kind"]), unitOf(t, row["to_unit"], row["kind"])
			got, err := New(number(t, row["value"]), from).In(to)
			if err != nil {
				t.Fatal(err)
			}
			exact := rat(t, row["exact_fraction"])
			if want := Ratio(exact.Num().Int64(), exact.Denom().Int64()); !got.Low().Equal(want) {
				t.Errorf("%s %s is %v %s, want exactly %v", row["value"], row["from_unit"], got.Low(), row["to_unit"], want)
			}
			want, _ := rat(t, row["expected"]).Float64()
			tolerance, err := strconv.ParseFloat(row["tolerance"], 64)
			if err != nil {
				t.Fatal(err)
			}
			if off := math.Abs(got.Low().Float64() - want); !(off <= tolerance*max(1, math.Abs(want))) {
				t.Errorf("%v is off from %v by %g", got.Low().Float64(), want, off)
			}
		})
	}
}

// kitchenWith returns the instruments of a measure set in the table.
func kitchenWith(t *testing.T, set string) Instruments {
	t.Helper()
	switch set {
	case "us", "us_full":
		return Instruments{}
	case "metric":
		return Instruments{Volumes: Metric}
	case "us_no_eighth":
		in := Instruments{}.WithDefaults()
		in.Spoons = slices.DeleteFunc(in.Spoons, func(a Amount) bool { return a.Equal(New(Ratio(1, 8), Teaspoon)) })
		return in
	case "us_no_third":
		in := Instruments{}.WithDefaults()
		in.Cups = slices.DeleteFunc(in.Cups, func(a Amount) bool { return a.Equal(New(Ratio(1, 3), Cup)) })
		return in
	}
	t.Fatalf("unknown set %q", set)
	return Instruments{}
}

// scoopsText writes scoops as the table does: "1/3 cup + 2 x 1 tsp".
func scoopsText(scoops []Scoop) string {
	var words []string
	for _, s := range scoops {
		n := s.Measure.Low()
		text := n.String()
		if !n.IsInt() {
			inverse, _ := Int(1).Quo(n)
			text = "1/" + inverse.String()
		}
		if s.Times > 1 {
			text = strconv.Itoa(s.Times) + " x " + text
		}
		words = append(words, text+" "+s.Measure.Unit().Symbol())
	}
	return strings.Join(words, " + ")
}

func TestSmallMeasuresAgainstReference(t *testing.T) {
	for _, row := range table(t, "small_measures.csv", 42) {
		t.Run(row["case"], func(t *testing.T) {
			in := kitchenWith(t, row["measure_set"])
			a, err := Parse(row["amount"], in.Volumes)
			if err != nil {
				t.Fatal(err)
			}
			if row["scale"] != "" {
				a = a.Scale(number(t, row["scale"]))
			}
			tsp := Teaspoon
			if in.Volumes == Metric {
				tsp = MetricTeaspoon
			}
			if spoons, _ := a.In(tsp); !spoons.Low().Equal(number(t, row["result_tsp"])) {
				t.Errorf("%v tsp, want %s", spoons.Low(), row["result_tsp"])
			}
			if want, _ := rat(t, row["result_ml"]).Float64(); !near(milliliters(a), want, 1e-14) {
				t.Errorf("%v mL, want %v", milliliters(a), want)
			}
			if row["kind"] == "decompose" {
				checkScoops(t, in, a, row)
			}
		})
	}
}

func milliliters(a Amount) float64 {
	low, _ := a.Base()
	return low.Float64()
}

func near(got, want, tolerance float64) bool {
	return math.Abs(got-want) <= tolerance*max(1, math.Abs(want))
}

func checkScoops(t *testing.T, in Instruments, a Amount, row map[string]string) {
	t.Helper()
	scoops, residue := in.Scoops(a, USSystem)
	if got := scoopsText(scoops); got != row["best"] {
		t.Errorf("scoops %q, want %q", got, row["best"])
	}
	count := 0
	for _, s := range scoops {
		count += s.Times
	}
	if strconv.Itoa(count) != row["pieces"] {
		t.Errorf("%d scoops, want %s", count, row["pieces"])
	}
	low, _ := a.Base()
	rounded := New(low.Add(residue), Milliliter)
	if spoons, _ := rounded.In(Teaspoon); !spoons.Low().Equal(number(t, row["rounded_tsp"])) {
		t.Errorf("rounded to %v tsp, want %s", spoons.Low(), row["rounded_tsp"])
	}
	share, _ := residue.Quo(low)
	want, _ := rat(t, row["error_percent"]).Float64()
	if got := 100 * share.Float64(); !near(got, want, 1e-12) {
		t.Errorf("error %v %%, want %v %%", got, want)
	}
}
