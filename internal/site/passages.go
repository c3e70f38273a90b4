package site

import (
	"encoding/hex"

	"sidebatch.example/sidebatch/internal/findings"
)

// Some files are made of much and change little: where a trial says something else on one
// measure, what the page of a factor says on the others is what it was. A passage of such a file
// is left to the next run with what stands for all that it is made of. It is written as soon as
// it is made: those of a large kitchen are large together.

// passageHeld is a blob with a passage.
type passageHeld struct {
	from Digest
	text string
}

func (f *form) passage(h *passageHeld) {
	f.digest(&h.from)
	f.text(&h.text)
}

// factorPassage names the blob with a passage about a factor.
func factorPassage(of, factor string) string {
	which := digestOf(of, factor)
	return "passage-" + hex.EncodeToString(which[:8])
}

// passageName names the blob with a passage about a factor and a measure.
func passageName(of, factor string, m *findings.MeasureEvidence) string {
	which := digestOf(of, factor, string(m.Measure.Kind), m.Measure.Name)
	return "passage-" + hex.EncodeToString(which[:8])
}

// passage is a passage as an earlier run left it, or made anew.
func passage[T ~string](m *Memory, name string, from Digest, make func() (T, error)) (T, error) {
	if from == (Digest{}) {
		return make()
	}
	var held passageHeld
	if data, _, ok := m.store.ReadDated(name); ok && readForm(data, func(f *form) { f.passage(&held) }) && held.from == from {
		return T(held.text), nil
	}
	made, err := make()
	if err != nil {
		return made, err
	}
	held = passageHeld{from, string(made)}
	_ = m.store.Write(name, writeForm(len(held.text)+digestSize+16, func(f *form) { f.passage(&held) })) // where it cannot be left, it is made again
	return made, nil
}
