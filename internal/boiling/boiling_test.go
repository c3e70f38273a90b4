package boiling

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// referenceRows reads the table of outside values, one map a row.
func referenceRows(t *testing.T) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/reference/physics.csv")
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
	if len(rows) < 36 {
		t.Fatalf("only %d rows read", len(rows))
	}
	return rows
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// The sources stand in the table: IAPWS R7-97(2012), tables 35 and 36; U.S.
// Standard Atmosphere 1976; USDA FSIS, High Altitude Cooking and Food Safety.
func TestReference(t *testing.T) {
	for _, row := range referenceRows(t) {
		t.Run(row["case"], func(t *testing.T) {
			in, want := number(t, row["input"]), number(t, row["expected"])
			got, err := compute(t, row["kind"], in)
			if err != nil {
				t.Fatal(err)
			}
			if off := math.Abs(got - want); !(off <= number(t, row["tolerance"])*max(1, math.Abs(want))) {
				t.Errorf("got %.12g, want %.12g (off by %g)", got, want, off)
			}
			if row["published"] == "" {
				return
			}
			published := number(t, row["published"])
			if off := math.Abs(got - published); !(off <= number(t, row["published_tolerance"])) {
				t.Errorf("got %.12g, published %.12g (off by %g)", got, published, off)
			}
		})
	}
}

// compute does what a row of the table asks for, in the row's units.
func compute(t *testing.T, kind string, in float64) (float64, error) {
	t.Helper()
	switch kind {
	case "tsat": // MPa to K
		c, err := Saturation(in * 1000)
		return c + zeroCelsius, err
	case "psat": // K to MPa
		kPa, err := SaturationPressure(in - zeroCelsius)
		return kPa / 1000, err
	case "pressure_at_geopotential_m": // to Pa
		return Pressure(in) * 1000, nil
	case "boiling_at_geopotential_m":
		return Saturation(Pressure(in))
	case "boiling_at_geometric_m":
		return Point(in)
	case "boiling_at_geopotential_ft_f":
		c, err := Saturation(Pressure(in * 0.3048))
		return c*9/5 + 32, err
	case "boiling_at_hpa":
		return Saturation(in / 10)
	}
	t.Fatalf("unknown kind %q", kind)
	return 0, nil
}

func TestOutOfRange(t *testing.T) {
	tests := []struct {
		name string
		call func(float64) (float64, error)
		good []float64
		bad  []float64
	}{
		{"point", Point, []float64{-500, 0, 9000}, []float64{-500.1, 9000.1, math.NaN(), math.Inf(1), math.Inf(-1)}},
		{"saturation", Saturation, []float64{0.611213, 22064}, []float64{0, -1, 0.6, 22065, math.NaN(), math.Inf(1)}},
		{"saturation pressure", SaturationPressure, []float64{0, 100, 373.946}, []float64{-0.1, 374, math.NaN(), math.Inf(-1)}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			for _, in := range tt.good {
				if got, err := tt.call(in); err != nil || math.IsNaN(got) {
					t.Errorf("%g: got %g, %v", in, got, err)
				}
			}
			for _, in := range tt.bad {
				if got, err := tt.call(in); err == nil || got != 0 {
					t.Errorf("%g: got %g, want an error", in, got)
				}
			}
		})
	}
}

// The two equations of the saturation line are each other's inverse within the
// 4 mK or so that IAPWS R7-97 allows for region 4; in practice far closer.
func TestSaturationRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.Float64Range(0.001, 373.9).Draw(t, "celsius")
		p, err := SaturationPressure(want)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Saturation(p)
		if err != nil || math.Abs(got-want) > 1e-6 {
			t.Fatalf("%g °C gives %g kPa gives %g °C, %v", want, p, got, err)
		}
	})
}

// Higher is cooler, everywhere in the range.
func TestPointFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(LowestAltitude, HighestAltitude-1).Draw(t, "low")
		high := rapid.Float64Range(low+1, HighestAltitude).Draw(t, "high")
		a, errA := Point(low)
		b, errB := Point(high)
		if errA != nil || errB != nil || !(b < a) {
			t.Fatalf("%g m gives %g, %g m gives %g (%v, %v)", low, a, high, b, errA, errB)
		}
	})
}

func BenchmarkPoint(b *testing.B) {
	for b.Loop() {
		if _, err := Point(1600); err != nil {
			b.Fatal(err)
		}
	}
}
