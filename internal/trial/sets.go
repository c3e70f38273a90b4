package trial

import (
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
)

// sets reads the log of a discrimination test, or of a paired preference, where
// picked names the sample.
func (r *reader) sets(m Measure, s sheet) {
	needs := []string{"assessor", "set", "odd", "picked"}
	may := []string{"note"}
	if m.Kind == PairedPreference {
		needs, may = []string{"assessor", "set", "picked"}, []string{"odd", "note"}
	}
	r.columns(s, needs, may, nil)
	for _, name := range needs {
		if !s.has(name) {
			return
		}
	}
	seen := map[string]bool{}
	for _, row := range s.rows {
		set := Set{
			Measure:  m.Name,
			Assessor: row.get("assessor").Text,
			Number:   row.get("set").Text,
			Odd:      row.get("odd").Text,
			Picked:   row.get("picked").Text,
			Place:    row.Place,
		}
		if !r.assessorCell(row.get("assessor")) {
			continue
		}
		if key := set.Assessor + "\x00" + set.Number; seen[key] {
			r.problems.Errorf(row.get("set").Place, problem.DoubledPiece, "set %s of %s stands here twice", set.Number, set.Assessor)
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
func (r *reader) answered(m Measure, row row) bool {
	picked := row.get("picked")
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
	if row.get("odd").Text == "" {
		r.problems.Errorf(row.get("odd").Place, problem.BadReading, "the set does not say which one was odd")
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

// probe reads a thermometer log: a column time, then a column for each probe.
// Times are from the start of the log; gaps are empty cells.
func (r *reader) probe(name string, s sheet) {
	if s.heading == nil {
		return
	}
	if !s.has("time") {
		r.problems.Errorf(s.heading[0].Place, problem.BadHeader, "there is no column %q", "time")
		return
	}
	p := Probe{Name: strings.TrimSuffix(strings.TrimPrefix(name, probePrefix), ".csv")}
	for _, c := range s.heading {
		if c.Text != "time" && c.Text != "note" {
			p.Probes = append(p.Probes, c.Text)
		}
	}
	measure := Measure{Name: "temperature", Kind: Temperature, In: quantity.Celsius}
	var start, last quantity.Number
	for _, row := range s.rows {
		c := row.get("time")
		at, err := quantity.ParseTime(c.Text)
		if err != nil {
			r.problems.Hinted(c.Place, problem.BadReading, "write minutes and seconds, like 1:30", "%s is not a time", quote(c.Text))
			continue
		}
		seconds, _ := at.Base()
		if len(p.Rows) == 0 {
			start = seconds
		} else if seconds.Cmp(last) <= 0 {
			r.problems.Errorf(c.Place, problem.BadReading, "%s is not after the row before it", quote(c.Text))
			continue
		}
		last = seconds
		moment := ProbeRow{Seconds: seconds.Sub(start)}
		for _, probe := range p.Probes {
			moment.Temperatures = append(moment.Temperatures, r.reading(measure, row.get(probe)))
		}
		p.Rows = append(p.Rows, moment)
	}
	r.trial.Probes = append(r.trial.Probes, p)
}
