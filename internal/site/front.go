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
	_     struct{} `cbor:",toarray"`
	Data  Digest   // of the trial's files
	Front []byte   // encoded
}

// fronts are those of the newest trials. They are kept apart from cards, which would be
// much larger with them, for few trials need one.
type fronts struct {
	mutex  sync.Mutex
	known  map[string]frontHeld // by slug
	recast bool                 // another one was made in this run
}

const frontsBlob = "fronts"

// frontsHeld is the blob of fronts.
type frontsHeld struct {
	_       struct{} `cbor:",toarray"`
	Setting Digest
	Known   map[string]frontHeld
}

func (f *fronts) recall(m *Memory) {
	data, _, ok := m.store.ReadDated(frontsBlob)
	var held frontsHeld
	if ok && m.codec.read.Unmarshal([]byte(data), &held) == nil && held.Setting == m.setting {
		f.known = held.Known
	}
}

// keep writes the fronts of trials that are still among the newest.
func (f *fronts) keep(m *Memory, newest []*Card) error {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	if !f.recast {
		return nil
	}
	held := frontsHeld{Setting: m.setting, Known: map[string]frontHeld{}}
	for _, c := range newest {
		if at, known := f.known[c.Slug]; known && at.Data == c.State.Data {
			held.Known[c.Slug] = at
		}
	}
	data, err := m.codec.write.Marshal(held)
	if err != nil {
		return err
	}
	return m.store.Write(frontsBlob, string(data))
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
	if known && held.Data == c.State.Data && c.State.Known && p.memory.codec.read.Unmarshal(held.Front, &made) == nil {
		return made, nil
	}
	at, err := p.opened.get(c)
	if err != nil {
		return front{}, err
	}
	made = p.frontOf(at.entry)
	data, err := p.memory.codec.write.Marshal(made)
	if err != nil {
		return front{}, err
	}
	f.mutex.Lock()
	defer f.mutex.Unlock()
	if f.known == nil {
		f.known = map[string]frontHeld{}
	}
	f.known[c.Slug], f.recast = frontHeld{Data: c.State.Data, Front: data}, true
	return made, nil
}

func (p *planner) frontOf(e *Entry) front {
	card := writeup.Card(e.Findings)
	card.Href = e.Trial.Slug + "/"
	card.Invented = p.Kitchen.Invented
	return front{card, p.news(e)}
}
