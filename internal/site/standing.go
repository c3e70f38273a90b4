package site

import (
	"slices"

	"sidebatch.example/sidebatch/internal/problem"
)

// Standing is what a kitchen comes to, in short.
type Standing struct {
	All        Digest // stands for all that the files of the site are made of; zero where that is not known
	Trials     int    // that are published
	InProgress int    // notes that are not
	Questions  int    // about the notes
}

// standingHeld is a standing as one run leaves it to the next, with the states of all trials
// that have a card.
type standingHeld struct {
	Setting  Digest
	Standing Standing
	Slugs    []string // in their order
	States   []state
}

const standingBlob = "standing"

// bytesOfState is how many bytes a slug takes in it with its state, about.
const bytesOfState = 120

func (f *form) standing(s *standingHeld) {
	f.digest(&s.Setting)
	f.digest(&s.Standing.All)
	f.number(&s.Standing.Trials)
	f.number(&s.Standing.InProgress)
	f.number(&s.Standing.Questions)
	f.texts(&s.Slugs)
	listOf(f, &s.States, f.state)
}

// Standing is that of the last run, where the kitchen is what it was then: no trial came,
// went or changed. It looks at all files, as Survey does, and reads none of them.
func (v Surveyor) Standing() (Standing, bool) {
	if v.Memory == nil || v.Look.Program == "" {
		return Standing{}, false
	}
	v.reader = reader{v.Kitchen, v.Content, nil}
	v.Memory.setting = v.setting()
	v.Memory.recallStates()
	held, still := v.Memory.stood, v.Memory.still
	v.Memory.folders = v.reader.folders(&problem.List{})
	if !slices.Equal(v.Memory.folders, held.Slugs) {
		return Standing{}, false
	}
	each(len(still), func(i int) { still[i] = v.reader.still(held.Slugs[i], held.States[i]) })
	return held.Standing, held.Standing.All != Digest{} && !slices.Contains(still, false)
}

// recallStates reads what the kitchen came to in the last run, if that had the same setting.
func (m *Memory) recallStates() {
	var held standingHeld
	data, _, ok := m.store.ReadDated(standingBlob)
	if !ok || !readForm(data, func(f *form) { f.standing(&held) }) || held.Setting != m.setting || len(held.States) != len(held.Slugs) {
		held = standingHeld{}
	}
	m.stood, m.still = held, make([]bool, len(held.Slugs))
}

// Standing is what the kitchen comes to, with the problems that were found in it now.
func (x *Index) Standing(found problem.List) Standing {
	return Standing{All: x.all(), Trials: len(x.Trials), InProgress: len(x.InProgress), Questions: x.questions(found)}
}

// all stands for all that the files of the site are made of: the setting, and the files of
// every trial.
func (x *Index) all() Digest {
	if x.setting == (Digest{}) {
		return Digest{}
	}
	d := newDigesting()
	d.add(x.setting.text())
	for _, c := range x.bySlug {
		if !c.State.Known || c.wrong {
			return Digest{}
		}
		d.add(c.Slug)
		d.addDigest(c.State.Data)
	}
	return d.digest()
}

// keepStanding remembers a standing, with the states of the trials whose cards are kept, which
// are in the order of folders.
func (m *Memory) keepStanding(cards []*Card, s Standing) error {
	held := standingHeld{Setting: m.setting, Standing: s, Slugs: make([]string, 0, len(cards)), States: make([]state, 0, len(cards))}
	for _, c := range cards {
		held.Slugs, held.States = append(held.Slugs, c.Slug), append(held.States, c.State)
	}
	return m.store.Write(standingBlob, writeForm(len(cards)*bytesOfState, func(f *form) { f.standing(&held) }))
}
