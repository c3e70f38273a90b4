package trial

import (
	"fmt"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/tabular"
)

// sampleCell checks the reference to a sample.
func (r *reader) sampleCell(c tabular.Cell) bool {
	if r.trial.Sample(c.Text) != nil {
		return true
	}
	r.problems.Hinted(c.Place, problem.UnknownSample, problem.DidYouMean(c.Text, r.trial.sampleKeys()),
		"no sample is called %q", c.Text)
	return false
}

// pieces reads the log of pieces.
func (r *reader) pieces(t tabular.Table, measures []Measure) {
	seen := map[string]bool{}
	for _, row := range r.rows(t) {
		p, ok := r.piece(row, measures)
		if !ok {
			continue
		}
		key := p.Sample + "\x00" + strconv.Itoa(p.Batch) + "\x00" + p.Number
		if seen[key] {
			r.problems.Errorf(row.Under("piece").Place, problem.DoubledPiece, "piece %s of %s stands here twice", p.Number, p.Sample)
			continue
		}
		seen[key] = true
		r.trial.Pieces = append(r.trial.Pieces, p)
	}
}

func (r *reader) piece(row tabular.Row, measures []Measure) (Piece, bool) {
	p := Piece{
		Sample:   row.Under("sample").Text,
		Number:   row.Under("piece").Text,
		Note:     row.Under("note").Text,
		Batch:    1,
		Readings: make(map[string]Reading, len(measures)),
		Place:    row.Place(),
	}
	ok := r.sampleCell(row.Under("sample"))
	if p.Number == "" {
		r.problems.Errorf(row.Under("piece").Place, problem.BadReading, "the piece has no number")
		ok = false
	}
	if c := row.Under("batch"); c.Text != "" {
		n, err := strconv.Atoi(c.Text)
		if err != nil || n < 1 || n > 1000 {
			r.problems.Hinted(c.Place, problem.BadReading, "batches are numbered 1, 2, 3 …", "%s is no batch", quote(c.Text))
			ok = false
		}
		p.Batch = n
	}
	for _, m := range measures {
		p.Readings[m.Name] = r.reading(m, row.Under(m.Name))
	}
	r.setAside(&p, row.Under("set aside"))
	r.addUp(&p)
	return p, ok
}

// setAside reads "torn by hand", which sets the whole piece aside, or
// "side 1, side 2: pan not yet hot", which sets only those readings aside.
// Several of the second kind are parted by semicolons.
func (r *reader) setAside(p *Piece, c tabular.Cell) {
	if c.Text == "" {
		return
	}
	for _, part := range strings.Split(c.Text, ";") {
		names, reason, partial := strings.Cut(part, ":")
		measures := r.namedMeasures(names, c.Place)
		if !partial || measures == nil {
			p.SetAside = c.Text
			break
		}
		reason = strings.TrimSpace(reason)
		if reason == "" {
			r.problems.Hinted(c.Place, problem.BadReading, "say why, like side 1: pan not yet hot",
				"readings set aside without a reason")
			reason = "no reason given"
		}
		for _, name := range measures {
			reading, read := p.Readings[name]
			if !read {
				continue // a measure without a column has no reading that could be put back
			}
			reading.SetAside = reason
			p.Readings[name] = reading
		}
	}
	if p.SetAside == "" {
		return
	}
	for name, reading := range p.Readings {
		reading.SetAside = p.SetAside
		p.Readings[name] = reading
	}
}

// namedMeasures reads a list of measures; nil when it is not one. A list that
// names some measure and something else is a slip, and so is a word close to one.
func (r *reader) namedMeasures(list string, at problem.Pos) []string {
	var named, unknown []string
	for _, word := range strings.Split(list, ",") {
		word = strings.TrimSpace(word)
		m := r.trial.Measure(word)
		switch {
		case m == nil:
			unknown = append(unknown, word)
		case m.Source == OfParts:
			named = append(named, m.Parts...)
		default:
			named = append(named, m.Name)
		}
	}
	for _, word := range unknown {
		near := problem.Nearest(word, r.trial.measureNames())
		if len(named) == 0 && near == "" {
			return nil
		}
		r.problems.Hinted(at, problem.UnknownName, problem.DidYouMean(word, r.trial.measureNames()),
			"set aside names %q, which is no measure", word)
		if named == nil {
			named = []string{}
		}
	}
	return named
}

// addUp computes the sums of a piece. A sum is missing when a part is, and set
// aside when a part is.
func (r *reader) addUp(p *Piece) {
	for _, m := range r.trial.Measures {
		if m.Source != OfParts {
			continue
		}
		sum := Reading{Place: p.Place}
		for _, part := range m.Parts {
			reading, ok := p.Readings[part]
			sum.Missing = sum.Missing || !ok || reading.Missing
			if sum.SetAside == "" {
				sum.SetAside = reading.SetAside
			}
			sum.Value = sum.Value.Add(reading.Value)
		}
		if sum.Missing {
			sum.Value = quantity.Number{}
		}
		p.Readings[m.Name] = sum
	}
}

// tastings reads the log of what was scored and ranked.
func (r *reader) tastings(t tabular.Table, measures []Measure) {
	seen := map[string]bool{}
	for _, row := range r.rows(t) {
		tasting := Tasting{
			Assessor: row.Under("assessor").Text,
			Sample:   row.Under("sample").Text,
			Note:     row.Under("note").Text,
			Readings: make(map[string]Reading, len(measures)),
			Place:    row.Place(),
		}
		if !r.sampleCell(row.Under("sample")) || !r.assessorCell(row.Under("assessor")) {
			continue
		}
		if key := tasting.Assessor + "\x00" + tasting.Sample; seen[key] {
			r.problems.Errorf(row.Place(), problem.DoubledPiece, "%s scored %s twice", tasting.Assessor, tasting.Sample)
			continue
		} else {
			seen[key] = true
		}
		for _, m := range measures {
			tasting.Readings[m.Name] = r.reading(m, row.Under(m.Name))
		}
		r.trial.Tastings = append(r.trial.Tastings, tasting)
	}
}

func (r *reader) assessorCell(c tabular.Cell) bool {
	if c.Text == "" {
		r.problems.Errorf(c.Place, problem.BadReading, "the row names no assessor")
	}
	return c.Text != ""
}

func count(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}
