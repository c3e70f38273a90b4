package stats

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// noNaN walks a result and complains about NaN anywhere in it, and about infinity
// unless it is allowed.
func noNaN(t interface {
	Helper()
	Errorf(string, ...any)
}, name string, result any, infinity bool) {
	t.Helper()
	var walk func(path string, v reflect.Value)
	walk = func(path string, v reflect.Value) {
		switch v.Kind() {
		case reflect.Float64:
			if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) && !infinity {
				t.Errorf("%s: %s is %g", name, path, f)
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(path+"."+v.Type().Field(i).Name, v.Field(i))
			}
		case reflect.Slice:
			for i := range v.Len() {
				walk(fmt.Sprintf("%s[%d]", path, i), v.Index(i))
			}
		}
	}
	walk(reflect.TypeOf(result).Name(), reflect.ValueOf(result))
}

// isP complains about what is not a probability.
func isP(t interface {
	Helper()
	Errorf(string, ...any)
}, name string, ps ...float64) {
	t.Helper()
	for _, p := range ps {
		if !(p >= 0 && p <= 1) {
			t.Errorf("%s: %g is not a probability", name, p)
		}
	}
}

func TestNewSampleRefuses(t *testing.T) {
	tests := []struct {
		name string
		in   []float64
		ok   bool
	}{
		{"none", nil, false},
		{"NaN", []float64{1, math.NaN()}, false},
		{"infinity", []float64{math.Inf(1)}, false},
		{"minus infinity", []float64{math.Inf(-1)}, false},
		{"too large to square", []float64{1e308}, false},
		{"one", []float64{0}, true},
		{"very small", []float64{5e-324, -5e-324}, true},
		{"as large as allowed", []float64{1e100, -1e100}, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, err := NewSample(tt.in)
			if (err == nil) != tt.ok {
				t.Fatalf("got %v", err)
			}
			if tt.ok && s.N() != len(tt.in) {
				t.Errorf("n is %d", s.N())
			}
		})
	}
}

// A sample does not share its memory with anybody, and nothing sorts it.
func TestSampleKeepsItsOwnCopy(t *testing.T) {
	xs := []float64{3, 1, 2}
	s := mustSample(t, xs)
	xs[0] = 99
	s.Values()[1] = 99
	if s.Median() != 2 || s.Min() != 1 || s.Max() != 3 || s.Mean() != 2 {
		t.Errorf("%+v", Describe(s))
	}
	if got := s.Values(); !slices.Equal(got, []float64{3, 1, 2}) {
		t.Errorf("order is now %v", got)
	}
}

func TestMedianOfEvenNumber(t *testing.T) {
	// A library function met on the way answered 2 here, and NaN for a single reading.
	if m := mustSample(t, []float64{4, 1, 3, 2}).Median(); m != 2.5 {
		t.Errorf("median of 1 to 4 is %g", m)
	}
	if m := mustSample(t, []float64{7}).Median(); m != 7 {
		t.Errorf("median of 7 is %g", m)
	}
}

// Readings that are all alike have no spread, whatever a rounded sum says:
// 0.1 + 0.1 + 0.1 is not 0.3.
func TestAlikeHasNoSpread(t *testing.T) {
	s := mustSample(t, []float64{0.1, 0.1, 0.1})
	if sd, ok := s.SD(); !ok || sd != 0 || s.Mean() != 0.1 {
		t.Errorf("sd %g (%v), mean %.17g", sd, ok, s.Mean())
	}
	if _, ok := TInterval(s, 0.95); ok {
		t.Error("an interval without spread")
	}
	if _, ok := Welch(s, mustSample(t, []float64{0.2, 0.2}), 0.95); ok {
		t.Error("Welch without spread")
	}
	// The differences 4.1 − 3.6 and 4.2 − 3.7 and 0.5 − 0 are alike as decimals.
	x, y := mustSample(t, []float64{4.1, 4.2, 0.5}), mustSample(t, []float64{3.6, 3.7, 0})
	if test, ok := PairedT(x, y, 0.95); ok {
		t.Errorf("paired differences that are all alike: %+v", test)
	}
}

// 4.1 − 3.6 is 0.5, but not in binary; a tie must stay a tie.
func TestTiesAreDecimal(t *testing.T) {
	x, y := mustSample(t, []float64{4.1, 0.5, 0.3}), mustSample(t, []float64{3.6, 0, 0.1})
	d, err := Differences(x, y)
	if err != nil || !slices.Equal(d.Values(), []float64{0.5, 0.5, 0.2}) {
		t.Errorf("differences %v (%v)", d.Values(), err)
	}
	for _, xs := range [][]float64{{0.1, 0.2, 0.3, 0.6}, {1e-7, 2e-7, 3e-7, 6e-7}, {1e20, 2e20, 3e20, 6e20}, {12.1, 12.2, 12.3, 12.6}} {
		// 2 of 6: the first two against the last two, and the other way round.
		e, err := Permutation(mustSample(t, xs[:2]), mustSample(t, xs[2:]), Sampling{})
		if err != nil || e.Count.Int64() != 2 || e.Total.Int64() != 6 {
			t.Errorf("%v: %v of %v (%v)", xs, e.Count, e.Total, err)
		}
	}
	// A third that was worked out in two ways differs in the last place; dealing one
	// for the other is a tie with what was observed.
	x, y = mustSample(t, []float64{0.33333333333333337, 5.2}), mustSample(t, []float64{1.0 / 3, 0.1})
	if e, err := Permutation(x, y, Sampling{}); err != nil || e.Count.Int64() != 4 || e.Total.Int64() != 6 {
		t.Errorf("thirds: %v of %v (%v)", e.Count, e.Total, err)
	}
}

func TestCountsRefused(t *testing.T) {
	bad := [][2]int{{0, 0}, {1, 0}, {-1, 5}, {6, 5}, {0, -1}, {5, mostPieces + 1}}
	for _, b := range bad {
		x, n := b[0], b[1]
		_, e1 := Wilson(x, n, 0.95)
		_, e2 := ClopperPearson(x, n, 0.95)
		_, e3 := Newcombe(x, n, 1, 2, 0.95)
		_, e4 := Newcombe(1, 2, x, n, 0.95)
		_, e5 := Fisher(x, n, 1, 2)
		_, e6 := Fisher(1, 2, x, n)
		_, e7 := Boschloo(x, n, 1, 2)
		_, e8 := MantelHaenszel([]Block{{1, 2, 1, 2}, {x, n, 1, 2}}, 0.95)
		_, e9 := ConditionalTest([]Block{{x, n, 1, 2}}, 0.95)
		_, e10 := Homogeneity([]Block{{1, 2, x, n}})
		_, e11 := Discriminate(Triangle, x, n)
		_, e12 := EstimateDiscriminators(Triangle, x, n, 0.95)
		_, _, e13 := DPrime(Triangle, x, n)
		for i, err := range []error{e1, e2, e3, e4, e5, e6, e7, e8, e9, e10, e11, e12, e13} {
			if err == nil {
				t.Errorf("%d of %d: function %d did not refuse", x, n, i+1)
			}
		}
	}
}

func TestLevelsRefused(t *testing.T) {
	s := mustSample(t, []float64{1, 2, 4})
	for _, level := range []float64{0, 1, -0.5, 95, math.NaN(), math.Inf(1)} {
		_, e1 := Wilson(1, 2, level)
		_, e2 := ClopperPearson(1, 2, level)
		_, e3 := Newcombe(1, 2, 1, 2, level)
		_, e4 := RankSum(s, s, level, Sampling{})
		_, e5 := SignedRank(s, level, Sampling{})
		_, e6 := MantelHaenszel([]Block{{1, 2, 1, 2}}, level)
		_, e7 := ConditionalTest([]Block{{1, 2, 1, 2}}, level)
		_, e8 := Combine([]float64{1}, []float64{1}, level)
		_, e9 := EstimateDiscriminators(Triangle, 1, 2, level)
		_, _, e10 := CriticalNumber(Triangle, 5, level)
		_, e11 := Plan{N1: 4, N2: 4, Alpha: level}.Power(1, 0)
		_, _, e12 := Plan{N1: 4, N2: 4, Alpha: 0.05}.DropFromAll(level)
		_, _, e13 := AssessorsNeeded(Triangle, 0.5, level, 0.8, 20)
		_, _, e14 := PiecesNeeded(1, 0.5, 0.05, level, 20)
		_, _, e15 := PageCritical(3, 3, level)
		_, _, _, e16 := RankRange(3, 3, level)
		_, e17 := RankLSD(3, 3, level)
		_, e18 := RankHSD(3, 3, level)
		for i, err := range []error{e1, e2, e3, e4, e5, e6, e7, e8, e9, e10, e11, e12, e13, e14, e15, e16, e17, e18} {
			if err == nil {
				t.Errorf("level %g: function %d did not refuse", level, i+1)
			}
		}
		_, ok1 := TInterval(s, level)
		_, ok2 := Welch(s, s, level)
		_, ok3 := Student(s, s, level)
		if ok1 || ok2 || ok3 {
			t.Errorf("level %g: %v %v %v", level, ok1, ok2, ok3)
		}
	}
}

// What has no answer says so.
func TestNotDefined(t *testing.T) {
	one, two := mustSample(t, []float64{3}), mustSample(t, []float64{3, 4})
	alike := mustSample(t, []float64{3, 3})
	type answer = bool
	_, sd := one.SD()
	_, ti := TInterval(one, 0.95)
	_, welch := Welch(one, two, 0.95)
	_, student := Student(one, one, 0.95)
	_, flat := Student(alike, alike, 0.95)
	_, paired := PairedT(one, one, 0.95)
	_, uneven := PairedT(one, two, 0.95)
	_, cohen := CohenD(alike, alike)
	_, hedges := HedgesG(one, two)
	for name, ok := range map[string]answer{
		"sd of one": sd, "t interval of one": ti, "Welch with one": welch, "Student one v one": student,
		"Student all alike": flat, "one pair": paired, "uneven pairs": uneven, "d of alike": cohen, "g of three": hedges,
	} {
		if ok {
			t.Errorf("%s: defined", name)
		}
	}
	if test, ok := Student(one, two, 0.95); !ok || test.DF != 1 {
		t.Errorf("Student 1 v 2 is defined with one degree of freedom: %+v %v", test, ok)
	}
	if _, ok, err := DPrime(Triangle, 6, 6); ok || err != nil {
		t.Errorf("d-prime of all right: %v %v", ok, err)
	}
	if k, ok, err := CriticalNumber(Triangle, 2, 0.05); ok || err != nil {
		t.Errorf("two triangles have a critical number: %d %v", k, err)
	}
	if _, ok, err := (Plan{N1: 3, N2: 3, Alpha: 0.05}).DropFromAll(0.8); ok || err != nil {
		t.Errorf("3 v 3 can find a drop: %v", err)
	}
	if _, ok, err := PiecesNeeded(0.5, 0.5, 0.05, 0.8, 20); ok || err != nil {
		t.Errorf("no difference was found: %v", err)
	}
}

// The zero Sample comes only from not looking at an error.
func TestZeroSampleIsRefused(t *testing.T) {
	var none Sample
	some := mustSample(t, []float64{1, 2})
	_, e1 := Permutation(none, some, Sampling{})
	_, e2 := SignFlip(none, Sampling{})
	_, e3 := RankSum(some, none, 0.95, Sampling{})
	_, e4 := SignedRank(none, 0.95, Sampling{})
	_, e5 := Sign(none)
	_, e6 := HodgesLehmann(none, some)
	_, e7 := Differences(none, none)
	_, e8 := KruskalWallis([]Sample{none, some}, Sampling{})
	_, e9 := BlockedPermutation([]BlockPair{{X: some, Y: none}}, Sampling{})
	for i, err := range []error{e1, e2, e3, e4, e5, e6, e7, e8, e9} {
		if err == nil {
			t.Errorf("function %d did not refuse", i+1)
		}
	}
	noNaN(t, "describe", Describe(none), false)
	if _, ok := Welch(none, some, 0.95); ok {
		t.Error("Welch of nothing")
	}
	if _, ok := Student(none, some, 0.95); ok {
		t.Error("Student of nothing")
	}
}

// Whatever readings come, nothing panics and no result holds NaN.
func TestNothingIsNaN(t *testing.T) {
	odd := []float64{0, 1, -1, 0.1, 1.0 / 3, 1e-300, 5e-324, 1e99, -1e99, 1e15, 4.1, 1e-9, 123456789.123456789}
	reading := rapid.OneOf(rapid.SampledFrom(odd), rapid.Float64Range(-1e100, 1e100), rapid.Float64Range(-10, 10))
	quick := Sampling{Draws: 50, Work: 100_000}
	rapid.Check(t, func(rt *rapid.T) {
		xs := rapid.SliceOfN(reading, 1, 7).Draw(rt, "x")
		ys := rapid.SliceOfN(reading, 1, 7).Draw(rt, "y")
		keptX, keptY := slices.Clone(xs), slices.Clone(ys)
		x, y, lv := mustSample(t, xs), mustSample(t, ys), level(rt)
		welch, _ := Welch(x, y, lv)
		student, _ := Student(x, y, lv)
		paired, _ := PairedT(x, y, lv)
		interval, _ := TInterval(x, lv)
		d, _ := CohenD(x, y)
		g, _ := HedgesG(x, y)
		perm, _ := Permutation(x, y, quick)
		flip, _ := SignFlip(x, quick)
		sum, _ := RankSum(x, y, lv, quick)
		signed, _ := SignedRank(x, lv, quick)
		sign, _ := Sign(x)
		shift, _ := HodgesLehmann(x, y)
		kruskal, _ := KruskalWallis([]Sample{x, y, x}, quick)
		blocked, _ := BlockedPermutation([]BlockPair{{x, y}, {y, x}}, quick)
		friedman, _ := Friedman([][]float64{xs, xs}, quick)
		page, _ := Page([][]float64{xs, xs}, quick)
		for i, result := range []any{
			Describe(x), welch, student, paired, interval, d, g, perm, flip, sum, signed, sign, shift, kruskal, blocked, friedman, page,
		} {
			noNaN(rt, fmt.Sprintf("result %d of %v and %v", i, xs, ys), result, false)
		}
		isP(rt, "p", welch.P, welch.Less, welch.Greater, perm.P, flip.P, sum.P, signed.P, sign.P, kruskal.Exact.P, kruskal.PAsymptotic, blocked.P, friedman.Exact.P, page.Exact.P)
		if !slices.Equal(xs, keptX) || !slices.Equal(ys, keptY) || !slices.Equal(x.Values(), keptX) {
			rt.Error("an input was changed")
		}
	})
}

// The same for counts.
func TestNoCountIsNaN(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		blocks, lv := drawBlocks(rt, 6), level(rt)
		kept := slices.Clone(blocks)
		pooled, err := MantelHaenszel(blocks, lv)
		noNaN(rt, "pooled", must(rt, pooled, err), false)
		exact, err := ConditionalTest(blocks, lv)
		noNaN(rt, "conditional", must(rt, exact, err), true)
		if exact.Defined && !exact.Interval.Contains(exact.OddsRatio) {
			rt.Errorf("%v does not hold %g", exact.Interval, exact.OddsRatio)
		}
		same, err := Homogeneity(blocks)
		noNaN(rt, "homogeneity", must(rt, same, err), false)
		if !slices.Equal(blocks, kept) {
			rt.Error("the blocks were changed")
		}
		b := blocks[0]
		m := rapid.SampledFrom([]Method{Triangle, DuoTrio, TwoAFC, ThreeAFC, Tetrad}).Draw(rt, "method")
		tells, err := EstimateDiscriminators(m, b.X1, b.N1, lv)
		noNaN(rt, "discriminators", must(rt, tells, err), false)
		if tells.PD > 1 || !tells.Exact.Contains(tells.PD) {
			rt.Errorf("%+v", tells)
		}
	})
}
