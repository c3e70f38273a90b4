package quantity_test

import (
	"testing"

	. "sidebatch.example/sidebatch/internal/quantity"
)

// stepsPerTsp is the grid of the exhaustive search: every default measure and every
// amount in it is a whole number of 1/48 tsp.
const stepsPerTsp = 48

// exhaustive returns the fewest measures for every number of 1/48 tsp up to limit, and the
// largest measure that such a way may begin with, by trying them all.
func exhaustive(sizes []int, limit int) (fewest, largest []int) {
	fewest, largest = make([]int, limit+1), make([]int, limit+1)
	for i := 1; i <= limit; i++ {
		fewest[i] = -1
		for _, size := range sizes {
			if i < size || fewest[i-size] < 0 {
				continue
			}
			n, with := fewest[i-size]+1, max(size, largest[i-size])
			if fewest[i] < 0 || n < fewest[i] {
				fewest[i], largest[i] = n, with
			} else if n == fewest[i] {
				largest[i] = max(largest[i], with)
			}
		}
	}
	return fewest, largest
}

// pick is the rule in the documentation, said a second time: exactly, else fewest within
// 2 %, else nearest; of equal ones the nearer, then the larger.
func pick(fewest []int, want int) int {
	if fewest[want] >= 0 {
		return want
	}
	best := -1
	for i := range fewest {
		if fewest[i] < 0 {
			continue
		}
		if best < 0 || better(fewest, want, i, best) {
			best = i
		}
	}
	return best
}

func better(fewest []int, want, i, j int) bool {
	off := func(k int) int { return max(k-want, want-k) }
	close := func(k int) bool { return 100*off(k) <= 2*want }
	if close(i) != close(j) {
		return close(i)
	}
	if close(i) && fewest[i] != fewest[j] {
		return fewest[i] < fewest[j]
	}
	return off(i) < off(j) || off(i) == off(j) && i > j
}

func TestFewestScoops(t *testing.T) {
	poor := Instruments{Spoons: []Amount{amount(t, "1/2 tsp"), amount(t, "1 tbsp")}, Cups: []Amount{amount(t, "1/3 cup")}}
	awkward := Instruments{Spoons: []Amount{amount(t, "5 tsp")}, Cups: []Amount{amount(t, "7 tsp")}}
	cupOnly := Instruments{Spoons: []Amount{}, Cups: []Amount{amount(t, "1 cup"), amount(t, "1/3 cup")}}
	for _, c := range []struct {
		name  string
		in    Instruments
		cups  int
		every int // steps of 1/48 tsp
	}{
		{"default set, every 1/48 tsp", Instruments{}, 4, 1},
		{"default set, large", Instruments{}, 20, 101},
		{"poor set", poor, 4, 7},
		{"awkward set", awkward, 4, 11},
		{"cups only", cupOnly, 20, 97},
	} {
		t.Run(c.name, func(t *testing.T) {
			var sizes []int
			full := c.in.WithDefaults()
			for _, m := range append(append([]Amount(nil), full.Spoons...), full.Cups...) {
				sizes = append(sizes, steps(t, m))
			}
			top := c.cups * 48 * stepsPerTsp
			fewest, largest := exhaustive(sizes, top+top/10)
			if testing.Short() {
				c.every *= 13 // shares no divisor with the steps of the measures
			}
			for want := 1; want <= top; want += c.every {
				checkFewest(t, c.in, fewest, largest, want)
			}
		})
	}
}

func steps(t *testing.T, a Amount) int {
	t.Helper()
	spoons, err := a.In(Teaspoon)
	if err != nil {
		t.Fatal(err)
	}
	n, ok := spoons.Low().Mul(Int(stepsPerTsp)).Int64()
	if !ok {
		t.Fatalf("%v is no whole number of 1/48 tsp", a)
	}
	return int(n)
}

func checkFewest(t *testing.T, in Instruments, fewest, largest []int, want int) {
	t.Helper()
	a := New(Ratio(int64(want), stepsPerTsp), Teaspoon)
	scoops, residue := in.Scoops(a, USSystem)
	count, total, previous := 0, 0, 1<<30
	for _, s := range scoops {
		size := steps(t, s.Measure)
		if size >= previous || s.Times < 1 {
			t.Fatalf("%v: %v is not largest first", a, scoops)
		}
		count, total, previous = count+s.Times, total+s.Times*size, size
	}
	best := pick(fewest, want)
	if total != best || count != fewest[best] {
		t.Fatalf("%v: %d scoops for %d steps, want %d scoops for %d", a, count, total, fewest[best], best)
	}
	if len(scoops) > 0 && steps(t, scoops[0].Measure) != largest[best] {
		t.Fatalf("%v: begins with %v, another way as short begins with %d steps", a, scoops[0].Measure, largest[best])
	}
	low, _ := a.Base()
	said := New(low.Add(residue), Milliliter)
	if !said.Equal(New(Ratio(int64(total), stepsPerTsp), Teaspoon)) {
		t.Fatalf("%v: residue %v does not fit %v", a, residue, scoops)
	}
}

func TestScoopsOfOddKinds(t *testing.T) {
	for _, a := range []Amount{amount(t, "3 g"), ToTaste(), amount(t, "2")} {
		if scoops, residue := (Instruments{}).Scoops(a, USSystem); scoops != nil || residue.Sign() != 0 {
			t.Errorf("%v: %v, %v", a, scoops, residue)
		}
	}
	none := Instruments{Spoons: []Amount{}, Cups: []Amount{}}
	if scoops, residue := none.Scoops(amount(t, "5 mL"), USSystem); scoops != nil || !residue.Equal(Int(-5)) {
		t.Errorf("without measures: %v, %v", scoops, residue)
	}
	if scoops, _ := (Instruments{}).Scoops(amount(t, "999999999999 L"), USSystem); scoops != nil {
		t.Errorf("more than a million scoops: %v", scoops)
	}
	if scoops, _ := (Instruments{}).Scoops(amount(t, "1–2 cups"), USSystem); scoopsText(scoops) != "1 cup + 1/2 cup" {
		t.Errorf("the middle of 1–2 cups: %s", scoopsText(scoops))
	}
}

// TestScoopsOfTwoSystems: a metric cup among US spoons has no common step with
// them that could be searched, and is used by itself.
func TestScoopsOfTwoSystems(t *testing.T) {
	in := Instruments{Cups: []Amount{amount(t, "1 metric cup")}}
	for _, c := range []struct{ in, want string }{
		{"500 mL", "2 x 1 metric cup"}, {"2 tbsp", "2 x 1 tbsp"}, {"251 mL", "1 metric cup"},
	} {
		if scoops, _ := in.Scoops(amount(t, c.in), USSystem); scoopsText(scoops) != c.want {
			t.Errorf("%s: %s, want %s", c.in, scoopsText(scoops), c.want)
		}
	}
}
