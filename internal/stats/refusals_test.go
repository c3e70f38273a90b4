package stats

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// Each refusal says what is wrong, in words that the test looks for.
func TestRefusals(t *testing.T) {
	s := mustSample(t, []float64{1, 2, 4})
	pair := []Block{{1, 2, 1, 2}}
	plan := Plan{N1: 6, N2: 6, Alpha: 0.05}
	tests := []struct {
		name string
		call func() error
		want string
	}{
		{"unknown method", func() error { _, err := Discriminate(Method(17), 1, 2); return err }, "unknown method 17"},
		{"unknown method, critical", func() error { _, _, err := CriticalNumber(Method(-1), 6, 0.05); return err }, "unknown method -1"},
		{"unknown method, right", func() error { _, err := RightAt(Method(9), 1); return err }, "unknown method 9"},
		{"preference has no d-prime", func() error { _, _, err := DPrime(PairedPreference, 1, 2); return err }, "neither right nor wrong"},
		{"preference has no share", func() error { _, err := EstimateDiscriminators(PairedPreference, 1, 2, 0.95); return err }, "neither right nor wrong"},
		{"d-prime below 0", func() error { _, err := RightAt(Triangle, -1); return err }, "d-prime -1"},
		{"d-prime NaN", func() error { _, err := RightAt(Triangle, math.NaN()); return err }, "d-prime NaN"},
		{"share above 1", func() error { _, err := PanelPower(Triangle, 6, 1.5, 0.05); return err }, "success rate 1.5"},
		{"too many assessors", func() error { _, _, err := AssessorsNeeded(Triangle, 0.5, 0.05, 0.8, 5000); return err }, "5000 assessors"},
		{"too many pieces", func() error { _, _, err := PiecesNeeded(1, 0.5, 0.05, 0.8, 500); return err }, "500 pieces"},
		{"one piece", func() error { _, _, err := PiecesNeeded(1, 0.5, 0.05, 0.8, 1); return err }, "1 pieces"},
		{"rate NaN", func() error { _, err := plan.Power(math.NaN(), 0); return err }, "success rate NaN"},
		{"findable, rate", func() error { _, _, err := plan.FindableRate(-0.1, 0.8); return err }, "success rate -0.1"},
		{"no pieces", func() error { _, err := Plan{Alpha: 0.05}.Power(1, 0); return err }, "sizes 0 and 0"},
		{"a drop upward", func() error {
			_, _, err := Plan{N1: 6, N2: 6, Alpha: 0.05, Side: LessSided}.DropFromAll(0.8)
			return err
		}, "looks for a rise"},
		{"smallest p of none", func() error { _, err := SmallestP(0, 3); return err }, "sizes 0 and 3"},
		{"search too wide", func() error { _, err := Boschloo(1, 201, 1, 2); return err }, "sizes 201 and 2"},
		{"one sample ranked", func() error { _, err := RankLSD(1, 5, 0.05); return err }, "2 to 1000 samples"},
		{"nobody ranks", func() error { _, err := RankHSD(3, 0, 0.05); return err }, "1 to 10000 assessors"},
		{"Page, one sample", func() error { _, _, err := PageCritical(1, 5, 0.05); return err }, "1 samples"},
		{"Page, too large", func() error { _, _, err := PageCritical(8, 12, 0.05); return err }, "too many to count"},
		{"range, too large", func() error { _, _, _, err := RankRange(7, 10, 0.05); return err }, "too many to count"},
		{"blocks, none", func() error { _, err := MantelHaenszel(nil, 0.95); return err }, "no blocks"},
		{"blocks of readings, none", func() error { _, err := BlockedPermutation(nil, Sampling{}); return err }, "no blocks"},
		{"blocks, too many pieces", func() error {
			_, err := ConditionalTest(append(pair, Block{1, 6000, 1, 6000}), 0.95)
			return err
		}, "too many pieces"},
		{"estimates without errors", func() error { _, err := Combine([]float64{1}, nil, 0.95); return err }, "standard error"},
		{"estimate NaN", func() error { _, err := Combine([]float64{math.NaN()}, []float64{1}, 0.95); return err }, "estimate 1 is NaN"},
		{"precision apart", func() error { _, err := Combine([]float64{1, 2}, []float64{1e-9, 1}, 0.95); return err }, "a million times"},
		{"a single sample", func() error { _, err := KruskalWallis([]Sample{s}, Sampling{}); return err }, "at least two samples"},
		{"odd sizes", func() error { _, err := KruskalWallis(primes(t), Sampling{}); return err }, "different sizes"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			err := tt.call()
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want words like %q", err, tt.want)
			}
		})
	}
}

// primes are samples whose sizes have no common factor.
func primes(t *testing.T) []Sample {
	t.Helper()
	var out []Sample
	for _, n := range []int{2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37} {
		out = append(out, mustSample(t, make([]float64, n)))
	}
	return out
}

func TestMethodNames(t *testing.T) {
	want := []string{"triangle", "duo-trio", "2-AFC", "3-AFC", "tetrad", "paired preference"}
	for i, name := range want {
		if got := Method(i).String(); got != name {
			t.Errorf("method %d is %q, want %q", i, got, name)
		}
	}
}

// Readings with fifteen digits in blocks of awkward sizes lose a last digit to stay
// whole numbers; one such block must still agree with the plain test.
func TestBlocksOfManyDigits(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	var xs, ys []float64
	for range 11 {
		xs = append(xs, 0.6+r.Float64())
	}
	for range 13 {
		ys = append(ys, r.Float64())
	}
	x, y := mustSample(t, xs), mustSample(t, ys)
	plain, err := Permutation(x, y, Sampling{})
	if err != nil || plain.Sampled {
		t.Fatal(plain.Sampled, err)
	}
	b, err := BlockedPermutation([]BlockPair{{x, y}}, Sampling{})
	if err != nil || !b.Sampled {
		t.Fatal(b.Sampled, err)
	}
	if off := math.Abs(b.P - plain.P); off > 5*b.MonteCarloError+1e-5 {
		t.Errorf("drawn %g, counted %g", b.P, plain.P)
	}
}

// A rate that no result can show is not findable.
func TestNothingFindable(t *testing.T) {
	if rate, ok, err := (Plan{N1: 3, N2: 3, Alpha: 0.05}).FindableRate(1, 0.8); ok || err != nil {
		t.Errorf("3 v 3 finds a rate of %g (%v)", rate, err)
	}
	if rate, ok, err := (Plan{N1: 6, N2: 6, Alpha: 0.05, Side: GreaterSided}).FindableRate(1, 0.8); !ok || err != nil || rate < 0.13 {
		t.Errorf("6 v 6, one-sided: %g %v (%v)", rate, ok, err)
	}
	one, ok, err := (Plan{N1: 6, N2: 6, Alpha: 0.05, Side: GreaterSided}).DropFromAll(0.8)
	if err != nil || !ok || one.Critical != 2 { // 6 of 6 v 2 of 6: one-sided 0.0303, two-sided 0.0606
		t.Errorf("one-sided: %+v %v", one, err)
	}
}
