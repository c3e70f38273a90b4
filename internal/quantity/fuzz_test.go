package quantity_test

import (
	"errors"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	. "sidebatch.example/sidebatch/internal/quantity"
)

func seeds() []string {
	return []string{
		"300 g all-purpose flour", "2½ cups", "20–25 °C", "-5 to -2 °C", "1 lb 5.2 oz", "1 cup + 1 tbsp", "45 min to 1 h", "to taste", "salt, to taste",
		"1 (400 g) tin", "2-1/2 cups", "1,5 g", "350°", "1:10:30", "0:05.5", "1/999999999999 tsp", "123456789012 lb 1 oz", "9\" pan", "98 ℃",
		"\xff 3 g", "3\u202fg", strings.Repeat("1 g + ", 50), strings.Repeat("9", 300),
	}
}

// FuzzParse checks that whatever parses prints and parses again to the same
// amount, that errors point into the text, and that every view of it says what it means.
func FuzzParse(f *testing.F) {
	for i, s := range seeds() {
		f.Add(s, uint8(i))
	}
	long := regexp.MustCompile(`\d{10}`) // a unit may add three digits to the twelve that are read
	f.Fuzz(func(t *testing.T, s string, v uint8) {
		volumes := Volumes(v % 3)
		if a, rest, err := ParseLeading(s, volumes); err != nil {
			checkOffset(t, s, err)
		} else if whole, err := Parse(s, volumes); err == nil && (!whole.Equal(a) || rest != "") {
			t.Fatalf("%q is %v, but leads with %v before %q", s, whole, a, rest)
		}
		a, err := Parse(s, volumes)
		if err != nil {
			checkOffset(t, s, err)
			return
		}
		back, err := Parse(a.Text(volumes), volumes)
		if err != nil || !back.Equal(a) || back.Unit() != a.Unit() {
			t.Fatalf("%q is %v, printed %q, read back %v, %v", s, a, a.Text(volumes), back, err)
		}
		for _, system := range []System{MetricSystem, USSystem, ImperialSystem} {
			shown := Instruments{Volumes: volumes}.Show(a, system)
			back, err := Parse(shown.Text, system.Volumes())
			if a.Dimension() == TemperatureDifference || long.MatchString(shown.Text) || long.MatchString(s) {
				continue
			}
			if err != nil || !back.Equal(shown.Value) {
				t.Fatalf("%q shown as %q, which means %v, %v, not %v", s, shown.Text, back, err, shown.Value)
			}
		}
	})
}

func checkOffset(t *testing.T, s string, err error) {
	t.Helper()
	var bad *SyntaxError
	if !errors.As(err, &bad) || bad.Offset < 0 || bad.Offset > utf8.RuneCountInString(s) || bad.What == "" || bad.Input != s {
		t.Fatalf("%q: %#v", s, err)
	}
}

// FuzzParseTime checks that whatever parses is in seconds, not below zero, and
// prints and parses again to the same time.
func FuzzParseTime(f *testing.F) {
	for _, s := range seeds() {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := ParseTime(s)
		if err != nil {
			checkOffset(t, s, err)
			return
		}
		if a.Unit() != Second || a.Low().Sign() < 0 {
			t.Fatalf("%q is %v", s, a)
		}
		back, err := ParseTime(a.String())
		if err != nil || !back.Equal(a) {
			t.Fatalf("%q is %v, read back %v, %v", s, a, back, err)
		}
	})
}

func BenchmarkParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := ParseLeading("2 1/2 cups all-purpose flour", USCustomary); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkScale(b *testing.B) {
	b.ReportAllocs()
	a, by := amount(b, "1 cup + 1 tbsp"), Ratio(7, 12)
	for b.Loop() {
		a.Scale(by)
	}
}

func BenchmarkShowMass(b *testing.B) {
	b.ReportAllocs()
	a := amount(b, "600 g")
	for b.Loop() {
		Instruments{}.Show(a, USSystem)
	}
}

func BenchmarkShowCups(b *testing.B) {
	b.ReportAllocs()
	a := amount(b, "1 cup + 1 tbsp").Scale(Ratio(7, 12))
	for b.Loop() {
		Instruments{}.Show(a, USSystem)
	}
}
