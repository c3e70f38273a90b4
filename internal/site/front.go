package site

import (
	"sync"

	"sidebatch.example/sidebatch/internal/feed"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/writeup"
)

// front is what the first page and the feed show of a trial.
type front struct {
	Card page.Card
	News feed.Entry
}

// frontHeld is a front as one run leaves it to the next.
type frontHeld struct {
	data Digest // of the trial's files
	text string // its form
}

// bytesOfFront is how many bytes a front takes, about.
const bytesOfFront = 4 << 10

// fronts are those of the newest trials. They are kept apart from cards, which would be
// much larger with them, for few trials need one.
type fronts struct {
	mutex  sync.Mutex
	known  map[string]frontHeld // by slug
	recast bool                 // another one was made in this run
}

const frontsBlob = "fronts"

// frontsHeld is the blob of fronts, those of some trials in their order.
type frontsHeld struct {
	setting Digest
	slugs   []string
	fronts  []frontHeld
}

func (f *form) fronts(h *frontsHeld) {
	f.digest(&h.setting)
	f.texts(&h.slugs)
	listOf(f, &h.fronts, func(x *frontHeld) {
		f.digest(&x.data)
		f.text(&x.text)
	})
}

func (f *form) front(x *front) {
	f.frontCard(&x.Card)
	n := &x.News
	for _, text := range [...]*string{&n.Address, &n.Title, &n.Published, &n.Updated, &n.Summary, &n.Content} {
		f.text(text)
	}
	f.texts(&n.Authors)
	f.texts(&n.Keywords)
}

func (f *form) frontCard(c *page.Card) {
	for _, text := range [...]*string{&c.Href, &c.Title, &c.Question, &c.Answer, &c.Evidence, &c.Date.Text, &c.Date.ISO} {
		f.text(text)
	}
	wordOf(f, &c.Support)
	ref := func(s *page.SampleRef) {
		f.text(&s.Letter)
		f.text(&s.Name)
	}
	maybe(f, &c.Prefer, ref)
	f.texts(&c.By)
	f.texts(&c.Factors)
	listOf(f, &c.Samples, ref)
	maybe(f, &c.Photo, func(p *page.Photo) {
		f.text(&p.Src)
		f.text(&p.Srcset)
		f.text(&p.Alt)
		f.number(&p.Width)
		f.number(&p.Height)
	})
	f.yes(&c.Invented)
}

func (f *fronts) recall(m *Memory) {
	data, _, ok := m.store.ReadDated(frontsBlob)
	var held frontsHeld
	if !ok || !readForm(data, func(f *form) { f.fronts(&held) }) || held.setting != m.setting || len(held.slugs) != len(held.fronts) {
		return
	}
	f.known = make(map[string]frontHeld, len(held.slugs))
	for i, slug := range held.slugs {
		f.known[slug] = held.fronts[i]
	}
}

// keep writes the fronts of trials that are still among the newest.
func (f *fronts) keep(m *Memory, newest []*Card) error {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	if !f.recast {
		return nil
	}
	held := frontsHeld{setting: m.setting}
	for _, c := range newest {
		if at, known := f.known[c.Slug]; known && at.data == c.State.Data {
			held.slugs, held.fronts = append(held.slugs, c.Slug), append(held.fronts, at)
		}
	}
	return m.store.Write(frontsBlob, writeForm(len(held.slugs)*bytesOfFront, func(f *form) { f.fronts(&held) }))
}

// front is that of a trial: held, remembered, or made of the trial.
func (p *planner) front(c *Card) (front, error) {
	if c.held != nil {
		return p.frontOf(c.held), nil
	}
	f := &p.memory.fronts
	f.mutex.Lock()
	held, known := f.known[c.Slug]
	f.mutex.Unlock()
	var made front
	if known && held.data == c.State.Data && c.State.Known && readForm(held.text, func(f *form) { f.front(&made) }) {
		return made, nil
	}
	at, err := p.opened.get(c)
	if err != nil {
		return front{}, err
	}
	made = p.frontOf(at.entry)
	text := writeForm(bytesOfFront, func(f *form) { f.front(&made) })
	f.mutex.Lock()
	defer f.mutex.Unlock()
	if f.known == nil {
		f.known = map[string]frontHeld{}
	}
	f.known[c.Slug], f.recast = frontHeld{c.State.Data, text}, true
	return made, nil
}

func (p *planner) frontOf(e *Entry) front {
	card := writeup.Card(e.Findings)
	card.Href = e.Trial.Slug + "/"
	card.Invented = p.Kitchen.Invented
	return front{card, p.news(e)}
}
