package stats

import (
	"errors"
	"fmt"
	"math"
)

// largestDPrime bounds the distance of two samples that can be told from counts;
// every method is right beyond it but for one time in 10^12.
const largestDPrime = 30

// RightAt is the share of right answers when the two samples lie d-prime standard
// deviations apart on the assessors' scale and each answer follows the method's
// best rule. With Φ and φ standard normal:
//
//	2-AFC     Φ(d/√2)
//	3-AFC     ∫ φ(z−d) Φ(z)² dz
//	duo-trio  1 − Φ(d/√2) − Φ(d/√6) + 2 Φ(d/√2) Φ(d/√6)
//	triangle  2 ∫₀ [Φ(−z√3 + d√(2/3)) + Φ(−z√3 − d√(2/3))] φ(z) dz
//	tetrad    1 − 2 ∫ φ(z) [2 Φ(z) Φ(z−d) − Φ(z−d)²] dz
//
// Right to about 1e-10; d-prime runs from 0 to 30.
// Source: Ura 1960, Rep. Stat. Appl. Res. JUSE 7:107; Bradley 1963, Biometrics
// 19:385; Ennis & Jesionka 2011, J. Sens. Stud. 26:371 (tetrad).
func RightAt(m Method, dPrime float64) (float64, error) {
	if err := m.tells(); err != nil {
		return 0, err
	}
	if !(dPrime >= 0 && dPrime <= largestDPrime) {
		return 0, fmt.Errorf("d-prime %g (it must lie between 0 and %d)", dPrime, largestDPrime)
	}
	return rightAt(m, dPrime), nil
}

func rightAt(m Method, d float64) float64 {
	switch m {
	case TwoAFC:
		return cdf(d / math.Sqrt2)
	case ThreeAFC:
		return integral(func(x float64) float64 { return density(x-d) * cdf(x) * cdf(x) }, -9, d+9)
	case DuoTrio:
		a, b := cdf(d/math.Sqrt2), cdf(d/math.Sqrt(6))
		return 1 - a - b + 2*a*b
	case Triangle:
		shift := d * math.Sqrt(2.0/3)
		return 2 * integral(func(x float64) float64 {
			return (cdf(-x*math.Sqrt(3)+shift) + cdf(-x*math.Sqrt(3)-shift)) * density(x)
		}, 0, 9)
	default: // Tetrad
		return 1 - 2*integral(func(x float64) float64 {
			below := cdf(x - d)
			return density(x) * below * (2*cdf(x) - below)
		}, -9, 9)
	}
}

// DPrime is the distance of the samples that makes the observed share of right
// answers the expected one; 0 where no more are right than by guessing. It is
// false where all are right, which fits any distance beyond some.
func DPrime(m Method, correct, n int) (float64, bool, error) {
	if err := errors.Join(m.tells(), checkCount(correct, n)); err != nil {
		return 0, false, err
	}
	if correct == n {
		return 0, false, nil
	}
	num, den, _ := m.chance()
	if int64(correct)*den <= int64(n)*num {
		return 0, true, nil
	}
	share := float64(correct) / float64(n)
	return solve(func(d float64) float64 { return rightAt(m, d) - share }, 0, largestDPrime), true, nil
}
