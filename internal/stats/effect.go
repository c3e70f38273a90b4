package stats

import "math"

// CohenD is the difference of means in units of the pooled standard deviation. It
// is not defined (false) where Student is not.
// Source: Cohen 1988, Statistical Power Analysis, 2nd ed., s. 2.2.
func CohenD(x, y Sample) (float64, bool) {
	pooled, _, ok := pooledVariance(x, y)
	if !ok {
		return 0, false
	}
	d := (x.Mean() - y.Mean()) / math.Sqrt(pooled)
	return d, !math.IsInf(d, 0)
}

// HedgesG is Cohen's d without its bias in small samples: d times
//
//	J(m) = Γ(m/2) / (√(m/2) Γ((m−1)/2)),  m = n1 + n2 − 2
//
// It is not defined (false) for fewer than four readings altogether.
// Source: Hedges 1981, J. Educ. Stat. 6:107.
func HedgesG(x, y Sample) (float64, bool) {
	d, ok := CohenD(x, y)
	m := float64(x.N() + y.N() - 2)
	if !ok || m < 2 {
		return 0, false
	}
	a, _ := math.Lgamma(m / 2)
	b, _ := math.Lgamma((m - 1) / 2)
	return d * math.Exp(a-b) * math.Sqrt(2/m), true
}

// HedgesGApproximate is the same with the usual approximation 1 − 3/(4m − 1) of J.
func HedgesGApproximate(x, y Sample) (float64, bool) {
	d, ok := CohenD(x, y)
	m := float64(x.N() + y.N() - 2)
	if !ok || m < 2 {
		return 0, false
	}
	return d * (1 - 3/(4*m-1)), true
}
