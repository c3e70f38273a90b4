package quantity_test

import (
	"testing"

	"pgregory.net/rapid"
	. "sidebatch.example/sidebatch/internal/quantity"
)

// showing is one amount in three systems; a text that begins with ~ is About.
type showing struct{ in, metric, us, imperial string }

func checkShowings(t *testing.T, in Instruments, cases []showing) {
	t.Helper()
	for _, c := range cases {
		for system, want := range map[System]string{MetricSystem: c.metric, USSystem: c.us, ImperialSystem: c.imperial} {
			if want == "" {
				continue
			}
			shown := in.Show(amount(t, c.in), system)
			got := shown.Text
			if shown.About {
				got = "~" + got
			}
			if got != want {
				t.Errorf("%s in %v is %q, want %q", c.in, system, got, want)
			}
		}
	}
}

// Ounces: 600 g is 21.164 oz, 1 lb 5.164 oz (NIST SP 811: 28.349523125 g).
func TestShowMass(t *testing.T) {
	checkShowings(t, Instruments{}, []showing{
		{"600 g", "600 g", "1 lb 5.2 oz", "1 lb 5.2 oz"},
		{"100 g", "100 g", "3.5 oz", "3.5 oz"},
		{"1 lb", "454 g", "1 lb", "1 lb"},
		{"15.96 oz", "452 g", "1 lb", ""}, // 16.0 oz after rounding
		{"1250 g", "1.25 kg", "2 lb 12.1 oz", ""},
		{"1253 g", "1253 g", "2 lb 12.2 oz", ""},
		{"1 kg", "1 kg", "2 lb 3.3 oz", ""},
		{"999.6 g", "1 kg", "2 lb 3.3 oz", ""},
		{"999.4 g", "999 g", "", ""},
		{"9999 g", "9999 g", "", ""},
		{"12.3456 kg", "12.346 kg", "", ""},
		{"6 g", "6 g", "0.21 oz", ""},
		{"10.4 g", "10 g", "0.37 oz", ""},
		{"9.4 g", "9 g", "", ""},
		{"7.4 g", "~7.5 g", "", ""}, // 7 g would be off by 5.4 %
		{"0.4 g", "~0.4 g", "~0.014 oz", ""},
		{"0.04 g", "~0.04 g", "", ""},
		{"3 mg", "~3 mg", "", ""},
		{"0 g", "0 g", "0 oz", "0 oz"},
		{"200–250 g", "200–250 g", "7.1–8.8 oz", ""},
		{"900–1100 g", "900 g – 1.1 kg", "1 lb 15.7 oz – 2 lb 6.8 oz", ""},
		{"250.2–250.4 g", "250 g", "", ""}, // one number after rounding
		{"to taste", "to taste", "to taste", "to taste"},
	})
	checkShowings(t, Instruments{Scale: amount(t, "5 g")}, []showing{
		{"512 g", "510 g", "1 lb 2.1 oz", ""},
		{"1003 g", "1005 g", "", ""},
		{"7 g", "~7 g", "", ""},
	})
	checkShowings(t, Instruments{Scale: amount(t, "0.1 oz")}, []showing{
		{"600 g", "600 g", "1 lb 5.2 oz", ""},
		{"513 g", "514 g", "", ""}, // read in steps of about 2 g
		{"6 g", "6 g", "~0.21 oz", ""},
	})
	checkShowings(t, Instruments{Scale: amount(t, "0.1 g")}, []showing{{"5.34 g", "5.3 g", "0.19 oz", ""}})
}

func TestShowVolume(t *testing.T) {
	checkShowings(t, Instruments{}, []showing{
		{"1 tsp", "5 mL", "1 tsp", "1 tsp"},
		{"1/4 tsp", "1.2 mL", "¼ tsp", "¼ tsp"},
		{"1/2 tsp", "2.5 mL", "½ tsp", "½ tsp"},
		{"3/8 tsp", "1.8 mL", "¼ tsp + ⅛ tsp", ""},
		{"3/4 tsp", "3.7 mL", "¾ tsp", ""},
		{"1 1/8 tsp", "5.5 mL", "1⅛ tsp", ""},
		{"1 3/8 tsp", "7 mL", "1¼ tsp + ⅛ tsp", ""},
		{"1/3 tsp", "1.6 mL", "~¼ tsp + ⅛ tsp", ""},
		{"1/16 tsp", "~0.3 mL", "~1 pinch", ""},
		{"1/32 tsp", "~0.15 mL", "~½ pinch", ""},
		{"1 tbsp", "15 mL", "1 tbsp", "1 tbsp"},
		{"8 1/2 tbsp", "126 mL", "½ cup + 1½ tsp", ""}, // half of 1 cup + 1 tbsp
		{"1/4 cup", "59 mL", "¼ cup", "2 fl oz"},
		{"3/4 cup", "177 mL", "¾ cup", ""},
		{"5/6 cup", "197 mL", "½ cup + ⅓ cup", ""},
		{"1 1/2 cups", "355 mL", "1½ cups", ""},
		{"250 mL", "250 mL", "1 cup + 1 tbsp", "9 fl oz"},
		{"160 mL", "160 mL", "⅔ cup", ""}, // within 2 %, two scoops
		{"1 L", "1 L", "4¼ cups", "1¾ pints"},
		{"7 cups", "1.66 L", "7 cups", ""},
		{"8 cups", "1.89 L", "2 quarts", ""},
		{"9 cups", "2.13 L", "2 quarts + 1 cup", "3¾ pints"},
		{"10 cups", "2.37 L", "2½ quarts", "4 pints + 3 fl oz"},
		{"11.5 cups", "2.72 L", "2 quarts + 3½ cups", ""},
		{"1 imperial pint", "568 mL", "", "1 pint"},
		{"2–3 cups", "473–710 mL", "2–3 cups", ""},
		{"1/4 cup to 1/3 cup + 1 tsp", "59–84 mL", "¼ cup – ⅓ cup + 1 tsp", ""},
		{"0 mL", "0 mL", "0 tsp", "0 tsp"},
	})
	none := Instruments{Spoons: []Amount{}, Cups: []Amount{}}
	checkShowings(t, none, []showing{{"1 tsp", "5 mL", "~1 tsp", ""}, {"1/3 cup", "79 mL", "~⅓ cup", ""}})
	noEighth := Instruments{Spoons: []Amount{amount(t, "1/4 tsp"), amount(t, "1 tsp")}}
	checkShowings(t, noEighth, []showing{{"1/8 tsp", "~0.6 mL", "~⅛ tsp", ""}, {"1 tsp", "5 mL", "1 tsp", ""}})
	// The spoons of a metric kitchen are not those of its US readers.
	checkShowings(t, Instruments{Volumes: Metric}, []showing{{"1 metric cup", "250 mL", "1 cup + 1 tbsp", ""}})
}

func TestShowTemperature(t *testing.T) {
	checkShowings(t, Instruments{}, []showing{
		{"98 °C", "98 °C", "208 °F", "98 °C"},
		{"20–25 °C", "20–25 °C", "68–77 °F", ""},
		{"-18 °C", "−18 °C", "0 °F", ""},
		{"-5 to -2 °C", "−5 to −2 °C", "23–28 °F", ""},
		{"180 °C", "180 °C", "355 °F", "180 °C"},
		{"350 °F", "175 °C", "350 °F", "175 °C"},
		{"163 °C", "163 °C", "325 °F", ""}, // not converted, not rounded
		{"22.4 °C", "22 °C", "72 °F", ""},
		{"0 °C", "0 °C", "32 °F", ""},
		{"5 °C difference", "5 °C", "9 °F", ""},
		{"-5 °C difference", "−5 °C", "−9 °F", ""},
	})
	checkShowings(t, Instruments{Thermometer: amount(t, "0.1 °C")}, []showing{{"22.44 °C", "22.4 °C", "72.4 °F", ""}})
	checkShowings(t, Instruments{Thermometer: amount(t, "2 °F")}, []showing{{"71 °F", "22 °C", "72 °F", ""}})
}

func TestShowOthers(t *testing.T) {
	checkShowings(t, Instruments{}, []showing{
		{"2.5", "2½", "2½", "2½"}, {"1/3", "⅓", "", ""}, {"5/6", "⅚", "", ""}, {"2.125", "2⅛", "", ""}, {"1.1", "1⅛", "", ""},
		{"12.3", "12⅓", "", ""}, {"0.03", "0.03", "", ""}, {"0", "0", "", ""}, {"6–8", "6–8", "", ""},
		{"30 min", "30 min", "30 min", "30 min"}, {"90 min", "1 h 30 min", "", ""}, {"70 s", "1 min 10 s", "", ""}, {"3600 s", "1 h", "", ""},
		{"72 h", "3 days", "", ""}, {"24 h", "24 h", "", ""}, {"0 min", "0 min", "", ""}, {"0.4 s", "~0.4 s", "", ""}, {"59.6 s", "1 min", "", ""},
		{"20–30 min", "20–30 min", "", ""}, {"45 min to 1 h", "45 min – 1 h", "", ""}, {"0–1 h", "0–1 h", "", ""},
		{"9 in", "23 cm", "9 in", "9 in"}, {"1/8 in", "3.2 mm", "⅛ in", ""}, {"3/16 in", "5 mm", "3/16 in", ""}, {"1 3/16 in", "3 cm", "1 3/16 in", ""},
		{"10 mm", "10 mm", "⅜ in", ""}, {"3.27 mm", "3.3 mm", "⅛ in", ""}, {"2 cm", "2 cm", "13/16 in", ""}, {"24 cm", "24 cm", "9½ in", ""},
		{"0.2 mm", "0.2 mm", "1/128 in", ""}, {"0 mm", "0 mm", "0 in", ""},
	})
	checkShowings(t, Instruments{Timer: amount(t, "0.1 s")}, []showing{{"31.24 s", "31.2 s", "", ""}})
	checkShowings(t, Instruments{Timer: amount(t, "1 min")}, []showing{{"31.4 min", "31 min", "", ""}})
}

func TestShownResidue(t *testing.T) {
	for _, c := range []struct {
		in               string
		system           System
		value, residue   string
		relative, tolera float64
	}{
		{"600.4 g", MetricSystem, "600 g", "-0.4", 0.4 / 600.4, 1e-12},
		{"600 g", MetricSystem, "600 g", "0", 0, 0},
		{"1/3 tsp", USSystem, "0.375 tsp", "", 0.125, 1e-12},
		{"200.4–300.2 g", MetricSystem, "200–300 g", "-0.4", 0.4 / 200.4, 1e-12},
		{"20.4 °C", MetricSystem, "20 °C", "-0.4", 0, 0},
	} {
		got := Instruments{}.Show(amount(t, c.in), c.system)
		if !got.Value.Equal(amount(t, c.value)) {
			t.Errorf("%s: value %v, want %s", c.in, got.Value, c.value)
		}
		if c.residue != "" && !got.Residue.Equal(number(t, c.residue)) {
			t.Errorf("%s: residue %v, want %s", c.in, got.Residue, c.residue)
		}
		if !near(got.RelativeError, c.relative, c.tolera) {
			t.Errorf("%s: relative error %v, want %v", c.in, got.RelativeError, c.relative)
		}
	}
}

// TestShowLaws: the text says the value, the residue is what the value adds, what
// is in the recipe is never 0, and showing what was shown changes nothing more.
func TestShowLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawAmount(1_000_000).Draw(t, "amount")
		s := System(rapid.Uint8Range(0, 2).Draw(t, "system"))
		in := rapid.SampledFrom([]Instruments{{}, {Volumes: Metric}, {Scale: New(Int(5), Gram)}, {Scale: New(Ratio(1, 10), Ounce)}, {Spoons: []Amount{}}}).Draw(t, "instruments")
		shown := in.Show(a, s)
		back, err := Parse(shown.Text, s.Volumes())
		if difference, ok := back.AsDifference(); ok && a.Dimension() == TemperatureDifference {
			back = difference
		}
		if err != nil || !back.Equal(shown.Value) {
			t.Fatalf("%v shown as %q means %v (%v), not %v", a, shown.Text, back, err, shown.Value)
		}
		low, high := a.Base()
		gotLow, gotHigh := shown.Value.Base()
		offLow, offHigh := gotLow.Sub(low), gotHigh.Sub(high)
		if !shown.Residue.Equal(offLow) && !shown.Residue.Equal(offHigh) || shown.Residue.Abs().Less(offLow.Abs()) || shown.Residue.Abs().Less(offHigh.Abs()) {
			t.Fatalf("%v shown as %q: residue %v, bounds off by %v and %v", a, shown.Text, shown.Residue, offLow, offHigh)
		}
		if a.Dimension() != Temperature && (gotHigh.Sign() != high.Sign() || gotLow.Sign() != low.Sign()) {
			t.Fatalf("%v shown as %q", a, shown.Text)
		}
		if shown.RelativeError > 0.0500001 && !shown.About || shown.RelativeError < 0 || shown.RelativeError > 1 {
			t.Fatalf("%v shown as %q: error %v, about %v", a, shown.Text, shown.RelativeError, shown.About)
		}
	})
}

func TestDefaults(t *testing.T) {
	in := Instruments{Scale: New(Int(-1), Gram), Thermometer: amount(t, "0.5 °C"), Timer: amount(t, "1 g")}.WithDefaults()
	if in.Scale.String() != "1 g" || in.Thermometer.String() != "0.5 °C difference" || in.Timer.String() != "1 s" {
		t.Errorf("scale %v, thermometer %v, timer %v", in.Scale, in.Thermometer, in.Timer)
	}
	if len(in.Spoons) != 5 || len(in.Cups) != 4 {
		t.Errorf("%d spoons and %d cups", len(in.Spoons), len(in.Cups))
	}
	if none := (Instruments{Cups: []Amount{}}).WithDefaults(); len(none.Cups) != 0 {
		t.Error("a kitchen without cups was given some")
	}
}
