package quantity_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
	. "sidebatch.example/sidebatch/internal/quantity"
)

func amount(t testing.TB, s string) Amount {
	t.Helper()
	a, err := Parse(s, USCustomary)
	if err != nil {
		t.Fatalf("Parse(%q): %v", s, err)
	}
	return a
}

func TestParse(t *testing.T) {
	for _, c := range []struct {
		in   string
		want Amount
	}{
		{"300 g", New(Int(300), Gram)},
		{"300g", New(Int(300), Gram)},
		{"1.10 kg", New(Ratio(11, 10), Kilogram)},
		{"2", New(Int(2), Each)},
		{"½ tsp.", New(Ratio(1, 2), Teaspoon)},
		{"2 1/2 CUPS", New(Ratio(5, 2), Cup)},
		{"3 fl. oz.", New(Int(3), FluidOunce)},
		{"3 U.S. fluid ounces", New(Int(3), FluidOunce)},
		{"3 oz", New(Int(3), Ounce)},
		{"1 imperial pint", New(Int(1), ImperialPint)},
		{"1 metric cup", New(Int(1), MetricCup)},
		{"1 label cup", New(Int(1), LabelCup)},
		{"98 °C", New(Int(98), Celsius)},
		{"98 ° C", New(Int(98), Celsius)},
		{"98 ºC", New(Int(98), Celsius)},
		{"98 ℃", New(Int(98), Celsius)},
		{"98 C", New(Int(98), Celsius)},
		{"208 degrees Fahrenheit", New(Int(208), Fahrenheit)},
		{"−18 °C", New(Int(-18), Celsius)},
		{"20–25 °C", Between(Int(20), Int(25), Celsius)},
		{"20-25 °C", Between(Int(20), Int(25), Celsius)},
		{"20 °C - 25 °C", Between(Int(20), Int(25), Celsius)},
		{"20°C-25°C", Between(Int(20), Int(25), Celsius)},
		{"20 to 25 °C", Between(Int(20), Int(25), Celsius)},
		{"-20 - -15 °C", Between(Int(-20), Int(-15), Celsius)},
		{"-20 to -15 °C", Between(Int(-20), Int(-15), Celsius)},
		{"2–2 g", New(Int(2), Gram)},
		{"45 min to 1 h", Between(Int(45), Int(60), Minute)},
		{"1 1/2–2 1/2 cups", Between(Ratio(3, 2), Ratio(5, 2), Cup)},
		{"1 lb 5.2 oz", New(Ratio(106, 5), Ounce)},
		{"1 cup + 1 tbsp", New(Int(17), Tablespoon)},
		{"1 tbsp plus 1 cup", New(Int(17), Tablespoon)},
		{"1 cup 1 tbsp", New(Int(17), Tablespoon)},
		{"1 min 10 s", New(Int(70), Second)},
		{"1 h 10 min – 1 h 20 min", Between(Int(70), Int(80), Minute)},
		{"9\"", New(Int(9), Inch)},
		{"1.5 °C difference", New(Ratio(3, 2), CelsiusDegree)},
		{"2 days", New(Int(2), Day)},
		{"1 pinch", New(Int(1), Pinch)},
	} {
		got := amount(t, c.in)
		if !got.Equal(c.want) || got.Unit() != c.want.Unit() || got.IsRange() != c.want.IsRange() {
			t.Errorf("Parse(%q) = %v, want %v", c.in, got, c.want)
		}
	}
	for _, s := range []string{"to taste", "To  Taste"} {
		if !amount(t, s).IsToTaste() {
			t.Errorf("%q is not to taste", s)
		}
	}
}

func TestParseByVolumes(t *testing.T) {
	for _, c := range []struct {
		in   string
		v    Volumes
		want Unit
	}{
		{"1 cup", USCustomary, Cup}, {"1 cup", Metric, MetricCup}, {"1 cup", Imperial, ImperialCup},
		{"1 tbsp", Metric, MetricTablespoon}, {"1 tsp", Imperial, MetricTeaspoon},
		{"1 pint", Imperial, ImperialPint}, {"1 US pint", Imperial, Pint}, {"1 US cup", Metric, Cup},
	} {
		got, err := Parse(c.in, c.v)
		if err != nil || got.Unit() != c.want {
			t.Errorf("Parse(%q, %d) is in %v, %v; want %v", c.in, c.v, got.Unit(), err, c.want)
		}
	}
}

// syntaxError checks where an error stands and what it says.
func syntaxError(t *testing.T, in string, err error, offset int, want string) {
	t.Helper()
	var bad *SyntaxError
	if !errors.As(err, &bad) {
		t.Errorf("%.30q: error %v, want a *SyntaxError", in, err)
		return
	}
	if bad.Offset != offset || !strings.Contains(bad.Error(), want) || bad.Input != in {
		t.Errorf("%.30q: offset %d, %q; want offset %d, %q", in, bad.Offset, bad.Error(), offset, want)
	}
}

func TestParseErrors(t *testing.T) {
	for _, c := range []struct {
		in     string
		offset int
		want   string
	}{
		{"", 0, "no amount"},
		{"   ", 0, "no amount"},
		{"some", 0, "no number"},
		{"about 3 g", 0, "leave out \"about\""},
		{"a pinch", 0, "write 1"},
		{"1,5 g", 1, "decimal comma?"},
		{"3 grm", 2, "did you mean gram?"},
		{"½½ g", 1, "goes on"},
		{"3 xyzzy", 2, "unknown unit \"xyzzy\""},
		{"3 g flour", 4, "unknown unit \"flour\""},
		{"2 T", 2, "tsp or tbsp"},
		{"2 c", 2, "cup or °C"},
		{"350°", 3, "°C or °F"},
		{"350 degrees", 4, "°C or °F"},
		{"-3 g", 0, "a mass below zero"},
		{"-3", 0, "a count below zero"},
		{"-3–5 g", 0, "a mass below zero"},
		{"5–3 g", 1, "a range that falls"},
		{"2-1/2 cups", 1, "write 2 1/2"},
		{"20—25 °C", 2, "20–25"},
		{"20−25 °C", 2, "20–25"},
		{"20 °C–25", 6, "a range whose end has no unit"},
		{"2 g–3 mL", 4, "from mass to volume"},
		{"2 g 3 mL", 4, "a mass and a volume"},
		{"3 oz 1 lb", 5, "two amounts"},
		{"20 °C + 5 °C", 8, "a temperature and a temperature"},
		{"1 cup +", 7, "no amount after the plus"},
		{"1 cup + 2", 8, "no unit after the plus"},
		{"3 g.5", 2, "more than an amount"},
		{"3 g!", 3, "more than an amount"},
		{"123456789012 lb 1 oz", 0, "more digits"},
		{strings.Repeat("1 g + ", 40) + "1 g", 200, "longer than 200"},
		{strings.Repeat("9", 1<<20), 200, "longer than 200"},
	} {
		_, err := Parse(c.in, USCustomary)
		syntaxError(t, c.in, err, c.offset, c.want)
	}
	_, err := Parse("1 pint", Metric)
	syntaxError(t, "1 pint", err, 2, "write US pint or imperial pint")

	var bad *SyntaxError
	if _, err := Parse("3 grm", USCustomary); !errors.As(err, &bad) || bad.Word != "grm" {
		t.Errorf("the unknown word is %q, want grm", bad.Word)
	}
}

func TestParseLeading(t *testing.T) {
	for _, c := range []struct{ in, want, rest string }{
		{"300 g all-purpose flour", "300 g", "all-purpose flour"},
		{"300g  flour ", "300 g", "flour"},
		{"2 large eggs", "2", "large eggs"},
		{"12 pancakes", "12", "pancakes"},
		{"180 g", "180 g", ""},
		{"1 cup of flour", "1 cup", "flour"},
		{"300 g, sifted", "300 g", "sifted"},
		{"2 tbsp sunflower oil, for the pan", "2 tbsp", "sunflower oil, for the pan"},
		{"1 lb 5.2 oz beef", "21.2 oz", "beef"},
		{"2 to 3 cups rice", "2–3 cups", "rice"},
		{"20 °C-25 °C water", "20–25 °C", "water"},
		{"300 g 00 flour", "300 g", "00 flour"},
		{"100 g 70% chocolate", "100 g", "70% chocolate"},
		{"1 cup 2% milk", "1 cup", "2% milk"},
		{"2 mint leaves", "2", "mint leaves"},
		{"2 t-bones", "2", "t-bones"},
		{"1 day-old loaf", "1", "day-old loaf"},
		{"1 tsp. salt", "1 tsp", "salt"},
		{"9\" pan", "9 in", "pan"},
		{"1 pinch of salt", "1 pinch", "salt"},
		{"3 grm flour", "3", "grm flour"}, // the caller asks LooksLikeUnit
		{"½ crème fraîche", "0.5", "crème fraîche"},
		{"salt, to taste", "to taste", "salt"},
		{"salt to taste", "to taste", "salt"},
		{"to taste salt", "to taste", "salt"},
		{"To taste: black pepper", "to taste", "black pepper"},
		{"to taste", "to taste", ""},
	} {
		a, rest, err := ParseLeading(c.in, USCustomary)
		if err != nil || a.String() != c.want || rest != c.rest {
			t.Errorf("ParseLeading(%q) = %v, %q, %v; want %s, %q", c.in, a, rest, err, c.want, c.rest)
		}
	}
}

func TestParseLeadingErrors(t *testing.T) {
	for _, c := range []struct {
		in     string
		offset int
		want   string
	}{
		{"flour", 0, "no number"},
		{"1 (400 g) tin", 2, "brackets"},
		{"300 g (2 cups) flour", 6, "brackets"},
		{"2 14 oz cans", 2, "a second amount"},
		{"1 000 g flour", 2, "a second amount"},
		{"1 000 things", 2, "two numbers"},
		{"2-inch ginger", 1, "a hyphen after the number"},
		{"2-1/2 cups flour", 1, "write 2 1/2"},
		{"2 T sugar", 2, "tsp or tbsp"},
		{"1 cup 2 T sugar", 8, "tsp or tbsp"},
		{"5 g salt, to taste", 4, "an amount and to taste"},
		{"2 to taste salt", 2, "an amount and to taste"},
		{"5 g / salt", 4, "unexpected"},
		{"5 g 3 ml x", 4, "a mass and a volume"},
	} {
		_, _, err := ParseLeading(c.in, USCustomary)
		syntaxError(t, c.in, err, c.offset, c.want)
	}
}

func TestParseTime(t *testing.T) {
	for _, c := range []struct {
		in        string
		low, high string
	}{
		{"40", "40", "40"}, {"40 s", "40", "40"}, {"1:10", "70", "70"}, {"0:05.5", "5.5", "5.5"}, {"1:10:30", "4230", "4230"},
		{"1 min 10 s", "70", "70"}, {"2 min", "120", "120"}, {"1.5 min", "90", "90"}, {"90:00", "5400", "5400"},
		{"5–7 min", "300", "420"}, {"30–40", "30", "40"}, {"12.5", "12.5", "12.5"}, {" 1:10 ", "70", "70"},
	} {
		got, err := ParseTime(c.in)
		if err != nil || !got.Equal(Between(number(t, c.low), number(t, c.high), Second)) || got.Unit() != Second {
			t.Errorf("ParseTime(%q) = %v, %v; want %s to %s s", c.in, got, err, c.low, c.high)
		}
	}
	for _, c := range []struct {
		in     string
		offset int
		want   string
	}{
		{"", 0, "no amount"}, {"x", 0, "no number"}, {"to taste", 0, "no time"}, {"40 g", 0, "a mass, not a time"},
		{"1:5", 2, "1:05"}, {"1:60", 2, "60 or more"}, {"1:60:00", 2, "60 or more"}, {":10", 0, "no digits"}, {"1:10:10:10", 7, "one colon too many"},
		{"1:10.5:10", 6, "one colon too many"}, {"1:10 s", 5, "more than a time"}, {"-1:10", 0, "no digits"}, {"-5 s", 0, "a time below zero"},
	} {
		_, err := ParseTime(c.in)
		syntaxError(t, c.in, err, c.offset, c.want)
	}
}

// drawAmount draws what can stand in a note, with numbers up to most.
func drawAmount(most int64) *rapid.Generator[Amount] {
	return rapid.Custom(func(t *rapid.T) Amount {
		u := Unit(rapid.Uint8Range(0, uint8(AustralianTablespoon)).Draw(t, "unit"))
		low, high := drawNumber(most).Draw(t, "low"), drawNumber(most).Draw(t, "high")
		if d := u.Dimension(); d != Temperature && d != TemperatureDifference {
			low, high = low.Abs(), high.Abs()
		}
		if rapid.Bool().Draw(t, "range") {
			return Between(low, high, u)
		}
		return New(low, u)
	})
}

func TestAmountPrintParse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawAmount(1_000_000_000).Draw(t, "amount")
		v := Volumes(rapid.Uint8Range(0, 2).Draw(t, "volumes"))
		back, err := Parse(a.Text(v), v)
		if err != nil || !back.Equal(a) || back.Unit() != a.Unit() {
			t.Fatalf("%q was read back as %v in %v, %v", a.Text(v), back, back.Unit(), err)
		}
		if v == USCustomary && a.Text(v) != a.String() {
			t.Fatalf("String and Text differ: %q, %q", a.String(), a.Text(v))
		}
	})
}

func TestUnitWords(t *testing.T) {
	words := UnitWords()
	if !slices.IsSorted(words) || len(words) < 200 {
		t.Errorf("%d words, sorted: %v", len(words), slices.IsSorted(words))
	}
	for _, w := range words {
		if _, us := UnitNamed(w, USCustomary); !us {
			t.Errorf("%q names no unit", w)
		}
		if near, ok := LooksLikeUnit(w); ok {
			t.Errorf("%q is a unit, yet looks like %q", w, near)
		}
	}
	words[0] = "changed"
	if UnitWords()[0] == "changed" {
		t.Error("the caller can change the list of words")
	}
	for u := Gram; u <= AustralianTablespoon; u++ {
		for _, symbol := range []string{u.Symbol(), u.SymbolIn(USCustomary, true)} {
			if got, ok := UnitNamed(symbol, USCustomary); !ok || got != u {
				t.Errorf("%q names %v, want %v", symbol, got, u)
			}
		}
	}
}

func TestLooksLikeUnit(t *testing.T) {
	for in, want := range map[string]string{
		"grm": "gram", "tbps": "tbsp", "teaspon": "teaspoon", "onces": "ounces", "cpus": "cups", "gk": "kg",
		"tabelspoon": "tablespoon", "minuts": "minute", "kilogrm": "kilogram", "Gramms": "gramme",
		// Foods and kitchen words that are no slips.
		"mint": "", "large": "", "eggs": "", "mug": "", "cloves": "", "can": "", "bunch": "", "slice": "", "sprig": "", "peach": "",
		"grapes": "", "limes": "", "pine": "", "cod": "", "lemon": "", "ham": "", "tin": "", "stick": "", "head": "", "pinto": "",
		"g": "", "": "", "x": "",
	} {
		if got, ok := LooksLikeUnit(in); got != want || ok != (want != "") {
			t.Errorf("LooksLikeUnit(%q) = %q, %v; want %q", in, got, ok, want)
		}
	}
}
