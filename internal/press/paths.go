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
	ends string // of each where it ends in text, in 4 bytes, little-endian
}

func (p *paths) len() int { return len(p.ends) / 4 }

func (p *paths) path(i int) string { return p.text[p.begin(i):p.begin(i+1)] }

// begin is where a path begins; that after the last begins where the last one ends.
func (p *paths) begin(i int) int {
	if i == 0 {
		return 0
	}
	return numberAt(p.ends, i-1)
}

// numberAt is the number i of those that a text begins with, each in 4 bytes, little-endian.
func numberAt(text string, i int) int {
	b := text[4*i : 4*i+4]
	return int(uint32(b[0]) | uint32(b[1])<<8 | uint32(b[2])<<16 | uint32(b[3])<<24)
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

// follow tells whether each begins where the one before ends, and the last one ends in the
// text.
func (p *paths) follow() bool {
	from := 0
	for i := range p.len() {
		end := p.begin(i + 1)
		if end < from || end > len(p.text) {
			return false
		}
		from = end
	}
	return true
}

// pathsText is paths in the making.
type pathsText struct{ text, ends strings.Builder }

// makeRoom is for as many paths as others are, of the same length.
func (t *pathsText) makeRoom(others *paths) {
	t.text.Grow(len(others.text))
	t.ends.Grow(len(others.ends))
}

func (t *pathsText) add(path string) {
	t.text.WriteString(path)
	t.end(t.text.Len())
}

func (t *pathsText) end(at int) { addNumber(&t.ends, at) }

func addNumber(to *strings.Builder, n int) {
	var b [4]byte
	binary.LittleEndian.PutUint32(b[:], uint32(n))
	to.Write(b[:])
}

// addSome adds some that follow each other: from that one up to before another.
func (t *pathsText) addSome(p *paths, from, to int) {
	moved := t.text.Len() - p.begin(from)
	t.text.WriteString(p.text[p.begin(from):p.begin(to)])
	for i := from; i < to; i++ {
		t.end(p.begin(i+1) + moved)
	}
}

func (t *pathsText) path(i int) string {
	all := t.paths()
	return all.path(i)
}

func (t *pathsText) paths() paths { return paths{t.text.String(), t.ends.String()} }
