package stats

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
)

// PanelTest is a test of several samples judged by the same assessors.
type PanelTest struct {
	// Statistic is the usual one, corrected for ties; DF its degrees of freedom and
	// PAsymptotic the chi-squared p. They are not defined where every assessor ties
	// everything (Defined is false); the exact p is then 1.
	Statistic, PAsymptotic float64
	DF                     int
	Defined                bool

	RankSums []float64 // by sample; for Cochran's Q the successes
	KendallW float64   // agreement of the assessors, 0 to 1; Friedman only

	// Exact counts the orders within each assessor's row: P and Greater are the
	// share with a statistic at least as large. Less has no meaning here.
	Exact Exact
}

// Friedman tests whether samples differ, from the scores or ranks that each
// assessor (row) gave to each sample (column). Scores are turned into midranks
// within the row. Source: Friedman 1937, J. Am. Stat. Assoc. 32:675; Kendall &
// Babington Smith 1939 for W; Hollander & Wolfe 1973, ch. 7.
func Friedman(rows [][]float64, o Sampling) (PanelTest, error) {
	if err := checkRows(rows); err != nil {
		return PanelTest{}, err
	}
	ranks, loss := rankRows(rows)
	n, k := float64(len(rows)), float64(len(rows[0]))
	t := PanelTest{DF: len(rows[0]) - 1}
	// With doubled ranks a column is expected to sum to n(k+1).
	centre := int64(len(rows) * (len(rows[0]) + 1))
	columns := columnSums(ranks)
	spread := squares(columns, 1, centre)
	for _, c := range columns {
		t.RankSums = append(t.RankSums, float64(c)/2)
	}
	if scale := n*k*(k+1) - loss/(k-1); scale > 0 {
		t.Statistic = 12 * spread.float() / 4 / scale
		t.PAsymptotic = chiUpper(t.Statistic, k-1)
		t.KendallW = t.Statistic / (n * (k - 1))
		t.Defined = true
	}
	t.Exact = within(ranks, func(columns []int64) bool {
		return !squares(columns, 1, centre).below(spread)
	}, o)
	return t, nil
}

// CochranQ tests whether samples pass equally often, from the passes (1) and
// failures (0) of each assessor (row) with each sample (column).
// Source: Cochran 1950, Biometrika 37:256.
func CochranQ(rows [][]float64, o Sampling) (PanelTest, error) {
	if err := checkRows(rows); err != nil {
		return PanelTest{}, err
	}
	whole := make([][]int64, len(rows))
	all, square := int64(0), 0.0
	for i, row := range rows {
		passes := int64(0)
		for _, x := range row {
			if x != 0 && x != 1 {
				return PanelTest{}, fmt.Errorf("row %d holds %g (only 1 for a pass and 0 for a failure)", i+1, x)
			}
			whole[i] = append(whole[i], int64(x))
			passes += int64(x)
		}
		all += passes
		square += float64(passes * passes)
	}
	k := len(rows[0])
	columns := columnSums(whole)
	spread := squares(columns, int64(k), all)
	t := PanelTest{DF: k - 1}
	for _, c := range columns {
		t.RankSums = append(t.RankSums, float64(c))
	}
	if scale := float64(k)*float64(all) - square; scale > 0 {
		t.Statistic = float64(k-1) / float64(k) * spread.float() / scale
		t.PAsymptotic = chiUpper(t.Statistic, float64(k-1))
		t.Defined = true
	}
	t.Exact = within(whole, func(columns []int64) bool {
		return !squares(columns, int64(k), all).below(spread)
	}, o)
	return t, nil
}

// checkRows refuses a panel without rows, with fewer than two samples, with rows
// of different lengths, or with anything but ordinary numbers.
func checkRows(rows [][]float64) error {
	if len(rows) == 0 {
		return errors.New("a panel without assessors (there must be at least one)")
	}
	if len(rows) > mostPieces || len(rows[0]) > mostPieces {
		return fmt.Errorf("a panel of %d by %d (at most %d either way)", len(rows), len(rows[0]), mostPieces)
	}
	if len(rows[0]) < 2 {
		return errors.New("a panel needs at least two samples to compare")
	}
	for i, row := range rows {
		if len(row) != len(rows[0]) {
			return fmt.Errorf("row %d has %d values and the first row %d (every assessor must have judged every sample)",
				i+1, len(row), len(rows[0]))
		}
		if _, err := NewSample(row); err != nil {
			return fmt.Errorf("row %d: %w", i+1, err)
		}
	}
	return nil
}

// rankRows ranks within each row, doubled, and adds up the loss to ties.
func rankRows(rows [][]float64) (ranks [][]int64, loss float64) {
	for _, row := range rows {
		r, ties := doubledRanks(row)
		ranks = append(ranks, r)
		loss += tieLoss(ties)
	}
	return ranks, loss
}

func columnSums(rows [][]int64) []int64 {
	sums := make([]int64, len(rows[0]))
	for _, row := range rows {
		for j, v := range row {
			sums[j] += v
		}
	}
	return sums
}

// squares is Σ (scale·column − centre)².
func squares(columns []int64, scale, centre int64) count {
	sum := count{}
	for _, c := range columns {
		off := scale*c - centre
		size := uint64(max(off, -off))
		sum = sum.plus(count{lo: size}.times(count{lo: size}))
	}
	return sum
}

func (a count) below(b count) bool { return a.hi < b.hi || a.hi == b.hi && a.lo < b.lo }

func (a count) float() float64 { return float64(a.hi)*math.Exp2(64) + float64(a.lo) }

// mostColumns is how many columns are counted exactly; 8! orders a row are plenty.
const mostColumns = 8

// columnTotals are sums by column, sorted, with unused places 0.
type columnTotals [mostColumns]int64

// within counts the orders within all rows whose column sums are extreme. The
// extremity must not depend on the order of the columns.
func within(rows [][]int64, extreme func(columns []int64) bool, o Sampling) Exact {
	k := len(rows[0])
	if totals, ok := blockTotals(rows, o.work()); ok {
		hit, all := count{}, count{}
		for columns, n := range totals {
			all = all.plus(n)
			if extreme(columns[:k]) {
				hit = hit.plus(n)
			}
		}
		return oneSided(hit.big(), all.big())
	}
	shuffled := make([][]int64, len(rows))
	for i, row := range rows {
		shuffled[i] = slices.Clone(row)
	}
	return o.drawn(func(r *rand.Rand) (two, less, greater bool) {
		for _, row := range shuffled {
			r.Shuffle(k, func(i, j int) { row[i], row[j] = row[j], row[i] })
		}
		hit := extreme(columnSums(shuffled))
		return hit, false, hit
	})
}

// oneSided is a test whose statistic is large for any kind of difference.
func oneSided(hit, all *big.Int) Exact {
	return exactOf(hit, new(big.Int).Set(all), new(big.Int).Set(hit), all)
}

// blockTotals is the distribution of the column sums when every row is put in
// each of its k! orders. All columns are alike then, so that only the sorted sums
// need to be kept. It is false where counting takes more than work steps.
func blockTotals(rows [][]int64, work int) (map[columnTotals]count, bool) {
	k := len(rows[0])
	if k > mostColumns || !fits(new(big.Int).Exp(big.NewInt(int64(factorial(k))), big.NewInt(int64(len(rows))), nil)) {
		return nil, false
	}
	totals, next := map[columnTotals]count{{}: one()}, map[columnTotals]count{}
	for _, row := range rows {
		orders, weight := distinctOrders(row)
		if work -= mapStep * len(orders) * len(totals); work < 0 {
			return nil, false
		}
		clear(next)
		for columns, n := range totals {
			n = n.times(weight)
			for _, order := range orders {
				sum := columns
				for j, v := range order {
					sum[j] += v
				}
				slices.Sort(sum[:k])
				next[sum] = next[sum].plus(n)
			}
		}
		totals, next = next, totals // and the room of the one is used again
	}
	return totals, true
}

// distinctOrders lists the different orders of a row, and how many of its k!
// permutations lead to each.
func distinctOrders(row []int64) (orders [][]int64, weight count) {
	sorted := slices.Clone(row)
	slices.Sort(sorted)
	same := 1
	n := uint64(1)
	for i := 1; i < len(sorted); i++ {
		if sorted[i] == sorted[i-1] {
			same++
		} else {
			same = 1
		}
		n *= uint64(same)
	}
	for {
		orders = append(orders, slices.Clone(sorted))
		if !nextOrder(sorted) {
			return orders, count{lo: n}
		}
	}
}

// nextOrder turns a list into the next one in the order of the dictionary, and is
// false at the last.
func nextOrder(list []int64) bool {
	i := len(list) - 2
	for i >= 0 && list[i] >= list[i+1] {
		i--
	}
	if i < 0 {
		return false
	}
	j := len(list) - 1
	for list[j] <= list[i] {
		j--
	}
	list[i], list[j] = list[j], list[i]
	slices.Reverse(list[i+1:])
	return true
}
