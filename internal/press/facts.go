package press

import (
	"bytes"
	"encoding/binary"
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

// factsText prints facts as parseFacts reads them.
func factsText(in inspected, of digest, results []result) [][]byte {
	top := append(appendSized([]byte(factsHead), in.kind), of[:]...)
	top = appendSized(top, string(in.whole))
	size := 0
	for _, r := range results {
		size += len(r.facts)
	}
	ends, data := make([]byte, 0, 4*len(results)), make([]byte, 0, size)
	for _, r := range results {
		data = append(data, r.facts...)
		ends = binary.LittleEndian.AppendUint32(ends, uint32(len(data)))
	}
	return [][]byte{top, ends, data}
}
