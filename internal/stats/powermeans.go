package stats

import (
	"errors"
	"fmt"
	"math"
)

// mostUnits bounds the sizes of a comparison of means.
const mostUnits = 10000

// MeansPlan is the plan of a comparison of two means by an exact test of
// arrangements: of independent units, or of pairs.
type MeansPlan struct {
	N1, N2 int // units of either sample; of pairs, both their number
	Paired bool
	Alpha  float64 // size of the test, 0.05 for instance
}

func (plan MeansPlan) check() error {
	if plan.N1 < 1 || plan.N2 < 1 || plan.N1 > mostUnits || plan.N2 > mostUnits {
		return fmt.Errorf("sizes %d and %d (both must lie between 1 and %d)", plan.N1, plan.N2, mostUnits)
	}
	if plan.Paired && plan.N1 != plan.N2 {
		return fmt.Errorf("%d units against %d (pairs have as many on either side)", plan.N1, plan.N2)
	}
	return checkAlpha(plan.Alpha)
}

// SmallestP is the least two-sided p that any readings can have: one or two of all
// arrangements, m!n!/(m+n)! of them each, or two of the 2ⁿ ways to turn the signs of
// n pairs.
func (plan MeansPlan) SmallestP() (float64, error) {
	if err := plan.check(); err != nil {
		return 0, err
	}
	if plan.Paired {
		return math.Ldexp(1, 1-plan.N1), nil
	}
	p := 1.0
	if plan.N1 == plan.N2 {
		p = 2
	}
	small, large := min(plan.N1, plan.N2), max(plan.N1, plan.N2)
	for i := 1; i <= small; i++ {
		p *= float64(i) / float64(large+i)
	}
	return min(p, 1), nil
}

// Shift is the smallest true difference of means that the plan finds with the given
// power (from 0.5), in standard deviations: of the units, which are taken to scatter
// alike on both sides, or for pairs of their differences. It is false where even the
// clearest readings have a p above alpha.
//
// Student's t stands for the exact test, and the noncentral t is approximated as
// usual, so that a few per cent are rounding:
//
//	(t(1 − alpha/2) + t(power)) · √(1/m + 1/n),  for pairs √(1/n)
//
// Source: Cohen 1988, Statistical Power Analysis, s. 2.4.
func (plan MeansPlan) Shift(power float64) (float64, bool, error) {
	smallest, err := plan.SmallestP()
	if err = errors.Join(err, checkPower(power)); err == nil && power < 0.5 {
		err = fmt.Errorf("power %g (it must be 0.5 or more)", power)
	}
	if err != nil {
		return 0, false, err
	}
	if smallest > plan.Alpha*(1+1e-12) {
		return 0, false, nil
	}
	df, root := float64(plan.N1+plan.N2-2), math.Sqrt(1/float64(plan.N1)+1/float64(plan.N2))
	if plan.Paired {
		df, root = float64(plan.N1-1), math.Sqrt(1/float64(plan.N1))
	}
	return (tQuantile(1-plan.Alpha, df) + tQuantile(2*power-1, df)) * root, true, nil
}

// Needed is the smallest number of units on either side, or of pairs, that finds a
// shift of so many standard deviations with the given power, up to most; the plan's
// own sizes do not matter. It is false where most is not enough.
func (plan MeansPlan) Needed(shift, power float64, most int) (int, bool, error) {
	if !(shift > 0) || most < 2 || most > mostUnits {
		return 0, false, fmt.Errorf("shift %g, up to %d units (above 0, and from 2 to %d)", shift, most, mostUnits)
	}
	for n := 2; n <= most; n++ {
		plan.N1, plan.N2 = n, n
		found, ok, err := plan.Shift(power)
		if err != nil {
			return 0, false, err
		}
		if ok && found <= shift {
			return n, true, nil
		}
	}
	return 0, false, nil
}
