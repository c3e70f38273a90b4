package stats

import "math"

// TTest is a difference of means with Student's t behind it.
type TTest struct {
	Difference float64  // first mean minus second mean
	Interval   Interval // for the difference, at the level asked for
	T, DF      float64  // the statistic and its degrees of freedom
	P          float64  // two-sided
	Less       float64  // one-sided, first below second
	Greater    float64  // one-sided, first above second
}

// Welch compares two means without assuming equal spread, with
//
//	t = (x̄ − ȳ) / √(sx²/m + sy²/n)
//	df = (sx²/m + sy²/n)² / ((sx²/m)²/(m−1) + (sy²/n)²/(n−1))
//
// It is not defined (false) when either sample has fewer than two readings, when
// neither varies, or for a level outside 0 to 1. One sample that does not vary
// is allowed. Source: Welch 1947, Biometrika 34:28.
func Welch(x, y Sample, level float64) (TTest, bool) {
	vx, okx := x.variance()
	vy, oky := y.variance()
	if !okx || !oky {
		return TTest{}, false
	}
	m, n := float64(x.N()), float64(y.N())
	a, b := vx/m, vy/n
	if a+b == 0 {
		return TTest{}, false
	}
	// Shares of the whole instead of squares: very small spreads do not underflow.
	wa, wb := a/(a+b), b/(a+b)
	df := 1 / (wa*wa/(m-1) + wb*wb/(n-1))
	return tTest(x.Mean()-y.Mean(), math.Sqrt(a+b), df, level)
}

// Student compares two means assuming equal spread: the pooled variance with
// m + n − 2 degrees of freedom. It is not defined (false) for fewer than three
// readings altogether, when neither sample varies, or for a level outside 0 to 1.
// Source: Student 1908, Biometrika 6:1; Fisher 1925.
func Student(x, y Sample, level float64) (TTest, bool) {
	pooled, df, ok := pooledVariance(x, y)
	if !ok {
		return TTest{}, false
	}
	se := math.Sqrt(pooled * (1/float64(x.N()) + 1/float64(y.N())))
	return tTest(x.Mean()-y.Mean(), se, df, level)
}

// pooledVariance is not defined (false) without a degree of freedom or a spread.
func pooledVariance(x, y Sample) (variance, df float64, ok bool) {
	if x.N() < 1 || y.N() < 1 || x.N()+y.N() < 3 {
		return 0, 0, false
	}
	vx, _ := x.variance() // 0 for a single reading, which adds nothing
	vy, _ := y.variance()
	df = float64(x.N() + y.N() - 2)
	variance = (float64(x.N()-1)*vx + float64(y.N()-1)*vy) / df
	return variance, df, variance > 0
}

// PairedT compares pairs: Student's t of the differences, x minus y in the order
// given. It is not defined (false) for samples of different sizes, for fewer than
// two pairs, for differences that are all alike, or for a level outside 0 to 1.
func PairedT(x, y Sample, level float64) (TTest, bool) {
	d, err := Differences(x, y)
	if err != nil {
		return TTest{}, false
	}
	sd, ok := d.SD()
	if !ok || sd == 0 {
		return TTest{}, false
	}
	n := float64(d.N())
	return tTest(d.Mean(), sd/math.Sqrt(n), n-1, level)
}

// tTest puts the parts together; se is positive.
func tTest(difference, se, df, level float64) (TTest, bool) {
	if checkLevel(level) != nil || math.IsInf(difference/se, 0) {
		return TTest{}, false
	}
	t := difference / se
	upper := student(df).Survival(math.Abs(t))
	less, greater := 1-upper, upper
	if t < 0 {
		less, greater = upper, 1-upper
	}
	return TTest{
		Difference: difference,
		Interval:   around(difference, tQuantile(level, df)*se),
		T:          t, DF: df,
		P: min(1, 2*upper), Less: less, Greater: greater,
	}, true
}
