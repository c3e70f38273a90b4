package press

import (
	"encoding/binary"
	"sort"
	"strings"
)

// paths is very many paths in their order. It holds no pointer to each, which the collector
// would have to follow.
type paths struct {
	text string // one after the other
	ends []byte // of each where it ends in text, in 4 bytes, little-endian
}

func (p *paths) len() int { return len(p.ends) / 4 }

func (p *paths) path(i int) string { return p.text[p.begin(i):p.begin(i+1)] }

// begin is where a path begins; that after the last begins where the last one ends.
func (p *paths) begin(i int) int {
	if i == 0 {
		return 0
	}
	return int(binary.LittleEndian.Uint32(p.ends[4*i-4:]))
}

// find returns the number of a path, or of the first one after it.
func (p *paths) find(path string) (int, bool) {
	return sort.Find(p.len(), func(i int) int { return strings.Compare(path, p.path(i)) })
}

// areOrdered tells whether every path ends where the text has one, after the one before it
// in their order.
func (p *paths) areOrdered() bool {
	last, from := "", 0
	for i := range p.len() {
		end := p.begin(i + 1)
		if end < from || end > len(p.text) || p.text[from:end] <= last {
			return false
		}
		last, from = p.text[from:end], end
	}
	return true
}

// pathsText is paths in the making.
type pathsText struct {
	text strings.Builder
	ends []byte
}

func (t *pathsText) add(path string) {
	t.text.WriteString(path)
	t.ends = binary.LittleEndian.AppendUint32(t.ends, uint32(t.text.Len()))
}

// addSome adds some that follow each other: from that one up to before another.
func (t *pathsText) addSome(p *paths, from, to int) {
	moved := t.text.Len() - p.begin(from)
	t.text.WriteString(p.text[p.begin(from):p.begin(to)])
	for i := from; i < to; i++ {
		t.ends = binary.LittleEndian.AppendUint32(t.ends, uint32(p.begin(i+1)+moved))
	}
}

func (t *pathsText) path(i int) string {
	all := t.paths()
	return all.path(i)
}

func (t *pathsText) paths() paths { return paths{t.text.String(), t.ends} }
