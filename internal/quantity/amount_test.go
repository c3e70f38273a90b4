package quantity_test

import (
	"errors"
	"testing"

	"pgregory.net/rapid"
	. "sidebatch.example/sidebatch/internal/quantity"
)

func TestZeroAmount(t *testing.T) {
	var a Amount
	if !a.IsZero() || a.Unit() != Each || a.Dimension() != Count || a.IsRange() || a.IsToTaste() || a.String() != "0" {
		t.Errorf("the zero amount is %v of %v", a, a.Unit())
	}
	if ToTaste().IsZero() || ToTaste().String() != "to taste" || ToTaste().Equal(a) {
		t.Error("to taste is taken for zero")
	}
}

func TestBetween(t *testing.T) {
	a := Between(Int(3), Int(2), Gram)
	if !a.Low().Equal(Int(2)) || !a.High().Equal(Int(3)) || !a.Mid().Equal(Ratio(5, 2)) || !a.IsRange() {
		t.Errorf("bounds %v and %v, middle %v", a.Low(), a.High(), a.Mid())
	}
}

// TestScaleKinds: what a larger batch changes, and what it does not.
func TestScaleKinds(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"300 g", "600 g"}, {"1/3 cup", "2/3 cup"}, {"2.5", "5"}, {"2–3 tbsp", "4–6 tbsp"},
		{"20 °C", "20 °C"}, {"20–25 °C", "20–25 °C"}, {"5 °C difference", "5 °C difference"}, {"30 min", "30 min"}, {"9 in", "9 in"},
		{"to taste", "to taste"},
	} {
		if got := amount(t, c.in).Scale(Int(2)); got.String() != c.want {
			t.Errorf("%s twice is %v, want %s", c.in, got, c.want)
		}
	}
}

func TestInOtherKind(t *testing.T) {
	for _, c := range []struct {
		in string
		to Unit
	}{{"1 g", Milliliter}, {"2", Gram}, {"20 °C", CelsiusDegree}, {"5 °C difference", Celsius}, {"1 min", Meter}} {
		_, err := amount(t, c.in).In(c.to)
		var kind *DimensionError
		if !errors.As(err, &kind) || kind.To != c.to {
			t.Errorf("%s in %v: error %v, want a *DimensionError", c.in, c.to, err)
		}
	}
	if got, err := ToTaste().In(Liter); err != nil || !got.IsToTaste() {
		t.Errorf("to taste in liters: %v, %v", got, err)
	}
}

func TestPlus(t *testing.T) {
	for _, c := range []struct{ a, b, want string }{
		{"1 lb", "8 oz", "1.5 lb"}, {"2–3 g", "1 kg", "1002–1003 g"}, {"20 °C", "9 °F difference", "25 °C"},
		{"68 °F", "5 °C difference", "77 °F"}, {"1 h", "10 min", "1 1/6 h"},
	} {
		got, err := amount(t, c.a).Plus(amount(t, c.b))
		if err != nil || got.String() != c.want {
			t.Errorf("%s plus %s is %v, %v; want %s", c.a, c.b, got, err, c.want)
		}
	}
	for _, c := range []struct{ a, b string }{{"20 °C", "20 °C"}, {"1 g", "1 mL"}, {"5 °C difference", "20 °C"}} {
		if got, err := amount(t, c.a).Plus(amount(t, c.b)); err == nil {
			t.Errorf("%s plus %s is %v, want an error", c.a, c.b, got)
		}
	}
	if got, err := amount(t, "1 g").Plus(ToTaste()); err != nil || !got.IsToTaste() {
		t.Errorf("1 g plus to taste is %v, %v", got, err)
	}
}

func TestAsDifference(t *testing.T) {
	for _, c := range []struct {
		in, want string
		ok       bool
	}{{"1.5 °C", "1.5 °C difference", true}, {"9 °F", "9 °F difference", true}, {"2 °C difference", "2 °C difference", true}, {"1 g", "1 g", false}} {
		got, ok := amount(t, c.in).AsDifference()
		if got.String() != c.want || ok != c.ok {
			t.Errorf("%s as a difference is %v, %v", c.in, got, ok)
		}
	}
}

func TestEqualAcrossUnits(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"16 oz", "1 lb", true}, {"3 tsp", "1 tbsp", true}, {"212 °F", "100 °C", true}, {"-40 °F", "-40 °C", true},
		{"60–120 s", "1–2 min", true}, {"1–2 g", "1 g", false}, {"0 g", "0 mL", false}, {"9 °F", "9 °F difference", false},
		{"1 cup", "1 metric cup", false},
	} {
		if got := amount(t, c.a).Equal(amount(t, c.b)); got != c.want {
			t.Errorf("%s equals %s: %v, want %v", c.a, c.b, got, c.want)
		}
	}
}

func TestAmountLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawAmount(1_000_000_000).Draw(t, "amount")
		x, y := drawNumber(1_000_000_000).Draw(t, "x"), drawNumber(1_000_000_000).Draw(t, "y")
		before := a.String()
		if twice, once := a.Scale(x).Scale(y), a.Scale(x.Mul(y)); !twice.Equal(once) || twice.Unit() != a.Unit() {
			t.Fatalf("%v scaled by %v, then %v, is %v, not %v", a, x, y, twice, once)
		}
		u := Unit(rapid.Uint8Range(0, uint8(AustralianTablespoon)).Draw(t, "other unit"))
		there, err := a.In(u)
		if (err == nil) != (u.Dimension() == a.Dimension()) {
			t.Fatalf("%v in %v: %v", a, u, err)
		}
		if err != nil {
			return
		}
		back, err := there.In(a.Unit())
		if err != nil || !back.Low().Equal(a.Low()) || !back.High().Equal(a.High()) || !there.Equal(a) {
			t.Fatalf("%v there %v and back %v, %v", a, there, back, err)
		}
		if there.IsRange() != a.IsRange() || there.High().Less(there.Low()) {
			t.Fatalf("%v became %v", a, there)
		}
		if a.String() != before {
			t.Fatalf("%s became %v", before, a)
		}
	})
}
