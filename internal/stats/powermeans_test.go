package stats

import (
	"math"
	"testing"
)

// Units for a two-sided test at 5 % with a power of 80 %. Independent: Cohen 1992, A
// power primer, Psychol. Bull. 112:155, table 2 (d of 0.20, 0.50, 0.80), and Cohen
// 1988, Statistical Power Analysis, table 2.4.1 (d of 1.00, from memory). Pairs: the
// exact noncentral t, as tables of the paired t test have it (from memory).
func TestMeansNeeded(t *testing.T) {
	for _, x := range []struct {
		name   string
		paired bool
		shift  float64
		want   int
	}{
		{"small", false, 0.20, 393},
		{"medium", false, 0.50, 64},
		{"large", false, 0.80, 26},
		{"one scatter", false, 1.00, 17},
		{"pairs, medium", true, 0.50, 34},
		{"pairs, large", true, 0.80, 15},
		{"pairs, one scatter", true, 1.00, 10},
	} {
		t.Run(x.name, func(t *testing.T) {
			n, ok, err := MeansPlan{Paired: x.paired, Alpha: 0.05}.Needed(x.shift, 0.8, 1000)
			// The approximation may miss the exact number by one.
			if err != nil || !ok || n < x.want-1 || n > x.want+1 {
				t.Errorf("%d, %v, %v; the table has %d", n, ok, err, x.want)
			}
		})
	}
}

// The least p is that of the exact tests themselves, on readings as clear as can be.
func TestMeansSmallestP(t *testing.T) {
	for n := 1; n <= 6; n++ {
		for m := 1; m <= 6; m++ {
			low, high := make([]float64, n), make([]float64, m)
			for i := range high {
				high[i] = 1
			}
			x, _ := NewSample(low)
			y, _ := NewSample(high)
			exact, err := Permutation(x, y, Sampling{})
			if err != nil {
				t.Fatal(err)
			}
			got, err := MeansPlan{N1: n, N2: m, Alpha: 0.05}.SmallestP()
			if err != nil || math.Abs(got-exact.P) > 1e-12 {
				t.Errorf("%d against %d: %g, %v; the test has %g", n, m, got, err, exact.P)
			}
		}
		ones := make([]float64, n)
		for i := range ones {
			ones[i] = 1
		}
		d, _ := NewSample(ones)
		flips, err := SignFlip(d, Sampling{})
		if err != nil {
			t.Fatal(err)
		}
		got, err := MeansPlan{N1: n, N2: n, Paired: true, Alpha: 0.05}.SmallestP()
		if err != nil || math.Abs(got-flips.P) > 1e-12 {
			t.Errorf("%d pairs: %g, %v; the test has %g", n, got, err, flips.P)
		}
	}
}

func TestMeansShift(t *testing.T) {
	if _, ok, err := (MeansPlan{N1: 3, N2: 3, Alpha: 0.05}).Shift(0.8); ok || err != nil {
		t.Error("three against three have no p below 10 %", ok, err)
	}
	if _, ok, err := (MeansPlan{N1: 4, N2: 4, Alpha: 0.05}).Shift(0.8); !ok || err != nil {
		t.Error("four against four can have one of 2/70", ok, err)
	}
	if _, ok, err := (MeansPlan{N1: 5, N2: 5, Paired: true, Alpha: 0.05}).Shift(0.8); ok || err != nil {
		t.Error("five pairs have no p below 1/16", ok, err)
	}
	for name, plan := range map[string]MeansPlan{
		"no units":      {N1: 0, N2: 3, Alpha: 0.05},
		"uneven pairs":  {N1: 3, N2: 4, Paired: true, Alpha: 0.05},
		"no size":       {N1: 3, N2: 3},
		"too many":      {N1: 10001, N2: 3, Alpha: 0.05},
		"certain error": {N1: 3, N2: 3, Alpha: 1},
	} {
		if _, _, err := plan.Shift(0.8); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, _, err := (MeansPlan{N1: 6, N2: 6, Alpha: 0.05}).Shift(0.3); err == nil {
		t.Error("a power of 30 %: no error")
	}
	if _, ok, err := (MeansPlan{Alpha: 0.05}).Needed(0.2, 0.8, 100); ok || err != nil {
		t.Error("a small shift takes more than 100", ok, err)
	}
	if _, _, err := (MeansPlan{Alpha: 0.05}).Needed(0, 0.8, 100); err == nil {
		t.Error("no shift: no error")
	}
}
