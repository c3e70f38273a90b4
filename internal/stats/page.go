package stats

import (
	"fmt"
	"maps"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
)

// PageTest is a test for a trend that was predicted.
type PageTest struct {
	L           float64 // Σ column place × rank sum
	Z           float64 // L in standard deviations, without tie correction
	PAsymptotic float64 // one-sided, from Z
	Exact       Exact   // one-sided: P and Greater are the share of orders with L at least as large
}

// Page tests whether scores rise along the columns, in the order that was
// predicted before. Rows are assessors; scores are turned into midranks within
// the row, and ties stay as they are in the exact count.
// Source: Page 1963, J. Am. Stat. Assoc. 58:216.
func Page(rows [][]float64, o Sampling) (PageTest, error) {
	if err := checkRows(rows); err != nil {
		return PageTest{}, err
	}
	ranks, _ := rankRows(rows)
	n, k := float64(len(rows)), float64(len(rows[0]))
	observed := int64(0)
	for _, row := range ranks {
		observed += trend(row)
	}
	t := PageTest{L: float64(observed) / 2}
	variance := n * k * k * (k + 1) * (k*k - 1) / 144
	t.Z = (t.L - n*k*(k+1)*(k+1)/4) / math.Sqrt(variance)
	t.PAsymptotic = normalUpper(t.Z)
	if dist, ok := trendDistribution(ranks, o.work()); ok {
		total := dist.total()
		hit := new(big.Int).Sub(total, dist.atMost(observed-1).big())
		t.Exact = exactOf(hit, dist.atMost(observed).big(), new(big.Int).Set(hit), total)
		return t, nil
	}
	t.Exact = o.drawn(func(r *rand.Rand) (two, less, greater bool) {
		sum := int64(0)
		for _, row := range ranks {
			r.Shuffle(len(row), func(i, j int) { row[i], row[j] = row[j], row[i] })
			sum += trend(row)
		}
		return sum >= observed, sum <= observed, sum >= observed
	})
	return t, nil
}

// trend is Σ place × value of a row.
func trend(row []int64) int64 {
	sum := int64(0)
	for j, v := range row {
		sum += int64(j+1) * v
	}
	return sum
}

// PageCritical is the smallest L that n assessors with k samples and no ties reach
// with a probability of at most alpha. It is false where none does.
func PageCritical(k, n int, alpha float64) (int, bool, error) {
	dist, err := untiedTrend(k, n, alpha)
	if err != nil {
		return 0, false, err
	}
	total := dist.total()
	for i := range dist.values {
		above := new(big.Int).Sub(total, dist.atMost(dist.values[i]-1).big())
		if ratio(above, total) <= alpha {
			return int(dist.values[i]), true, nil
		}
	}
	return 0, false, nil
}

func untiedTrend(k, n int, alpha float64) (spectrum, error) {
	if err := checkPanel(k, n, alpha); err != nil {
		return spectrum{}, err
	}
	row := countUp(k)
	dist, ok := trendDistribution(slices.Repeat([][]int64{row}, n), Sampling{}.work())
	if !ok {
		return spectrum{}, tooLarge(k, n)
	}
	return dist, nil
}

// checkPanel refuses sizes without a critical number.
func checkPanel(k, n int, alpha float64) error {
	if k < 2 || k > mostColumns || n < 1 || n > 1000 {
		return fmt.Errorf("%d samples and %d assessors (2 to %d samples, 1 to 1000 assessors)", k, n, mostColumns)
	}
	return checkAlpha(alpha)
}

func tooLarge(k, n int) error {
	return fmt.Errorf("%d samples and %d assessors are too many to count exactly", k, n)
}

// trendDistribution is the distribution of Page's L over all orders in all rows.
func trendDistribution(rows [][]int64, work int) (spectrum, bool) {
	k := len(rows[0])
	if k > mostColumns || !fits(new(big.Int).Exp(big.NewInt(int64(factorial(k))), big.NewInt(int64(len(rows))), nil)) {
		return spectrum{}, false
	}
	ways, next := map[int64]count{0: one()}, map[int64]count{}
	for _, row := range rows {
		orders, weight := distinctOrders(row)
		one := map[int64]count{}
		for _, order := range orders {
			l := trend(order)
			one[l] = one[l].plus(weight)
		}
		work -= mapStep * (len(orders) + len(ways)*len(one))
		if work < 0 {
			return spectrum{}, false
		}
		convolve(next, ways, one)
		ways, next = next, ways // and the room of the one is used again
	}
	return spectrumOf(ways), true
}

// convolve has out be the distribution of the sum of two independent parts, which are others.
func convolve(out, a, b map[int64]count) {
	clear(out)
	for s, n := range a {
		for t, m := range b {
			out[s+t] = out[s+t].plus(n.times(m))
		}
	}
}

// pair is the distribution of the sum of two independent parts, without every sum written
// out: at most t are the ways in which the rest is at most t less the one.
type pair struct {
	one  map[int64]count
	rest spectrum
}

// pairOf takes the parts in either order.
func pairOf(a, b map[int64]count) pair {
	if len(a) > len(b) {
		a, b = b, a
	}
	return pair{a, spectrumOf(b)}
}

func (p pair) atMost(t int64) count {
	var sum count
	for value, ways := range p.one {
		sum = sum.plus(ways.times(p.rest.atMost(t - value)))
	}
	return sum
}

// spectrum is a distribution by its values, sorted, and the counts up to each.
type spectrum struct {
	values     []int64
	cumulative []count
}

func spectrumOf(ways map[int64]count) spectrum {
	s := spectrum{values: slices.Sorted(maps.Keys(ways))}
	sum := count{}
	for _, v := range s.values {
		sum = sum.plus(ways[v])
		s.cumulative = append(s.cumulative, sum)
	}
	return s
}

func (s spectrum) atMost(t int64) count {
	i, found := slices.BinarySearch(s.values, t)
	if !found {
		i--
	}
	if i < 0 {
		return count{}
	}
	return s.cumulative[i]
}

func (s spectrum) total() *big.Int { return s.cumulative[len(s.cumulative)-1].big() }
