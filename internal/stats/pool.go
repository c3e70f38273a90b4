package stats

import (
	"errors"
	"fmt"
	"math"
)

// Combined is a set of estimates pooled by their precision.
type Combined struct {
	Fixed  Estimate // one true value behind all
	Random Estimate // true values that scatter around a mean

	Q        float64 // Σ w (y − fixed)²
	DF       int     // estimates less one
	QP       float64 // chi-squared p of Q; 1 for a single estimate
	ISquared float64 // share of the scatter that is more than chance, 0 to 1
	Tau2     float64 // variance of the true values, not below 0
}

// Combine pools estimates with standard errors by inverse variance, as fixed and
// as random effects, with normal limits.
// Source: DerSimonian & Laird 1986, Control. Clin. Trials 7:177; Higgins &
// Thompson 2002, Stat. Med. 21:1539 (I²).
func Combine(values, ses []float64, level float64) (Combined, error) {
	if err := errors.Join(checkEstimates(values, ses), checkLevel(level)); err != nil {
		return Combined{}, err
	}
	c := Combined{DF: len(values) - 1, QP: 1}
	c.Fixed = weighted(values, ses, 0, level)
	var sum, sumSquares float64
	for i, y := range values {
		w := 1 / (ses[i] * ses[i])
		sum += w
		sumSquares += w * w
		c.Q += w * (y - c.Fixed.Value) * (y - c.Fixed.Value)
	}
	excess := c.Q - float64(c.DF)
	if c.DF > 0 {
		c.QP = chiUpper(c.Q, float64(c.DF))
		c.Tau2 = max(0, excess/(sum-sumSquares/sum))
	}
	if excess > 0 && c.DF > 0 {
		c.ISquared = excess / c.Q
	}
	c.Random = weighted(values, ses, c.Tau2, level)
	return c, nil
}

// checkEstimates refuses what cannot be weighed. The bounds keep squares finite.
func checkEstimates(values, ses []float64) error {
	if len(values) == 0 || len(values) != len(ses) {
		return errors.New("every estimate needs a standard error (and there must be at least one)")
	}
	largestSE, smallestSE := 0.0, math.Inf(1)
	for i := range values {
		if math.IsNaN(values[i]) || math.Abs(values[i]) > 1e50 {
			return fmt.Errorf("estimate %d is %g (it must be an ordinary number)", i+1, values[i])
		}
		if !(ses[i] > 1e-50 && ses[i] < 1e50) {
			return fmt.Errorf("standard error %d is %g (it must be above 0)", i+1, ses[i])
		}
		largestSE, smallestSE = max(largestSE, ses[i]), min(smallestSE, ses[i])
	}
	if largestSE > 1e6*smallestSE {
		return errors.New("one estimate is a million times as precise as another (a standard error is probably wrong)")
	}
	return nil
}

// weighted is the mean with weights 1 / (se² + tau²).
func weighted(values, ses []float64, tau2, level float64) Estimate {
	var sum, top float64
	for i, y := range values {
		w := 1 / (ses[i]*ses[i] + tau2)
		sum += w
		top += w * y
	}
	se := math.Sqrt(1 / sum)
	return Estimate{Value: top / sum, SE: se, Interval: around(top/sum, z(level)*se), Defined: true}
}
