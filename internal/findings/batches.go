package findings

import (
	"cmp"
	"slices"

	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
)

// batch holds a sample's readings of a measure in one batch.
type batch struct {
	number int
	values []quantity.Number
}

// side holds a sample's readings of a measure by batch, in rising order.
type side struct {
	batches []batch
	aside   int // readings set aside, whether they are in the batches or not
}

// gather collects the readings of pieces that count, and with putBack those set
// aside too.
func gather(t *trial.Trial, s *trial.Sample, m trial.Measure, putBack bool) side {
	var found side
	for _, p := range t.Pieces {
		if p.Sample != s.Key {
			continue
		}
		r, read := p.Readings[m.Name]
		if !read || r.Missing {
			continue
		}
		if r.SetAside != "" {
			found.aside++
			if !putBack {
				continue
			}
		}
		found.add(p.Batch, r.Value)
	}
	// The order of the log shows in no result, not even in a sampled p.
	slices.SortFunc(found.batches, func(a, b batch) int { return cmp.Compare(a.number, b.number) })
	for _, b := range found.batches {
		slices.SortFunc(b.values, quantity.Number.Cmp)
	}
	return found
}

func (s *side) add(number int, value quantity.Number) {
	i := slices.IndexFunc(s.batches, func(b batch) bool { return b.number == number })
	if i < 0 {
		i = len(s.batches)
		s.batches = append(s.batches, batch{number: number})
	}
	s.batches[i].values = append(s.batches[i].values, value)
}

// pieces are the readings of all batches, sorted.
func (s side) pieces() []quantity.Number {
	var all []quantity.Number
	for _, b := range s.batches {
		all = append(all, b.values...)
	}
	slices.SortFunc(all, quantity.Number.Cmp)
	return all
}

// means are the means of the batches.
func (s side) means() []quantity.Number {
	means := make([]quantity.Number, 0, len(s.batches))
	for _, b := range s.batches {
		means = append(means, mean(b.values))
	}
	return means
}

func mean(values []quantity.Number) quantity.Number {
	var sum quantity.Number
	for _, v := range values {
		sum = sum.Add(v)
	}
	m, _ := sum.Quo(quantity.Int(int64(len(values))))
	return m
}

// common keeps the batches that both sides have, in the same order.
func common(a, b side) (side, side) {
	both := func(s, other side) side {
		kept := side{aside: s.aside}
		for _, x := range s.batches {
			if slices.ContainsFunc(other.batches, func(y batch) bool { return y.number == x.number }) {
				kept.batches = append(kept.batches, x)
			}
		}
		return kept
	}
	return both(a, b), both(b, a)
}

// group counts a side whose units are the given values.
func (s side) group(units []quantity.Number, share bool) Group {
	g := Group{Units: len(units), Aside: s.aside}
	if len(units) > 0 {
		g.Mean = mean(units).Float64()
	}
	for _, b := range s.batches {
		g.Readings += len(b.values)
		if share {
			g.Passes += passes(b.values)
		}
	}
	return g
}

func passes(values []quantity.Number) int {
	n := 0
	for _, v := range values {
		n += v.Sign()
	}
	return n
}

// floats are the values as the tests want them.
func floats(values []quantity.Number) []float64 {
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = v.Float64()
	}
	return out
}

// whole brings values to a common scale on which none of them is a recurring
// decimal, so that ties stay ties: a third of a batch's readings, or 151 °F in °C.
// Scales do not change a permutation test. Where there is no small one the values
// stay as they are, and the test compares 15 digits.
func whole(lists ...[]quantity.Number) (scaled [][]float64, by float64) {
	scale := int64(1)
	for _, values := range lists {
		for _, v := range values {
			scale = lcm(scale, recurring(v))
		}
	}
	if scale > 1_000_000 {
		scale = 1
	}
	scaled = make([][]float64, len(lists))
	for i, values := range lists {
		for _, v := range values {
			scaled[i] = append(scaled[i], v.Mul(quantity.Int(scale)).Float64())
		}
	}
	return scaled, float64(scale)
}

// recurring is the least factor up to 200 that makes a number a decimal of at most
// twelve places; 1 where there is none.
func recurring(v quantity.Number) int64 {
	step := quantity.Ratio(1, 1_000_000_000_000)
	for k := int64(1); k <= 200; k++ {
		if _, rest := v.Mul(quantity.Int(k)).RoundTo(step); rest.Sign() == 0 {
			return k
		}
	}
	return 1
}

func lcm(a, b int64) int64 {
	x, y := a, b
	for y != 0 {
		x, y = y, x%y
	}
	return min(a/x*b, 1_000_000_000)
}
