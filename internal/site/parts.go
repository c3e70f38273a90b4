package site

import (
	"bytes"
	"encoding/binary"
	"maps"
	"slices"
	"sort"
	"strings"
	"sync"

	"sidebatch.example/sidebatch/internal/trial"
)

// shard is some of the parts of cards, packed, read when the first of them is asked for.
type shard struct {
	once  sync.Once
	parts partsHeld

	mutex sync.Mutex
	again map[Digest]string // parts that were lost, and made again
}

// partsHeld is a blob of parts, in the order of their digests.
type partsHeld struct {
	which string // the digests, one after the other
	ends  string // of each where it ends in data, in 4 bytes, little-endian
	data  string
}

func (f *form) parts(h *partsHeld) {
	f.text(&h.which)
	f.text(&h.ends)
	f.text(&h.data)
}

const digestSize = len(Digest{})

// blobOf is a blob of parts, in pieces that go one after the other: what comes before them, and
// each part where it lies.
func blobOf(all map[Digest]string) []string {
	order := slices.SortedFunc(maps.Keys(all), func(a, b Digest) int { return bytes.Compare(a[:], b[:]) })
	which, ends := make([]byte, 0, digestSize*len(order)), make([]byte, 0, 4*len(order))
	pieces, size := make([]string, 1, 1+len(order)), 0
	for _, d := range order {
		pieces = append(pieces, all[d])
		size += len(all[d])
		which, ends = append(which, d[:]...), binary.LittleEndian.AppendUint32(ends, uint32(size))
	}
	pieces[0] = writeForm(len(which)+len(ends)+3*binary.MaxVarintLen64, func(f *form) {
		f.bytes(which)
		f.bytes(ends)
		f.number(&size)
	})
	return pieces
}

// find returns a part, or "". Of a blob that is none it makes what it can.
func (h *partsHeld) find(which Digest) string {
	key := which.text()
	at, found := sort.Find(len(h.which)/digestSize, func(i int) int { return strings.Compare(key, h.which[i*digestSize:(i+1)*digestSize]) })
	if !found || len(h.ends) < 4*(at+1) {
		return ""
	}
	end := func(i int) uint32 { return binary.LittleEndian.Uint32([]byte(h.ends[4*i : 4*i+4])) }
	from, to := uint32(0), end(at)
	if at > 0 {
		from = end(at - 1)
	}
	if from > to || int64(to) > int64(len(h.data)) {
		return ""
	}
	return h.data[from:to]
}

// partNames name the blobs of each kind of part, which are read for different pages. In a blob
// lie those of the trials that came out in one month: a page of the archive shows those of a
// month, and the page of a food the newest.
var partNames = [parts]string{archiveRowPart: "rows", wordsPart: "words", foodsPart: "foods"}

// month is a month of a year; zero for trials that are not published.
type month struct{ year, number int }

// month is when the trial came out.
func (c *Card) month() month { return month{c.Published.Year, c.Published.Month} }

// partsName names the blob with some parts of a month.
func partsName(which int, of month) string {
	when := "none"
	if day := (trial.Date{Year: of.year, Month: of.number}).String(); len(day) == len("2006-01-02") {
		when = day[:len("2006-01")]
	}
	return partNames[which] + "-" + when
}

// shard is where a part of a card lies.
func (m *Memory) shard(c *Card, which int) *shard { return m.parts[which].of(c.month()) }

// part returns a part of a card as it was written in the last run, packed, if it is there.
func (m *Memory) part(c *Card, which int) string {
	return m.shard(c, which).get(c.Parts[which], func() string {
		data, _, _ := m.store.ReadDated(partsName(which, c.month()))
		return data
	})
}

// get returns a part, or "". The blob is read when the first one is asked for.
func (s *shard) get(which Digest, read func() string) string {
	s.once.Do(func() {
		if !readForm(read(), func(f *form) { f.parts(&s.parts) }) {
			s.parts = partsHeld{}
		}
	})
	s.mutex.Lock()
	defer s.mutex.Unlock()
	if data := s.again[which]; data != "" {
		return data
	}
	return s.parts.find(which)
}

// found has a part that was lost, and was made again, kept with the others.
func (s *shard) found(which Digest, data string) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	if s.again == nil {
		s.again = map[Digest]string{}
	}
	s.again[which] = data
}

// hasFound tells whether a shard has parts that were lost.
func (s *shard) hasFound() bool {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	return len(s.again) > 0
}

// shardsBy are shards of which there are as many as keys.
type shardsBy[K comparable] struct {
	mutex sync.Mutex
	all   map[K]*shard
}

func (k *shardsBy[K]) of(key K) *shard {
	k.mutex.Lock()
	defer k.mutex.Unlock()
	if k.all == nil {
		k.all = map[K]*shard{}
	}
	if k.all[key] == nil {
		k.all[key] = &shard{}
	}
	return k.all[key]
}

// addFound adds the keys whose shards have parts that were lost.
func (k *shardsBy[K]) addFound(other map[K]bool) {
	k.mutex.Lock()
	defer k.mutex.Unlock()
	for key, s := range k.all {
		if s.hasFound() {
			other[key] = true
		}
	}
}

// otherParts adds the months of which some part is another one; one of the cards may be nil.
func otherParts(was, is *Card, other [parts]map[month]bool) {
	for which := range other {
		if was != nil && is != nil && was.Parts[which] == is.Parts[which] && was.month() == is.month() {
			continue
		}
		for _, c := range []*Card{was, is} {
			if c != nil {
				other[which][c.month()] = true
			}
		}
	}
}

// keepParts writes the blobs in which some part is another one.
func (m *Memory) keepParts(cards []*Card, other [parts]map[month]bool) error {
	var held [parts]map[month]map[Digest]string
	for which := range other {
		m.parts[which].addFound(other[which])
		held[which] = map[month]map[Digest]string{}
		for when := range other[which] {
			held[which][when] = map[Digest]string{}
		}
	}
	for _, c := range cards {
		when := c.month()
		for which := range held {
			if held[which][when] == nil {
				continue
			}
			data := c.encoded[which]
			if data == "" {
				data = m.part(c, which)
			}
			if data != "" {
				held[which][when][c.Parts[which]] = data
			}
		}
	}
	for which := range held {
		for when, all := range held[which] {
			if err := m.writeParts(partsName(which, when), all); err != nil {
				return err
			}
		}
	}
	return nil
}

func (m *Memory) writeParts(name string, all map[Digest]string) error {
	return m.store.Write(name, blobOf(all)...)
}
