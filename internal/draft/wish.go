// Package draft writes what a cook begins with: the files of a new site, and the note
// and blank logs of a new trial, full of comments that say what goes where.
//
// A note is built line by line, and each line remembers what was said that it holds;
// then the note is read as any other is, so that a mistake is told in the reader's
// words about the words that were said. The package makes bytes and writes no file. It
// invents no data but the example's, which says so, and it fills in nothing that only
// the cook can know: that stands in the note as a comment.
package draft

import (
	"cmp"

	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/trial"
)

// File is a file to write, below the folder that is laid out.
type File struct {
	Name string // with forward slashes
	Data []byte
}

// Said is something that the cook said, and how: what a mistake in it is told about.
type Said struct {
	Text string
	From string // --ingredient "flour: 300 g flour"
}

// Wish is what a new trial is to be. What is left empty stands in the note to be
// filled in; see Begin for what is needed.
type Wish struct {
	Slug            string
	Title, Question Said
	By              []Said // short names of people, as kitchen.yaml has them

	Recipe     Recipe
	Conditions []Said   // "rest: 30 min"
	Like       *Earlier // the trial whose recipe, conditions and measures are taken

	// Changes make samples: "rest: 30 min" a sample of its own, "rested: rest = 30 min" a
	// named one, as often as it is named, and "rested, wetter: like rested" one that starts
	// from another. A role that becomes none is left out.
	Changes []Said
	// Samples names them, the control first, or says how many there are.
	Samples Said

	Pieces    int  // of one batch; 0: as the earlier trial, or 6
	Batches   int  // of every sample; 0: 1
	Apart     bool // the batches of the samples are not made side by side
	Assessors int  // 0: 8

	Measures []Said // names of ready-made sets and measures, or "crumb: yes or no"
	Primary  Said
}

// Recipe is a recipe as it was said.
type Recipe struct {
	Name, Makes          Said
	AmountsFor, TestedAt Said
	Ingredients          []Said // "flour: 300 g all-purpose flour"
	Flours, Beside       []Said
	Steps                []Said
}

// Earlier is the trial that a new one is begun like: as it was read, and its note.
type Earlier struct {
	Trial *trial.Trial
	From  string // how it was named
}

// note is the text of the earlier trial's note.
func (e *Earlier) note() []byte {
	for _, file := range e.Trial.Files {
		if file.Name == trial.NoteFile {
			return file.Data
		}
	}
	return nil
}

// Mistake is something that cannot be as it was said.
type Mistake struct {
	From string // of the words that are wrong; "" for what was not said at all
	What string
	Hint string
}

// Error says it in one line.
func (m Mistake) Error() string {
	text := m.What
	if m.From != "" {
		text = m.From + ": " + text
	}
	if m.Hint != "" {
		text += " (" + m.Hint + ")"
	}
	return text
}

// Draft is a trial that has been laid out.
type Draft struct {
	Trial *trial.Trial // as its note reads
	Files []File       // the note and its logs
}

// Begin lays out a trial in a kitchen: its note, and blank logs with a row for every
// piece, taster and set. With a mistake there is no draft.
func Begin(w Wish, k kitchen.Kitchen) (Draft, []Mistake) {
	w.Batches, w.Assessors = cmp.Or(w.Batches, 1), cmp.Or(w.Assessors, 8)
	d := &drafter{wish: w, kitchen: k}
	d.counts()
	d.recipe()
	d.samples()
	d.measures()
	d.write()
	t := d.read()
	if len(d.mistakes) > 0 || t == nil {
		return Draft{}, d.mistakes
	}
	files := append([]File{{trial.NoteFile, d.text.Bytes()}}, d.logs(t)...)
	return Draft{Trial: t, Files: files}, nil
}
