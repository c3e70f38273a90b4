package findings

import (
	"slices"

	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
)

// discriminations computes what the discrimination tests and preferences showed.
func (f *Findings) discriminations() {
	for _, m := range f.Trial.Measures {
		if !m.Kind.IsDiscrimination() || len(m.Compares) != 2 {
			continue
		}
		of, against := f.Sample(m.Compares[0]), f.Sample(m.Compares[1])
		if of == nil || against == nil {
			continue // reported when the note was read
		}
		d := Discrimination{Measure: m, Of: of, Against: against, Unit: OfSet, Test: BinomialTest,
			Primary: m.Primary, Method: DiscriminationFindingMethod}
		if c := f.contrast(of, against); c != nil {
			d.Factors = factorsBeside(c, m)
			d.Confounded = len(d.Factors) > 1
		}
		d.count(f.Trial)
		d.test()
		d.Words = d.words(f.phrases())
		f.Discriminations = append(f.Discriminations, d)
	}
}

// contrast finds the contrast of two samples, whichever way round it is.
func (f *Findings) contrast(a, b *Sample) *Contrast {
	if i := f.contrastAt(a, b); i >= 0 {
		return &f.Contrasts[i]
	}
	return nil
}

// contrastAt is the number of that contrast, or -1.
func (f *Findings) contrastAt(a, b *Sample) int {
	return slices.IndexFunc(f.Contrasts, func(c Contrast) bool {
		return c.Of == a && c.Against == b || c.Of == b && c.Against == a
	})
}

// TestMethod is the statistics behind a kind of discrimination test or preference.
func TestMethod(k trial.Kind) stats.Method {
	switch k {
	case trial.DuoTrio:
		return stats.DuoTrio
	case trial.TwoAFC:
		return stats.TwoAFC
	case trial.ThreeAFC:
		return stats.ThreeAFC
	case trial.Tetrad:
		return stats.Tetrad
	case trial.PairedPreference:
		return stats.PairedPreference
	}
	return stats.Triangle
}

func (d *Discrimination) prefers() bool { return d.Measure.Kind == trial.PairedPreference }

// count counts the answers. Several answers of one assessor are not independent. For
// a discrimination test that does not matter to the question whether anybody can
// tell the samples apart: when nobody can, every answer is a guess of its own. It
// does matter to a preference, for a taster's liking comes back in each of her
// answers; there an assessor counts once, for the sample chosen more often, and not
// at all when each was chosen as often.
func (d *Discrimination) count(t *trial.Trial) {
	answers := map[string]int{} // how many of an assessor's were right, less the others
	sets := map[string]int{}
	for _, s := range t.Sets {
		if s.Measure != d.Measure.Name {
			continue
		}
		d.Sets++
		sets[s.Assessor]++
		right := s.Right()
		if d.prefers() {
			right = s.Picked == d.Of.Key
		}
		if right {
			d.Right++
			answers[s.Assessor]++
		} else {
			answers[s.Assessor]--
		}
	}
	d.N, d.Assessors = d.Sets, len(sets)
	d.Repeated = d.Sets > d.Assessors
	if !d.prefers() || !d.Repeated {
		return
	}
	d.Unit, d.N, d.Right = OfAssessor, 0, 0
	for _, more := range answers {
		switch {
		case more > 0:
			d.N, d.Right = d.N+1, d.Right+1
		case more < 0:
			d.N++
		default:
			d.Undecided++
		}
	}
}

// test computes what the counts say. One answer alone says nothing.
func (d *Discrimination) test() {
	d.Kind = Nothing
	if d.N < 2 {
		return
	}
	method := TestMethod(d.Measure.Kind)
	exact, err := stats.Discriminate(method, d.Right, d.N)
	if err != nil {
		return
	}
	d.P, d.HasP = exact.P, true
	d.Kind = kindOf(d.P)
	critical, ok, err := stats.CriticalNumber(method, d.N, Alpha)
	d.Critical, d.HasCritical = critical, ok && err == nil
	d.Detectable = detectableShareOf(method, d.N)
	if d.prefers() {
		return
	}
	pd, err := stats.EstimateDiscriminators(method, d.Right, d.N, Level)
	d.PD, d.HasPD = pd.PD, err == nil
	d.Interval, d.HasInterval = pd.Exact, err == nil && !d.Repeated
	dPrime, ok, err := stats.DPrime(method, d.Right, d.N)
	d.DPrime, d.HasDPrime = dPrime, ok && err == nil
}

// detectableShareOf is the smallest share of discriminators, or of people who all
// prefer the same sample, that so many answers had an 80 % chance to show: exact,
// found by halving, for the power rises with the share.
func detectableShareOf(m stats.Method, n int) *Detectable {
	power := func(pd float64) float64 {
		p, err := stats.PanelPower(m, n, pd, Alpha)
		if err != nil {
			return 0
		}
		return p
	}
	if power(1) < Power {
		return &Detectable{Never: true}
	}
	low, high := 0.0, 1.0
	for high-low > 1e-9 {
		mid := (low + high) / 2
		if power(mid) >= Power {
			high = mid
		} else {
			low = mid
		}
	}
	return &Detectable{Difference: high}
}
