package design

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestSaysNothing(t *testing.T) {
	tests := []struct {
		code string
		want bool
	}{
		{"413", true}, {"862", true}, {"907", true},
		{"013", false}, {"000", false}, // begin with 0
		{"350", false}, {"180", false}, // end in 0
		{"111", false}, {"100", false}, {"911", false}, {"121", false}, // a digit twice
		{"123", false}, {"321", false}, {"147", false}, {"864", false}, {"975", false}, // equal steps
		{"365", false}, {"786", false}, {"425", false}, {"199", false}, // meanings
	}
	for _, tt := range tests {
		if got := saysNothing(tt.code); got != tt.want {
			t.Errorf("%s: %v, want %v", tt.code, got, tt.want)
		}
	}
}

// Codes are three digits, none twice, none that says something; the same seed gives
// the same ones, and asking for fewer gives the first of them.
func TestCodeLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, MostCodes()).Draw(t, "codes")
		seed := SeedOf(rapid.String().Draw(t, "seed"))
		codes, err := Codes(n, seed)
		if err != nil || len(codes) != n {
			t.Fatalf("%d codes, %v", len(codes), err)
		}
		sorted := slices.Sorted(slices.Values(codes))
		if len(slices.Compact(sorted)) != n {
			t.Fatal("a code stands twice")
		}
		for _, c := range codes {
			if len(c) != 3 || c[0] < '1' || c[0] > '9' || !saysNothing(c) {
				t.Fatalf("the code %q", c)
			}
		}
		if again, _ := Codes(n/2, seed); !slices.Equal(again, codes[:n/2]) {
			t.Fatal("the same seed gives other codes")
		}
	})
}

func TestTooManyCodes(t *testing.T) {
	if n := MostCodes(); n < 400 {
		t.Errorf("only %d codes", n)
	}
	for _, n := range []int{-1, MostCodes() + 1} {
		if _, err := Codes(n, Seed{}); err == nil {
			t.Errorf("%d codes were drawn", n)
		}
	}
	a, _ := Codes(30, SeedOf("a"))
	b, _ := Codes(30, SeedOf("b"))
	if slices.Equal(a, b) {
		t.Error("two seeds draw the same codes")
	}
}
