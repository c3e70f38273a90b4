package findings

import (
	"cmp"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
)

// Evidence is what all trials of a kitchen showed about one factor.
type Evidence struct {
	Factor design.Factor // as the oldest trial calls it
	Trials []*Findings   // that varied it, oldest first
	// Measures are those on which it was compared: what a trial turned on first, the
	// parts of a sum last.
	Measures []MeasureEvidence
}

// MeasureEvidence is what they showed on one measure: every contrast, and what
// those add up to that compare the same levels.
type MeasureEvidence struct {
	Measure trial.Measure // as the oldest trial defines it
	// Rows are the contrasts in which the factor alone differs, oldest trial first,
	// then those in which others differ as well.
	Rows []EvidenceRow
	// Pooled has one entry for each pair of levels that two trials or more compared.
	Pooled []PooledEffect
	// Trials are how many have a single-factor contrast with a difference, and
	// Households how many repeats of them by viewers.
	Trials, Households int
}

// EvidenceRow is one contrast, read in the direction that the rows share: the higher
// level against the lower, with the factor against without it, or, where levels have
// no order, as the oldest trial read them.
type EvidenceRow struct {
	Findings *Findings // of a trial, or of a household that repeated it
	// Contrast and Effect are as the trial has them, whichever way round the row is
	// read. A row is either an effect or, with Effect nil, a discrimination test.
	Contrast       *Contrast
	Effect         *Effect
	Discrimination *Discrimination

	Of, Against   string // the levels; "" is without it
	Turned        bool   // read the other way round than in its trial
	Single        bool   // the factor alone differs
	Also          []string
	Difference    float64
	HasDifference bool
	Interval      stats.Interval
	HasInterval   bool
	// Counted says that the row is one of those that were pooled, Shared that it was
	// left out there because its dough stands in another row of the same trial.
	Counted, Shared bool

	pair pair
}

// EvidenceOf puts together what trials showed about each factor that was varied on
// purpose, or that turned out to be the only one to differ. Factors come in the order
// in which they were first tried, so that a later trial moves none of them.
func EvidenceOf(all []*Findings) []Evidence {
	byDate := slices.Clone(all)
	slices.SortStableFunc(byDate, func(a, b *Findings) int {
		return cmp.Or(a.Day().Compare(b.Day()), cmp.Compare(a.Trial.Slug, b.Trial.Slug))
	})
	g := gatherer{at: map[string]int{}}
	for _, f := range byDate {
		g.trial(f)
		for _, at := range f.Households {
			g.household(at)
		}
	}
	var found []Evidence
	for i := range g.found {
		e := &g.found[i]
		if !g.planned[i] && !e.single() {
			continue
		}
		for j := range e.Measures {
			e.Measures[j].settle()
		}
		slices.SortStableFunc(e.Measures, func(a, b MeasureEvidence) int { return cmp.Compare(a.weight(), b.weight()) })
		found = append(found, *e)
	}
	return found
}

// Day is when a trial was cooked, or, where the note does not say, published.
func (f *Findings) Day() trial.Date {
	if f.Trial.Cooked.IsZero() {
		return f.Trial.Published
	}
	return f.Trial.Cooked
}

// single reports whether any contrast differs in the factor alone.
func (e *Evidence) single() bool {
	return slices.ContainsFunc(e.Measures, func(m MeasureEvidence) bool {
		return slices.ContainsFunc(m.Rows, func(r EvidenceRow) bool { return r.Single })
	})
}

// weight puts measures that a trial turned on first and the parts of a sum last.
func (m *MeasureEvidence) weight() int {
	weight := 2
	for _, r := range m.Rows {
		switch own := r.measure(); {
		case own.Primary:
			return 0
		case own.PartOf == "":
			weight = 1
		}
	}
	return weight
}

// FactorKey is alike for factors that are the same one: of the same kind, with names
// alike in small letters and with a hyphen as good as a space.
func FactorKey(f design.Factor) string {
	kind := map[design.Kind]string{design.Ingredient: "ingredient", design.Condition: "condition", design.Observed: "observed"}
	return kind[f.Kind] + " " + trial.AddressName(f.Name)
}

// gatherer sorts contrasts by factor and measure.
type gatherer struct {
	found   []Evidence
	planned []bool // by the index of found
	at      map[string]int
}

func (g *gatherer) evidence(f design.Factor) int {
	key := FactorKey(f)
	i, known := g.at[key]
	if !known {
		i = len(g.found)
		g.at[key] = i
		g.found = append(g.found, Evidence{Factor: f})
		g.planned = append(g.planned, false)
	}
	return i
}

func (g *gatherer) trial(f *Findings) {
	for i := range f.Contrasts {
		c := &f.Contrasts[i]
		for _, d := range c.Planned {
			at := g.evidence(d.Factor)
			g.planned[at] = true
			g.tried(at, f)
		}
		for j := range c.Measures {
			e := &c.Measures[j]
			g.rows(rowOf(f, c, e), e.Measure)
		}
	}
	for i := range f.Discriminations {
		d := &f.Discriminations[i]
		if c := f.contrast(d.Of, d.Against); c != nil {
			g.rows(EvidenceRow{Findings: f, Contrast: c, Discrimination: d}, d.Measure)
		}
	}
}

// household adds what a viewer found who repeated a trial: a stratum of its own beside
// the trial. What they did not compare is left out.
func (g *gatherer) household(f *Findings) {
	for i := range f.Contrasts {
		c := &f.Contrasts[i]
		for j := range c.Measures {
			if e := &c.Measures[j]; e.HasDifference {
				g.rows(rowOf(f, c, e), e.Measure)
			}
		}
	}
}

// rowOf is a contrast on one measure as its trial reads it.
func rowOf(f *Findings, c *Contrast, e *Effect) EvidenceRow {
	return EvidenceRow{Findings: f, Contrast: c, Effect: e,
		Difference: e.Difference, HasDifference: e.HasDifference,
		Interval: e.Interval, HasInterval: e.HasInterval}
}

// trialOwn is the trial itself, of a household that repeated it.
func (f *Findings) trialOwn() *Findings {
	if f.Home != nil {
		return f.Home
	}
	return f
}

// tried notes once that a trial varied a factor, in its own kitchen or at home.
func (g *gatherer) tried(at int, f *Findings) {
	f = f.trialOwn()
	e := &g.found[at]
	if !slices.Contains(e.Trials, f) {
		e.Trials = append(e.Trials, f)
	}
}

// rows adds one contrast of a measure to every factor that differs in it.
func (g *gatherer) rows(r EvidenceRow, m trial.Measure) {
	differing := differingBeside(r.Contrast, m)
	r.Single = len(differing) == 1
	if !r.Single && !r.HasDifference && r.Discrimination == nil {
		return // nothing compared, and no claim about any factor if there were
	}
	for i, d := range differing {
		r.Also = nil
		for j, other := range differing {
			if i != j {
				r.Also = append(r.Also, other.Factor.Name)
			}
		}
		at := g.evidence(d.Factor)
		if r.Single {
			g.tried(at, r.Findings)
		}
		row := r
		row.read(d)
		g.found[at].add(row, m)
	}
}

// differingBeside is what differs in a contrast, except for the measure itself, as
// in [factorsBeside].
func differingBeside(c *Contrast, m trial.Measure) []design.Difference {
	differing := slices.Concat(c.Planned, c.Unplanned)
	return slices.DeleteFunc(differing, func(d design.Difference) bool {
		return d.Factor.Kind == design.Observed && d.Factor.Name == m.Name
	})
}

// add puts a row under its measure. Measures are the same when they have the same
// name and kind, whatever unit they are shown in.
func (e *Evidence) add(r EvidenceRow, m trial.Measure) {
	i := slices.IndexFunc(e.Measures, func(old MeasureEvidence) bool {
		return old.Measure.Kind == m.Kind && trial.AddressName(old.Measure.Name) == trial.AddressName(m.Name)
	})
	if i < 0 {
		i = len(e.Measures)
		e.Measures = append(e.Measures, MeasureEvidence{Measure: m})
	}
	e.Measures[i].Rows = append(e.Measures[i].Rows, r)
}

// settle turns the rows so that all are read in one direction, sorts the confounded
// ones behind the others, and pools what can be.
func (m *MeasureEvidence) settle() {
	var known []pair
	for i := range m.Rows {
		r := &m.Rows[i]
		switch {
		case slices.Contains(known, r.pair):
		case slices.Contains(known, r.pair.turned()):
			r.turn()
		default:
			known = append(known, r.pair)
		}
	}
	slices.SortStableFunc(m.Rows, func(a, b EvidenceRow) int {
		return cmp.Compare(confounded(a), confounded(b))
	})
	var rows []*EvidenceRow
	for i := range m.Rows {
		if r := &m.Rows[i]; r.Single && (r.HasDifference || r.Discrimination != nil) {
			rows = append(rows, r)
		}
	}
	m.Trials, m.Households = trialsOf(rows)
	m.pool()
}

func confounded(r EvidenceRow) int {
	if r.Single {
		return 0
	}
	return 1
}

// measure is the row's measure as its own trial defines it.
func (r EvidenceRow) measure() trial.Measure {
	if r.Discrimination != nil {
		return r.Discrimination.Measure
	}
	return r.Effect.Measure
}

// sameWords compares words without regard to case and spacing.
func sameWords(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}
