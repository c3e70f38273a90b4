package stats

import (
	"cmp"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// orders calls f with every arrangement in which each row is put in each of its
// k! orders.
func orders(rows [][]float64, f func(rows [][]float64)) {
	work := make([][]float64, len(rows))
	var fill func(i int)
	fill = func(i int) {
		if i == len(rows) {
			f(work)
			return
		}
		permute(slices.Clone(rows[i]), 0, func(row []float64) {
			work[i] = row
			fill(i + 1)
		})
	}
	fill(0)
}

// permute calls f with every order of row[at:], equal values as often as they come.
func permute(row []float64, at int, f func([]float64)) {
	if at == len(row) {
		f(row)
		return
	}
	for i := at; i < len(row); i++ {
		row[at], row[i] = row[i], row[at]
		permute(row, at+1, f)
		row[at], row[i] = row[i], row[at]
	}
}

// plainFriedman orders panels as Friedman's statistic does: the squares of the
// rank sums, from doubled midranks by counting.
func plainFriedman(rows [][]float64) int {
	sums := make([]int, len(rows[0]))
	for _, row := range rows {
		for j, r := range plainRanksOf(row) {
			sums[j] += r
		}
	}
	spread := 0
	for _, s := range sums {
		spread += s * s
	}
	return spread
}

func plainRanksOf(row []float64) []int {
	whole := make([]int, len(row))
	for i, x := range row {
		whole[i] = int(x)
	}
	return plainRanks(whole)
}

func plainPage(rows [][]float64) int {
	l := 0
	for _, row := range rows {
		for j, r := range plainRanksOf(row) {
			l += (j + 1) * r
		}
	}
	return l
}

// plainPasses are the squares of the column sums, which order tables as Q does.
func plainPasses(rows [][]float64) int {
	spread := 0
	for j := range rows[0] {
		sum := 0
		for _, row := range rows {
			sum += int(row[j])
		}
		spread += sum * sum
	}
	return spread
}

// listOrders counts the arrangements with a statistic at least as large.
func listOrders(rows [][]float64, statistic func([][]float64) int) tally {
	observed := statistic(rows)
	c := tally{}
	orders(rows, func(rows [][]float64) {
		c.total++
		if statistic(rows) >= observed {
			c.two++
		}
	})
	return c
}

func (c tally) compareShare(t interface {
	Helper()
	Errorf(string, ...any)
}, name string, e Exact) {
	t.Helper()
	if e.Count.Int64() != int64(c.two) || e.Total.Int64() != int64(c.total) || e.Greater != e.P || e.P != float64(c.two)/float64(c.total) {
		t.Errorf("%s: got %v of %v (p %g, %g), want %d of %d", name, e.Count, e.Total, e.P, e.Greater, c.two, c.total)
	}
}

func TestPanelsAgainstListing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		size := rapid.SampledFrom([][2]int{{2, 2}, {5, 2}, {1, 3}, {3, 3}, {4, 3}, {1, 4}, {2, 4}}).Draw(rt, "rows and columns")
		top := rapid.SampledFrom([]int{1, 3, 9}).Draw(rt, "scale")
		rows := drawPanel(rt, size, top)
		f, err := Friedman(rows, Sampling{})
		if err != nil {
			rt.Fatal(err)
		}
		listOrders(rows, plainFriedman).compareShare(rt, "Friedman", f.Exact)
		p, err := Page(rows, Sampling{})
		if err != nil {
			rt.Fatal(err)
		}
		listOrders(rows, plainPage).compareShare(rt, "Page", p.Exact)
		if top > 1 {
			return
		}
		q, err := CochranQ(rows, Sampling{})
		if err != nil {
			rt.Fatal(err)
		}
		listOrders(rows, plainPasses).compareShare(rt, "Cochran", q.Exact)
	})
}

func drawPanel(rt *rapid.T, size [2]int, top int) [][]float64 {
	rows := make([][]float64, size[0])
	for i := range rows {
		for _, v := range rapid.SliceOfN(rapid.IntRange(0, top), size[1], size[1]).Draw(rt, "row") {
			rows[i] = append(rows[i], float64(v))
		}
	}
	return rows
}

// Kruskal-Wallis against all orders of all readings, dealt out in turn; every
// grouping comes up equally often among them.
func TestKruskalAgainstListing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		sizes := rapid.SampledFrom([][]int{{1, 1}, {2, 2}, {1, 2, 3}, {2, 2, 2}, {3, 3}, {1, 1, 1, 2}, {4, 2}}).Draw(rt, "sizes")
		n := 0
		for _, s := range sizes {
			n += s
		}
		top := rapid.SampledFrom([]int{1, 4, 100}).Draw(rt, "range")
		values := rapid.SliceOfN(rapid.IntRange(0, top), n, n).Draw(rt, "values")
		var groups []Sample
		next := 0
		for _, s := range sizes {
			groups = append(groups, tenths(t, values[next:next+s]))
			next += s
		}
		got, err := KruskalWallis(groups, Sampling{})
		if err != nil {
			rt.Fatal(err)
		}
		ranks := make([]float64, n)
		for i, r := range plainRanks(values) {
			ranks[i] = float64(r)
		}
		h := func(rows [][]float64) int { return plainKruskal(rows[0], sizes) }
		want := listOrders([][]float64{ranks}, h)
		if got.Exact.P != float64(want.two)/float64(want.total) {
			rt.Errorf("p is %g, want %d of %d", got.Exact.P, want.two, want.total)
		}
		if got.Defined != (slices.Min(values) != slices.Max(values)) {
			rt.Errorf("defined: %v", got.Defined)
		}
	})
}

// plainKruskal is 12-fold Σ (rank sum)²/size; 12 holds every size that is drawn.
func plainKruskal(ranks []float64, sizes []int) int {
	spread, next := 0, 0
	for _, size := range sizes {
		sum := 0
		for _, r := range ranks[next : next+size] {
			sum += int(r)
		}
		spread += 12 / size * sum * sum
		next += size
	}
	return spread
}

// Blocks of different sizes against the listing of all deals within them.
func TestBlocksAgainstListing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		count := rapid.IntRange(1, 3).Draw(rt, "blocks")
		var blocks []BlockPair
		var whole [][2][]int
		for range count {
			x, y := drawReadings(rt, "x", 1, 2), drawReadings(rt, "y", 1, 3)
			blocks = append(blocks, BlockPair{X: tenths(t, x), Y: tenths(t, y)})
			whole = append(whole, [2][]int{x, y})
		}
		got, err := BlockedPermutation(blocks, Sampling{})
		if err != nil {
			rt.Fatal(err)
		}
		listBlocks(whole).compare(rt, "blocks", got.Exact)
	})
}

// listBlocks works with 12-fold differences of means; 12 holds every size drawn.
func listBlocks(blocks [][2][]int) tally {
	observed := 0
	var deals [][]int // the differences that each block's deals have
	for _, b := range blocks {
		m, n := len(b[0]), len(b[1])
		all := append(slices.Clone(b[0]), b[1]...)
		difference := func(in []bool) int {
			first := sumOf(all, in)
			rest := -first
			for _, v := range all {
				rest += v
			}
			return 12/m*first - 12/n*rest
		}
		var differences []int
		subsets(m+n, m, func(in []bool) {
			differences = append(differences, difference(in))
		})
		start := make([]bool, m+n)
		for i := range m {
			start[i] = true
		}
		observed += difference(start)
		deals = append(deals, differences)
	}
	far := func(sum int) int { return max(sum, -sum) }
	c := tally{}
	var fill func(i, sum int)
	fill = func(i, sum int) {
		if i == len(deals) {
			c.add(sum, observed, far)
			return
		}
		for _, d := range deals[i] {
			fill(i+1, sum+d)
		}
	}
	fill(0, 0)
	return c
}

// The stratified exact test against the listing of all ways to say which pieces
// passed within each block.
func TestConditionalAgainstListing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		blocks := drawBlocks(rt, 4)
		observed := 0
		ways := map[int]int{0: 1}
		for _, b := range blocks {
			next := map[int]int{}
			for s, n := range listFisher(b.N1, b.N2)[b.X1+b.X2] {
				for sum, before := range ways {
					next[sum+s] += before * n
				}
			}
			ways = next
			observed += b.X1
		}
		want := tally{}
		for sum, n := range ways {
			want.total += n
			if n <= ways[observed] {
				want.two += n
			}
			if cmp.Compare(sum, observed) <= 0 {
				want.less += n
			}
			if cmp.Compare(sum, observed) >= 0 {
				want.greater += n
			}
		}
		c, err := ConditionalTest(blocks, 0.9)
		if err != nil {
			rt.Fatal(err)
		}
		want.compare(rt, "blocks", c.Exact)
	})
}

func drawBlocks(rt *rapid.T, most int) []Block {
	var blocks []Block
	for range rapid.IntRange(1, 3).Draw(rt, "blocks") {
		n1, n2 := rapid.IntRange(1, most).Draw(rt, "n1"), rapid.IntRange(1, most).Draw(rt, "n2")
		blocks = append(blocks, Block{
			X1: rapid.IntRange(0, n1).Draw(rt, "x1"), N1: n1,
			X2: rapid.IntRange(0, n2).Draw(rt, "x2"), N2: n2,
		})
	}
	return blocks
}
