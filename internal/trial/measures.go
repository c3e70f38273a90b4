package trial

import (
	"slices"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

// measures reads the measures and adds a sum behind the last part of each.
func (r *reader) measures(f *yamldoc.Field) {
	t := r.trial
	for _, e := range r.entries(f, mostMeasures, "measures") {
		if m, ok := r.measure(e); ok {
			t.Measures = append(t.Measures, m)
		}
	}
	r.sums()
	primary := 0
	for _, m := range t.Measures {
		if m.Primary {
			primary++
		}
		if m.Primary && primary == 2 {
			r.problems.Hinted(m.Place, problem.Design, "the primary measure is the one the question turns on; keep one",
				"a second measure is marked primary")
		}
	}
}

func (r *reader) measure(e yamldoc.Entry) (Measure, bool) {
	fields := e.Value.Map(r.problems)
	if fields == nil {
		return Measure{}, false
	}
	m := Measure{Name: e.Key, Place: e.KeyPos, Language: r.kitchen.Words}
	if slices.Contains(reserved(), e.Key) {
		r.problems.Errorf(e.KeyPos, problem.DoubledName, "a measure cannot be called %q: the logs use the word for themselves", e.Key)
		return Measure{}, false
	}
	kinds := make([]string, 0, len(Kinds()))
	for _, k := range Kinds() {
		kinds = append(kinds, string(k))
	}
	kind, ok := fields.Need("kind").OneOf(r.problems, kinds...)
	m.Kind = Kind(kind)
	m.In = r.unit(fields.Get("in"), m.Kind)
	m.PartOf = r.text(fields.Get("part of"))
	m.Asks = r.text(fields.Get("asks"))
	m.From, m.FromIs = r.end(fields.Get("from"), 1)
	m.To, m.ToIs = r.end(fields.Get("to"), 9)
	m.Primary = r.yes(fields.Get("primary"))
	m.NotControlled = r.yes(fields.Get("not controlled"))
	m.Source = r.source(fields.Get("of"), m.Kind)
	compares := fields.Get("compares")
	m.Compares, m.ComparesPlace = r.texts(compares, mostSamples, "samples"), compares.Pos()
	fields.Done()
	r.scale(e, m)
	return m, ok
}

// reserved are the columns that logs have for themselves.
func reserved() []string {
	return []string{"sample", "batch", "piece", "assessor", "set", "odd", "picked", "time", "set aside", "note"}
}

func (r *reader) scale(e yamldoc.Entry, m Measure) {
	if m.Kind == Score && m.From >= m.To {
		r.problems.Hinted(e.KeyPos, problem.OutOfRange, "write from: 1 tender, to: 9 tough",
			"the scale of %q runs from %d to %d", m.Name, m.From, m.To)
	}
	if m.PartOf != "" && (!m.Kind.IsNumeric() || m.Kind == Score || m.Kind == Temperature || m.Source != OfPiece) {
		r.problems.Errorf(e.KeyPos, problem.WrongType, "%q cannot be part of a sum: a %s does not add up", m.Name, m.Kind)
	}
}

func (r *reader) yes(f *yamldoc.Field) bool {
	if f == nil {
		return false
	}
	yes, _ := f.Bool(r.problems)
	return yes
}

// unit reads the unit of a measure, which must fit its kind.
func (r *reader) unit(f *yamldoc.Field, kind Kind) quantity.Unit {
	word, ok := f.Text(r.problems)
	if !ok {
		return kind.standard()
	}
	unit, known := quantity.UnitNamed(word, r.kitchen.Instruments.Volumes)
	if !known {
		r.problems.Hinted(f.Pos(), problem.UnknownUnit, problem.DidYouMean(word, quantity.UnitWords()),
			"%q is not a unit", word)
		return kind.standard()
	}
	if dimension, measured := kind.dimension(); !measured || unit.Dimension() != dimension {
		r.problems.Errorf(f.Pos(), problem.WrongUnit, "a %s is not measured in %s", kind, word)
		return kind.standard()
	}
	return unit
}

// end reads one end of a score's scale: a whole number and, if wanted, its word.
func (r *reader) end(f *yamldoc.Field, otherwise int) (int, string) {
	text, ok := f.Text(r.problems)
	if !ok {
		return otherwise, ""
	}
	number, word, _ := strings.Cut(text, " ")
	n, err := strconv.Atoi(number)
	if err != nil || n < 0 || n > 1000 {
		r.problems.Hinted(f.Pos(), problem.BadAmount, "write it like 1 tender", "%q is no end of a scale", text)
		return otherwise, ""
	}
	return n, strings.TrimSpace(word)
}

// source says which log the readings stand in.
func (r *reader) source(f *yamldoc.Field, kind Kind) Source {
	source := OfPiece
	switch {
	case kind.IsDiscrimination():
		source = OfSets
	case kind == Rank:
		source = OfTasting
	}
	if f == nil {
		return source
	}
	word, ok := f.OneOf(r.problems, "piece", "tasting")
	if !ok || source != OfPiece {
		return source
	}
	if word == "tasting" {
		return OfTasting
	}
	return OfPiece
}

// sums adds the measures that parts name, each behind its last part.
func (r *reader) sums() {
	t := r.trial
	names := make([]string, 0, len(t.Measures))
	for _, m := range t.Measures {
		names = append(names, m.Name)
	}
	var all []Measure
	for i, m := range t.Measures {
		all = append(all, m)
		last := m.PartOf != "" && !slices.ContainsFunc(t.Measures[i+1:], func(o Measure) bool { return o.PartOf == m.PartOf })
		if !last {
			continue
		}
		if slices.Contains(names, m.PartOf) {
			r.problems.Errorf(m.Place, problem.DoubledName, "%q is a measure of its own and cannot be a sum as well", m.PartOf)
			continue
		}
		sum := Measure{Name: m.PartOf, Kind: m.Kind, In: m.In, Source: OfParts, Place: m.Place, Language: m.Language}
		for _, part := range t.Measures {
			if part.PartOf != sum.Name {
				continue
			}
			if part.Kind != sum.Kind {
				r.problems.Errorf(part.Place, problem.WrongType, "%q mixes kinds: a %s and a %s", sum.Name, part.Kind, sum.Kind)
			}
			sum.Parts = append(sum.Parts, part.Name)
		}
		all = append(all, sum)
	}
	t.Measures = all
}
