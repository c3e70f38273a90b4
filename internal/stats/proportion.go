package stats

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Wilson is the score interval for a proportion, x of n, without continuity
// correction:
//
//	(p + z²/2n ± z √(p(1−p)/n + z²/4n²)) / (1 + z²/n)
//
// 0 of n has the lower limit 0 and n of n the upper limit 1, exactly. n of 0 is
// an error. Source: Wilson 1927, J. Am. Stat. Assoc. 22:209; Newcombe 1998, Stat.
// Med. 17:857, method 3.
func Wilson(x, n int, level float64) (Interval, error) {
	if err := checkCount(x, n); err != nil {
		return Interval{}, err
	}
	if err := checkLevel(level); err != nil {
		return Interval{}, err
	}
	p, size, q := float64(x)/float64(n), float64(n), z(level)
	centre := p + q*q/(2*size)
	half := q * math.Sqrt(p*(1-p)/size+q*q/(4*size*size))
	scale := 1 + q*q/size
	// Rounding must not push a limit past the estimate or past its natural end.
	low, high := min((centre-half)/scale, p), max((centre+half)/scale, p)
	if x == 0 {
		low = 0
	}
	if x == n {
		high = 1
	}
	return Interval{Low: low, High: high}, nil
}

// ClopperPearson is the exact interval for a proportion, x of n: the rates that
// neither one-sided binomial test of size (1 − level)/2 rejects. It never covers
// less than its level and so is wide. n of 0 is an error.
// Source: Clopper & Pearson 1934, Biometrika 26:404.
func ClopperPearson(x, n int, level float64) (Interval, error) {
	if err := checkCount(x, n); err != nil {
		return Interval{}, err
	}
	if err := checkLevel(level); err != nil {
		return Interval{}, err
	}
	tail := (1 - level) / 2
	out := Interval{Low: 0, High: 1}
	if x > 0 {
		out.Low = mathext.InvRegIncBeta(float64(x), float64(n-x+1), tail)
	}
	if x < n {
		out.High = mathext.InvRegIncBeta(float64(x+1), float64(n-x), 1-tail)
	}
	return out, nil
}

// Newcombe is the hybrid score interval for the difference of two proportions,
// x1 of n1 minus x2 of n2, made of the two Wilson intervals (l, u):
//
//	d − √((p1−l1)² + (u2−p2)²)  to  d + √((u1−p1)² + (p2−l2)²)
//
// Source: Newcombe 1998, Stat. Med. 17:873, method 10.
func Newcombe(x1, n1, x2, n2 int, level float64) (Interval, error) {
	w1, err := Wilson(x1, n1, level)
	if err != nil {
		return Interval{}, fmt.Errorf("first sample: %w", err)
	}
	w2, err := Wilson(x2, n2, level)
	if err != nil {
		return Interval{}, fmt.Errorf("second sample: %w", err)
	}
	p1, p2 := float64(x1)/float64(n1), float64(x2)/float64(n2)
	return Interval{
		Low:  p1 - p2 - math.Hypot(p1-w1.Low, w2.High-p2),
		High: p1 - p2 + math.Hypot(w1.High-p1, p2-w2.Low),
	}, nil
}

// mostPieces bounds a count, so that exact arithmetic stays quick. It is far
// beyond what anybody cooks.
const mostPieces = 10000

// checkCount refuses an impossible x of n.
func checkCount(x, n int) error {
	switch {
	case n < 1:
		return fmt.Errorf("%d of %d has no proportion (there must be at least one)", x, n)
	case x < 0 || x > n:
		return fmt.Errorf("%d of %d is impossible (the first number must lie between 0 and %d)", x, n, n)
	case n > mostPieces:
		return fmt.Errorf("%d of %d is too many (at most %d are counted exactly)", x, n, mostPieces)
	}
	return nil
}
