package stats

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Interval is a closed range of plausible values.
type Interval struct {
	Low, High float64
}

// Contains says whether x lies in the interval, its ends included.
func (i Interval) Contains(x float64) bool { return i.Low <= x && x <= i.High }

// TInterval is Student's interval for the mean,
//
//	x̄ ± t(n−1; (1+level)/2) · s / √n.
//
// It is not defined (false) for fewer than two readings, for readings that are
// all alike (the formula would claim certainty), or for a level outside 0 to 1.
// Source: Student 1908, Biometrika 6:1.
func TInterval(s Sample, level float64) (Interval, bool) {
	sd, ok := s.SD()
	if !ok || sd == 0 || checkLevel(level) != nil {
		return Interval{}, false
	}
	n := float64(s.N())
	return around(s.Mean(), tQuantile(level, n-1)*sd/math.Sqrt(n)), true
}

// around is the interval of the given half width.
func around(centre, half float64) Interval {
	return Interval{Low: centre - half, High: centre + half}
}

// checkLevel refuses confidence levels outside the open range from 0 to 1.
func checkLevel(level float64) error {
	if !(level > 0 && level < 1) {
		return fmt.Errorf("confidence level %g (it must lie between 0 and 1, 0.95 for instance)", level)
	}
	return nil
}

// checkAlpha refuses sizes of a test outside the open range from 0 to 1.
func checkAlpha(alpha float64) error {
	if !(alpha > 0 && alpha < 1) {
		return fmt.Errorf("test size %g (it must lie between 0 and 1, 0.05 for instance)", alpha)
	}
	return nil
}

// z is the normal quantile that leaves half of 1 − level on each side: 1.959963985
// for 0.95, not 1.96.
func z(level float64) float64 {
	return distuv.UnitNormal.Quantile(1 - (1-level)/2)
}

// tQuantile is the quantile of Student's t that leaves half of 1 − level on each side.
func tQuantile(level, df float64) float64 {
	return student(df).Quantile(1 - (1-level)/2)
}

func student(df float64) distuv.StudentsT {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}
}

// normalUpper is the probability of a standard normal value above x.
func normalUpper(x float64) float64 { return distuv.UnitNormal.Survival(x) }

// chiUpper is the probability of a chi-squared value of at least x.
func chiUpper(x, df float64) float64 {
	if x <= 0 {
		return 1
	}
	return distuv.ChiSquared{K: df}.Survival(x)
}
