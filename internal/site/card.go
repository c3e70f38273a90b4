package site

import (
	"errors"
	"fmt"
	"iter"
	"slices"
	"strings"
	"unique"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/writeup"
)

// Card is what the rest of the site knows of a trial: all that any page is made of that is
// not the trial's own. It is plain data, which one run leaves to the next.
type Card struct {
	Slug      string
	Title     string
	Published trial.Date // zero while it is in progress
	Day       trial.Date // as findings.Findings.Day has it
	Repeats   trial.Repeats
	Links     []string      // the other trials that its prose leads to
	Factors   []*cardFactor // that differ in some contrast, in the order in which they come up
	Foods     []*cardFood   // each once, in order
	Measures  []string      // kinds, as notes name them
	Contrasts int
	Counted   Digest        // stands for what counted says
	Questions int           // how many questions there are about the note
	Files     string        // the trial's outputs, below its folder, a line each, in order; "" where it is held
	State     state         // of the files that it is made of
	Photos    Digest        // stands for what the published photos are made of
	Shared    Digest        // stands for what the picture is drawn from that its address is shared with
	Parts     [parts]Digest // of the larger parts, which are kept apart
	Claims    string        // what stands for what it says of each of Factors, one digest after the other

	encoded [parts]string // parts that were made in this run, packed
	claims  []string      // likewise, of each of Factors; nil where they are of an earlier run
	held    *Entry        // the trial itself, where it stays in memory
	says    *said         // its parts, likewise

	recalled bool // it is of an earlier run: the trial was not read
	wrong    bool // the note has an error, so the card is of no use to another run
}

// The parts of a card that are read only when a page needs them.
const (
	archiveRowPart = iota // archiveEntry
	wordsPart             // a string: what the archive's search finds the trial by
	foodsPart             // findings.Study, with its foods and what names it
	parts
)

// cardFactor is a factor that differs in some contrast.
type cardFactor struct {
	Key    string // as findings.FactorKey has it
	Name   string
	Varied bool // on purpose
	Tried  bool // so, or the only one to differ
}

// cardFood is what a trial did with a food.
type cardFood struct {
	Key     string   // as findings.FoodKey has it
	Written []string // how the note writes it
	Row     string   // what the food table calls it
	Varied  bool
	Factors []string // the keys of the roles in which it was varied
}

func (f *form) factor(x *cardFactor) {
	f.text(&x.Key)
	f.text(&x.Name)
	f.yes(&x.Varied)
	f.yes(&x.Tried)
}

func (f *form) food(x *cardFood) {
	f.text(&x.Key)
	f.texts(&x.Written)
	f.text(&x.Row)
	f.yes(&x.Varied)
	f.texts(&x.Factors)
}

// card is what one run leaves to the next of a card, but for what many have in common. The rest
// of the state of its files stands with those of all trials.
func (f *form) card(c *Card) {
	f.text(&c.Slug)
	f.text(&c.Title)
	f.date(&c.Published)
	f.date(&c.Day)
	f.text(&c.Repeats.Slug)
	f.number(&c.Repeats.Place.Line)
	f.number(&c.Repeats.Place.Column)
	f.texts(&c.Links)
	f.number(&c.Contrasts)
	f.digest(&c.Counted)
	f.number(&c.Questions)
	f.digest(&c.State.Data)
	f.digest(&c.Photos)
	f.digest(&c.Shared)
	for i := range c.Parts {
		f.digest(&c.Parts[i])
	}
	f.text(&c.Claims)
}

// said is what a trial says to other pages.
type said struct {
	archive archiveEntry
	words   string
	study   *findings.Study
	factors []*cardFactor
	foods   []*cardFood
}

func saidBy(f *findings.Findings) said {
	s := f.Study()
	says := said{archive: archiveEntryOf(f), words: searchWords(f.Trial, writeup.Row(f)), study: &s}
	for _, m := range s.Mentions() {
		says.factors = append(says.factors, &cardFactor{Key: findings.FactorKey(m.Factor), Name: m.Factor.Name, Varied: m.Varied, Tried: m.Tried})
	}
	for _, f := range s.Foods {
		says.foods = append(says.foods, &cardFood{Key: f.Key, Written: f.Written, Row: f.Row, Varied: f.Varied, Factors: keysOf(f.Factors)})
	}
	return says
}

// allOnce returns texts each of which is in memory once however many trials have it.
func allOnce(texts []string) []string {
	all := make([]string, len(texts))
	for i, text := range texts {
		all[i] = unique.Make(text).Value()
	}
	return all
}

// title is a card with no more on it than who repeats whom, and whom prose leads to.
func (e *Entry) title() *Card {
	c := &Card{
		Slug:      e.Trial.Slug,
		Title:     e.Trial.Title,
		Published: e.Trial.Published,
		Day:       e.Day(),
		Repeats:   e.Trial.Repeats,
		Links:     e.account.links,
	}
	c.Repeats.Place.File = "" // another run may have another name for it
	return c
}

// card is that of a trial which stays in memory.
func (e *Entry) card() *Card {
	c, says := e.title(), e.says()
	c.fill(says)
	c.held, c.says = e, &says
	return c
}

// fill adds what a trial says to other pages, but for the parts.
func (c *Card) fill(says said) {
	c.Factors, c.Foods = says.factors, says.foods
	c.Measures, c.Contrasts = allOnce(says.archive.Measures), says.archive.Contrasts
	c.Counted = digestOf(fmt.Sprint(c.counted()))
}

// food is what the trial did with a food; it used it.
func (c *Card) food(key string) *cardFood {
	for _, f := range c.Foods {
		if f.Key == key {
			return f
		}
	}
	return &cardFood{}
}

// bytesOfPart is how many bytes a part takes, about.
const bytesOfPart = 2 << 10

// encode writes the parts of a card, and its claims.
func (c *Card) encode(m *Memory, says said) {
	for i, part := range [parts]func(f *form){
		archiveRowPart: func(f *form) { f.archiveEntry(&says.archive) },
		wordsPart:      func(f *form) { f.text(&says.words) },
		foodsPart:      func(f *form) { f.foods(says.study) },
	} {
		text := writeForm(bytesOfPart, part)
		c.encoded[i], c.Parts[i] = m.packing.pack(text), digestOf(text)
	}
	c.writeClaims(says)
}

func (f *form) archiveEntry(e *archiveEntry) {
	for _, text := range [...]*string{&e.Slug, &e.Title, &e.Question, &e.Answer, &e.Evidence} {
		f.text(text)
	}
	f.date(&e.Published)
	f.text(&e.Day)
	listOf(f, &e.Varied, func(x *archiveFactor) {
		f.text(&x.Name)
		f.text(&x.Key)
	})
	f.texts(&e.Foods)
	f.texts(&e.Measures)
	f.number(&e.Contrasts)
}

// foods is what pages of foods say of a trial.
func (f *form) foods(s *findings.Study) {
	f.text(&s.Slug)
	f.text(&s.Title)
	f.date(&s.Day)
	listOf(f, &s.Foods, func(x *findings.FoodUse) {
		f.text(&x.Key)
		f.texts(&x.Written)
		f.text(&x.Row)
		f.texts(&x.Lines)
		f.yes(&x.Varied)
		listOf(f, &x.Levels, func(l *findings.FoodLevel) {
			f.text(&l.Letter)
			f.text(&l.Name)
			f.text(&l.Text)
		})
		listOf(f, &x.Factors, f.designFactor)
	})
}

// foodsIn is what a trial says of foods.
func (x *Index) foodsIn(c *Card) (*findings.Study, error) {
	if c.says != nil {
		return c.says.study, nil
	}
	s := &findings.Study{}
	return s, x.part(c, foodsPart, func(f *form) { f.foods(s) })
}

// archiveEntry is what a trial says to the archive.
func (x *Index) archiveEntry(c *Card) (archiveEntry, error) {
	if c.says != nil {
		return c.says.archive, nil
	}
	var a archiveEntry
	err := x.part(c, archiveRowPart, func(f *form) { f.archiveEntry(&a) })
	return a, err
}

// words are what the archive's search finds a trial by.
func (x *Index) words(c *Card) (string, error) {
	if c.says != nil {
		return c.says.words, nil
	}
	var words string
	err := x.part(c, wordsPart, func(f *form) { f.text(&words) })
	return words, err
}

// part reads a part of a card. What is lost of an earlier run is made again.
func (x *Index) part(c *Card, which int, do func(f *form)) error {
	small := c.encoded[which]
	if small == "" {
		small = x.memory.part(c, which)
	}
	text, ok := x.memory.packing.unpack(small)
	if !ok || digestOf(text) != c.Parts[which] {
		at, err := x.opened.get(c)
		if err != nil {
			return err
		}
		again := *c
		again.encode(x.memory, at.entry.says())
		x.memory.shard(c, which).found(c.Parts[which], again.encoded[which])
		text, ok = x.memory.packing.unpack(again.encoded[which])
	}
	if !ok || !readForm(text, do) {
		return errForm
	}
	return nil
}

var errForm = errors.New("what a trial says to other pages cannot be written and read again (this is a mistake in the program)")

func keysOf(factors []design.Factor) []string {
	var keys []string
	for _, f := range factors {
		if key := findings.FactorKey(f); !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	return keys
}

// folder is where the trial's outputs lie, with a slash at the end.
func (c *Card) folder() string { return c.Slug + "/" }

// files are the paths of the trial's outputs below its folder, in their order.
func (c *Card) files() iter.Seq[string] {
	if c.Files == "" {
		return func(func(string) bool) {}
	}
	return strings.SplitSeq(c.Files, "\n")
}
