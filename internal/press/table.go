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
// names these files. It also notes what the lots were made from that the files came in.
//
// In the cache, all numbers little-endian: the head, the length of passed in 4
// bytes and passed, what all outputs were made of, the stamp and checksum of the list, the
// number of lots and of rows in 4 bytes each; the lots, each the digest of what it was made
// from and the number of its first row in 4 bytes; for each lot where its place ends, in 4
// bytes, and the places, one after the other; the rows, each the digest of what it was made
// from, the checksum, and the four numbers of the stamp; for each row where its path ends,
// in 4 bytes; and the paths, one after the other.
type table struct {
	tableTop
	paths // of the rows
	at    time.Time
	rows  []byte
	lots  paths  // the places of the lots
	made  []byte // from what each lot was, and the number of its first row
	below []byte // the ends and paths of the rows, as they lie in the cache
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
	tableHead = "sidebatch press 4\n"
	fromSize  = len(site.Digest{})
	stampSize = 4 * 8
	topSize   = fromSize + stampSize + sha256.Size
	lotSize   = fromSize + 4
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
	if !found || !whole || len(rest) < topSize+8 {
		return table{}
	}
	t := table{at: at}
	t.tableTop = tableTop{string(passed), site.Digest(rest), stampAt(rest[fromSize:]), digest(rest[fromSize+stampSize:])}
	rest = rest[topSize:]
	lots, rows := numberAt(rest, 0), numberAt(rest, 1)
	if rest = rest[8:]; len(rest)/(lotSize+4) < lots {
		return table{}
	}
	t.made, rest = rest[:lots*lotSize], rest[lots*lotSize:]
	t.lots.ends, rest = rest[:4*lots], rest[4*lots:]
	size := t.lots.begin(lots)
	if len(rest) < size || len(rest[size:])/(rowSize+4) < rows {
		return table{}
	}
	t.lots.text, rest = string(rest[:size]), rest[size:]
	t.rows, t.below = rest[:rows*rowSize], rest[rows*rowSize:]
	t.paths = paths{string(t.below[4*rows:]), t.below[:4*rows]}
	if !t.areOrdered() || !t.lots.areOrdered() || !t.lotsFollow() {
		return table{}
	}
	return t
}

// lotsFollow tells whether the lots are of all rows, each of some.
func (t *table) lotsFollow() bool {
	next := 0
	for i := range t.lots.len() {
		from, to := t.rowsOf(i)
		if from != next || to <= from {
			return false
		}
		next = to
	}
	return next == t.len()
}

// numberAt is the number i of those that a text begins with.
func numberAt(text []byte, i int) int { return int(binary.LittleEndian.Uint32(text[4*i:])) }

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
	return &list{paths: t.paths, sums: t.rows[min(fromSize, len(t.rows)):], apart: rowSize, ofRows: true, asIs: true, sum: t.sum}
}

// fromOf is what the file of row i was made from.
func (t *table) fromOf(i int) site.Digest { return site.Digest(t.rows[i*rowSize:]) }

// isFrom tells whether row i is of something made from that.
func (t *table) isFrom(i int, from site.Digest) bool {
	return from != site.Digest{} && t.fromOf(i) == from
}

// isLotFrom tells whether lot i was made from that.
func (t *table) isLotFrom(i int, from site.Digest) bool {
	return from != site.Digest{} && site.Digest(t.made[i*lotSize:]) == from
}

// rowsOf are the rows of lot i: from that one up to before another.
func (t *table) rowsOf(i int) (from, to int) {
	first := func(i int) int { return numberAt(t.made[i*lotSize+fromSize:], 0) }
	if i+1 == t.lots.len() {
		return first(i), t.len()
	}
	return first(i), first(i + 1)
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

// tableText is the top of a table in the making.
type tableText struct {
	tableTop
	lots pathsText
	made []byte
}

// addLot adds a lot, whose first row has that number.
func (t *tableText) addLot(at string, from site.Digest, first int) {
	t.lots.add(at)
	t.made = binary.LittleEndian.AppendUint32(append(t.made, from[:]...), uint32(first))
}

// parts is a table with these rows and the ends and paths below them, in the parts that it
// has in the cache.
func (t *tableText) parts(rows []byte, below ...[]byte) [][]byte {
	top := append(appendSized([]byte(tableHead), t.passed), t.all[:]...)
	top = append(t.listed.appendTo(top), t.sum[:]...)
	top = binary.LittleEndian.AppendUint32(top, uint32(len(t.made)/lotSize))
	top = binary.LittleEndian.AppendUint32(top, uint32(len(rows)/rowSize))
	return append([][]byte{top, t.made, t.lots.ends, []byte(t.lots.text.String()), rows}, below...)
}

func appendSized(text []byte, part string) []byte {
	return append(binary.LittleEndian.AppendUint32(text, uint32(len(part))), part...)
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
