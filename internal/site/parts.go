package site

import (
	"bytes"
	"encoding/binary"
	"maps"
	"slices"
	"sort"
	"sync"
)

// shard is some of the parts of cards, packed, read when the first of them is asked for.
type shard struct {
	once  sync.Once
	parts partsHeld
}

// partsHeld is a blob of parts, in the order of their digests.
type partsHeld struct {
	_     struct{} `cbor:",toarray"`
	Which []byte   // the digests, one after the other
	Ends  []byte   // of each where it ends in Data, in 4 bytes, little-endian
	Data  []byte
}

const digestSize = len(Digest{})

// holdParts puts parts into a blob.
func holdParts(parts map[Digest][]byte) partsHeld {
	var held partsHeld
	for _, which := range slices.SortedFunc(maps.Keys(parts), func(a, b Digest) int { return bytes.Compare(a[:], b[:]) }) {
		held.Which = append(held.Which, which[:]...)
		held.Data = append(held.Data, parts[which]...)
		held.Ends = binary.LittleEndian.AppendUint32(held.Ends, uint32(len(held.Data)))
	}
	return held
}

// find returns a part, or nil. Of a blob that is none it makes what it can.
func (h *partsHeld) find(which Digest) []byte {
	at, found := sort.Find(len(h.Which)/digestSize, func(i int) int { return bytes.Compare(which[:], h.Which[i*digestSize:(i+1)*digestSize]) })
	if !found || len(h.Ends) < 4*(at+1) {
		return nil
	}
	from, to := uint32(0), binary.LittleEndian.Uint32(h.Ends[4*at:])
	if at > 0 {
		from = binary.LittleEndian.Uint32(h.Ends[4*at-4:])
	}
	if from > to || int64(to) > int64(len(h.Data)) {
		return nil
	}
	return h.Data[from:to:to]
}

// part returns a part of a card as it was written in the last run, packed, if it is there.
func (m *Memory) part(c *Card, which Digest) []byte {
	n := shardOf(c.Slug)
	s := &m.shards[n]
	s.once.Do(func() {
		data, _, ok := m.store.ReadDated(shardName(partsBlob, n))
		if !ok || m.codec.read.Unmarshal(data, &s.parts) != nil {
			s.parts = partsHeld{}
		}
	})
	return s.parts.find(which)
}

// keepParts writes the shards that some changed card lies in.
func (m *Memory) keepParts(cards []*Card, other [shards]bool) error {
	var parts [shards]map[Digest][]byte
	for _, c := range cards {
		n := shardOf(c.Slug)
		if !other[n] {
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
		if !other[n] {
			continue
		}
		if err := m.write(shardName(partsBlob, n), holdParts(parts[n])); err != nil {
			return err
		}
	}
	return nil
}
