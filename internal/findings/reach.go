package findings

import (
	"math"

	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
)

// Numbers of needed units above the first are not told apart; those of pieces up to the
// second are exact.
const (
	mostNumbersNeeded = 1000
	exactlyNeeded     = 30
)

// alpha is the size of test that Holm leaves a contrast at worst: a share of 5 % for
// each of its family. What could have been seen at that size could be seen whatever
// the other contrasts came to.
func (e *Effect) alpha() float64 { return Alpha / float64(max(1, e.Family)) }

// detectable is the smallest difference that the effect's units had an 80 % chance to
// show; nil where nothing was compared or no such figure is known.
//
// Counts of pieces: exact. A true share of all (or none) on one side is where
// differences are easiest to see; the answer is how far the other must be from it for
// Fisher's test to find it. Numbers, and batches: Student's t stands for the exact
// test, with the scatter that was seen. With t(q) its quantiles at Welch's degrees of
// freedom and SE the standard error of the difference,
//
//	smallest = (t(1 − alpha/2) + t(0.8)) · SE
//
// which is the usual approximation to the noncentral t (Cohen 1988, Statistical Power
// Analysis, s. 2.4). Where even the rarest arrangement is too likely for the test,
// no difference could have been shown.
func (e *Effect) detectable() *Detectable {
	switch {
	case e.Kind == Nothing || e.SmallestP == 0:
		return nil
	case e.SmallestP > e.alpha()*(1+1e-12):
		return &Detectable{Never: true}
	case e.Test == FisherTest:
		return e.detectableShare()
	}
	half, ok := e.halves()
	if !ok {
		return nil
	}
	if e.Measure.Kind.IsShare() && half > 1 {
		return &Detectable{Never: true}
	}
	return &Detectable{Difference: half}
}

// halves is (t(1 − alpha/2) + t(0.8)) · SE: the half widths of two intervals, the
// second of which leaves out a fifth on either side.
func (e *Effect) halves() (float64, bool) {
	if e.Measure.Kind == trial.Rank {
		return 0, false // Student's t is not for ranks
	}
	size, okSize := e.t(1 - e.alpha())
	power, okPower := e.t(2*Power - 1)
	if !okSize || !okPower {
		return 0, false
	}
	return half(size.Interval) + half(power.Interval), true
}

func half(i stats.Interval) float64 { return (i.High - i.Low) / 2 }

// detectableShare takes the better of the two ways round: which sample is the one
// that always passes.
func (e *Effect) detectableShare() *Detectable {
	best := Detectable{Never: true}
	for _, n := range [2][2]int{{e.Against.Units, e.Of.Units}, {e.Of.Units, e.Against.Units}} {
		drop, ok, err := stats.Plan{N1: n[0], N2: n[1], Alpha: e.alpha()}.DropFromAll(Power)
		if err != nil {
			return nil // more than the search takes
		}
		if ok && (best.Never || drop.Drop < best.Difference) {
			best = Detectable{Difference: drop.Drop, Rate: drop.Rate}
		}
	}
	return &best
}

// needed is how many units a side would have had an 80 % chance to show the
// difference that was seen, if it is the true one; nil where one was shown, or none
// seen at all.
func (e *Effect) needed() *Needed {
	if e.Kind == Nothing || e.Kind == Differs || !e.HasDifference || e.Difference == 0 {
		return nil
	}
	if e.Test == FisherTest {
		return e.neededPieces()
	}
	half, ok := e.halves()
	if !ok {
		return nil
	}
	return e.neededUnits(half)
}

// neededUnits scales the numbers of units by the square of what is missing, with the
// quantiles at the present degrees of freedom: rather too many than too few. The
// exact test must be able to find anything at all. Nil where so many there were.
//
//	n = (halves/SE)² (s₁² + s₂²) / d²,  for pairs n · (halves/d)²
func (e *Effect) neededUnits(half float64) *Needed {
	ratio := half / e.Difference
	n := float64(e.Of.Units) * ratio * ratio
	least := smallestFlip
	if !e.Paired {
		s1, _ := e.units[0].SD()
		s2, _ := e.units[1].SD()
		se2 := s1*s1/float64(e.Of.Units) + s2*s2/float64(e.Against.Units)
		n = ratio * ratio * (s1*s1 + s2*s2) / se2
		least = func(n int) float64 { return smallestP(n, n) }
	}
	if n > mostNumbersNeeded {
		return &Needed{N: mostNumbersNeeded, More: true}
	}
	units := max(2, int(math.Ceil(n-1e-9)))
	for least(units) > e.alpha() {
		units++
	}
	if units <= min(e.Of.Units, e.Against.Units) {
		return nil // so many there were: Student's t is less strict than the exact test
	}
	return &Needed{N: units}
}

// neededPieces is the number that Fisher's test needs, by the normal approximation
// with the allowance for whole numbers,
//
//	m = (z(1 − alpha/2) √(2 p̄ q̄) + z(0.8) √(p₁q₁ + p₂q₂))² / d²
//	n = m/4 · (1 + √(1 + 4/(m d)))²
//
// (Casagrande, Pike & Smith 1978, Biometrics 34:483), and up to thirty pieces, where it is
// least to be trusted, the nearest to it at which the exact power reaches 80 %.
// Exact power is saw-toothed, so the number is "about" in any case.
func (e *Effect) neededPieces() *Needed {
	p1, p2, d := e.Of.Mean, e.Against.Mean, math.Abs(e.Difference)
	between := (p1 + p2) / 2
	root := normal(1-e.alpha())*math.Sqrt(2*between*(1-between)) + normal(2*Power-1)*math.Sqrt(p1*(1-p1)+p2*(1-p2))
	m := root * root / (d * d)
	corrected := 1 + math.Sqrt(1+4/(m*d))
	rough := m / 4 * corrected * corrected
	if rough > mostNumbersNeeded {
		return &Needed{N: mostNumbersNeeded, More: true}
	}
	n := max(2, int(math.Ceil(rough)))
	if n > exactlyNeeded {
		return &Needed{N: n}
	}
	reaches := func(n int) bool {
		power, err := stats.Plan{N1: n, N2: n, Alpha: e.alpha()}.Power(p1, p2)
		return err != nil || power >= Power
	}
	for n > 2 && reaches(n-1) {
		n--
	}
	for !reaches(n) {
		n++
	}
	if n <= min(e.Of.Units, e.Against.Units) {
		return nil
	}
	return &Needed{N: n}
}

// normal is the quantile of the normal distribution that leaves half of 1 − level on
// either side, read off the interval of none of one: its end is z²/(1 + z²).
func normal(level float64) float64 {
	interval, err := stats.Wilson(0, 1, level)
	if err != nil {
		return 0 // cannot happen: levels are constants, or 1 less a share of 5 %
	}
	return math.Sqrt(interval.High / (1 - interval.High))
}
