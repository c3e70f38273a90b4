package findings

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// made is a random trial of two samples, before it is written down in some way.
type made struct {
	kind       string // of the measure
	sideBySide bool
	tasting    bool
	lines      []line
}

// line is a row of a log: of the first sample or the second, in a batch or by a taster.
type line struct {
	second  bool
	batch   int
	reading string
	aside   bool
}

// drawTrial draws a small trial. Readings have few values, so that ties are common.
func drawTrial(t *rapid.T) made {
	m := made{
		kind:       rapid.SampledFrom([]string{"number", "pass or fail", "score", "time", "rank"}).Draw(t, "kind"),
		sideBySide: rapid.Bool().Draw(t, "side by side"),
	}
	m.tasting = m.kind == "rank" || rapid.Bool().Draw(t, "tasting")
	reading := rapid.SampledFrom(map[string][]string{
		"number": {"-1.5", "0", "0.1", "0.2", "0.3", "7"}, "pass or fail": {"pass", "fail"},
		"score": {"1", "2", "3", "9"}, "time": {"40", "41", "1:10", "40.5"}, "rank": {"1", "2"},
	}[m.kind])
	batches := rapid.IntRange(1, 4).Draw(t, "batches")
	for _, second := range []bool{false, true} {
		for batch := 1; batch <= batches; batch++ {
			pieces := rapid.IntRange(0, 4).Draw(t, "pieces")
			if m.tasting {
				pieces = min(1, pieces)
			}
			for range pieces {
				m.lines = append(m.lines, line{second, batch, reading.Draw(t, "reading"),
					!m.tasting && rapid.IntRange(0, 9).Draw(t, "aside") == 0})
			}
		}
	}
	return m
}

// telling is how a trial is written down, which must make no difference.
type telling struct {
	names   [2]string // of the samples
	control int       // which of them
	order   []int     // of the lines
	batches []int     // new numbers of the batches
}

func (m made) write(as telling) bench {
	b := bench{samples: as.names[0] + ": {}\n" + as.names[1] + ": {change: {boil: 18 min}}\n"}
	b.samples = strings.Replace(b.samples, as.names[as.control]+": {", as.names[as.control]+": {control: true, ", 1)
	b.samples = strings.Replace(b.samples, "true, }", "true}", 1)
	b.measures = "m: {kind: " + m.kind + ", primary: true}"
	if m.tasting {
		b.measures = "m: {kind: " + m.kind + ", of: tasting, primary: true}"
	}
	if m.sideBySide {
		b.more = "batches: side by side"
	}
	var pieces, tasting strings.Builder
	pieces.WriteString("sample,batch,piece,m,set aside\n")
	tasting.WriteString("assessor,sample,m\n")
	for _, i := range as.order {
		l := m.lines[i]
		name, aside := as.names[0], ""
		if l.second {
			name = as.names[1]
		}
		if l.aside {
			aside = "torn"
		}
		fmt.Fprintf(&pieces, "%s,%d,%d,%s,%s\n", name, as.batches[l.batch-1], i, l.reading, aside)
		fmt.Fprintf(&tasting, "t%d,%s,%s\n", as.batches[l.batch-1], name, l.reading)
	}
	if m.tasting {
		b.tasting = tasting.String()
	} else {
		b.pieces = pieces.String()
	}
	return b
}

// TestInvariance: neither the names and the order of the samples, nor the order of the
// log, nor the numbers of the batches change a finding; turning the contrast round
// changes the signs.
func TestInvariance(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		m := drawTrial(rt)
		plain := telling{names: [2]string{"a", "b"}, order: upTo(len(m.lines)), batches: []int{1, 2, 3, 4}}
		other := telling{
			names:   [2]string{"z", "k"},
			control: rapid.IntRange(0, 1).Draw(rt, "control"),
			order:   rapid.Permutation(upTo(len(m.lines))).Draw(rt, "order"),
			batches: rapid.Permutation([]int{1, 2, 3, 4}).Draw(rt, "batch numbers"),
		}
		x, y := m.write(plain).of(t).first(), m.write(other).of(t).first()
		sign := 1.0
		if other.control == 1 {
			sign = -1
		}
		alikeOutcomes(rt, "finding", x.Outcome, y.Outcome, sign)
		if (x.PutBack == nil) != (y.PutBack == nil) || x.Changes != y.Changes {
			rt.Fatalf("put back: %+v, then %+v", x.PutBack, y.PutBack)
		}
		for _, pair := range [][2]*Outcome{{x.PutBack, y.PutBack}, {x.Pieces, y.Pieces}, {x.Also, y.Also}} {
			if pair[0] != nil && pair[1] != nil {
				alikeOutcomes(rt, "beside it", *pair[0], *pair[1], sign)
			}
		}
	})
}

func alikeOutcomes(t *rapid.T, what string, x, y Outcome, sign float64) {
	near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(1, math.Abs(a)) }
	if x.Kind != y.Kind || x.Unit != y.Unit || x.Test != y.Test || x.P != y.P || x.HasP != y.HasP || x.SmallestP != y.SmallestP {
		t.Fatalf("%s: %+v, then %+v", what, x, y)
	}
	if !near(x.Difference, sign*y.Difference) || x.HasInterval != y.HasInterval {
		t.Fatalf("%s: differences %v and %v", what, x.Difference, y.Difference)
	}
	low, high := y.Interval.Low, y.Interval.High
	if sign < 0 {
		low, high = -high, -low
	}
	if !near(x.Interval.Low, low) || !near(x.Interval.High, high) {
		t.Fatalf("%s: intervals %v and %v", what, x.Interval, y.Interval)
	}
}

// TestSound: an interval holds its estimate, a p is a probability and never below the
// smallest that there can be, Holm only raises it, and every finding has its sentence.
func TestSound(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		m := drawTrial(rt)
		e := m.write(telling{names: [2]string{"a", "b"}, order: upTo(len(m.lines)), batches: []int{1, 2, 3, 4}}).of(t).first()
		for _, o := range []*Outcome{&e.Outcome, e.PutBack, e.Pieces, e.Also} {
			if o == nil {
				continue
			}
			slack := 1e-9 * max(1, math.Abs(o.Difference))
			if o.HasInterval && !(o.Interval.Low-slack <= o.Difference && o.Difference <= o.Interval.High+slack) {
				rt.Fatalf("the interval leaves out the estimate: %+v", *o)
			}
			if o.HasP && !(o.P > 0 && o.P <= 1 && o.PAdjusted >= o.P && o.PAdjusted <= 1) {
				rt.Fatalf("p %v, adjusted %v", o.P, o.PAdjusted)
			}
			if o.HasP && o.P < o.SmallestP*(1-1e-9) {
				rt.Fatalf("p %v is below the smallest, %v", o.P, o.SmallestP)
			}
			if (o.Kind == Nothing) != (o.Why != NoReason && o.Why != Alike) {
				rt.Fatalf("%s because %q", o.Kind, o.Why)
			}
		}
		if !strings.HasSuffix(e.Words, ".") || strings.Contains(e.Words, "NaN") || strings.Contains(e.Words, "Inf") {
			rt.Fatalf("%q", e.Words)
		}
	})
}

func upTo(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

// TestSameTwice: two readings of one trial come to the same findings, sampling and all.
func TestSameTwice(t *testing.T) {
	b := bench{measures: size, pieces: numberHead + rows("b", drawn(40, 1)...) + rows("a", drawn(40, 0)...)}
	x, y := b.of(t).first(), b.of(t).first()
	if !x.Sampled || x.P != y.P || x.MonteCarloError <= 0 {
		t.Errorf("sampled %v: p %v, then %v", x.Sampled, x.P, y.P)
	}
	// Turned round, and with the log upside down, the draws are the same.
	b.samples = "b: {control: true, change: {boil: 18 min}}\na: {}"
	back := slices.Collect(strings.Lines(b.pieces))
	slices.Reverse(back[1:])
	b.pieces = strings.Join(back, "")
	if z := b.of(t).first(); z.P != x.P || z.Difference != -x.Difference {
		t.Errorf("turned round: p %v and %v", x.P, z.P)
	}
}

// TestNullRejects: when nothing differs, a difference is found in at most 5 % of the
// trials. 400 trials of six pieces against six with a true rate of a half; a true 5 %
// gives at most 33 of them with a probability of 0.999 (binomial).
func TestNullRejects(t *testing.T) {
	found := 0
	for i := range uint64(400) {
		x := (i*0x9e3779b97f4a7c15 ^ i<<7) * 0xbf58476d1ce4e5b9
		b, a := 0, 0
		for k := range 6 {
			b += int(x >> (40 + k) & 1)
			a += int(x >> (20 + k) & 1)
		}
		if (bench{measures: done, pieces: shareHead + passed("b", b, 6) + passed("a", a, 6)}).of(t).first().Kind == Differs {
			found++
		}
	}
	if found > 33 {
		t.Errorf("%d of 400 trials without a difference show one", found)
	}
}
