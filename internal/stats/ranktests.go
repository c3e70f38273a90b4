package stats

import (
	"errors"
	"math/big"
	"slices"
)

// RankTest is a test on ranks with the shift that goes with it.
type RankTest struct {
	Exact
	Statistic float64 // see the test
	N         int     // what was ranked: readings, or differences other than 0
	Estimate  float64 // the Hodges-Lehmann shift

	// Interval holds the shifts that the test does not reject. Attained is its
	// real level, at least the level asked for. HasInterval is false where so few
	// readings cannot reach that level, however wide.
	Interval    Interval
	Attained    float64
	HasInterval bool
}

// RankSum is the exact rank-sum test. Statistic is the rank sum of x less its
// smallest possible value, m(m+1)/2: the pairs in which x is the larger. Ties get
// midranks, and the arrangements of those very midranks are counted; two-sided,
// those at least as far from the mean. Estimate is the median of all differences
// x − y. The interval is that of untied ranks.
// Source: Wilcoxon 1945, Biometrics Bull. 1:80; Mann & Whitney 1947, Ann. Math.
// Stat. 18:50; Hollander & Wolfe 1973, ch. 4.
func RankSum(x, y Sample, level float64, o Sampling) (RankTest, error) {
	if x.N() == 0 || y.N() == 0 {
		return RankTest{}, errors.New("a rank-sum test needs a reading on both sides")
	}
	if err := checkLevel(level); err != nil {
		return RankTest{}, err
	}
	d := asDecimals(append(x.Values(), y.xs...))
	ranks, _ := doubledRanks(d.ints)
	m := x.N()
	sum := int64(0)
	for _, r := range ranks[:m] {
		sum += r
	}
	shifts := pairShifts(d.ints[:m], d.ints[m:])
	t := RankTest{
		Exact:     deal(ranks, m, o),
		Statistic: float64(sum-int64(m)*int64(m+1)) / 2,
		N:         len(ranks),
		Estimate:  d.float(middle(shifts), 2),
	}
	t.confine(rankNull{
		choice: choice{values: countUp(len(ranks)), size: m},
		offset: int64(m) * int64(m+1) / 2,
		shifts: shifts,
		number: func(shift int64) float64 { return d.float(shift, 1) },
	}, level, o)
	return t, nil
}

// SignedRank is the exact signed-rank test of paired differences. Differences of
// 0 are dropped before ranking (Wilcoxon, not Pratt), equal sizes get midranks,
// and all signs of those midranks are counted. Statistic is the sum of the ranks
// of the positive differences. Estimate is the median of the means of all pairs
// of differences, zeros kept. Differences that are all 0 give p = 1.
// Source: Wilcoxon 1945, Biometrics Bull. 1:80; Hollander & Wolfe 1973, ch. 3.
func SignedRank(differences Sample, level float64, o Sampling) (RankTest, error) {
	if differences.N() == 0 {
		return RankTest{}, errors.New("a signed-rank test needs at least one difference")
	}
	if err := checkLevel(level); err != nil {
		return RankTest{}, err
	}
	d := asDecimals(differences.xs)
	var sizes, signed []int64
	for _, v := range d.ints {
		if v != 0 {
			sizes = append(sizes, max(v, -v))
			signed = append(signed, v)
		}
	}
	ranks, _ := doubledRanks(sizes)
	statistic := int64(0)
	for i, v := range signed {
		if v < 0 {
			ranks[i] = -ranks[i]
		} else {
			statistic += ranks[i]
		}
	}
	shifts := walsh(d.ints)
	t := RankTest{
		Exact:     flip(ranks, o),
		Statistic: float64(statistic) / 2,
		N:         len(sizes),
		Estimate:  d.float(middle(shifts), 4),
	}
	t.confine(rankNull{
		choice: choice{values: countUp(len(d.ints)), size: anySize},
		shifts: shifts,
		number: func(shift int64) float64 { return d.float(shift, 2) },
	}, level, o)
	return t, nil
}

// rankNull is the distribution of a statistic of untied ranks, with the shifts that
// it counts.
type rankNull struct {
	choice
	offset int64               // the rank sum that is a statistic of 0
	shifts []int64             // sorted, as whole numbers
	number func(int64) float64 // a shift as a reading
}

// confine finds the interval: with q the smallest statistic whose lower tail
// reaches (1 − level)/2, and at least 1, the limits are the q-th shift from either
// end.
func (t *RankTest) confine(null rankNull, level float64, o Sampling) {
	s, ok := null.distribution(o.work())
	if !ok {
		return
	}
	total := null.total()
	below := func(q int) float64 { // the probability of a statistic below q
		return ratio(s.atMost(null.offset+int64(q)-1).big(), total)
	}
	tail := (1 - level) / 2 * (1 + 1e-12)
	last := len(null.shifts)
	q := 1
	for q < last && below(q+1) <= tail {
		q++
	}
	if below(q) > tail || q > last-q+1 {
		return
	}
	t.Interval = Interval{Low: null.number(null.shifts[q-1]), High: null.number(null.shifts[last-q])}
	t.Attained = 1 - 2*below(q)
	t.HasInterval = true
}

// pairShifts are all differences x − y, sorted.
func pairShifts(xs, ys []int64) []int64 {
	out := make([]int64, 0, len(xs)*len(ys))
	for _, x := range xs {
		for _, y := range ys {
			out = append(out, x-y)
		}
	}
	slices.Sort(out)
	return out
}

// walsh are the sums of all pairs of differences, each with itself too, sorted.
func walsh(ds []int64) []int64 {
	out := make([]int64, 0, len(ds)*(len(ds)+1)/2)
	for i, a := range ds {
		for _, b := range ds[i:] {
			out = append(out, a+b)
		}
	}
	slices.Sort(out)
	return out
}

// middle is twice the median of a sorted list.
func middle(sorted []int64) int64 {
	n := len(sorted)
	return sorted[(n-1)/2] + sorted[n/2]
}

// countUp is 1, 2, … n.
func countUp(n int) []int64 {
	out := make([]int64, n)
	for i := range out {
		out[i] = int64(i + 1)
	}
	return out
}

// SignTest is the exact sign test of paired differences.
type SignTest struct {
	Exact
	Positive int     // differences above 0
	N        int     // differences other than 0
	Median   float64 // of all differences
}

// Sign counts how many differences are above 0 among those that are not 0 and
// compares with tosses of a coin. Differences that are all 0 give p = 1.
// Source: Arbuthnott 1710, Phil. Trans. 27:186; Conover 1999, s. 3.4.
func Sign(differences Sample) (SignTest, error) {
	if differences.N() == 0 {
		return SignTest{}, errors.New("a sign test needs at least one difference")
	}
	t := SignTest{Median: differences.Median()}
	for _, v := range differences.xs {
		if v > 0 {
			t.Positive++
		}
		if v != 0 {
			t.N++
		}
	}
	t.Exact = guesses(t.Positive, t.N, 1, 2)
	return t, nil
}

// guesses is the exact binomial test of x of n right answers, each right with
// probability num/den by guessing. Of the denⁿ equally likely runs of guesses,
// C(n,k)·numᵏ·(den−num)ⁿ⁻ᵏ have k right. Two-sided, the runs count that are no more
// likely than the observed one.
func guesses(x, n int, num, den int64) Exact {
	ways := make([]*big.Int, n+1)
	ways[0] = new(big.Int).Exp(big.NewInt(den-num), big.NewInt(int64(n)), nil)
	for k := range n {
		// From its neighbour; the division leaves no rest.
		way := new(big.Int).Mul(ways[k], big.NewInt(int64(n-k)*num))
		ways[k+1] = way.Quo(way, big.NewInt(int64(k+1)*(den-num)))
	}
	return conditional(ways, x)
}

// HodgesLehmann is the median of all differences x − y.
// Source: Hodges & Lehmann 1963, Ann. Math. Stat. 34:598.
func HodgesLehmann(x, y Sample) (float64, error) {
	if x.N() == 0 || y.N() == 0 {
		return 0, errors.New("a shift needs a reading on both sides")
	}
	d := asDecimals(append(x.Values(), y.xs...))
	return d.float(middle(pairShifts(d.ints[:x.N()], d.ints[x.N():])), 2), nil
}
