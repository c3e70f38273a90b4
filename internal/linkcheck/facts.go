package linkcheck

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"slices"
)

// The facts of a file say what its ids are and where its links lead, as far as another file
// can break them, each as a short hash:
//
//	1 byte   1 where the file has ids that fragments may name, else 0
//	         the number of ids, as a varint, and their hashes, sorted
//	         the number of files that are linked to, as a varint, and the hashes of their paths
//	         pairs to the end: the hash of a path, and of a fragment there
//
// A hash has 5 bytes. On a page with a hundred ids two meet in it by chance once in two
// hundred million pages; then a link to the one is taken for a link to the other, until the
// page is made again.
const hashSize = 5

// hash is FNV-1a (Fowler, Noll and Vo), folded to 40 bits.
func hash(s string) uint64 {
	h := uint64(14695981039346656037)
	for i := range len(s) {
		h = (h ^ uint64(s[i])) * 1099511628211
	}
	return (h>>40 ^ h) & (1<<(8*hashSize) - 1)
}

func appendHash(text []byte, h uint64) []byte {
	return append(binary.LittleEndian.AppendUint32(text, uint32(h)), byte(h>>32))
}

func hashAt(text []byte) uint64 {
	return uint64(binary.LittleEndian.Uint32(text)) | uint64(text[4])<<32
}

// pair is a place in another file, by hashes.
type pair struct{ name, fragment uint64 }

// factsOf returns the facts of a file.
func (c *Checker) factsOf(from string, f *file) []byte {
	ids := make([]uint64, 0, len(f.ids))
	for id := range f.ids {
		ids = append(ids, hash(id))
	}
	var names []uint64
	var pairs []pair
	for _, l := range f.links {
		at, how := c.resolve(from, l)
		if l.base || how != here || at.name == from {
			continue
		}
		if at.fragment == "" {
			names = append(names, hash(at.name))
			continue
		}
		pairs = append(pairs, pair{hash(at.name), hash(at.fragment)}, pair{hash(at.name), hash(at.written)})
	}
	slices.SortFunc(pairs, func(a, b pair) int { return cmp.Or(cmp.Compare(a.name, b.name), cmp.Compare(a.fragment, b.fragment)) })
	text := []byte{0}
	if f.ids != nil {
		text[0] = 1
	}
	text = appendHashes(appendHashes(text, ids), names)
	for _, p := range slices.Compact(pairs) {
		text = appendHash(appendHash(text, p.name), p.fragment)
	}
	return bytes.Clone(text) // there may be very many
}

func appendHashes(text []byte, hashes []uint64) []byte {
	slices.Sort(hashes)
	hashes = slices.Compact(hashes)
	text = binary.AppendUvarint(text, uint64(len(hashes)))
	for _, h := range hashes {
		text = appendHash(text, h)
	}
	return text
}

// recalled is facts, taken apart.
type recalled struct {
	hasIDs bool
	ids    []byte
	names  []byte
	pairs  []byte
}

// parseFacts takes facts apart. Of a text that is none it makes what it can.
func parseFacts(text []byte) (r recalled) {
	if len(text) == 0 {
		return r
	}
	r.hasIDs, text = text[0] == 1, text[1:]
	r.ids, text = cutHashes(text)
	r.names, r.pairs = cutHashes(text)
	return r
}

func cutHashes(text []byte) (hashes, rest []byte) {
	n, size := binary.Uvarint(text)
	if size <= 0 || n > uint64(len(text)-size)/hashSize {
		return nil, nil
	}
	end := size + int(n)*hashSize
	return text[size:end], text[end:]
}

// has tells whether sorted hashes hold one.
func has(hashes []byte, h uint64) bool {
	low, high := 0, len(hashes)/hashSize
	for low < high {
		middle := (low + high) / 2
		switch at := hashAt(hashes[middle*hashSize:]); {
		case at == h:
			return true
		case at < h:
			low = middle + 1
		default:
			high = middle
		}
	}
	return false
}

// lost is what links of files that stay may have led to, and what is there no more.
type lost struct {
	names  map[uint64]bool
	pairs  map[pair]bool
	filter [1 << 10]uint64 // a bit for the low end of the hash of each path
}

func (l *lost) addName(name string) {
	l.names[hash(name)] = true
	l.mark(hash(name))
}

func (l *lost) addPair(p pair) {
	l.pairs[p] = true
	l.mark(p.name)
}

func (l *lost) mark(h uint64)         { l.filter[h>>6&1023] |= 1 << (h & 63) }
func (l *lost) mayHold(h uint64) bool { return l.filter[h>>6&1023]&(1<<(h&63)) != 0 }

// touches tells whether a link of a file may have led to what is lost.
func (l *lost) touches(text []byte) bool {
	r := parseFacts(text)
	for at := 0; at+hashSize <= len(r.names); at += hashSize {
		if h := hashAt(r.names[at:]); l.mayHold(h) && l.names[h] {
			return true
		}
	}
	for at := 0; at+2*hashSize <= len(r.pairs); at += 2 * hashSize {
		h := hashAt(r.pairs[at:])
		if l.mayHold(h) && (l.names[h] || l.pairs[pair{h, hashAt(r.pairs[at+hashSize:])}]) {
			return true
		}
	}
	return false
}

// idsLost adds the ids that a file had and has no more.
func (l *lost) idsLost(name string, was, now []byte) {
	old, left := parseFacts(was), parseFacts(now).ids
	for at := 0; at < len(old.ids); at += hashSize {
		if h := hashAt(old.ids[at:]); !has(left, h) {
			l.addPair(pair{hash(name), h})
		}
	}
}

// separator stands between paths in the facts of the whole; no path holds it.
const separator = "\x00"

// names returns the paths in the facts of the whole.
func namesIn(whole []byte) []string {
	if len(whole) == 0 {
		return nil
	}
	var all []string
	for name := range bytes.SplitSeq(whole, []byte(separator)) {
		all = append(all, string(name))
	}
	return all
}
