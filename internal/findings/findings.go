// Package findings turns a trial's readings into what can be said: outcome
// tables, contrasts, the mass balance, and any value that prose may cite.
//
// It computes and words; it draws nothing and knows no page. Readings that were
// set aside are counted beside the sums and never enter them; findings are computed a
// second time with them put back, and say where the answer would change. It refuses to
// count pieces of one batch as evidence about the recipe, to claim anything of
// samples that differ in several things, and to give a number where there is none.
package findings

import (
	"sidebatch.example/sidebatch/internal/boiling"
	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
)

// Findings is everything that was computed about a trial.
type Findings struct {
	Trial     *trial.Trial
	Samples   []Sample // the control first, then as in the note
	Contrasts []Contrast
	Boiling   Boiling
	Cautions  []Caution
	Allergens Allergens

	Panels          []Panel          // of measures that assessors judged, with three samples or more
	Discriminations []Discrimination // in the order of the note
	Support         Support

	// Households are what viewers found who repeated the trial, and Repeats what their
	// findings and the trial's own come to, contrast by contrast. The trial's own answer
	// rests on neither.
	Households []*Findings
	Repeats    []Repeat
	// Household is who repeated the trial, and Home the trial's own findings; both are
	// nil but among Households.
	Household *trial.Replication
	Home      *Findings
}

// Sample is what was found about one sample.
type Sample struct {
	*trial.Sample
	Index    int    // 0, 1, 2 … : its colour and pattern
	Letter   string // A, B, C …
	Pieces   int    // rows in the log
	Batches  int
	Balance  recipe.Balance
	Measures []Summary // in the order of the note
}

// Contrast is one sample held against another.
type Contrast struct {
	design.Contrast
	Of, Against *Sample
	Within      bool // both samples are of one dough
	// Measures are the findings, in the order of the note, without discrimination
	// tests.
	Measures []Effect
}

// Boiling is where water boils at the kitchen's altitude, in °C.
type Boiling struct {
	Celsius  float64
	Altitude float64 // metres
}

// Of computes the findings of a trial that has been read and checked.
func Of(t *trial.Trial) *Findings {
	f := compared(t)
	// The kitchen's altitude was checked when it was read: within the table's range
	// the boiling point has no error to report.
	celsius, err := boiling.Point(t.Kitchen.Altitude)
	if err == nil {
		f.Boiling = Boiling{Celsius: celsius, Altitude: t.Kitchen.Altitude}
	}
	f.Cautions = cautions(t)
	f.Allergens = allergens(t)
	f.panels()
	f.discriminations()
	f.Support = f.support()
	f.repeats()
	return f
}

// compared computes the samples' outcomes and what every contrast showed.
func compared(t *trial.Trial) *Findings {
	f := &Findings{Trial: t}
	for i, s := range t.Ordered() {
		f.Samples = append(f.Samples, sampleOf(t, s, i))
	}
	for _, c := range t.Contrasts(observed(t)) {
		f.Contrasts = append(f.Contrasts, Contrast{
			Contrast: c,
			Of:       f.Sample(c.Sample),
			Against:  f.Sample(c.Against),
			Within:   t.Sample(c.Sample).Origin() == t.Sample(c.Against).Origin(),
		})
	}
	f.effects()
	return f
}

// Sample returns what was found about the sample with a key, or nil.
func (f *Findings) Sample(key string) *Sample {
	for i := range f.Samples {
		if f.Samples[i].Key == key {
			return &f.Samples[i]
		}
	}
	return nil
}

// Measure returns a sample's summary of a measure, or nil.
func (s *Sample) Measure(name string) *Summary {
	for i := range s.Measures {
		if s.Measures[i].Measure.Name == name {
			return &s.Measures[i]
		}
	}
	return nil
}

func sampleOf(t *trial.Trial, s *trial.Sample, index int) Sample {
	sample := Sample{
		Sample:  s,
		Index:   index,
		Letter:  letter(index),
		Balance: t.Balance(s),
	}
	batches := map[int]bool{}
	for _, p := range t.Pieces {
		if p.Sample == s.Key {
			sample.Pieces++
			batches[p.Batch] = true
		}
	}
	sample.Batches = len(batches)
	for _, m := range t.Measures {
		if !m.Kind.IsDiscrimination() {
			sample.Measures = append(sample.Measures, summarize(m, t.Readings(s, m)))
		}
	}
	return sample
}

// letter names samples A to Z, then AA, AB …
func letter(index int) string {
	if index < 26 {
		return string(rune('A' + index))
	}
	return letter(index/26-1) + letter(index%26)
}
