package stats

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// table draws two counts.
func table(rt *rapid.T, most int) Block {
	n1, n2 := rapid.IntRange(1, most).Draw(rt, "n1"), rapid.IntRange(1, most).Draw(rt, "n2")
	return Block{
		X1: rapid.IntRange(0, n1).Draw(rt, "x1"), N1: n1,
		X2: rapid.IntRange(0, n2).Draw(rt, "x2"), N2: n2,
	}
}

func (b Block) swapped() Block { return Block{b.X2, b.N2, b.X1, b.N1} }

func (b Block) relabelled() Block { return Block{b.N1 - b.X1, b.N1, b.N2 - b.X2, b.N2} }

func level(rt *rapid.T) float64 {
	return rapid.SampledFrom([]float64{0.5, 0.8, 0.9, 0.95, 0.99, 0.999}).Draw(rt, "level")
}

func must[T any](rt *rapid.T, v T, err error) T {
	rt.Helper()
	if err != nil {
		rt.Fatal(err)
	}
	return v
}

// Which sample is called the first, and which outcome a success, is a matter of
// words.
func TestCountsIgnoreNames(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b := table(rt, 30)
		fisher := func(b Block) Exact { e, err := Fisher(b.X1, b.N1, b.X2, b.N2); return must(rt, e, err) }
		e := fisher(b)
		for name, other := range map[string]Exact{"swapped": fisher(b.swapped()), "relabelled": fisher(b.relabelled())} {
			if other.P != e.P || other.Less != e.Greater || other.Greater != e.Less {
				rt.Errorf("%s: %+v, want %+v turned round", name, other, e)
			}
		}
		both := fisher(b.swapped().relabelled())
		if both.P != e.P || both.Less != e.Less {
			rt.Errorf("swapped and relabelled: %+v, want %+v", both, e)
		}
		lv := level(rt)
		i, err := Newcombe(b.X1, b.N1, b.X2, b.N2, lv)
		must(rt, i, err)
		s := b.swapped()
		j, err := Newcombe(s.X1, s.N1, s.X2, s.N2, lv)
		must(rt, j, err)
		if math.Abs(i.Low+j.High) > 1e-12 || math.Abs(i.High+j.Low) > 1e-12 {
			rt.Errorf("intervals %v and %v are not mirrored", i, j)
		}
	})
}

func TestBoschlooIgnoresNamesAndBeatsFisher(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b := table(rt, 9)
		at := func(b Block) Unconditional { u, err := Boschloo(b.X1, b.N1, b.X2, b.N2); return must(rt, u, err) }
		u, s := at(b), at(b.swapped())
		if math.Abs(u.P-s.P) > 1e-9 || math.Abs(u.Less-s.Greater) > 1e-9 || math.Abs(u.Greater-s.Less) > 1e-9 {
			rt.Errorf("%+v and swapped %+v", u, s)
		}
		// Boschloo 1970: never less powerful than Fisher's test.
		e, err := Fisher(b.X1, b.N1, b.X2, b.N2)
		must(rt, e, err)
		if u.P > e.P+1e-9 || u.Less > e.Less+1e-9 || u.Greater > e.Greater+1e-9 {
			rt.Errorf("Boschloo %+v is above Fisher %+v", u, e)
		}
	})
}

func TestReadingsIgnoreNames(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		x, y := tenths(t, drawReadings(rt, "x", 1, 9)), tenths(t, drawReadings(rt, "y", 1, 9))
		turned := func(name string, a, b Exact) {
			if a.P != b.P || a.Less != b.Greater || a.Greater != b.Less {
				rt.Errorf("%s: %+v and swapped %+v", name, a, b)
			}
		}
		a, err := Permutation(x, y, Sampling{})
		b, err2 := Permutation(y, x, Sampling{})
		turned("permutation", must(rt, a, err), must(rt, b, err2))
		r, err := RankSum(x, y, 0.9, Sampling{})
		s, err2 := RankSum(y, x, 0.9, Sampling{})
		turned("rank sum", must(rt, r, err).Exact, must(rt, s, err2).Exact)
		if r.Estimate != -s.Estimate || r.HasInterval != s.HasInterval || r.Interval.Low != -s.Interval.High {
			rt.Errorf("shifts %+v and %+v are not mirrored", r, s)
		}
		v, ok := Welch(x, y, 0.9)
		w, ok2 := Welch(y, x, 0.9)
		if ok != ok2 || math.Abs(v.P-w.P) > 1e-12 || math.Abs(v.Interval.Low+w.Interval.High) > 1e-9*(1+math.Abs(v.Interval.Low)) {
			rt.Errorf("Welch: %+v and swapped %+v", v, w)
		}
	})
}

func TestIntervalsHoldTheEstimate(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b, lv := table(rt, 40), level(rt)
		p1, p2 := float64(b.X1)/float64(b.N1), float64(b.X2)/float64(b.N2)
		w, err := Wilson(b.X1, b.N1, lv)
		c, err2 := ClopperPearson(b.X1, b.N1, lv)
		d, err3 := Newcombe(b.X1, b.N1, b.X2, b.N2, lv)
		for name, pair := range map[string]struct {
			i Interval
			p float64
		}{"Wilson": {must(rt, w, err), p1}, "Clopper-Pearson": {must(rt, c, err2), p1}, "Newcombe": {must(rt, d, err3), p1 - p2}} {
			if !pair.i.Contains(pair.p) || pair.i.Low >= pair.i.High || pair.i.Low < -1 || pair.i.High > 1 {
				rt.Errorf("%s: %v does not hold %g", name, pair.i, pair.p)
			}
		}
		if (b.X1 == 0) != (w.Low == 0) || (b.X1 == b.N1) != (w.High == 1) || (b.X1 == 0) != (c.Low == 0) || (b.X1 == b.N1) != (c.High == 1) {
			rt.Errorf("%d of %d: %v, %v (0 and 1 belong to none and all)", b.X1, b.N1, w, c)
		}
		x, y := tenths(t, drawReadings(rt, "x", 1, 8)), tenths(t, drawReadings(rt, "y", 1, 8))
		if i, ok := TInterval(x, lv); ok && !i.Contains(x.Mean()) {
			rt.Errorf("t interval %v does not hold %g", i, x.Mean())
		}
		if test, ok := Welch(x, y, lv); ok && !test.Interval.Contains(x.Mean()-y.Mean()) {
			rt.Errorf("Welch %v does not hold %g", test.Interval, x.Mean()-y.Mean())
		}
		rs, err := RankSum(x, y, lv, Sampling{})
		if must(rt, rs, err); rs.HasInterval && (!rs.Interval.Contains(rs.Estimate) || rs.Attained < lv-1e-9) {
			rt.Errorf("rank sum %+v does not hold its estimate at %g", rs, lv)
		}
	})
}

// A difference and its p must tell the same: p ≤ 1 − level just where the interval
// leaves out 0.
func TestWelchIntervalAgreesWithP(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		x, y, lv := tenths(t, drawReadings(rt, "x", 2, 8)), tenths(t, drawReadings(rt, "y", 2, 8)), level(rt)
		test, ok := Welch(x, y, lv)
		if ok && math.Abs(test.P-(1-lv)) > 1e-9 && (test.P < 1-lv) == test.Interval.Contains(0) {
			rt.Errorf("p %g and %v at %g", test.P, test.Interval, lv)
		}
	})
}

// The limits of the rank-sum interval are where the test starts to reject
// (untied; Hollander & Wolfe 1973, ch. 4).
func TestRankSumIntervalAgreesWithP(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		drawn := rapid.SliceOfNDistinct(rapid.IntRange(0, 100_000), 9, 12, rapid.ID[int]).Draw(rt, "readings")
		m := rapid.IntRange(4, 5).Draw(rt, "m")
		x, y := drawn[:m], drawn[m:]
		test, err := RankSum(tenths(t, x), tenths(t, y), 0.9, Sampling{})
		if must(rt, test, err); !test.HasInterval {
			rt.Fatalf("no interval for %d and %d", len(x), len(y))
		}
		for _, shift := range []struct {
			by   float64
			keep bool
		}{
			{test.Interval.Low - 0.01, false}, {test.Interval.Low + 0.01, true},
			{test.Interval.High - 0.01, true}, {test.Interval.High + 0.01, false},
		} {
			if test.Interval.Low+0.02 > test.Interval.High {
				return
			}
			moved := make([]float64, len(x))
			for i, v := range x {
				moved[i] = float64(v)/10 - shift.by
			}
			after, err := RankSum(mustSample(t, moved), tenths(t, y), 0.9, Sampling{})
			if must(rt, after, err); (after.P > 0.1+1e-12) != shift.keep {
				rt.Errorf("shifted by %g: p %g, interval %v", shift.by, after.P, test.Interval)
			}
		}
	})
}

// Clopper & Pearson 1934: the interval covers every rate at least as often as it
// says. Wilson's does so on average only, and is not tested for it.
func TestClopperPearsonCovers(t *testing.T) {
	for n := 1; n <= 15; n++ {
		var intervals []Interval
		for x := 0; x <= n; x++ {
			i, err := ClopperPearson(x, n, 0.9)
			if err != nil {
				t.Fatal(err)
			}
			intervals = append(intervals, i)
		}
		for p := 0.0; p <= 1; p += 1.0 / 128 {
			covered := 0.0
			for x, chance := range binomialPMF(n, p) {
				if intervals[x].Contains(p) {
					covered += chance
				}
			}
			if covered < 0.9-1e-9 {
				t.Errorf("n %d, rate %g: covered with %g", n, p, covered)
			}
		}
	}
}

func TestHolmProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		ps := rapid.SliceOfN(rapid.Float64Range(0, 1), 0, 8).Draw(rt, "p")
		before := slices.Clone(ps)
		got := Holm(ps)
		if !slices.Equal(ps, before) {
			rt.Fatal("the input was changed")
		}
		for i := range ps {
			// By its definition: the largest of (number of p at least this rank) × p
			// over all p up to this one.
			want := 0.0
			for _, q := range ps {
				if q > ps[i] {
					continue
				}
				left := 0
				for _, r := range ps {
					if r >= q {
						left++
					}
				}
				want = max(want, min(1, float64(left)*q))
			}
			if math.Abs(got[i]-want) > 1e-12 {
				rt.Errorf("p %g of %v: got %g, want %g", ps[i], ps, got[i], want)
			}
		}
	})
	if got := Holm([]float64{math.NaN(), -1, 2, 0.01}); !slices.Equal(got, []float64{1, 1, 1, 0.04}) {
		t.Errorf("odd values: %v", got)
	}
}

// The size of Fisher's test, summed up over all tables, is never above alpha,
// whatever the common rate.
func TestFisherKeepsItsSize(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		plan := Plan{
			N1: rapid.IntRange(1, 15).Draw(rt, "n1"), N2: rapid.IntRange(1, 15).Draw(rt, "n2"),
			Alpha: rapid.SampledFrom([]float64{0.01, 0.05, 0.1}).Draw(rt, "alpha"),
			Side:  rapid.SampledFrom([]Side{TwoSided, LessSided, GreaterSided}).Draw(rt, "side"),
		}
		p := rapid.Float64Range(0, 1).Draw(rt, "rate")
		power, err := plan.Power(p, p)
		if must(rt, power, err); power > plan.Alpha+1e-12 {
			rt.Errorf("%+v rejects with %g at rate %g", plan, power, p)
		}
	})
}

// A rate that can be found is found with the power asked for, and one a little
// nearer is not.
func TestFindableRate(t *testing.T) {
	found := 0
	rapid.Check(t, func(rt *rapid.T) {
		plan := Plan{N1: rapid.IntRange(3, 20).Draw(rt, "n1"), N2: rapid.IntRange(3, 20).Draw(rt, "n2"), Alpha: 0.05}
		p1 := rapid.Float64Range(0.5, 1).Draw(rt, "p1")
		rate, ok, err := plan.FindableRate(p1, 0.8)
		if must(rt, ok, err); !ok {
			if p, err := plan.Power(p1, 0); err != nil || p >= 0.8 {
				rt.Errorf("not found, but 0 is found with %g (%v)", p, err)
			}
			return
		}
		found++
		at, err := plan.Power(p1, rate)
		above, err2 := plan.Power(p1, rate+1e-6)
		if must(rt, at, err) < 0.8 || must(rt, above, err2) >= 0.8 {
			rt.Errorf("rate %g has power %g and the next %g", rate, at, above)
		}
	})
	if found == 0 {
		t.Error("no rate was ever found")
	}
}

// One reading a side in every block is the sign-flip test of the differences.
func TestBlocksOfOneAreSignFlips(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(rt, "blocks")
		x, y := drawReadings(rt, "x", n, n), drawReadings(rt, "y", n, n)
		var blocks []BlockPair
		for i := range n {
			blocks = append(blocks, BlockPair{X: tenths(t, x[i:i+1]), Y: tenths(t, y[i:i+1])})
		}
		b, err := BlockedPermutation(blocks, Sampling{})
		must(rt, b, err)
		d, err := Differences(tenths(t, x), tenths(t, y))
		e, err2 := SignFlip(must(rt, d, err), Sampling{})
		if must(rt, e, err2); b.P != e.P || b.Less != e.Less || b.Greater != e.Greater {
			rt.Errorf("%+v and %+v", b.Exact, e)
		}
	})
}

// Discrimination: the critical number is the smallest significant one, and the
// chance to reach it by guessing keeps to alpha.
func TestCriticalNumberIsTheSmallest(t *testing.T) {
	for m := Triangle; m <= PairedPreference; m++ {
		for n := 1; n <= 40; n++ {
			for _, alpha := range []float64{0.001, 0.01, 0.03125, 0.05, 0.1, 0.2} {
				k, ok, err := CriticalNumber(m, n, alpha)
				if err != nil {
					t.Fatal(err)
				}
				want := n + 1
				for x := n; x > 0 && 2*x > n; x-- {
					e, err := Discriminate(m, x, n)
					if err != nil {
						t.Fatal(err)
					}
					if e.P <= alpha {
						want = x
					}
				}
				if ok != (want <= n) || ok && 2*k > n && k != want {
					t.Errorf("%v, n %d, alpha %g: got %d, want %d", m, n, alpha, k, want)
				}
				if p, err := PanelPower(m, n, 0, alpha); err != nil || p > alpha*(1+1e-9) {
					t.Errorf("%v, n %d: guessers reach it with %g, alpha %g (%v)", m, n, p, alpha, err)
				}
			}
		}
	}
}

// d-prime and the share of right answers are each other's inverse.
func TestDPrimeRoundTrip(t *testing.T) {
	for m := Triangle; m < PairedPreference; m++ {
		for _, x := range []int{15, 17, 19} {
			d, ok, err := DPrime(m, x, 20)
			if err != nil || !ok {
				t.Fatal(ok, err)
			}
			if pc, err := RightAt(m, d); err != nil || math.Abs(pc-float64(x)/20) > 1e-9 {
				t.Errorf("%v: %d of 20 gives d-prime %g gives %g (%v)", m, x, d, pc, err)
			}
		}
		if pc, err := RightAt(m, 0); err != nil || math.Abs(pc-m.ByGuessing()) > 1e-9 {
			t.Errorf("%v: no difference gives %g, want %g (%v)", m, pc, m.ByGuessing(), err)
		}
		if pc, err := RightAt(m, 30); err != nil || math.Abs(pc-1) > 1e-9 {
			t.Errorf("%v: the largest difference gives %g (%v)", m, pc, err)
		}
	}
}
