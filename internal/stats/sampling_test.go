package stats

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// always makes a test draw where it could count.
func always(seed uint64) Sampling { return Sampling{Seed: seed, Draws: 20_000, Work: -1} }

// drawnAndCounted runs a test both ways. Draws must come within five standard
// errors of the count, be the same for the same seed, and differ for another.
func drawnAndCounted(t *testing.T, name string, run func(o Sampling) (Exact, error)) {
	t.Helper()
	t.Run(name, func(t *testing.T) {
		counted, err := run(Sampling{})
		if err != nil {
			t.Fatal(err)
		}
		var drawn [3]Exact
		for i, seed := range []uint64{1, 1, 2} {
			if drawn[i], err = run(always(seed)); err != nil {
				t.Fatal(err)
			}
		}
		if counted.Sampled || !drawn[0].Sampled || counted.MonteCarloError != 0 {
			t.Fatalf("counted %v, drawn %v", counted.Sampled, drawn[0].Sampled)
		}
		if !reflect.DeepEqual(drawn[0], drawn[1]) {
			t.Error("the same seed gave other draws")
		}
		if drawn[0].Count.Cmp(drawn[2].Count) == 0 && drawn[0].CountGreater.Cmp(drawn[2].CountGreater) == 0 {
			t.Error("another seed gave the same draws")
		}
		e := drawn[0].MonteCarloError
		if want := math.Sqrt(drawn[0].P * (1 - drawn[0].P) / 20_001); math.Abs(e-want) > 1e-15 || e == 0 {
			t.Errorf("error %g, want %g", e, want)
		}
		for i, pair := range [][2]float64{{drawn[0].P, counted.P}, {drawn[0].Less, counted.Less}, {drawn[0].Greater, counted.Greater}} {
			if allowed := 5*math.Sqrt(pair[1]*(1-pair[1])/20_000) + 1e-4; math.Abs(pair[0]-pair[1]) > allowed && !(i == 1 && counted.Less == 1) {
				t.Errorf("drawn %g, counted %g (allowed %g)", pair[0], pair[1], allowed)
			}
		}
	})
}

func TestDrawingAgreesWithCounting(t *testing.T) {
	x := mustSample(t, []float64{71.2, 70.8, 72.5, 71.9, 70.1})
	y := mustSample(t, []float64{70.4, 69.9, 71.1, 70.7, 71.5, 70.9})
	d := mustSample(t, []float64{0.3, -0.1, 0.5, 0.2, -0.4, 0.6, 0.1, 0.1})
	panel := [][]float64{{7, 5, 6}, {8, 6, 6}, {5, 5, 4}, {7, 6, 7}, {6, 3, 5}}
	ones := [][]float64{{1, 1, 0}, {1, 0, 0}, {1, 1, 0}, {1, 1, 1}, {0, 1, 0}}
	drawnAndCounted(t, "permutation", func(o Sampling) (Exact, error) { return Permutation(x, y, o) })
	drawnAndCounted(t, "sign flip", func(o Sampling) (Exact, error) { return SignFlip(d, o) })
	drawnAndCounted(t, "rank sum", func(o Sampling) (Exact, error) { r, err := RankSum(x, y, 0.9, o); return r.Exact, err })
	drawnAndCounted(t, "signed rank", func(o Sampling) (Exact, error) { r, err := SignedRank(d, 0.9, o); return r.Exact, err })
	drawnAndCounted(t, "page", func(o Sampling) (Exact, error) { p, err := Page(panel, o); return p.Exact, err })
	drawnAndCounted(t, "friedman", func(o Sampling) (Exact, error) { p, err := Friedman(panel, o); return leaveOutLess(p.Exact), err })
	drawnAndCounted(t, "cochran", func(o Sampling) (Exact, error) { p, err := CochranQ(ones, o); return leaveOutLess(p.Exact), err })
	drawnAndCounted(t, "kruskal", func(o Sampling) (Exact, error) {
		p, err := KruskalWallis([]Sample{x, y}, o)
		return leaveOutLess(p.Exact), err
	})
	morning := BlockPair{X: x, Y: y}
	evening := BlockPair{X: mustSample(t, []float64{70.1, 71, 70.6}), Y: mustSample(t, []float64{70.3, 70.8, 71.2, 69.9})}
	drawnAndCounted(t, "blocks", func(o Sampling) (Exact, error) {
		b, err := BlockedPermutation([]BlockPair{morning, evening}, o)
		return b.Exact, err
	})
}

// leaveOutLess makes the side that has no meaning the same everywhere.
func leaveOutLess(e Exact) Exact {
	e.Less, e.CountLess = 0, nil
	return e
}

// More arrangements than can be counted are drawn by themselves.
func TestManyReadingsAreDrawn(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var xs, ys []float64
	for range 60 {
		xs, ys = append(xs, r.NormFloat64()), append(ys, r.NormFloat64()+1.2)
	}
	e, err := Permutation(mustSample(t, xs), mustSample(t, ys), Sampling{Draws: 2000})
	if err != nil || !e.Sampled || e.P > 0.01 || e.P < 1.0/2001 {
		t.Errorf("%+v %v", e, err)
	}
}

// When nothing differs, an exact test of size 5 % rejects in at most 5 % of all
// trials. Of 4,000 simulated ones at most 5 % and four standard errors may: 4 ·
// √(0.05 · 0.95 / 4000) is 1.4 %. That it rejects at all shows that the test works.
func TestNullSimulation(t *testing.T) {
	const trials = 4000
	most := 0.05 + 4*math.Sqrt(0.05*0.95/trials)
	r := rand.New(rand.NewPCG(20260214, 7))
	rejected := map[string]int{}
	note := func(name string, p float64, err error) {
		if err != nil {
			t.Fatal(err)
		}
		if p <= 0.05 {
			rejected[name]++
		}
	}
	for range trials {
		x, y := simulated(t, r, 5), simulated(t, r, 6)
		e, err := Permutation(x, y, Sampling{})
		note("permutation", e.P, err)
		rank, err := RankSum(x, y, 0.9, Sampling{})
		note("rank sum", rank.P, err)
		d := simulated(t, r, 7)
		e, err = SignFlip(d, Sampling{})
		note("sign flip", e.P, err)
		signed, err := SignedRank(d, 0.9, Sampling{})
		note("signed rank", signed.P, err)
		passes := func(n int) (x int) {
			for range n {
				x += r.IntN(3) / 2
			}
			return x
		}
		e, err = Fisher(passes(12), 12, passes(14), 14)
		note("Fisher", e.P, err)
		guesses := 0
		for range 15 {
			if r.IntN(3) == 0 {
				guesses++
			}
		}
		e, err = Discriminate(Triangle, guesses, 15)
		note("triangle", e.P, err)
		panel := [][]float64{{1, 2, 3}, {1, 2, 3}, {1, 2, 3}, {1, 2, 3}, {1, 2, 3}}
		for i := range panel {
			panel[i] = slices.Clone(panel[i])
			r.Shuffle(3, func(a, b int) { panel[i][a], panel[i][b] = panel[i][b], panel[i][a] })
		}
		f, err := Friedman(panel, Sampling{})
		note("Friedman", f.Exact.P, err)
	}
	for _, name := range []string{"permutation", "rank sum", "sign flip", "signed rank", "Fisher", "triangle", "Friedman"} {
		share := float64(rejected[name]) / trials
		if share > most || share < 0.005 {
			t.Errorf("%s rejects %.4f of the trials (at most %.4f)", name, share, most)
		}
	}
}

// simulated readings to one decimal, symmetric about 0, with ties now and then.
func simulated(t *testing.T, r *rand.Rand, n int) Sample {
	t.Helper()
	xs := make([]float64, n)
	for i := range xs {
		xs[i] = math.Round(r.NormFloat64()*20) / 10
	}
	return mustSample(t, xs)
}
