package findings

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// onlyRepeat is what a trial with one contrast and one measure, and its households, come
// to.
func onlyRepeat(t *testing.T, b bench) *Repeat {
	t.Helper()
	f := b.of(t)
	if len(f.Repeats) != 1 {
		t.Fatalf("%d repeats of %d households", len(f.Repeats), len(f.Households))
	}
	return &f.Repeats[0]
}

// TestRepeatedShares: the rows of blocks.csv, the first stratum the kitchen's own and every
// other a household's: the difference of Mantel and Haenszel with Sato's interval, the exact
// conditional p, and that of Breslow and Day (R 4.2.2, mantelhaen.test).
func TestRepeatedShares(t *testing.T) {
	reference(t, "blocks.csv", 8, func(t *testing.T, r map[string]string) bool {
		if r["method"] != "mantel_haenszel" || r["conf_level"] != "0.95" || strings.Contains(r["strata"], "825") {
			return false
		}
		b := bench{measures: done}
		for i, s := range strings.Split(r["strata"], ";") {
			var x1, n1, x2, n2 int
			if _, err := fmt.Sscanf(s, "%d/%d %d/%d", &x1, &n1, &x2, &n2); err != nil {
				t.Fatal(err)
			}
			log := shareHead + passed("b", x1, n1) + passed("a", x2, n2)
			if i == 0 {
				b.pieces = log
			} else {
				b.homes = append(b.homes, log)
			}
		}
		x := onlyRepeat(t, b)
		p := x.Pooled
		if x.Strata != 1+len(b.homes) || p.Trials != 1 || p.Households != len(b.homes) {
			t.Errorf("%d kitchens, %d trials, %d households", x.Strata, p.Trials, p.Households)
		}
		if p.HasAgreeP {
			holds(t, r, "breslow_day_p", p.AgreeP)
		}
		if p.HasAgreeP && p.AgreeP < DisagreeAlpha {
			if p.Why != Disagree || x.Added() {
				t.Errorf("added up although the kitchens disagree: %+v", p)
			}
			return true
		}
		if !x.Added() {
			t.Fatalf("not added up: %s", p.Why)
		}
		holds(t, r, "rd_mh", p.Difference)
		holds(t, r, "exact_p_two_sided", p.P)
		if low := num(t, r["rd_low_sato"]); low >= -1 && low <= 1 {
			holds(t, r, "rd_low_sato", p.Interval.Low)
		}
		return true
	})
}

// TestRepeatedNumbers: the inverse-variance rows of blocks.csv (R 4.2.2, metafor), pieces
// laid out as in TestPooledNumbers; and its stratified permutations (exact, all
// arrangements within blocks).
func TestRepeatedNumbers(t *testing.T) {
	reference(t, "blocks.csv", 7, func(t *testing.T, r map[string]string) bool {
		b := bench{measures: size}
		add := func(x, y []string) {
			log := numberHead + rows("b", x...) + rows("a", y...)
			if b.pieces == "" {
				b.pieces = log
			} else {
				b.homes = append(b.homes, log)
			}
		}
		switch {
		case r["method"] == "stratified_permutation" && r["case"] == "bperm_3_blocks":
			for s := range strings.SplitSeq(r["strata"], ";") {
				x, y, _ := strings.Cut(s, "/")
				add(strings.Fields(x), strings.Fields(y))
			}
			p := onlyRepeat(t, b).Pooled
			if !p.HasP || p.Sampled {
				t.Fatalf("%+v", p)
			}
			holds(t, r, "p_perm_two_sided", p.P)
			return true
		case r["method"] != "inverse_variance" || r["conf_level"] != "0.95":
			return false
		}
		errors := strings.Fields(r["se"])
		for i, y := range strings.Fields(r["y"]) {
			pieces := func(mean float64) []string {
				e := 1000 * num(t, errors[i]) / math.Sqrt2
				return []string{fmt.Sprintf("%.9f", mean-e), fmt.Sprintf("%.9f", mean+e)}
			}
			add(pieces(9000+1000*num(t, y)), pieces(5000))
		}
		x := onlyRepeat(t, b)
		p := x.Pooled
		holds(t, r, "random", p.Difference/1000-4)
		holds(t, r, "random_low", p.Interval.Low/1000-4)
		holds(t, r, "random_high", p.Interval.High/1000-4)
		holds(t, r, "q_p", p.AgreeP)
		return true
	})
}

// TestRepeatByHand: a kitchen with 3 of 4 against 1 of 4, and two households with 2 of 2
// against 1 of 2 and 1 of 2 against 1 of 2.
//
//	N            8     4     4
//	x m − y n    8     2     0
//	n m         16     4     4
//	together  (8/8 + 2/4 + 0/4) ÷ (16/8 + 4/4 + 4/4) = 1.5 ÷ 4 = 0.375
//
// Conditional on the totals the number that passed of b is h₁ + h₂ + h₃ with weights 1, 16,
// 36, 16, 1 (of 70), 1, 2, 1 → for 3 of 4: 0, 2, 2 (of 4) and 1, 4, 1 (of 6); six or more of
// the observed 3 + 2 + 1 = 6, mean 2 + 1.5 + 1 = 4.5.
func TestRepeatByHand(t *testing.T) {
	b := bench{measures: done, pieces: shareHead + passed("b", 3, 4) + passed("a", 1, 4),
		homes: []string{shareHead + passed("b", 2, 2) + passed("a", 1, 2), shareHead + passed("b", 1, 2) + passed("a", 1, 2)}}
	x := onlyRepeat(t, b)
	if math.Abs(x.Pooled.Difference-0.375) > 1e-12 {
		t.Errorf("together %v, want 0.375", x.Pooled.Difference)
	}
	// The distribution by hand: C(4,k)·C(4,4−k), of k of 4; C(2,k)·C(2,3−k); C(2,k)·C(2,2−k).
	first, second, third := []float64{1, 16, 36, 16, 1}, []float64{0, 2, 2}, []float64{1, 4, 1}
	sums := map[int]float64{}
	for i, u := range first {
		for j, v := range second {
			for k, w := range third {
				sums[i+j+k] += u * v * w / (70 * 4 * 6)
			}
		}
	}
	p := 0.0
	for _, q := range sums {
		if q <= sums[6]*(1+1e-9) {
			p += q
		}
	}
	if math.Abs(x.Pooled.P-p) > 1e-12 {
		t.Errorf("p %v, by hand %v", x.Pooled.P, p)
	}
	if x.Households != 2 || x.Same != 1 || x.Level != 1 || x.Other != 0 || !x.HasDirection {
		t.Errorf("directions %+v", x)
	}
	if x.Rows[0].Findings.Home != nil || x.Rows[1].Findings.Household.Key != "household-1" || len(x.Rows) != 3 {
		t.Errorf("rows %+v", x.Rows)
	}
}

// TestLevel: a difference that is written as none points no way, in the kitchen and at home.
func TestLevel(t *testing.T) {
	number := func(b, a string) string {
		return numberHead + rows("b", strings.Fields(b)...) + rows("a", strings.Fields(a)...)
	}
	b := bench{measures: size, pieces: number("12.1 14 13", "12 14 13"), homes: []string{number("15 17 16", "12 13 12"), number("15 16 17", "15 16 17.1")}}
	if x := onlyRepeat(t, b); x.HasDirection || x.Households != 2 || x.Same != 1 || x.Level != 1 {
		t.Errorf("0.03 on average is written as 0.0: %+v", x)
	}
}

// TestOwnAnswer: what the kitchen found is the same with households and without.
func TestOwnAnswer(t *testing.T) {
	alone := bench{measures: done, pieces: shareHead + passed("b", 5, 6) + passed("a", 1, 6)}
	with := alone
	with.homes = []string{shareHead + passed("b", 0, 6) + passed("a", 6, 6)}
	one, two := alone.of(t), with.of(t)
	if a, b := one.first(), two.first(); a.Words != b.Words || a.P != b.P || a.Difference != b.Difference || one.Samples[0].Pieces != two.Samples[0].Pieces {
		t.Errorf("with a household the kitchen says %q", b.Words)
	}
	if len(two.Households) != 1 || two.Repeats[0].Other != 1 || two.Repeats[0].Pooled.Why != Disagree {
		t.Errorf("%+v", two.Repeats)
	}
}

// TestRepeatsApart: a household in which a measure that nobody controlled turned out
// different is shown, and not counted; one that made a sample alone compares nothing; what
// the kitchen put in otherwise than it planned is not held against households.
func TestRepeatsApart(t *testing.T) {
	head := "sample,batch,piece,done,heat\n"
	b := bench{measures: done + "\nheat: {kind: temperature, not controlled: true}",
		samples: "a: {name: Short boil, control: true}\nb: {name: Long boil, change: {boil: 18 min}, used: {salt: 9 g}}",
		pieces:  head + rows("b", "pass,90", "pass,92", "fail,91") + rows("a", "fail,91", "fail,90", "pass,92"),
		homes: []string{
			head + rows("b", "pass,90", "pass,92", "pass,91") + rows("a", "fail,91", "fail,90", "pass,92"),
			head + rows("b", "pass,50", "pass,52", "pass,51", "pass,50") + rows("a", "fail,91", "fail,90", "fail,92", "fail,91"),
			head + rows("b", "pass,90", "pass,92"),
		}}
	f := b.of(t)
	x := f.Repeats[slices.IndexFunc(f.Repeats, func(x Repeat) bool { return x.Measure.Name == "done" })]
	var got []string
	for _, r := range x.Rows {
		who := "kitchen"
		if r.Findings.Household != nil {
			who = r.Findings.Household.Key
		}
		got = append(got, fmt.Sprintf("%s %t %t", who, r.Single, r.Counted))
	}
	if want := []string{"kitchen false false", "household-1 true false", "household-2 false false"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if x.Strata != 1 || x.Added() || x.Confounded != 1 || x.Households != 1 || x.HasDirection {
		t.Errorf("%+v", x)
	}
}

// TestHouseholdEvidence: on the page of a factor households are strata of their trial,
// and no trials.
func TestHouseholdEvidence(t *testing.T) {
	one := bench{measures: done, more: cooked(1), pieces: shareHead + passed("b", 3, 4) + passed("a", 1, 4),
		homes: []string{shareHead + passed("b", 2, 2) + passed("a", 1, 2), shareHead + passed("b", 1, 2) + passed("a", 1, 2)}}.of(t)
	e := about(t, EvidenceOf(studies(one)), "boil")
	m := e.Measures[0]
	if len(e.Trials) != 1 || m.Trials != 1 || m.Households != 2 || len(m.Rows) != 3 || len(m.Pooled) != 1 {
		t.Fatalf("%d trials, %+v", len(e.Trials), m)
	}
	if p := m.Pooled[0]; p.Trials != 1 || p.Households != 2 || p.Recipes != 1 || p.Readings != 16 || math.Abs(p.Difference-0.375) > 1e-12 {
		t.Errorf("%+v", p)
	}
	two := bench{measures: done, more: cooked(2), pieces: shareHead + passed("b", 4, 6) + passed("a", 2, 6)}.of(t)
	if p := about(t, EvidenceOf(studies(two, one)), "boil").Measures[0].Pooled[0]; p.Trials != 2 || p.Households != 2 || p.Readings != 28 {
		t.Errorf("%+v", p)
	}
}
