package findings

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/design"
)

// cooked dates a trial: the first of January, the second …
func cooked(day int) string { return fmt.Sprintf("cooked: 2026-01-%02d", day) }

// studies is what findings say to pages over trials.
func studies(all ...*Findings) []*Study {
	var found []*Study
	for _, f := range all {
		s := f.Study()
		found = append(found, &s)
	}
	return found
}

// about finds the evidence about a condition.
func about(t *testing.T, all []Evidence, factor string) *Evidence {
	t.Helper()
	for i := range all {
		if all[i].Factor == (design.Factor{Kind: design.Condition, Name: factor}) {
			return &all[i]
		}
	}
	t.Fatalf("no evidence about %q among %d factors", factor, len(all))
	return nil
}

// onlyPool is the one thing that trials of the boiling time add up to.
func onlyPool(t *testing.T, trials ...*Findings) PooledEffect {
	t.Helper()
	e := about(t, EvidenceOf(studies(trials...)), "boil")
	if len(e.Measures) != 1 || len(e.Measures[0].Pooled) != 1 {
		t.Fatalf("not one pooled effect: %+v", e.Measures)
	}
	return e.Measures[0].Pooled[0]
}

// TestPooledShares: the rows of blocks.csv with two strata or more, each stratum a
// trial: the difference of Mantel and Haenszel with Sato's interval, the exact
// conditional p and the p of Breslow and Day (R 4.2.2, mantelhaen.test). Once more with
// all but the last stratum as batches of one trial, made side by side.
func TestPooledShares(t *testing.T) {
	disagree := 0
	reference(t, "blocks.csv", 8, func(t *testing.T, r map[string]string) bool {
		strata := strings.Split(r["strata"], ";")
		if r["method"] != "mantel_haenszel" || r["conf_level"] != "0.95" || strings.Contains(r["strata"], "825") {
			return false
		}
		var trials []*Findings
		batches := shareHead
		for i, s := range strata {
			var x1, n1, x2, n2 int
			if _, err := fmt.Sscanf(s, "%d/%d %d/%d", &x1, &n1, &x2, &n2); err != nil {
				t.Fatal(err)
			}
			trials = append(trials, bench{measures: done, more: cooked(i + 1),
				pieces: shareHead + passed("b", x1, n1) + passed("a", x2, n2)}.of(t))
			if i < len(strata)-1 {
				batches += passed(fmt.Sprintf("b.%d", i+1), x1, n1) + passed(fmt.Sprintf("a.%d", i+1), x2, n2)
			}
		}
		check := func(p PooledEffect) {
			t.Helper()
			if r["breslow_day_p"] != "" {
				holds(t, r, "breslow_day_p", p.AgreeP)
			}
			if p.HasAgreeP != (r["breslow_day_p"] != "") {
				t.Errorf("test of agreement: %t", p.HasAgreeP)
			}
			if p.HasAgreeP && p.AgreeP < DisagreeAlpha {
				disagree++
				if p.Why != Disagree {
					t.Errorf("pooled although the trials disagree: %+v", p)
				}
				return
			}
			if p.Why != IsPooled {
				t.Fatalf("not pooled: %s", p.Why)
			}
			holds(t, r, "rd_mh", p.Difference)
			exact, _ := p.Exact()
			holds(t, r, "exact_p_two_sided", exact)
			if low := num(t, r["rd_low_sato"]); low >= -1 && low <= 1 {
				holds(t, r, "rd_low_sato", p.Interval.Low)
			}
			if high := num(t, r["rd_high_sato"]); high <= 1 {
				holds(t, r, "rd_high_sato", p.Interval.High)
			} else if p.Interval.High != 1 {
				t.Errorf("the interval ends at %v, not at 1", p.Interval.High)
			}
		}
		check(onlyPool(t, trials...))
		if len(strata) > 2 {
			side := bench{measures: done, more: "batches: side by side\n" + cooked(1), pieces: batches}.of(t)
			check(onlyPool(t, side, trials[len(trials)-1]))
		}
		return true
	})
	if disagree == 0 {
		t.Error("no row in which the trials disagree")
	}
}

// TestPooledNumbers: the inverse-variance rows of blocks.csv (R 4.2.2, metafor;
// DerSimonian & Laird 1986), each estimate a trial with two pieces a sample that give
// exactly its difference and standard error e: pieces at m ± e/√2 have the variance
// e², so that √(e²/2 + e²/2) = e. All is a thousand times what the table has, for
// readings have nine decimals at most, and every difference 4000 more, for they are
// above 0.
func TestPooledNumbers(t *testing.T) {
	reference(t, "blocks.csv", 6, func(t *testing.T, r map[string]string) bool {
		if r["method"] != "inverse_variance" || r["conf_level"] != "0.95" {
			return false
		}
		var trials []*Findings
		errors := strings.Fields(r["se"])
		for i, y := range strings.Fields(r["y"]) {
			pieces := func(mean float64) []string {
				e := 1000 * num(t, errors[i]) / math.Sqrt2
				return []string{fmt.Sprintf("%.9f", mean-e), fmt.Sprintf("%.9f", mean+e)}
			}
			trials = append(trials, bench{measures: size, more: cooked(i + 1),
				pieces: numberHead + rows("b", pieces(9000+1000*num(t, y))...) + rows("a", pieces(5000)...)}.of(t))
		}
		p := onlyPool(t, trials...)
		if p.Why != IsPooled || p.Trials != len(trials) || p.Recipes != 1 || p.Readings != 4*len(trials) {
			t.Fatalf("%+v", p)
		}
		holds(t, r, "random", p.Difference/1000-4)
		holds(t, r, "random_low", p.Interval.Low/1000-4)
		holds(t, r, "random_high", p.Interval.High/1000-4)
		holds(t, r, "q_p", p.AgreeP)
		holds(t, r, "i_squared", p.ISquared)
		return true
	})
}

// TestEvidenceDirection: trials that name another control, write the same time in
// another way or compare other levels.
func TestEvidenceDirection(t *testing.T) {
	pieces := numberHead + rows("b", "12", "14") + rows("a", "10", "11")
	long := bench{measures: size, more: cooked(3), pieces: pieces,
		samples: "a: {name: Short boil, control: true}\nb: {name: Long boil, change: {boil: 1 h}}"}.of(t)
	turned := bench{measures: size, more: cooked(1), pieces: numberHead + rows("b", "10", "11") + rows("a", "12", "14"),
		samples: "a: {name: Long boil, control: true, change: {boil: 60 min}}\nb: {name: Short boil, change: {boil: 0.2 h}}"}.of(t)
	words := bench{measures: size, more: cooked(2), pieces: pieces,
		samples: "a: {name: On, control: true}\nb: {name: Off, change: {lid: \"off\"}}"}.of(t)
	back := bench{measures: size, more: cooked(4), pieces: pieces,
		samples: "a: {name: Off, control: true, change: {lid: \"Off\"}}\nb: {name: On, change: {lid: \"on\"}}"}.of(t)
	all := EvidenceOf(studies(long, back, words, turned))
	if got := []string{all[0].Factor.Name, all[1].Factor.Name}; len(all) != 2 || !slices.Equal(got, []string{"boil", "lid"}) {
		t.Fatalf("%d factors, %q", len(all), got)
	}
	boil := about(t, all, "boil").Measures[0]
	for i, want := range []struct {
		of, against string
		turned      bool
		difference  float64
	}{{"60 min", "0.2 h", true, 2.5}, {"1 h", "12 min", false, 2.5}} {
		r := boil.Rows[i]
		if r.Of != want.of || r.Against != want.against || r.Turned != want.turned || r.Difference != want.difference || !r.Counted {
			t.Errorf("row %d: %s against %s, turned %t, %v; want %+v", i, r.Of, r.Against, r.Turned, r.Difference, want)
		}
		if r.Interval.Low > r.Difference || r.Interval.High < r.Difference {
			t.Errorf("row %d: %v is outside %v", i, r.Difference, r.Interval)
		}
	}
	// A lid has no order: it is read as the oldest trial read it.
	lid := about(t, all, "lid").Measures[0]
	if r := lid.Rows[1]; r.Of != "Off" && r.Of != "off" || !r.Turned || r.Difference != -2.5 {
		t.Errorf("the later trial reads %s against %s, turned %t, %v", r.Of, r.Against, r.Turned, r.Difference)
	}
	p := lid.Pooled[0]
	if _, exact := p.Exact(); p.Why != IsPooled || math.Abs(p.Difference) > 1e-12 || exact {
		t.Errorf("differences of 2.5 and −2.5 add up to %+v", p)
	}
}

// TestUnpooled: what is not added up, and why.
func TestUnpooled(t *testing.T) {
	short := numberHead + rows("b", "12", "14") + rows("a", "10", "11")
	one := bench{measures: size, more: cooked(1), pieces: short}
	tests := []struct {
		name   string
		trials []bench
		want   Unpooled
	}{
		{"the same thing twice", []bench{one, one}, IsPooled},
		{"a test that asks something else", []bench{
			{measures: "done: {kind: pass or fail, asks: soft}", pieces: shareHead + passed("b", 3, 4) + passed("a", 1, 4)},
			{measures: "done: {kind: pass or fail, asks: dry}", pieces: shareHead + passed("b", 3, 4) + passed("a", 1, 4)},
		}, AsksOther},
		{"a scale with other ends", []bench{
			{measures: "size: {kind: score, from: 1 flat, to: 5 high}", pieces: numberHead + rows("b", "2", "4") + rows("a", "1", "2")},
			{measures: "size: {kind: score, from: 1 flat, to: 9 high}", pieces: numberHead + rows("b", "2", "4") + rows("a", "1", "2")},
		}, AsksOther},
		{"tasters", []bench{
			{measures: taste, tasting: tasted("b a", []string{"5", "6", "4"}, []string{"3", "5", "5"})},
			{measures: taste, tasting: tasted("b a", []string{"5", "6", "4"}, []string{"3", "5", "5"})},
		}, ByTasters},
		{"readings all alike", []bench{one, {measures: size, pieces: numberHead + rows("b", "12", "12") + rows("a", "10", "10")}}, NoScatter},
		{"batches that stand alone", []bench{
			{measures: done, pieces: shareHead + passed("b.1", 3, 4) + passed("b.2", 2, 4) + passed("a.1", 1, 4) + passed("a.2", 1, 4)},
			{measures: done, pieces: shareHead + passed("b", 3, 4) + passed("a", 1, 4)},
		}, LooseBatches},
		{"every piece passed", []bench{
			{measures: done, pieces: shareHead + passed("b", 4, 4) + passed("a", 4, 4)},
			{measures: done, pieces: shareHead + passed("b", 6, 6) + passed("a", 6, 6)},
		}, AllAlike},
		{"precisions too far apart", []bench{one, {measures: size, pieces: numberHead + rows("b", "12", "12.00000001") + rows("a", "10", "10.00000001")}}, Unweighable},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var trials []*Findings
			for _, b := range tt.trials {
				trials = append(trials, b.of(t))
			}
			if p := onlyPool(t, trials...); p.Why != tt.want {
				t.Errorf("not pooled because of %q, want %q", p.Why, tt.want)
			}
		})
	}
	// One trial adds up to nothing, nor do two that compare other levels.
	other := bench{measures: size, pieces: short, samples: "a: {name: Short boil, control: true}\nb: {name: Long boil, change: {boil: 20 min}}"}
	m := about(t, EvidenceOf(studies(one.of(t), other.of(t))), "boil").Measures[0]
	if m.Trials != 2 || len(m.Pooled) != 0 {
		t.Errorf("other levels in %d trials are pooled: %+v", m.Trials, m.Pooled)
	}
}

// TestSharedDough: of contrasts of one trial that share a dough the first counts. A
// contrast in which more differs stands apart and never counts.
func TestSharedDough(t *testing.T) {
	twice := bench{measures: size, more: cooked(1), samples: `a: {name: Short, control: true}
b: {name: Long, change: {boil: 18 min}}
c: {name: Long again, change: {boil: 18 min}}
d: {name: Long and open, change: {boil: 18 min, lid: "off"}}`,
		pieces: numberHead + rows("a", "10", "11") + rows("b", "12", "14") + rows("c", "13", "15") + rows("d", "9", "12")}.of(t)
	again := bench{measures: size, more: cooked(2), pieces: numberHead + rows("b", "12", "14") + rows("a", "10", "11")}.of(t)
	m := about(t, EvidenceOf(studies(again, twice)), "boil").Measures[0]
	var got []string
	for _, r := range m.Rows {
		got = append(got, fmt.Sprintf("%s %t %t %t %v", r.Contrast.Of, r.Single, r.Counted, r.Shared, r.Also))
	}
	want := []string{"b true true false []", "c true false true []", "b true true false []", "d false false false [lid]"}
	if !slices.Equal(got, want) {
		t.Errorf("rows %q, want %q", got, want)
	}
	if p := m.Pooled[0]; p.Trials != 2 || p.Readings != 8 {
		t.Errorf("%d trials, %d readings", p.Trials, p.Readings)
	}
}
