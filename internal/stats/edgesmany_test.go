package stats

import (
	"math"
	"testing"
)

func TestPanelsRefused(t *testing.T) {
	for name, rows := range map[string][][]float64{
		"none": nil, "no samples": {{}}, "one sample": {{1}, {2}}, "ragged": {{1, 2}, {1}}, "NaN": {{1, math.NaN()}},
	} {
		_, e1 := Friedman(rows, Sampling{})
		_, e2 := Page(rows, Sampling{})
		_, e3 := CochranQ(rows, Sampling{})
		if e1 == nil || e2 == nil || e3 == nil {
			t.Errorf("%s: %v, %v, %v", name, e1, e2, e3)
		}
	}
	if _, err := CochranQ([][]float64{{0, 2}}, Sampling{}); err == nil {
		t.Error("a 2 passed for a pass")
	}
	if _, err := KruskalWallis(nil, Sampling{}); err == nil {
		t.Error("Kruskal-Wallis of nothing")
	}
}

// Every assessor ties everything: no statistic, p = 1.
func TestEverythingTied(t *testing.T) {
	tied := [][]float64{{2, 2, 2}, {5, 5, 5}}
	f, err := Friedman(tied, Sampling{})
	if err != nil || f.Defined || f.Exact.P != 1 {
		t.Errorf("Friedman: %+v %v", f, err)
	}
	noNaN(t, "Friedman", f, false)
	q, err := CochranQ([][]float64{{1, 1}, {0, 0}}, Sampling{})
	if err != nil || q.Defined || q.Exact.P != 1 {
		t.Errorf("Cochran: %+v %v", q, err)
	}
	// All columns equal although the assessors differ within: Q is 0.
	q, err = CochranQ([][]float64{{1, 0}, {0, 1}}, Sampling{})
	if err != nil || !q.Defined || q.Statistic != 0 || q.PAsymptotic != 1 || q.Exact.P != 1 {
		t.Errorf("Cochran with equal columns: %+v %v", q, err)
	}
	same := mustSample(t, []float64{2, 2, 2})
	k, err := KruskalWallis([]Sample{same, same, same}, Sampling{})
	if err != nil || k.Defined || k.Exact.P != 1 {
		t.Errorf("Kruskal-Wallis: %+v %v", k, err)
	}
	zeros := mustSample(t, []float64{0, 0, 0})
	s, err := SignedRank(zeros, 0.5, Sampling{})
	if err != nil || s.N != 0 || s.P != 1 || s.Estimate != 0 {
		t.Errorf("signed rank of zeros: %+v %v", s, err)
	}
	g, err := Sign(zeros)
	if err != nil || g.N != 0 || g.P != 1 {
		t.Errorf("sign test of zeros: %+v %v", g, err)
	}
}

// Blocks in which nothing can differ, and blocks at the edge.
func TestBlocksAtTheEdge(t *testing.T) {
	none := []Block{{3, 3, 4, 4}, {0, 2, 0, 2}}
	p, err := MantelHaenszel(none, 0.95)
	if err != nil || p.Difference != 0 || p.Sato.Defined || p.GreenlandRobins.Defined || p.OddsRatio.Defined || p.CMH.Defined {
		t.Errorf("%+v %v", p, err)
	}
	c, err := ConditionalTest(none, 0.95)
	if err != nil || c.Defined || c.Exact.P != 1 {
		t.Errorf("%+v %v", c, err)
	}
	h, err := Homogeneity(none)
	if err != nil || h.Defined {
		t.Errorf("%+v %v", h, err)
	}
	most, err := ConditionalTest([]Block{{4, 4, 0, 4}}, 0.95)
	if err != nil || !math.IsInf(most.OddsRatio, 1) || !math.IsInf(most.Interval.High, 1) || !(most.Interval.Low > 1) {
		t.Errorf("always against never: %+v %v", most, err)
	}
	least, err := ConditionalTest([]Block{{0, 4, 4, 4}}, 0.95)
	if err != nil || least.OddsRatio != 0 || least.Interval.Low != 0 || math.Abs(least.Interval.High*most.Interval.Low-1) > 1e-9 {
		t.Errorf("never against always: %+v %v", least, err)
	}
	single, err := Combine([]float64{1.5}, []float64{0.5}, 0.95)
	if err != nil || single.QP != 1 || single.Tau2 != 0 || single.ISquared != 0 || single.Random != single.Fixed {
		t.Errorf("a single estimate: %+v %v", single, err)
	}
	for _, se := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := Combine([]float64{1, 2}, []float64{1, se}, 0.95); err == nil {
			t.Errorf("standard error %g passed", se)
		}
	}
}
