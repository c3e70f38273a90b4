package stats

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Side says which differences a test looks for.
type Side int

// The sides of a test of the first sample against the second.
const (
	TwoSided Side = iota
	LessSided
	GreaterSided
)

// mostSearched bounds the sizes of searches that go through all tables.
const mostSearched = 200

// checkSearch refuses sizes that a search through all tables cannot take.
func checkSearch(n1, n2 int) error {
	if n1 < 1 || n2 < 1 || n1 > mostSearched || n2 > mostSearched {
		return fmt.Errorf("sizes %d and %d (both must lie between 1 and %d)", n1, n2, mostSearched)
	}
	return nil
}

// checkRate refuses what is not a success rate.
func checkRate(p float64) error {
	if !(p >= 0 && p <= 1) {
		return fmt.Errorf("success rate %g (it must lie between 0 and 1)", p)
	}
	return nil
}

// checkPower refuses chances to find a difference outside the open range 0 to 1.
func checkPower(power float64) error {
	if !(power > 0 && power < 1) {
		return fmt.Errorf("power %g (it must lie between 0 and 1, 0.8 for instance)", power)
	}
	return nil
}

// Plan is the plan of a comparison of two success counts by Fisher's test.
type Plan struct {
	N1, N2 int     // pieces in either sample, at most 200
	Alpha  float64 // size of the test, 0.05 for instance
	Side   Side
}

func (plan Plan) check() error {
	return errors.Join(checkSearch(plan.N1, plan.N2), checkAlpha(plan.Alpha))
}

// rejects marks the tables that the test calls different.
func (plan Plan) rejects() [][]bool {
	p := fisherTable(plan.N1, plan.N2)
	ps := p.two
	switch plan.Side {
	case LessSided:
		ps = p.less
	case GreaterSided:
		ps = p.greater
	}
	return region(ps, plan.Alpha*(1+1e-12))
}

// Power is the exact probability that the planned test finds a difference when
// the true success rates are p1 and p2: the sum of the probabilities of all
// tables it rejects.
func (plan Plan) Power(p1, p2 float64) (float64, error) {
	if err := errors.Join(plan.check(), checkRate(p1), checkRate(p2)); err != nil {
		return 0, err
	}
	return chance(plan.rejects(), p1, p2), nil
}

// SmallestP is the smallest two-sided p that any result of two samples of these
// sizes can have. Where it is above alpha, the comparison cannot find anything.
func SmallestP(n1, n2 int) (float64, error) {
	if n1 < 1 || n2 < 1 || n1 > mostPieces || n2 > mostPieces {
		return 0, fmt.Errorf("sizes %d and %d (both must lie between 1 and %d)", n1, n2, mostPieces)
	}
	// The rarest table of all has every success on one side and every failure on
	// the other, and nothing is as rare but its mirror.
	smallest := 1.0
	for _, x := range [2][2]int{{n1, 0}, {0, n2}} {
		e, err := Fisher(x[0], n1, x[1], n2)
		if err != nil {
			return 0, err
		}
		smallest = min(smallest, e.P)
	}
	return smallest, nil
}

// Drop is the smallest drop from a sample that always passes that a comparison
// has a fair chance to show.
type Drop struct {
	Critical    int     // most passes of the second sample that still make p ≤ alpha
	PAtCritical float64 // Fisher's p there
	PNext       float64 // and with one pass more
	Rate        float64 // largest true rate found with the power asked for
	Drop        float64 // 1 − Rate
}

// DropFromAll answers: the first sample passes n1 of n1; how far must the second
// sample's true rate have dropped for this plan to find it with the given power?
// It solves P(X ≤ critical) = power for X binomial of N2. The plan's side must be
// TwoSided or GreaterSided. The answer is false where not even 0 of n2 would do.
func (plan Plan) DropFromAll(power float64) (Drop, bool, error) {
	if err := errors.Join(plan.check(), checkPower(power)); err != nil {
		return Drop{}, false, err
	}
	if plan.Side == LessSided {
		return Drop{}, false, errors.New("a drop is sought, but the test looks for a rise (two-sided or greater is meant)")
	}
	at := func(x2 int) float64 {
		e, err := Fisher(plan.N1, plan.N1, x2, plan.N2)
		if err != nil {
			return 1 // cannot happen: the sizes were checked
		}
		if plan.Side == GreaterSided {
			return e.Greater
		}
		return e.P
	}
	d := Drop{Critical: -1, PNext: at(0)}
	for d.Critical < plan.N2 && d.PNext <= plan.Alpha {
		d.Critical++
		d.PAtCritical, d.PNext = d.PNext, 1
		if d.Critical < plan.N2 {
			d.PNext = at(d.Critical + 1)
		}
	}
	if d.Critical < 0 {
		return Drop{}, false, nil
	}
	d.Rate = mathext.InvRegIncBeta(float64(d.Critical+1), float64(plan.N2-d.Critical), 1-power)
	d.Drop = 1 - d.Rate
	return d, true, nil
}

// FindableRate is the second sample's true rate nearest below p1 that the plan
// finds with the given power when the first sample's is p1. It is false where not
// even a rate of 0 would be found. Right to 1e-10.
func (plan Plan) FindableRate(p1, power float64) (float64, bool, error) {
	if err := errors.Join(plan.check(), checkPower(power), checkRate(p1)); err != nil {
		return 0, false, err
	}
	in := plan.rejects()
	if chance(in, p1, 0) < power {
		return 0, false, nil
	}
	if chance(in, p1, p1) >= power {
		return p1, true, nil
	}
	low, high := 0.0, p1
	for high-low > 1e-11 {
		mid := (low + high) / 2
		if chance(in, p1, mid) >= power {
			low = mid
		} else {
			high = mid
		}
	}
	return low, true, nil
}

// Needed is a number of pieces or assessors that reaches a power. Exact power is
// saw-toothed: one more can lower it.
type Needed struct {
	First int // the smallest number that reaches the power
	Safe  int // the smallest from which no larger number searched falls below it
}

// PiecesNeeded searches the pieces a sample, the same on both sides, that find
// rates p1 and p2 different with the given power, from 2 up to most (at most 200).
// It is false where most is not enough, or where most itself falls short.
func PiecesNeeded(p1, p2, alpha, power float64, most int) (Needed, bool, error) {
	err := errors.Join(checkRate(p1), checkRate(p2), checkAlpha(alpha), checkPower(power))
	if err == nil && (most < 2 || most > mostSearched) {
		err = fmt.Errorf("search up to %d pieces (it must lie between 2 and %d)", most, mostSearched)
	}
	if err != nil {
		return Needed{}, false, err
	}
	reaches := func(n int) bool {
		in := Plan{N1: n, N2: n, Alpha: alpha}.rejects()
		return chance(in, p1, p2) >= power
	}
	return search(reaches, 2, most)
}

// search finds the first number that reaches a goal and the first after the last
// that does not.
func search(reaches func(int) bool, from, to int) (Needed, bool, error) {
	n := Needed{First: math.MaxInt, Safe: from}
	for i := from; i <= to; i++ {
		if !reaches(i) {
			n.Safe = i + 1
			continue
		}
		n.First = min(n.First, i)
	}
	if n.Safe > to {
		return Needed{}, false, nil
	}
	return n, true, nil
}
