package stats

import (
	"cmp"
	"fmt"
	"math"
	"math/bits"
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// The tests of this file list every arrangement one by one and compare counts.

// tally counts arrangements on either side.
type tally struct {
	two, less, greater, total int
}

func (c tally) compare(t interface {
	Helper()
	Errorf(string, ...any)
}, name string, e Exact) {
	t.Helper()
	got := [4]string{e.Count.String(), e.CountLess.String(), e.CountGreater.String(), e.Total.String()}
	want := [4]string{strconv.Itoa(c.two), strconv.Itoa(c.less), strconv.Itoa(c.greater), strconv.Itoa(c.total)}
	if got != want {
		t.Errorf("%s: got %v, want %v (two-sided, less, greater, total)", name, got, want)
	}
	if p := float64(c.two) / float64(c.total); e.P != p || e.Sampled {
		t.Errorf("%s: p is %g, want %g", name, e.P, p)
	}
}

// Every 2 × 2 table with both sides up to 8: Fisher's test against the listing of
// all ways to say which pieces passed. The other exact tests
// that answer the same question must agree with it.
func TestFisherAgainstListing(t *testing.T) {
	const most = 8
	for n1 := 1; n1 <= most; n1++ {
		for n2 := 1; n2 <= most; n2++ {
			floats := fisherTable(n1, n2)
			smallest := 1.0
			for m, ways := range listFisher(n1, n2) {
				for x1 := max(0, m-n2); x1 <= min(n1, m); x1++ {
					e := checkFisher(t, Block{x1, n1, m - x1, n2}, ways)
					smallest = min(smallest, e.P)
					for _, pair := range [3][2]float64{
						{floats.two[x1][m-x1], e.P}, {floats.less[x1][m-x1], e.Less}, {floats.greater[x1][m-x1], e.Greater},
					} {
						if math.Abs(pair[0]-pair[1]) > 1e-13 {
							t.Errorf("%d of %d v %d of %d: the table of floats has %g, the counts %g", x1, n1, m-x1, n2, pair[0], pair[1])
						}
					}
				}
			}
			if p, err := SmallestP(n1, n2); err != nil || p != smallest {
				t.Errorf("smallest p of %d v %d: got %g, want %g (%v)", n1, n2, p, smallest, err)
			}
		}
	}
}

// listFisher lists all ways to say which of the pieces passed, and counts, for
// every number m of passes, how often s of them fall to the first sample.
func listFisher(n1, n2 int) [][]int {
	n := n1 + n2
	ways := make([][]int, n+1)
	for m := range ways {
		ways[m] = make([]int, n1+1)
	}
	for passed := uint(0); passed < 1<<n; passed++ {
		ways[bits.OnesCount(passed)][bits.OnesCount(passed&(1<<n1-1))]++
	}
	return ways
}

func checkFisher(t *testing.T, b Block, ways []int) Exact {
	t.Helper()
	name := fmt.Sprintf("%d of %d v %d of %d", b.X1, b.N1, b.X2, b.N2)
	want := tally{}
	for s, n := range ways {
		want.total += n
		if n <= ways[b.X1] {
			want.two += n
		}
		if s <= b.X1 {
			want.less += n
		}
		if s >= b.X1 {
			want.greater += n
		}
	}
	e, err := Fisher(b.X1, b.N1, b.X2, b.N2)
	if err != nil {
		t.Fatal(err)
	}
	want.compare(t, name, e)
	c, err := ConditionalTest([]Block{b}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	want.compare(t, name+" as one block", c.Exact)
	p, err := Permutation(passes(t, b.X1, b.N1), passes(t, b.X2, b.N2), Sampling{})
	if err != nil {
		t.Fatal(err)
	}
	if p.Less != e.Less || p.Greater != e.Greater {
		t.Errorf("%s: %g and %g as a permutation test, %g and %g as Fisher's", name, p.Less, p.Greater, e.Less, e.Greater)
	}
	return e
}

// passes is a sample of x ones and n − x zeros.
func passes(t *testing.T, x, n int) Sample {
	t.Helper()
	xs := make([]float64, n)
	for i := range x {
		xs[i] = 1
	}
	return mustSample(t, xs)
}

// subsets calls f with every choice of m of n places.
func subsets(n, m int, f func(in []bool)) {
	in := make([]bool, n)
	for chosen := uint(0); chosen < 1<<n; chosen++ {
		if m != anySize && bits.OnesCount(chosen) != m {
			continue
		}
		for i := range in {
			in[i] = chosen>>i&1 == 1
		}
		f(in)
	}
}

// listDeal lists every choice of the first m places of whole readings.
func listDeal(values []int, m int) tally {
	all, observed, n := 0, 0, len(values)
	for i, v := range values {
		all += v
		if i < m {
			observed += v
		}
	}
	far := func(sum int) int { return max(n*sum-m*all, m*all-n*sum) }
	c := tally{}
	subsets(n, m, func(in []bool) {
		c.add(sumOf(values, in), observed, far)
	})
	return c
}

// listFlip lists all signs of whole differences.
func listFlip(values []int) tally {
	observed := 0
	for _, v := range values {
		observed += v
	}
	far := func(sum int) int { return max(sum, -sum) }
	c := tally{}
	subsets(len(values), anySize, func(in []bool) {
		c.add(2*sumOf(values, in)-observed, observed, far)
	})
	return c
}

func sumOf(values []int, in []bool) int {
	sum := 0
	for i, v := range values {
		if in[i] {
			sum += v
		}
	}
	return sum
}

func (c *tally) add(sum, observed int, far func(int) int) {
	c.total++
	if far(sum) >= far(observed) {
		c.two++
	}
	if sum <= observed {
		c.less++
	}
	if sum >= observed {
		c.greater++
	}
}

// plainRanks are doubled midranks by counting: 2·(smaller) + (equal) + 1.
func plainRanks(values []int) []int {
	out := make([]int, len(values))
	for i, v := range values {
		out[i] = 1
		for _, w := range values {
			switch cmp.Compare(w, v) {
			case -1:
				out[i] += 2
			case 0:
				out[i]++
			}
		}
	}
	return out
}

// tenths turns whole numbers into readings with one decimal, as they are typed.
func tenths(t testing.TB, values []int) Sample {
	t.Helper()
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = float64(v) / 10
	}
	return mustSample(t, out)
}

// drawReadings draws whole readings, coarse ones with many ties or fine ones.
func drawReadings(t *rapid.T, name string, least, most int) []int {
	top := rapid.SampledFrom([]int{2, 9, 200, 1_000_000}).Draw(t, name+" range")
	return rapid.SliceOfN(rapid.IntRange(-top, top), least, most).Draw(t, name)
}

func TestPermutationAgainstListing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		x, y := drawReadings(rt, "x", 1, 6), drawReadings(rt, "y", 1, 6)
		all := append(slices.Clone(x), y...)
		want := listDeal(all, len(x))
		e, err := Permutation(tenths(t, x), tenths(t, y), Sampling{})
		if err != nil {
			rt.Fatal(err)
		}
		want.compare(rt, "permutation", e)
		r, err := RankSum(tenths(t, x), tenths(t, y), 0.95, Sampling{})
		if err != nil {
			rt.Fatal(err)
		}
		listDeal(plainRanks(all), len(x)).compare(rt, "rank sum", r.Exact)
		b, err := BlockedPermutation([]BlockPair{{X: tenths(t, x), Y: tenths(t, y)}}, Sampling{})
		if err != nil {
			rt.Fatal(err)
		}
		want.compare(rt, "one block", b.Exact)
	})
}

// Both ways to count a distribution must give the same one.
func TestCountingEngines(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		drawn := drawReadings(rt, "values", 1, 12)
		values := make([]int64, len(drawn))
		for i, v := range drawn {
			values[i] = int64(max(v, -v))
		}
		size := rapid.IntRange(anySize, len(values)).Draw(rt, "size")
		c := choice{values: values, size: size}
		grid, ok := c.onGrid(5_000_000)
		if !ok {
			return // too fine for the grid; the listing tests see such values
		}
		byGrid, byHalves := grid.count(), c.halves()
		for _, sum := range []int64{math.MinInt32, -1, 0, 1, 5, 40, 1000, 1_000_001, math.MaxInt32} {
			if a, b := byGrid.atMost(sum), byHalves.atMost(sum); a != b {
				rt.Errorf("at most %d: %v by the grid, %v by halves", sum, a, b)
			}
		}
		if got := byHalves.atMost(math.MaxInt64 / 4).big(); got.Cmp(c.total()) != 0 {
			rt.Errorf("%v subsets, want %v", got, c.total())
		}
	})
}

func TestSignFlipAgainstListing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := drawReadings(rt, "differences", 1, 10)
		e, err := SignFlip(tenths(t, d), Sampling{})
		if err != nil {
			rt.Fatal(err)
		}
		listFlip(d).compare(rt, "sign flip", e)

		var sizes, signs []int
		for _, v := range d {
			if v != 0 {
				sizes, signs = append(sizes, max(v, -v)), append(signs, cmp.Compare(v, 0))
			}
		}
		ranks := plainRanks(sizes)
		for i := range ranks {
			ranks[i] *= signs[i]
		}
		s, err := SignedRank(tenths(t, d), 0.95, Sampling{})
		if err != nil {
			rt.Fatal(err)
		}
		listFlip(ranks).compare(rt, "signed rank", s.Exact)
		g, err := Sign(tenths(t, d))
		if err != nil {
			rt.Fatal(err)
		}
		listFlip(signs).compare(rt, "sign", g.Exact)
	})
}
