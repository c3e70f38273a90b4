package site

import (
	"fmt"
	"slices"
	"strings"
	"sync"
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
	shards  [shards]shard    // the parts of those cards
	fronts  fronts
}

// shards is in how many blobs the parts of cards lie, so that one changed trial does not
// have all of them written again.
const shards = 16

// Names of blobs. A shard's name ends in its number.
const (
	momentBlob = "moment"
	cardsBlob  = "cards"
	partsBlob  = "parts"
)

// shard is some of the parts of cards, packed, read when the first of them is asked for.
type shard struct {
	once  sync.Once
	parts map[Digest][]byte
}

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

// cardsHeld is the blob of cards.
type cardsHeld struct {
	_       struct{} `cbor:",toarray"`
	Setting Digest
	Chunks  [][]byte // each an array of cards, so that they can be read side by side
}

// cardsInChunk is how many cards are written as one.
const cardsInChunk = 256

// recall reads the cards of the last run, if it had the same setting.
func (m *Memory) recall(setting Digest) {
	m.setting, m.known = setting, map[string]*Card{}
	if m.store.Write(momentBlob) == nil {
		_, m.moment, _ = m.store.ReadDated(momentBlob)
	}
	data, _, ok := m.store.ReadDated(cardsBlob)
	var held cardsHeld
	if !ok || m.codec.read.Unmarshal(data, &held) != nil || held.Setting != setting {
		return
	}
	chunks := make([][]*Card, len(held.Chunks))
	each(len(chunks), func(i int) {
		_ = m.codec.read.Unmarshal(held.Chunks[i], &chunks[i]) // what cannot be read is made again
	})
	for _, chunk := range chunks {
		for _, c := range chunk {
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
	again := *c
	again.restamped, again.recalled = c.State != now, true
	again.State = now
	return &again
}

// part returns a part of a card as it was written in the last run, packed, if it is there.
func (m *Memory) part(c *Card, which Digest) []byte {
	n := shardOf(c.Slug)
	s := &m.shards[n]
	s.once.Do(func() {
		data, _, ok := m.store.ReadDated(shardName(n))
		if !ok || m.codec.read.Unmarshal(data, &s.parts) != nil {
			s.parts = nil
		}
	})
	return s.parts[which]
}

func shardOf(slug string) int { return int(digestOf(slug)[0]) % shards }

func shardName(n int) string { return fmt.Sprintf("%s-%02d", partsBlob, n) }

// Keep remembers the cards of an index for the next run. Only what is another than in the
// last one is written.
func (m *Memory) Keep(x *Index) error {
	var kept []*Card
	dirty := [shards]bool{}
	changed := false
	seen := map[string]bool{}
	for _, c := range slices.Concat(x.Trials, x.InProgress) {
		if !c.State.Known || c.wrong {
			continue
		}
		seen[c.Slug] = true
		kept = append(kept, c)
		fresh := c.memory != m
		changed = changed || fresh || c.restamped
		dirty[shardOf(c.Slug)] = dirty[shardOf(c.Slug)] || fresh
	}
	for slug := range m.known {
		if !seen[slug] {
			changed, dirty[shardOf(slug)] = true, true
		}
	}
	if err := m.fronts.keep(m, x.Trials[:min(len(x.Trials), newestInFeed)]); err != nil || !changed {
		return err
	}
	// The parts first: cards without their parts cost time only, but so do parts of no card.
	if err := m.keepParts(kept, dirty); err != nil {
		return err
	}
	slices.SortFunc(kept, func(a, b *Card) int { return strings.Compare(a.Slug, b.Slug) })
	held := cardsHeld{Setting: m.setting}
	for chunk := range slices.Chunk(kept, cardsInChunk) {
		data, err := m.codec.write.Marshal(chunk)
		if err != nil {
			return err
		}
		held.Chunks = append(held.Chunks, data)
	}
	data, err := m.codec.write.Marshal(held)
	if err != nil {
		return err
	}
	return m.store.Write(cardsBlob, data)
}

// keepParts writes the shards that some changed card lies in.
func (m *Memory) keepParts(cards []*Card, dirty [shards]bool) error {
	var parts [shards]map[Digest][]byte
	for _, c := range cards {
		n := shardOf(c.Slug)
		if !dirty[n] {
			continue
		}
		if parts[n] == nil {
			parts[n] = map[Digest][]byte{}
		}
		for i, which := range c.Parts {
			data := c.encoded[i]
			if data == nil {
				data = m.part(c, which)
			}
			if data != nil {
				parts[n][which] = data
			}
		}
	}
	for n := range parts {
		if !dirty[n] {
			continue
		}
		data, err := m.codec.write.Marshal(parts[n])
		if err == nil {
			err = m.store.Write(shardName(n), data)
		}
		if err != nil {
			return err
		}
	}
	return nil
}
