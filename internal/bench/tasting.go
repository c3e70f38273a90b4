package bench

import (
	"fmt"
	"slices"
	"strconv"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/trial"
)

// Reference is what stands on the cup of a duo-trio that the others are held
// against, instead of a code.
const Reference = "R"

// Panel is who tastes, and what the draw starts from.
type Panel struct {
	Assessors int
	Sets      int    // of every sensory test before each assessor
	Seed      string // any text
	Constant  bool   // a duo-trio's reference is always the first sample that it compares
}

// mostAssessors keeps a slip like 1200 from filling a folder.
const mostAssessors = 500

// Tasting is who gets what, in which order and under which code. It is the key.
type Tasting struct {
	Trial string
	Cups  []Cup // by assessor; of each as they are served: the tests, then what is scored
}

// Cup is one cup or plate before an assessor.
type Cup struct {
	Assessor string
	Test     string // the sensory test's measure; "" for what is scored or ranked
	Set      int    // from 1, of a test; 0 otherwise
	Place    int    // from 1, in the order of serving
	Code     string // three digits, or Reference
	Sample   string // its key
	Right    bool   // picking it is right
}

// Lay draws a tasting of a trial. It is an error when the note has nothing to
// taste, when the panel is none, or when there are more cups than codes.
func Lay(t *trial.Trial, p Panel) (*Tasting, error) {
	scored, tests := scoredMeasures(t), testMeasures(t)
	if len(scored)+len(tests) == 0 {
		return nil, fmt.Errorf("the note of %s has nothing to taste: no measure of: tasting, no rank and no sensory test", t.Slug)
	}
	if err := p.check(); err != nil {
		return nil, err
	}
	for _, m := range scored {
		if slices.Contains([]string{"test", "code"}, m.Name) {
			return nil, fmt.Errorf("a measure called %q cannot stand on a ballot, which uses the word for itself", m.Name)
		}
	}
	seed := design.SeedOf("tasting", t.Slug, p.Seed)
	sets := make(map[string][]design.Arrangement, len(tests))
	for _, m := range tests {
		sets[m.Name] = testOf(m.Kind, p.Constant).Sets(p.Assessors*p.Sets, seed.For("test "+m.Name))
	}
	var orders [][]int
	if len(scored) > 0 {
		orders = design.ServingOrders(len(t.Samples), p.Assessors, seed)
	}
	tasting := &Tasting{Trial: t.Slug}
	for a := range p.Assessors {
		name := "A" + strconv.Itoa(a+1)
		for _, m := range tests {
			for set := range p.Sets {
				tasting.Cups = append(tasting.Cups, cupsOf(m, sets[m.Name][set*p.Assessors+a], Cup{Assessor: name, Test: m.Name, Set: set + 1})...)
			}
		}
		if len(orders) > 0 {
			for place, sample := range orders[a] {
				tasting.Cups = append(tasting.Cups, Cup{Assessor: name, Place: place + 1, Sample: t.Samples[sample].Key})
			}
		}
	}
	return tasting, tasting.code(seed)
}

func (p Panel) check() error {
	if p.Assessors < 1 || p.Assessors > mostAssessors {
		return fmt.Errorf("%d assessors (from 1 to %d can taste)", p.Assessors, mostAssessors)
	}
	if p.Sets < 1 || p.Sets > 8 {
		return fmt.Errorf("%d sets for each assessor (from 1 to 8 can be tasted in one session)", p.Sets)
	}
	return nil
}

// cupsOf are the cups of one set of a test.
func cupsOf(m trial.Measure, a design.Arrangement, like Cup) []Cup {
	cups := make([]Cup, len(a.Cups))
	for i := range a.Cups {
		cups[i] = like
		cups[i].Place = i + 1
		cups[i].Sample = m.Compares[a.Cups[i]-'A']
		cups[i].Right = i == a.Answer
		if m.Kind == trial.DuoTrio && i == 0 {
			cups[i].Code = Reference
		}
	}
	return cups
}

// code gives every cup its code.
func (k *Tasting) code(seed design.Seed) error {
	need := 0
	for _, c := range k.Cups {
		if c.Code == "" {
			need++
		}
	}
	codes, err := design.Codes(need, seed.For("codes"))
	if err != nil {
		return fmt.Errorf("%w: hold the tasting in two sessions", err)
	}
	for i := range k.Cups {
		if k.Cups[i].Code == "" {
			k.Cups[i].Code, codes = codes[0], codes[1:]
		}
	}
	return nil
}

// testOf is the design's name for a kind of measure.
func testOf(kind trial.Kind, constant bool) design.Test {
	switch kind {
	case trial.DuoTrio:
		if constant {
			return design.DuoTrioConstant
		}
		return design.DuoTrioBalanced
	case trial.TwoAFC:
		return design.TwoAFC
	case trial.ThreeAFC:
		return design.ThreeAFC
	case trial.Tetrad:
		return design.Tetrad
	case trial.PairedPreference:
		return design.Paired
	}
	return design.Triangle
}

// scoredMeasures are those that an assessor notes for every sample.
func scoredMeasures(t *trial.Trial) []trial.Measure {
	return measuresOf(t, trial.OfTasting)
}

// testMeasures are the sensory tests that say what they compare.
func testMeasures(t *trial.Trial) []trial.Measure {
	return slices.DeleteFunc(measuresOf(t, trial.OfSets), func(m trial.Measure) bool { return len(m.Compares) != 2 })
}

func measuresOf(t *trial.Trial, source trial.Source) []trial.Measure {
	var measures []trial.Measure
	for _, m := range t.Measures {
		if m.Source == source {
			measures = append(measures, m)
		}
	}
	return measures
}

// Assessors lists the assessors in order.
func (k *Tasting) Assessors() []string {
	var names []string
	for _, c := range k.Cups {
		if len(names) == 0 || names[len(names)-1] != c.Assessor {
			names = append(names, c.Assessor)
		}
	}
	return names
}

// sitting is what an assessor has before them at one time: a set of a test, or all
// that is scored.
type sitting struct {
	assessor, test string
	set            int
	cups           []Cup
}

// sittings parts the cups, in order.
func (k *Tasting) sittings() []sitting {
	var all []sitting
	for _, c := range k.Cups {
		n := len(all)
		if n == 0 || all[n-1].assessor != c.Assessor || all[n-1].test != c.Test || all[n-1].set != c.Set {
			all = append(all, sitting{assessor: c.Assessor, test: c.Test, set: c.Set})
			n++
		}
		all[n-1].cups = append(all[n-1].cups, c)
	}
	return all
}

// choices are the codes that may be picked: all but the reference, and in a tetrad
// all but the first.
func (s sitting) choices(kind trial.Kind) []string {
	var codes []string
	for i, c := range s.cups {
		if c.Code != Reference && (kind != trial.Tetrad || i > 0) {
			codes = append(codes, c.Code)
		}
	}
	return codes
}

// codes are those of the cups that have one.
func (s sitting) codes() []string {
	var codes []string
	for _, c := range s.cups {
		if c.Code != Reference {
			codes = append(codes, c.Code)
		}
	}
	return codes
}

// right is the code that is to be picked, or "".
func (s sitting) right() string {
	for _, c := range s.cups {
		if c.Right {
			return c.Code
		}
	}
	return ""
}
