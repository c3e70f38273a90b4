// Package design says what differs between the samples of a trial, and so what
// the trial can be evidence for.
//
// It knows names and levels, not kitchens: whoever calls it decides what the
// factors are and when two levels are the same. It computes no statistics.
package design

import "slices"

// Kind says what sort of thing a factor is.
type Kind int

const (
	Ingredient Kind = iota // an ingredient's amount, food or preparation
	Condition              // a process setting
	Observed               // a measure nobody controlled that turned out different
)

// Factor is something that may differ between samples.
type Factor struct {
	Kind Kind
	Name string
}

// Level is the value a factor has in a sample. Levels are the same when their
// Keys are equal; Text is how a reader sees the level. An absent factor has no
// level.
type Level struct {
	Factor Factor
	Key    string
	Text   string
}

// Version is one sample as it was planned: its levels, in the order of the note.
type Version struct {
	Name   string
	Levels []Level
}

// Difference is a factor with its level in the sample and in the one it is held
// against. An empty text means that the factor is absent there.
type Difference struct {
	Factor  Factor
	Sample  string
	Against string
}

// Contrast is one sample held against another.
type Contrast struct {
	Sample, Against string
	Planned         []Difference // what was meant to differ
	Unplanned       []Difference // what differed all the same
}

// Differing returns how many factors differ, planned and unplanned.
func (c Contrast) Differing() int { return len(c.Planned) + len(c.Unplanned) }

// Single reports whether exactly one factor differs: the contrast is evidence
// about that factor.
func (c Contrast) Single() bool { return c.Differing() == 1 }

// Confounded reports whether more than one factor differs, so that an effect
// cannot be put down to any one of them.
func (c Contrast) Confounded() bool { return c.Differing() > 1 }

// Contrasts returns every pair of versions: each one held against all that stand
// before it. The caller puts the control first. The unplanned differences of a
// pair are asked for once; a factor that also differs by plan is left out of
// them, for it is counted already.
func Contrasts(versions []Version, unplanned func(sample, against string) []Difference) []Contrast {
	var all []Contrast
	for i, against := range versions {
		for _, sample := range versions[i+1:] {
			c := Contrast{
				Sample:  sample.Name,
				Against: against.Name,
				Planned: Differences(sample, against),
			}
			for _, d := range unplanned(sample.Name, against.Name) {
				if !slices.ContainsFunc(c.Planned, func(p Difference) bool { return p.Factor == d.Factor }) {
					c.Unplanned = append(c.Unplanned, d)
				}
			}
			all = append(all, c)
		}
	}
	return all
}

// Differences returns the factors whose planned levels differ, in the order of
// the version held against, then those that only the sample has.
func Differences(sample, against Version) []Difference {
	var found []Difference
	for _, old := range against.Levels {
		now, present := sample.level(old.Factor)
		if !present || now.Key != old.Key {
			found = append(found, Difference{Factor: old.Factor, Sample: now.Text, Against: old.Text})
		}
	}
	for _, now := range sample.Levels {
		if _, present := against.level(now.Factor); !present {
			found = append(found, Difference{Factor: now.Factor, Sample: now.Text})
		}
	}
	return found
}

func (v Version) level(f Factor) (Level, bool) {
	i := slices.IndexFunc(v.Levels, func(l Level) bool { return l.Factor == f })
	if i < 0 {
		return Level{}, false
	}
	return v.Levels[i], true
}
