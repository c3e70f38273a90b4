package stats

import (
	"errors"
	"fmt"
	"math"
)

// Method is a kind of discrimination test.
type Method int

// The kinds, with the chance to be right by guessing.
const (
	Triangle         Method = iota // three samples, two alike: which is the odd one? 1/3
	DuoTrio                        // a reference and two samples: which is like it? 1/2
	TwoAFC                         // two samples: which has more of the attribute? 1/2
	ThreeAFC                       // three samples, two alike: which has more of it? 1/3
	Tetrad                         // four samples, two of each: which belong together? 1/3
	PairedPreference               // two samples: which do you prefer? 1/2, two-sided
)

// chance is the guessing probability as a fraction; false for an unknown method.
func (m Method) chance() (num, den int64, ok bool) {
	switch m {
	case Triangle, ThreeAFC, Tetrad:
		return 1, 3, true
	case DuoTrio, TwoAFC, PairedPreference:
		return 1, 2, true
	}
	return 0, 1, false
}

// String names the method as sensory analysts do.
func (m Method) String() string {
	switch m {
	case Triangle:
		return "triangle"
	case DuoTrio:
		return "duo-trio"
	case TwoAFC:
		return "2-AFC"
	case ThreeAFC:
		return "3-AFC"
	case Tetrad:
		return "tetrad"
	case PairedPreference:
		return "paired preference"
	}
	return fmt.Sprintf("unknown method %d", int(m))
}

// ByGuessing is the chance to be right by guessing; 0 for an unknown method.
func (m Method) ByGuessing() float64 {
	num, den, _ := m.chance()
	return float64(num) / float64(den)
}

func (m Method) check() error {
	if _, _, ok := m.chance(); !ok {
		return errors.New(m.String())
	}
	return nil
}

// Discriminate is the exact test of correct right answers of n. For Greater the
// share of all runs of pure guesses with at least as many right counts. P is that
// same one-sided share, except for PairedPreference, which is two-sided: correct
// is then the number of those who prefer the one sample, and the rest prefer the
// other (answers without a preference have to be left out or split before, and the
// report must say which).
func Discriminate(m Method, correct, n int) (Exact, error) {
	if err := errors.Join(m.check(), checkCount(correct, n)); err != nil {
		return Exact{}, err
	}
	num, den, _ := m.chance()
	e := guesses(correct, n, num, den)
	if m != PairedPreference {
		e.P, e.Count = e.Greater, e.CountGreater
	}
	return e, nil
}

// CriticalNumber is the smallest number of right answers of n that is significant
// at alpha; for PairedPreference the smallest count of the preferred side,
// two-sided. It is false where not even n of n is. The same construction gives the
// tables of ISO 4120 (triangle) and ISO 10399 (duo-trio).
func CriticalNumber(m Method, n int, alpha float64) (int, bool, error) {
	if err := errors.Join(m.check(), checkCount(0, n), checkAlpha(alpha)); err != nil {
		return 0, false, err
	}
	k := critical(m, n, alpha)
	return k, k <= n, nil
}

// critical is n + 1 where no number of right answers is significant.
func critical(m Method, n int, alpha float64) int {
	if m == PairedPreference {
		alpha /= 2
	}
	pmf := binomialPMF(n, m.ByGuessing())
	k, above := n+1, 0.0
	for k > 0 && above+pmf[k-1] <= alpha*(1+1e-12) {
		k--
		above += pmf[k]
	}
	return k
}

// Discriminators is the estimated share of assessors who really tell the samples
// apart, pd = (pc − p0)/(1 − p0), pc being the share of right answers and p0 the
// chance to guess. It is below 0 where fewer are right than by guessing; it is not
// cut off there, and the Wald limits are not cut off either.
type Discriminators struct {
	PD        float64
	Wald      Interval // pd ± z √(pc(1−pc)/n) / (1−p0), as in the standards
	WaldUpper float64  // one-sided upper limit at the level, for tests of similarity
	Exact     Interval // from the Clopper-Pearson limits of pc
	HasWald   bool     // false for none or all right, where Wald's width is 0
}

// EstimateDiscriminators answers for a discrimination test; there are no
// discriminators in a preference.
// Source: ISO 4120:2004 annex B (form of the limits); Clopper & Pearson 1934.
func EstimateDiscriminators(m Method, correct, n int, level float64) (Discriminators, error) {
	if err := errors.Join(m.tells(), checkCount(correct, n), checkLevel(level)); err != nil {
		return Discriminators{}, err
	}
	exact, err := ClopperPearson(correct, n, level)
	if err != nil {
		return Discriminators{}, err
	}
	p0, pc := m.ByGuessing(), float64(correct)/float64(n)
	share := func(p float64) float64 { return (p - p0) / (1 - p0) }
	se := math.Sqrt(pc*(1-pc)/float64(n)) / (1 - p0)
	return Discriminators{
		PD:        share(pc),
		Wald:      around(share(pc), z(level)*se),
		WaldUpper: share(pc) + z(2*level-1)*se,
		Exact:     Interval{Low: share(exact.Low), High: share(exact.High)},
		HasWald:   correct > 0 && correct < n,
	}, nil
}

// tells refuses methods in which nobody is right or wrong.
func (m Method) tells() error {
	if m == PairedPreference {
		return errors.New("a preference is neither right nor wrong (a discrimination test is meant)")
	}
	return m.check()
}

// PanelPower is the exact probability that n assessors find a difference at alpha
// when a share pd of them discriminates and the rest guesses. For
// PairedPreference pd is the share with a real preference, all for the same sample.
func PanelPower(m Method, n int, pd, alpha float64) (float64, error) {
	if err := errors.Join(m.check(), checkCount(0, n), checkRate(pd), checkAlpha(alpha)); err != nil {
		return 0, err
	}
	return panelPower(m, n, pd, alpha), nil
}

func panelPower(m Method, n int, pd, alpha float64) float64 {
	k := critical(m, n, alpha)
	p0 := m.ByGuessing()
	power := 0.0
	for x, p := range binomialPMF(n, p0+pd*(1-p0)) {
		if x >= k || m == PairedPreference && n-x >= k {
			power += p
		}
	}
	return min(1, power)
}

// AssessorsNeeded searches the number of assessors that finds a share pd of
// discriminators with the given power, among 1 to most (at most 2000). It is false
// where most falls short.
func AssessorsNeeded(m Method, pd, alpha, power float64, most int) (Needed, bool, error) {
	err := errors.Join(m.check(), checkRate(pd), checkAlpha(alpha), checkPower(power))
	if err == nil && (most < 1 || most > 2000) {
		err = fmt.Errorf("search up to %d assessors (it must lie between 1 and 2000)", most)
	}
	if err != nil {
		return Needed{}, false, err
	}
	return search(func(n int) bool { return panelPower(m, n, pd, alpha) >= power }, 1, most)
}
