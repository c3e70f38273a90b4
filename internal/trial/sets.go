package trial

import (
	"slices"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/tabular"
)

// setColumns are the columns that the log of a sensory test needs, and may have.
func setColumns(m Measure) (needs, may []string) {
	if m.Kind == PairedPreference {
		return []string{"assessor", "set", "picked"}, []string{"odd", "note"}
	}
	return []string{"assessor", "set", "odd", "picked"}, []string{"note"}
}

// sets reads the log of a discrimination test, or of a paired preference, where
// picked names the sample.
func (r *reader) sets(m Measure, t tabular.Table) {
	seen := map[string]bool{}
	for _, row := range r.rows(t) {
		set := Set{
			Measure:  m.Name,
			Assessor: row.Under("assessor").Text,
			Number:   row.Under("set").Text,
			Odd:      row.Under("odd").Text,
			Picked:   row.Under("picked").Text,
			Place:    row.Place(),
		}
		if !r.assessorCell(row.Under("assessor")) {
			continue
		}
		if key := set.Assessor + "\x00" + set.Number; seen[key] {
			r.problems.Errorf(row.Under("set").Place, problem.DoubledPiece, "set %s of %s stands here twice", set.Number, set.Assessor)
			continue
		} else {
			seen[key] = true
		}
		if r.answered(m, row) {
			r.trial.Sets = append(r.trial.Sets, set)
		}
	}
}

// answered checks that a set has an answer, and for a preference that it names one
// of the samples compared. Without an answer the set is left out, as the standards
// ask for forced choices.
func (r *reader) answered(m Measure, row tabular.Row) bool {
	picked := row.Under("picked")
	if picked.Text == "" {
		r.problems.Ask(picked.Place, problem.BadReading, "a forced choice has an answer for every set", "nothing was picked")
		return false
	}
	if m.Kind == PairedPreference {
		if !slices.Contains(m.Compares, picked.Text) {
			r.problems.Hinted(picked.Place, problem.UnknownSample, problem.DidYouMean(picked.Text, m.Compares),
				"%s is not one of the samples compared", quote(picked.Text))
			return false
		}
		return true
	}
	if row.Under("odd").Text == "" {
		r.problems.Errorf(row.Under("odd").Place, problem.BadReading, "the set does not say which one was odd")
		return false
	}
	return true
}

// compares checks the samples that the discrimination tests compare.
func (r *reader) compares() {
	for _, m := range r.trial.Measures {
		if !m.Kind.IsDiscrimination() {
			continue
		}
		if len(m.Compares) != 2 || m.Compares[0] == m.Compares[1] {
			r.problems.Hinted(m.Place, problem.MissingKey, "write compares: [one, another]",
				"%q compares two samples", m.Name)
		}
		for _, key := range m.Compares {
			if r.trial.Sample(key) == nil {
				r.problems.Hinted(m.ComparesPlace, problem.UnknownName, problem.DidYouMean(key, r.trial.sampleKeys()),
					"no sample is called %q", key)
			}
		}
	}
}
