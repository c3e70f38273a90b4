package press

import (
	"bytes"
	"encoding/binary"
	"slices"
)

// facts are what an inspector gave of the files in one list, when they passed.
//
// In the cache, all numbers little-endian: the head; the kind, with its length in 4
// bytes before it; the checksum of the list; the facts of the whole, like the kind; for
// each file of the list where its facts end, in 4 bytes; and those, one after the other.
type facts struct {
	count int
	whole []byte
	ends  []byte
	data  []byte
}

const (
	factsName = "links"
	factsHead = "sidebatch facts 1\n"
)

// parseFacts returns no facts where the text holds none of that kind and that list.
func parseFacts(text []byte, kind string, of digest, files int) facts {
	rest, found := bytes.CutPrefix(text, appendSized([]byte(factsHead), kind))
	rest, same := bytes.CutPrefix(rest, of[:])
	whole, rest, sized := cutSized(rest)
	if !found || !same || !sized || len(rest)/4 < files {
		return facts{}
	}
	old := facts{files, whole, rest[:4*files], rest[4*files:]}
	from := uint32(0)
	for at := range files {
		end := binary.LittleEndian.Uint32(old.ends[4*at:])
		if end < from || int64(end) > int64(len(old.data)) {
			return facts{}
		}
		from = end
	}
	return old
}

// of returns the facts of a file of the list. They must not be changed.
func (old facts) of(at int) []byte {
	from := uint32(0)
	if at > 0 {
		from = binary.LittleEndian.Uint32(old.ends[4*at-4:])
	}
	return old.data[from:binary.LittleEndian.Uint32(old.ends[4*at:])]
}

// factsText prints the facts of n files as parseFacts reads them, in parts.
func factsText(in inspected, list digest, n int, of func(i int) []byte) [][]byte {
	top := append(appendSized([]byte(factsHead), in.kind), list[:]...)
	top = appendSized(top, string(in.whole))
	ends := make([]byte, 0, 4*n)
	var data spans
	size := 0
	for i := range n {
		facts := of(i)
		data.add(facts)
		size += len(facts)
		ends = binary.LittleEndian.AppendUint32(ends, uint32(size))
	}
	return append([][]byte{top, ends}, append(data.full, data.last)...)
}

// spans is a long text in a few parts. Pieces that follow each other in memory already,
// as the facts of files that stay do, are not copied.
type spans struct {
	full [][]byte
	last []byte
	ours bool // last is a copy, and may be added to
}

// enough is the size of a part that is worth writing on its own.
const enough = 1 << 20

func (s *spans) add(piece []byte) {
	n := len(s.last)
	switch {
	case len(piece) == 0:
	case n == 0:
		s.last = piece
	case !s.ours && cap(s.last) > n && &s.last[:n+1][n] == &piece[0]:
		s.last = s.last[:n+len(piece)]
	case n >= enough:
		s.full = append(s.full, s.last)
		s.last, s.ours = piece, false
	case s.ours:
		s.last = append(s.last, piece...)
	default:
		s.last, s.ours = append(slices.Clip(s.last), piece...), true
	}
}
