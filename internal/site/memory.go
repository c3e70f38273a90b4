package site

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// Store keeps named blobs from one run to the next. A blob may be gone at any time, but
// what is read is what was written.
type Store interface {
	// ReadDated returns a blob, and when it was written by the clock of the file system.
	ReadDated(name string) (data []byte, at time.Time, ok bool)
	Write(name string, parts ...[]byte) error
}

// Memory is what one run tells the next of a kitchen's trials: their cards, with the state
// of the files that each was made of. What is lost of it is made again.
type Memory struct {
	store   Store
	codec   codec
	packing packing
	setting Digest
	moment  time.Time        // when this run began, by the clock of the file system
	known   map[string]*Card // of the last run, by slug
	still   map[string]state // of trials that were looked at in this run, and are what they were
	shards  [shards]shard    // the parts of those cards
	fronts  fronts
}

// shards is in how many blobs the cards lie, and in as many their parts, so that one changed
// trial does not have all of them written again.
const shards = 16

// Names of blobs. Those of shards end in a number.
const (
	momentBlob = "moment"
	cardsBlob  = "cards"
	partsBlob  = "parts"
)

// Remember is the memory that lies in a store.
func Remember(store Store) (*Memory, error) {
	c, err := newCodec()
	return &Memory{store: store, codec: c}, err
}

// forgetful is a memory that keeps nothing and has nothing.
func forgetful() *Memory {
	m, _ := Remember(nowhere{}) // the codec's options are ours, and good
	return m
}

// nowhere is a store that holds nothing.
type nowhere struct{}

func (nowhere) ReadDated(string) ([]byte, time.Time, bool) { return nil, time.Time{}, false }
func (nowhere) Write(string, ...[]byte) error              { return nil }

// cardsHeld is a blob of cards.
type cardsHeld struct {
	_       struct{} `cbor:",toarray"`
	Setting Digest
	Cards   []*Card
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
	m.setting, m.known = setting, map[string]*Card{}
	var held [shards]cardsHeld
	each(shards, func(n int) {
		if data, _, ok := m.store.ReadDated(shardName(cardsBlob, n)); ok && m.codec.read.Unmarshal(data, &held[n]) != nil {
			held[n].Cards = nil // what cannot be read is made again
		}
	})
	for n := range held {
		if held[n].Setting != setting {
			continue
		}
		for _, c := range held[n].Cards {
			if c != nil {
				c.memory = m
				m.known[c.Slug] = c
			}
		}
	}
	m.fronts.recall(m)
}

// mark is when this run began.
func (m *Memory) mark() time.Time {
	return m.moment
}

// state is that of a trial's files in the last run.
func (m *Memory) state(slug string) state {
	if m.known[slug] == nil {
		return state{}
	}
	return m.known[slug].State
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
	c.restamped, c.recalled = c.State != now, true
	c.State = now
	return c
}

func shardOf(slug string) int { return int(digestOf(slug)[0]) % shards }

func shardName(blob string, n int) string { return fmt.Sprintf("%s-%02d", blob, n) }

// Keep remembers the cards of an index for the next run, and what it comes to. Of the cards
// only what is another than in the last one is written.
func (m *Memory) Keep(x *Index, s Standing) error {
	var kept []*Card
	var otherCards, otherParts [shards]bool
	seen := map[string]bool{}
	for _, c := range slices.Concat(x.Trials, x.InProgress) {
		if !c.State.Known || c.wrong {
			continue
		}
		seen[c.Slug] = true
		kept = append(kept, c)
		fresh := c.memory != m
		n := shardOf(c.Slug)
		otherCards[n] = otherCards[n] || fresh || c.restamped
		otherParts[n] = otherParts[n] || fresh
	}
	for slug := range m.known {
		if n := shardOf(slug); !seen[slug] {
			otherCards[n], otherParts[n] = true, true
		}
	}
	if err := m.fronts.keep(m, x.Trials[:min(len(x.Trials), newestInFeed)]); err != nil {
		return err
	}
	// The parts first: cards without their parts cost time only, but so do parts of no card.
	if err := m.keepParts(kept, otherParts); err != nil {
		return err
	}
	if err := m.keepCards(kept, otherCards); err != nil {
		return err
	}
	return m.keepStanding(x, s)
}

// keepCards writes the shards in which some card is another one.
func (m *Memory) keepCards(cards []*Card, other [shards]bool) error {
	var held [shards]cardsHeld
	for _, c := range cards {
		if n := shardOf(c.Slug); other[n] {
			held[n].Cards = append(held[n].Cards, c)
		}
	}
	for n := range held {
		if !other[n] {
			continue
		}
		held[n].Setting = m.setting
		slices.SortFunc(held[n].Cards, func(a, b *Card) int { return strings.Compare(a.Slug, b.Slug) })
		if err := m.write(shardName(cardsBlob, n), held[n]); err != nil {
			return err
		}
	}
	return nil
}

func (m *Memory) write(name string, blob any) error {
	data, err := m.codec.write.Marshal(blob)
	if err != nil {
		return err
	}
	return m.store.Write(name, data)
}
