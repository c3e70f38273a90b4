package press

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"time"

	"sidebatch.example/sidebatch/internal/site"
)

// table is what a run notes of the files that it left in the site, for the next
// one: what each was made from, its checksum, and the stamp that it had, and the same of
// the list. It is believed in nothing but this: a file that is listed with the same checksum
// and still has the stamp is what was made from that, and a list that still has the stamp
// names these files.
//
// In the cache, all numbers little-endian: the head, the length of passed in 4
// bytes and passed, what all outputs were made of, the stamp and checksum of the list, the
// number of rows in 4 bytes; the rows, each the digest of what it was made from, the
// checksum, and the four numbers of the stamp; for each row where its path ends, in 4
// bytes; and the paths, one after the other.
type table struct {
	tableTop
	at    time.Time
	count int
	rows  []byte
	ends  []byte
	paths string
	below []byte // ends and paths, as they lie in the cache
}

// tableTop is what a table says of all files together.
type tableTop struct {
	passed string      // how these files were inspected; "" for not
	all    site.Digest // stands for all that they were made of; zero where that is not known
	listed stamp       // of the list
	sum    digest      // of the list
}

const (
	tableName = "press"
	tableHead = "sidebatch press 3\n"
	fromSize  = len(site.Digest{})
	stampSize = 4 * 8
	topSize   = fromSize + stampSize + sha256.Size
	rowSize   = fromSize + sha256.Size + stampSize
)

// row is one line of the table.
type row struct {
	from  site.Digest
	sum   digest
	stamp stamp
}

// parseTable returns an empty table where the text is none.
func parseTable(text []byte, at time.Time) table {
	rest, found := bytes.CutPrefix(text, []byte(tableHead))
	passed, rest, whole := cutSized(rest)
	if !found || !whole || len(rest) < topSize+4 {
		return table{}
	}
	top := tableTop{string(passed), site.Digest(rest), stampAt(rest[fromSize:]), digest(rest[fromSize+stampSize:])}
	rest = rest[topSize:]
	n := int(binary.LittleEndian.Uint32(rest))
	if rest = rest[4:]; n < 0 || len(rest)/(rowSize+4) < n {
		return table{}
	}
	t := table{tableTop: top, at: at, count: n, rows: rest[:n*rowSize], ends: rest[n*rowSize : n*(rowSize+4)], paths: string(rest[n*(rowSize+4):]), below: rest[n*rowSize:]}
	last := ""
	for i, from := 0, 0; i < t.count; i++ {
		end := int(binary.LittleEndian.Uint32(t.ends[4*i:]))
		if end < from || end > len(t.paths) || t.paths[from:end] <= last {
			return table{}
		}
		last, from = t.paths[from:end], end
	}
	return t
}

// cutSized takes off a text with its length before it.
func cutSized(text []byte) (part, rest []byte, ok bool) {
	if len(text) < 4 {
		return nil, nil, false
	}
	size := uint64(binary.LittleEndian.Uint32(text))
	if uint64(len(text)-4) < size {
		return nil, nil, false
	}
	return text[4 : 4+size], text[4+size:], true
}

func (t *table) path(i int) string {
	from := 0
	if i > 0 {
		from = int(binary.LittleEndian.Uint32(t.ends[4*i-4:]))
	}
	return t.paths[from:binary.LittleEndian.Uint32(t.ends[4*i:])]
}

func (t *table) row(i int) (r row) {
	b := t.rows[i*rowSize:]
	copy(r.from[:], b)
	copy(r.sum[:], b[fromSize:])
	r.stamp = stampAt(b[fromSize+sha256.Size:])
	return r
}

// stampAt reads a stamp as appendTo writes it.
func stampAt(b []byte) stamp {
	number := func(k int) uint64 { return binary.LittleEndian.Uint64(b[8*k:]) }
	return stamp{int64(number(0)), int64(number(1)), int64(number(2)), number(3)}
}

// list is the list of the files in the table.
func (t *table) list() *list {
	l := &list{files: make([]listed, t.count), asIs: true, sum: t.sum}
	for i := range l.files {
		l.files[i] = listed{t.path(i), t.row(i).sum}
	}
	return l
}

// isFrom tells whether row i is of something made from that, without the rest of it.
func (t *table) isFrom(i int, from site.Digest) bool {
	return from != site.Digest{} && bytes.Equal(t.rows[i*rowSize:i*rowSize+len(from)], from[:])
}

// margin is by how much a file must be older than the table before its stamp alone
// is believed. A file system tells time in steps, on some of two seconds (Microsoft,
// "File Times", on FAT); a file written again in the same step may have the same stamp.
const margin = 2 * time.Second

// settled tells whether a stamp is old enough that a later change would show in it.
func (t *table) settled(s stamp) bool {
	before := t.at.Add(-margin).UnixNano()
	return s.written < before && s.changed < before
}

// tableText is a table in the making.
type tableText struct{ top, rows, ends, paths []byte }

func newTable(top tableTop, rows int) *tableText {
	t := &tableText{top: append(appendSized([]byte(tableHead), top.passed), top.all[:]...)}
	t.top = append(top.listed.appendTo(t.top), top.sum[:]...)
	t.top = binary.LittleEndian.AppendUint32(t.top, uint32(rows))
	return t
}

func appendSized(text []byte, part string) []byte {
	return append(binary.LittleEndian.AppendUint32(text, uint32(len(part))), part...)
}

func (t *tableText) add(path string, r row) {
	t.rows = r.appendTo(t.rows)
	t.paths = append(t.paths, path...)
	t.ends = binary.LittleEndian.AppendUint32(t.ends, uint32(len(t.paths)))
}

func (r row) appendTo(rows []byte) []byte {
	return r.stamp.appendTo(append(append(rows, r.from[:]...), r.sum[:]...))
}

func (s stamp) appendTo(text []byte) []byte {
	for _, n := range [...]uint64{uint64(s.size), uint64(s.written), uint64(s.changed), s.number} {
		text = binary.LittleEndian.AppendUint64(text, n)
	}
	return text
}
