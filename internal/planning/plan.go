// Package planning says before anybody cooks what a trial can show and what it takes:
// which contrasts its plan allows, how large a difference so many pieces, batches or
// assessors have a fair chance to show and how many it would need, what to buy for all
// samples and batches, and in which order to cook them.
//
// It reads the plan alone: a trial that has been cooked is planned as if it had not.
// It words nothing, rounds an amount only where it is shown, and refuses to say what
// a confounded contrast could show, for that could be put down to nothing.
package planning

import (
	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
)

// Where neither the note nor a log says how many there are.
const (
	otherwisePieces    = 6
	otherwiseAssessors = 8
)

// Plan is what a trial can show and what it takes.
type Plan struct {
	Trial     *trial.Trial
	Samples   []Sample // the control first
	Batches   int      // the most that any sample is made in
	Assessors int      // who taste; 0 where nothing is tasted
	Contrasts []Contrast
	// LeastPairs is how many batches of each, made side by side, it takes before any
	// difference between two samples can show that speaks of the recipe.
	LeastPairs int
	Shopping   []Line
	Orders     [][]Sample // in which to cook, by batch
}

// Sample is a sample with what is planned of it.
type Sample struct {
	*trial.Sample
	Letter  string // as pages call it
	Batches int
	Pieces  int // of one batch
	counts  map[int]int
}

// Contrast is one sample against another, with what it could show.
type Contrast struct {
	design.Contrast
	Of, Against *Sample
	Within      bool    // both are of one dough
	Reach       []Reach // of a contrast in which one thing differs
}

// Of plans a trial. The seed draws another cooking order; "" is that of the bench sheet.
func Of(t *trial.Trial, seed string) *Plan {
	p := &Plan{Trial: t, Batches: 1, Assessors: assessors(t)}
	f := findings.Of(t)
	for i := range f.Samples {
		s := sampleOf(t, &f.Samples[i])
		p.Batches = max(p.Batches, s.Batches)
		p.Samples = append(p.Samples, s)
	}
	for _, c := range t.Contrasts(nil) {
		of, against := p.sample(c.Sample), p.sample(c.Against)
		p.Contrasts = append(p.Contrasts, Contrast{Contrast: c, Of: of, Against: against,
			Within: of.Origin() == against.Origin()})
	}
	p.reach()
	p.LeastPairs = leastPairs(findings.Alpha / float64(max(1, p.family())))
	p.Shopping = p.shopping()
	for _, order := range design.CookingOrders(len(p.Samples), p.Batches, design.SeedOf("cooking", t.Slug, seed)) {
		var samples []Sample
		for _, i := range order {
			samples = append(samples, p.Samples[i])
		}
		p.Orders = append(p.Orders, samples)
	}
	return p
}

// Cooked reports whether any reading of a trial has been taken.
func Cooked(t *trial.Trial) bool {
	if len(t.Sets) > 0 || len(t.Probes) > 0 {
		return true
	}
	for _, p := range t.Pieces {
		if anyRead(p.Readings) {
			return true
		}
	}
	for _, j := range t.Tastings {
		if anyRead(j.Readings) {
			return true
		}
	}
	return false
}

func anyRead(readings map[string]trial.Reading) bool {
	for _, r := range readings {
		if !r.Missing {
			return true
		}
	}
	return false
}

func (p *Plan) sample(key string) *Sample {
	for i := range p.Samples {
		if p.Samples[i].Key == key {
			return &p.Samples[i]
		}
	}
	return nil
}

// family is how many single-factor contrasts are looked at together, for Holm.
func (p *Plan) family() int {
	n := 0
	for _, c := range p.Contrasts {
		if c.Single() {
			n++
		}
	}
	return n
}

// sampleOf counts the rows of the log, filled in or not; without a log it is one
// batch, divided as the note says.
func sampleOf(t *trial.Trial, found *findings.Sample) Sample {
	s := Sample{Sample: found.Sample, Letter: found.Letter, Batches: 1, Pieces: otherwisePieces, counts: map[int]int{}}
	if s.Weighed.Divided > 0 {
		s.Pieces = s.Weighed.Divided
	}
	for _, row := range t.Pieces {
		if row.Sample == s.Key {
			s.counts[row.Batch]++
		}
	}
	if len(s.counts) == 0 {
		s.counts[1] = s.Pieces
	}
	s.Batches, s.Pieces = len(s.counts), 0
	for _, n := range s.counts {
		s.Pieces = max(s.Pieces, n)
	}
	return s
}

// assessors counts those who have a row in a log of what is tasted.
func assessors(t *trial.Trial) int {
	tasted, names := false, map[string]bool{}
	for _, m := range t.Measures {
		tasted = tasted || m.Source == trial.OfTasting || m.Source == trial.OfSets
		if m.Source == trial.OfSets {
			for _, name := range column(t, trial.LogName(m.Name), "assessor") {
				names[name] = true
			}
		}
	}
	for _, row := range t.Tastings {
		names[row.Assessor] = true
	}
	switch {
	case !tasted:
		return 0
	case len(names) == 0:
		return otherwiseAssessors
	}
	return len(names)
}

// column returns the cells of a log under a heading. The rows of a blank log stand
// for those who are to fill it in, though nothing in them has been read.
func column(t *trial.Trial, log, heading string) []string {
	var cells []string
	for _, file := range t.Files {
		if file.Name != log {
			continue
		}
		names, rows := file.Sheet()
		for i, name := range names {
			for _, row := range rows {
				if name == heading && row[i] != "" {
					cells = append(cells, row[i])
				}
			}
		}
	}
	return cells
}

// pieces are all pieces of a sample, in all its batches.
func (s *Sample) pieces() int {
	n := 0
	for _, count := range s.counts {
		n += count
	}
	return n
}

// doughs is how many doughs of its own a sample takes.
func (s *Sample) doughs() quantity.Number {
	if s.TakenFrom != nil {
		return quantity.Int(0)
	}
	return quantity.Int(int64(s.Batches))
}
