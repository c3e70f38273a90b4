package site

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync/atomic"
	"time"

	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// Surveyor reads a kitchen of any size. Of each trial it keeps no more than its card; a
// trial whose files are what they were in an earlier run is not even read.
type Surveyor struct {
	Content Content
	Kitchen kitchen.Kitchen // as ReadKitchen has it
	Look    Look            // without Pages the index is for looking at, and cannot be planned
	Memory  *Memory         // of earlier runs; nil remembers nothing

	reader  reader
	binding *binding
	opened  *opened
	factors *alike[cardFactor]
	foods   *alike[cardFood]
}

// Survey reads all trials and checks them. All problems of the trials that were read are
// collected; of those that an earlier run remembers there are no more than questions, which
// the index counts. A trial that cannot be read at all is absent from the index.
func (v Surveyor) Survey(problems *problem.List) *Index {
	if v.Memory == nil || v.Look.Program == "" {
		v.Memory = forgetful()
	}
	v.reader = reader{v.Kitchen, v.Content, newAlbum()}
	if v.Look.Pages != nil {
		v.binding = bind(v.reader, v.Look)
	}
	setting := v.setting()
	v.Memory.recall(setting)
	slugs := v.Memory.folders
	if slugs == nil {
		slugs = v.reader.folders(problems)
	}
	v.opened = newOpened(len(slugs), v.open)
	v.factors, v.foods = newAlike((*form).factor), newAlike((*form).food)
	var trials atomic.Int64
	cards := make([]*Card, len(slugs))
	found := make([]problem.List, len(slugs))
	var read atomic.Int64
	each(len(slugs), func(i int) {
		state, hasNote, still := v.look(slugs[i])
		if still || v.reader.isTrial(slugs[i], hasNote, &found[i]) {
			trials.Add(1)
			cards[i] = v.card(slugs[i], state, &found[i])
		}
		if done := int(read.Add(1)); v.Content.Read != nil {
			v.Content.Read(done, len(slugs))
		}
	})
	if slugs != nil && trials.Load() == 0 {
		v.reader.noTrial(problems)
	}
	there := slices.DeleteFunc(slices.Clone(cards), func(c *Card) bool { return c == nil })
	x := newIndex(v.reader, there)
	x.bySlug = there
	x.binding, x.opened, x.memory = v.binding, v.opened, v.Memory
	if v.Look.Program != "" {
		x.setting = setting
	}
	x.checkRepeats(problems)
	v.checkLinks(x, cards, found, slugs)
	for i, list := range found {
		problems.Join(list)
		if cards[i] != nil {
			cards[i].wrong = cards[i].wrong || list.Errors() > 0
		}
	}
	return x
}

// checkLinks reads again each trial whose prose links to one that is not published: which
// are is known only when all notes have been read.
func (v Surveyor) checkLinks(x *Index, cards []*Card, found []problem.List, slugs []string) {
	broken := func(to string) bool { return !x.known().has(to) }
	each(len(cards), func(i int) {
		if cards[i] == nil || !slices.ContainsFunc(cards[i].Links, broken) {
			return
		}
		found[i] = problem.List{}
		v.read(slugs[i], x.known(), &found[i])
		cards[i].wrong, cards[i].recalled = true, false
	})
}

// Open returns the trial of a card.
func (x *Index) Open(c *Card) (*Entry, error) {
	at, err := x.opened.get(c)
	return at.entry, err
}

// questions is how many questions there are about the notes: those that were found now, and
// those about trials that did not have to be read.
func (x *Index) questions(found problem.List) int {
	n := len(found.Sorted()) - found.Errors()
	for _, c := range slices.Concat(x.Trials, x.InProgress) {
		if c.recalled {
			n += c.Questions
		}
	}
	return n
}

// card is that of a trial, remembered or made anew.
func (v Surveyor) card(slug string, state state, problems *problem.List) *Card {
	if c := v.Memory.card(slug, state); c != nil {
		return c
	}
	e, ok := v.read(slug, nil, problems)
	if !ok {
		return nil
	}
	c, says := e.title(), e.says()
	c.fill(says)
	c.Factors, c.Foods = v.factors.share(c.Factors), v.foods.share(c.Foods)
	c.State, c.wrong = state, problems.Errors() > 0
	c.Questions = len(problems.Sorted()) - problems.Errors()
	v.opened.put(c, e)
	if v.binding == nil || c.wrong {
		return c
	}
	var files []string
	for _, o := range v.binding.filesOf(e, around{}) {
		files = append(files, strings.TrimPrefix(o.Path, c.folder()))
	}
	slices.Sort(files)
	c.Photos, c.Shared = e.photosFrom(), v.binding.sharedFrom(e)
	c.Files = strings.Join(files, "\n")
	c.encode(v.Memory, says)
	return c
}

// read reads a trial and tells its prose.
func (v Surveyor) read(slug string, known trials, problems *problem.List) (*Entry, bool) {
	e := v.reader.entry(slug, problems)
	if e == nil {
		return nil, false
	}
	v.reader.samplePhotos(e, problems)
	v.reader.tell(e, known, problems)
	e.Questions(problems)
	return e, true
}

// look looks at the files of a folder. What stands in them is read only where their stamps do
// not say that it is what an earlier run remembers. It is still a trial where they are what
// they were when it was looked at last.
func (v Surveyor) look(slug string) (s state, hasNote, still bool) {
	known, still := v.Memory.was(slug)
	if still || v.reader.still(slug, known) {
		return known, true, still
	}
	s, names := v.reader.stateOf(slug, v.Memory.mark())
	note := path.Join(slug, trial.NoteFile)
	if known.Settled && s.Known && known.Stamps == s.Stamps {
		return known, true, false
	}
	if hasNote = slices.Contains(names, note); !hasNote {
		_, err := fs.Stat(v.Content.FS, note) // or it may be a folder, which reading tells
		hasNote = err == nil
	}
	if s.Known && hasNote {
		s.Data, s.Known = v.reader.dataOf(slug, names)
	}
	return s, hasNote, false
}

// open reads a trial again whose pages are to be made.
func (v Surveyor) open(c *Card) (*Entry, error) {
	var problems problem.List
	e, ok := v.read(c.Slug, nil, &problems)
	now, _ := v.reader.stateOf(c.Slug, time.Time{})
	if !ok || now.Stamps != c.State.Stamps {
		return nil, fmt.Errorf("%s was changed while the site was being published (publish again)", path.Join(v.Content.Shown, c.Slug))
	}
	return e, nil
}

// setting stands for everything but the trials that goes into their cards.
func (v Surveyor) setting() Digest {
	file, err := readFile(v.Content.FS, kitchen.File)
	there := "there"
	if err != nil {
		there = "" // why is told by whoever reads it properly
	}
	return digestOf(v.Look.Program, there, string(file), fmt.Sprint(v.Look.InProgress, v.Look.Pages != nil))
}
