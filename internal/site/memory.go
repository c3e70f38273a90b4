package site

import (
	"fmt"
	"maps"
	"slices"
	"time"
)

// Store keeps named blobs from one run to the next. A blob may be gone at any time, but
// what is read is what was written.
type Store interface {
	// ReadDated returns a blob, and when it was written by the clock of the file system.
	ReadDated(name string) (data string, at time.Time, ok bool)
	Write(name string, parts ...string) error
}

// Memory is what one run tells the next of a kitchen's trials: their cards, with the state
// of the files that each was made of. What is lost of it is made again.
type Memory struct {
	store   Store
	packing packing
	setting Digest
	moment  time.Time              // when this run began, by the clock of the file system
	known   map[string]*Card       // of the last run, by slug
	stood   standingHeld           // with the state of the files that each of those was made of
	folders []string               // that Standing found; nil where it was not asked
	still   []bool                 // of the trials of then: it was looked at in this run, and is what it was
	parts   [parts]shardsBy[month] // by month, the parts of those cards
	claims  shardsBy[string]       // by factor, what those cards say of it
	fronts  fronts
}

// shards is in how many blobs the cards lie, so that one changed trial does not have all of them
// written again.
const shards = 16

// Names of blobs. Those of shards end in a number.
const (
	momentBlob = "moment"
	cardsBlob  = "cards"
)

// Remember is the memory that lies in a store.
func Remember(store Store) *Memory { return &Memory{store: store} }

// forgetful is a memory that keeps nothing and has nothing.
func forgetful() *Memory { return Remember(nowhere{}) }

// nowhere is a store that holds nothing.
type nowhere struct{}

func (nowhere) ReadDated(string) (string, time.Time, bool) { return "", time.Time{}, false }
func (nowhere) Write(string, ...string) error              { return nil }

// bytesOfCard is how many bytes a card takes in a blob, about.
const bytesOfCard = 400

// cardsHeld is a blob of cards.
type cardsHeld struct {
	setting Digest
	cards   []*Card
}

// cardsAtOnce is for how many cards room is made at a time.
const cardsAtOnce = 128

// Many trials did the same with a food, or with a factor, or have the same measures or files,
// and share the value.
func (f *form) cards(h *cardsHeld) {
	factors, foods := newPool((*form).factor), newPool((*form).food)
	measures, files := newPool((*form).texts), newPool((*form).text)
	for _, c := range h.cards {
		factors.add(c.Factors...)
		foods.add(c.Foods...)
		measures.add(&c.Measures)
		files.add(&c.Files)
	}
	f.digest(&h.setting)
	factors.values(f)
	foods.values(f)
	measures.values(f)
	files.values(f)
	var room []Card
	listOf(f, &h.cards, func(at **Card) {
		if f.reading {
			if len(room) == 0 {
				room = make([]Card, cardsAtOnce)
			}
			*at, room = &room[0], room[1:]
		}
		c := *at
		f.card(c)
		factors.members(f, &c.Factors)
		foods.members(f, &c.Foods)
		measures.member(f, &c.Measures)
		files.member(f, &c.Files)
	})
}

// begin notes when this run began.
func (m *Memory) begin() {
	if m.moment.IsZero() && m.store.Write(momentBlob) == nil {
		_, m.moment, _ = m.store.ReadDated(momentBlob)
	}
}

// recall reads the cards of the last run, if it had the same setting.
func (m *Memory) recall(setting Digest) {
	m.begin()
	m.setting = setting
	if m.still == nil { // Standing was not asked
		m.recallStates()
	}
	m.known = make(map[string]*Card, len(m.stood.Slugs))
	var held [shards]cardsHeld
	each(shards, func(n int) {
		if data, _, ok := m.store.ReadDated(shardName(cardsBlob, n)); !ok || !readForm(data, func(f *form) { f.cards(&held[n]) }) {
			held[n].cards = nil // what cannot be read is made again
		}
	})
	for n := range held {
		if held[n].setting != setting {
			continue
		}
		for _, c := range held[n].cards {
			m.known[c.Slug] = c
		}
	}
	m.fronts.recall(m)
}

// was is the state of a trial's files in the last run, and whether they were looked at in this
// one and are what they were.
func (m *Memory) was(slug string) (then state, still bool) {
	i, found := slices.BinarySearch(m.stood.Slugs, slug)
	if !found {
		return state{}, false
	}
	return m.stood.States[i], m.still[i]
}

// mark is when this run began.
func (m *Memory) mark() time.Time {
	return m.moment
}

// card is that of the last run, with its files as they are now, or nil where something in
// them is another.
func (m *Memory) card(slug string, now state) *Card {
	if !now.Known {
		return nil
	}
	c := m.known[slug]
	if c == nil || c.State.Data != now.Data {
		return nil
	}
	c.State, c.recalled = now, true
	return c
}

// shardOf spreads trials evenly: FNV-1a (Fowler, Noll and Vo), which is quick.
func shardOf(slug string) int {
	sum := uint32(2166136261)
	for i := range len(slug) {
		sum = (sum ^ uint32(slug[i])) * 16777619
	}
	return int(sum % shards)
}

func shardName(blob string, n int) string { return fmt.Sprintf("%s-%02d", blob, n) }

// Keep remembers the cards of an index for the next run, and what it comes to, unless it is
// not known by which program. Of the cards only what is another than in the last one is
// written.
func (m *Memory) Keep(x *Index, s Standing) error {
	if x.setting == (Digest{}) {
		return nil // by another program it might be taken for its own
	}
	var kept []*Card
	var otherCards [shards]bool
	var otherMonths [parts]map[month]bool
	for which := range otherMonths {
		otherMonths[which] = map[month]bool{}
	}
	about := map[string]bool{} // factors of which something else is said
	met := 0                   // of the cards that are known
	for _, c := range x.bySlug {
		if !c.State.Known || c.wrong {
			continue
		}
		kept = append(kept, c)
		was := m.known[c.Slug]
		if was != nil {
			met++
		}
		if was == c {
			continue
		}
		otherCards[shardOf(c.Slug)] = true
		otherClaims(was, c, about)
		otherParts(was, c, otherMonths)
	}
	for _, was := range m.goneFrom(kept, met) {
		otherCards[shardOf(was.Slug)] = true
		otherClaims(was, nil, about)
		otherParts(was, nil, otherMonths)
	}
	if err := m.fronts.keep(m, x.Trials[:min(len(x.Trials), newestInFeed)]); err != nil {
		return err
	}
	// The parts first: cards without their parts cost time only, but so do parts of no card.
	if err := m.keepParts(kept, otherMonths); err != nil {
		return err
	}
	if err := m.keepClaims(kept, about); err != nil {
		return err
	}
	if err := m.keepCards(kept, otherCards); err != nil {
		return err
	}
	return m.keepStanding(kept, s)
}

// goneFrom are the cards of the last run whose trials have none now, of which so many have one.
func (m *Memory) goneFrom(kept []*Card, met int) []*Card {
	if met == len(m.known) {
		return nil
	}
	gone := maps.Clone(m.known)
	for _, c := range kept {
		delete(gone, c.Slug)
	}
	return slices.Collect(maps.Values(gone))
}

// keepCards writes the shards in which some card is another one, in the order that they are in.
func (m *Memory) keepCards(cards []*Card, other [shards]bool) error {
	var held [shards]cardsHeld
	for _, c := range cards {
		if n := shardOf(c.Slug); other[n] {
			held[n].cards = append(held[n].cards, c)
		}
	}
	for n := range held {
		if !other[n] {
			continue
		}
		held[n].setting = m.setting
		if err := m.store.Write(shardName(cardsBlob, n), writeForm(len(held[n].cards)*bytesOfCard, func(f *form) { f.cards(&held[n]) })); err != nil {
			return err
		}
	}
	return nil
}
