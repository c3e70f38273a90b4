package findings

import (
	"cmp"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/trial"
)

// Evidence is what all trials of a kitchen showed about one factor.
type Evidence struct {
	Factor  design.Factor // as the oldest trial calls it
	Trials  []*Study      // that varied it, oldest first
	Planned bool          // some of them on purpose
	// Measures are those on which it was compared: what a trial turned on first, the
	// parts of a sum last.
	Measures []MeasureEvidence
}

// MeasureEvidence is what they showed on one measure: every contrast, and what
// those add up to that compare the same levels.
type MeasureEvidence struct {
	Measure StudyMeasure // as the oldest trial defines it
	// Rows are the contrasts in which the factor alone differs, oldest trial first,
	// then those in which others differ as well.
	Rows []*EvidenceRow
	// Pooled has one entry for each pair of levels that two trials or more compared.
	Pooled []PooledEffect
	// Trials are how many have a single-factor contrast with a difference, and
	// Households how many repeats of them by viewers.
	Trials, Households int
}

// EvidenceOf puts together what trials showed about each factor that was varied on
// purpose, or that turned out to be the only one to differ. Factors come in the order
// in which they were first tried, so that a later trial moves none of them. It takes
// time in proportion to what the studies hold.
func EvidenceOf(all []*Study) []Evidence {
	g := gathered("", all)
	var found []Evidence
	for i := range g.found {
		if g.tells(i) {
			g.found[i].arrange()
			g.found[i].ofAll((*MeasureEvidence).Settle)
			found = append(found, g.found[i])
		}
	}
	return found
}

// byDate sorts studies, oldest first.
func byDate(all []*Study) []*Study {
	sorted := slices.Clone(all)
	slices.SortStableFunc(sorted, func(a, b *Study) int {
		return cmp.Or(a.Day.Compare(b.Day), cmp.Compare(a.Slug, b.Slug))
	})
	return sorted
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
		return slices.ContainsFunc(m.Rows, func(r *EvidenceRow) bool { return r.Single })
	})
}

// weight puts measures that a trial turned on first and the parts of a sum last.
func (m *MeasureEvidence) weight() int {
	weight := 2
	for _, r := range m.Rows {
		switch own := r.Measure(); {
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
	name := trial.AddressName(f.Name)
	switch f.Kind {
	case design.Ingredient:
		return "ingredient " + name
	case design.Condition:
		return "condition " + name
	case design.Observed:
		return "observed " + name
	}
	return " " + name
}

// gatherer sorts contrasts by factor and measure.
type gatherer struct {
	only     string                 // the key of the one factor that is wanted; "" wants all
	wanted   map[design.Factor]bool // whether it is that one, of factors as they are written
	found    []Evidence
	at       map[design.Factor]int // indexes of found, of factors as they are written
	keys     map[string]int        // the same by [FactorKey]
	measures map[measureKey]int    // indexes of Evidence.Measures
	names    map[string]string     // address names of measures, so that each is made once
	room     []EvidenceRow         // for rows, of which there are many
	beside   besides
}

// besides are the names of the other factors beside each of those that differ in a contrast.
type besides struct {
	contrast *StudyContrast
	names    [][]string
}

// rowsAtOnce is for how many rows room is made at a time.
const rowsAtOnce = 256

// keep gives a row a place that stays its own.
func (g *gatherer) keep(r EvidenceRow) *EvidenceRow {
	if len(g.room) == cap(g.room) {
		g.room = make([]EvidenceRow, 0, rowsAtOnce)
	}
	g.room = append(g.room, r)
	return &g.room[len(g.room)-1]
}

// measureKey names a measure of a factor. Measures are the same when they have the same
// name and kind, whatever unit they are shown in.
type measureKey struct {
	factor int
	kind   trial.Kind
	name   string
}

func (g *gatherer) evidence(f design.Factor) int {
	if i, known := g.at[f]; known {
		return i
	}
	key := FactorKey(f)
	i, known := g.keys[key]
	if !known {
		i = len(g.found)
		g.keys[key] = i
		g.found = append(g.found, Evidence{Factor: f})
	}
	g.at[f] = i
	return i
}

func (g *gatherer) wants(f design.Factor) bool {
	if g.only == "" {
		return true
	}
	wanted, known := g.wanted[f]
	if !known {
		wanted = FactorKey(f) == g.only
		g.wanted[f] = wanted
	}
	return wanted
}

func (g *gatherer) trial(s *Study) {
	for i := range s.Contrasts {
		c := &s.Contrasts[i]
		for _, d := range c.Differing[:c.Planned] {
			if !g.wants(d.Factor) {
				continue
			}
			at := g.evidence(d.Factor)
			g.found[at].Planned = true
			g.tried(at, s)
		}
		for j := range c.Effects {
			g.rows(rowOf(s, nil, c, &c.Effects[j]))
		}
	}
	for i := range s.Answers {
		a := &s.Answers[i]
		g.rows(EvidenceRow{Study: s, Contrast: &s.Contrasts[a.Contrast], Answers: a})
	}
}

// household adds what a viewer found who repeated a trial: a stratum of its own beside
// the trial.
func (g *gatherer) household(s *Study, h *StudyHousehold) {
	for i := range h.Contrasts {
		c := &h.Contrasts[i]
		for j := range c.Effects {
			g.rows(rowOf(s, h, c, &c.Effects[j]))
		}
	}
}

// tried notes once that a trial varied a factor, in its own kitchen or at home. Trials
// are gathered one after the other, so it is the last one if it was noted before.
func (g *gatherer) tried(at int, s *Study) {
	e := &g.found[at]
	if last := len(e.Trials) - 1; last < 0 || e.Trials[last] != s {
		e.Trials = append(e.Trials, s)
	}
}

// rows adds one contrast of a measure to every factor that differs in it.
func (g *gatherer) rows(r EvidenceRow) {
	m := r.Measure()
	differing := differingBeside(r.Contrast, m)
	r.Single = len(differing) == 1
	if !r.Single && !r.HasDifference && r.Answers == nil {
		return // nothing compared, and no claim about any factor if there were
	}
	for i, d := range differing {
		if !g.wants(d.Factor) {
			continue
		}
		r.Also = g.besides(r.Contrast, differing)[i]
		at := g.evidence(d.Factor)
		if r.Single {
			g.tried(at, r.Study)
		}
		row := r
		row.read(d)
		g.add(at, row, m)
	}
}

// besides are the names of the others beside each factor that differs in a contrast, made once
// for all its measures but those that differ themselves.
func (g *gatherer) besides(c *StudyContrast, differing []StudyDifference) [][]string {
	whole := len(differing) == len(c.Differing)
	if whole && g.beside.contrast == c {
		return g.beside.names
	}
	names := make([][]string, len(differing))
	for i := range differing {
		for j, other := range differing {
			if i != j {
				names[i] = append(names[i], other.Factor.Name)
			}
		}
	}
	if whole {
		g.beside = besides{c, names}
	}
	return names
}

// differingBeside is what differs in a contrast, except for the measure itself, as
// in [factorsBeside].
func differingBeside(c *StudyContrast, m *StudyMeasure) []StudyDifference {
	itself := func(d StudyDifference) bool { return d.Factor.Kind == design.Observed && d.Factor.Name == m.Name }
	if !slices.ContainsFunc(c.Differing, itself) {
		return c.Differing
	}
	return slices.DeleteFunc(slices.Clone(c.Differing), itself)
}

// add puts a row under its measure.
func (g *gatherer) add(at int, r EvidenceRow, m *StudyMeasure) {
	name, known := g.names[m.Name]
	if !known {
		name = trial.AddressName(m.Name)
		g.names[m.Name] = name
	}
	key, e := measureKey{at, m.Kind, name}, &g.found[at]
	i, known := g.measures[key]
	if !known {
		i = len(e.Measures)
		g.measures[key] = i
		e.Measures = append(e.Measures, MeasureEvidence{Measure: *m})
	}
	e.Measures[i].Rows = append(e.Measures[i].Rows, g.keep(r))
}

// arrange turns the rows so that all are read in one direction, and sorts the confounded
// ones behind the others.
func (m *MeasureEvidence) arrange() {
	known := map[pair]bool{}
	for _, r := range m.Rows {
		switch {
		case known[r.pair]:
		case known[r.pair.turned()]:
			r.turn()
		default:
			known[r.pair] = true
		}
	}
	alone, others := make([]*EvidenceRow, 0, len(m.Rows)), []*EvidenceRow{}
	for _, r := range m.Rows {
		if r.Single {
			alone = append(alone, r)
		} else {
			others = append(others, r)
		}
	}
	m.Rows = append(alone, others...)
}

// Settle counts what the rows rest on, and pools what can be.
func (m *MeasureEvidence) Settle() {
	m.Trials, m.Households = trialsOf(slices.DeleteFunc(slices.Clone(m.Rows), func(r *EvidenceRow) bool {
		return !r.Single || !r.HasDifference && r.Answers == nil
	}))
	m.pool()
}

// SameWords compares words without regard to case and spacing.
func SameWords(a, b string) bool {
	return a == b || strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}
