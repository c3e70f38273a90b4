package findings

import (
	"cmp"
	"slices"
	"sync"

	"sidebatch.example/sidebatch/internal/design"
)

// gathered sorts what studies showed by factor and measure; of one factor alone where a key
// is given.
func gathered(only string, all []*Study) gatherer {
	g := gatherer{only: only, wanted: map[design.Factor]bool{}, at: map[design.Factor]int{}, keys: map[string]int{}, measures: map[measureKey]int{}, names: map[string]string{}}
	for _, s := range byDate(all) {
		g.trial(s)
		for i := range s.Households {
			g.household(s, &s.Households[i])
		}
	}
	return g
}

// tells reports whether a factor was varied on purpose, or turned out to be the only one
// to differ: whether there is evidence about it.
func (g *gatherer) tells(i int) bool { return g.found[i].Planned || g.found[i].single() }

// ofAll does something to all measures at the same time.
func (e *Evidence) ofAll(do func(m *MeasureEvidence)) {
	var all sync.WaitGroup
	for i := range e.Measures {
		all.Go(func() { do(&e.Measures[i]) })
	}
	all.Wait()
}

// arrange puts measures and their rows into their order.
func (e *Evidence) arrange() {
	e.ofAll((*MeasureEvidence).arrange)
	slices.SortStableFunc(e.Measures, func(a, b MeasureEvidence) int { return cmp.Compare(a.weight(), b.weight()) })
}

// EvidenceAbout is what EvidenceOf has on the factor with a key, as FactorKey gives it,
// without the work on the others. Studies that do not mention the factor may be left out.
func EvidenceAbout(key string, all []*Study) (Evidence, bool) {
	e, ok := GatherAbout(key, all)
	e.ofAll((*MeasureEvidence).Settle)
	return e, ok
}

// GatherAbout is EvidenceAbout with nothing added up: its measures are still to be settled,
// those that are asked for.
func GatherAbout(key string, all []*Study) (Evidence, bool) {
	g := gathered(key, all)
	i, known := g.keys[key]
	if !known || !g.tells(i) {
		return Evidence{}, false
	}
	g.found[i].arrange()
	return g.found[i], true
}

// Mention is a factor that differs in some contrast of a study.
type Mention struct {
	Factor design.Factor
	Varied bool // on purpose
	Tried  bool // so, or the only one to differ
}

// Mentions are all such factors, in the order in which EvidenceOf comes to them: a factor
// has evidence where some study tried it, and its name is that of the oldest mention.
func (s *Study) Mentions() []Mention {
	g := gathered("", []*Study{s})
	var all []Mention
	for i := range g.found {
		all = append(all, Mention{g.found[i].Factor, g.found[i].Planned, g.tells(i)})
	}
	return all
}
