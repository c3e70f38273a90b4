package site

import (
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
)

// Standing is what a kitchen comes to, in short.
type Standing struct {
	_          struct{} `cbor:",toarray"`
	All        Digest   // stands for all that the files of the site are made of; zero where that is not known
	Trials     int      // that are published
	InProgress int      // notes that are not
	Questions  int      // about the notes
}

// standingHeld is a standing as one run leaves it to the next, with the states of all trials.
type standingHeld struct {
	_        struct{} `cbor:",toarray"`
	Setting  Digest
	Standing Standing
	Slugs    []string // of all folders, in their order
	States   []state
}

const standingBlob = "standing"

// Standing is that of the last run, where the kitchen is what it was then: no trial came,
// went or changed. It looks at all files, as Survey does, and reads none of them.
func (v Surveyor) Standing() (Standing, bool) {
	if v.Memory == nil || v.Look.Program == "" {
		return Standing{}, false
	}
	v.reader = reader{v.Kitchen, v.Content, nil}
	var held standingHeld
	data, _, ok := v.Memory.store.ReadDated(standingBlob)
	if !ok || v.Memory.codec.read.Unmarshal(data, &held) != nil || held.Setting != v.setting() || len(held.States) != len(held.Slugs) {
		return Standing{}, false
	}
	if !slices.Equal(v.reader.folders(&problem.List{}), held.Slugs) {
		return Standing{}, false
	}
	v.Memory.still = make(map[string]state, len(held.Slugs))
	still := make([]bool, len(held.Slugs))
	each(len(still), func(i int) { still[i] = v.reader.still(held.Slugs[i], held.States[i]) })
	for i, slug := range held.Slugs {
		if still[i] {
			v.Memory.still[slug] = held.States[i]
		}
	}
	return held.Standing, !slices.Contains(still, false)
}

// Standing is what the kitchen comes to, with the problems that were found in it now.
func (x *Index) Standing(found problem.List) Standing {
	return Standing{All: x.all(), Trials: len(x.Trials), InProgress: len(x.InProgress), Questions: x.questions(found)}
}

// bySlug are all cards, by their slugs.
func (x *Index) bySlug() []*Card {
	return slices.SortedFunc(slices.Values(slices.Concat(x.Trials, x.InProgress)), func(a, b *Card) int { return strings.Compare(a.Slug, b.Slug) })
}

// all stands for all that the files of the site are made of: the setting, and the files of
// every trial.
func (x *Index) all() Digest {
	if x.setting == (Digest{}) {
		return Digest{}
	}
	texts := []string{x.setting.text()}
	for _, c := range x.bySlug() {
		if !c.State.Known || c.wrong {
			return Digest{}
		}
		texts = append(texts, c.Slug, c.State.Data.text())
	}
	return digestOf(texts...)
}

// keepStanding remembers a standing, if it is known what the site is made of.
func (m *Memory) keepStanding(x *Index, s Standing) error {
	if s.All == (Digest{}) {
		return nil
	}
	held := standingHeld{Setting: m.setting, Standing: s}
	for _, c := range x.bySlug() {
		held.Slugs, held.States = append(held.Slugs, c.Slug), append(held.States, c.State)
	}
	return m.write(standingBlob, held)
}
