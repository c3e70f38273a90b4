package press

import (
	"crypto/sha256"
	"encoding/binary"
	"strings"
	"time"

	"sidebatch.example/sidebatch/internal/site"
)

// table is what a run notes of the files that it left in the site, for the next
// one: what each was made from, its checksum, and the stamp that it had, and the same of
// the list. It is believed in nothing but this: a file that is listed with the same checksum
// and still has the stamp is what was made from that, and a list that still has the stamp
// names these files. It also notes what the lots were made from that the files came in. Where
// few files became others since it was written, these are noted beside it (since.go).
//
// In the cache, all numbers little-endian: the head, the length of passed in 4
// bytes and passed, what all outputs were made of, the stamp and checksum of the list, the checksum
// of the list that the facts are of, the number of lots and of rows in 4 bytes each; the lots, each the digest of what it was made
// from and the number of its first row in 4 bytes; for each lot where its place ends, in 4
// bytes, and the places, one after the other; the rows, each the digest of what it was made
// from, the checksum, and the four numbers of the stamp; for each row where its path ends,
// in 4 bytes; and the paths, one after the other.
type table struct {
	tableTop
	written tableTop // as it was when the table was written
	since   since    // what became another since then
	paths            // of the rows
	at      time.Time
	rows    string
	lots    paths  // the places of the lots
	made    string // from what each lot was, and the number of its first row
	below   string // the ends and paths of the rows, as they lie in the cache
}

// tableTop is what a table says of all files together.
type tableTop struct {
	passed string      // how these files were inspected; "" for not
	all    site.Digest // stands for all that they were made of; zero where that is not known
	listed stamp       // of the list
	sum    digest      // of the list
	facts  digest      // of the list that the facts in the cache are of, with the same paths; zero for none
}

const (
	tableName = "press"
	tableHead = "sidebatch press 6\n"
	fromSize  = len(site.Digest{})
	stampSize = 4 * 8
	topSize   = fromSize + stampSize + 2*sha256.Size
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
func parseTable(text string, at time.Time) table {
	rest, found := strings.CutPrefix(text, tableHead)
	top, rest, whole := parseTop(rest)
	if !found || !whole || len(rest) < 8 {
		return table{}
	}
	t := table{tableTop: top, written: top, at: at}
	lots, rows := numberAt(rest, 0), numberAt(rest, 1)
	if rest = rest[8:]; lots < 0 || rows < 0 || len(rest)/(lotSize+4) < lots {
		return table{}
	}
	t.made, rest = rest[:lots*lotSize], rest[lots*lotSize:]
	t.lots.ends, rest = rest[:4*lots], rest[4*lots:]
	size := t.lots.begin(lots)
	if size < 0 || len(rest) < size || len(rest[size:])/(rowSize+4) < rows {
		return table{}
	}
	t.lots.text, rest = rest[:size], rest[size:]
	t.rows, t.below = rest[:rows*rowSize], rest[rows*rowSize:]
	t.paths = paths{t.below[4*rows:], t.below[:4*rows]}
	if !t.areOrdered() || !t.lots.areOrdered() || !t.lotsFollow() {
		return table{}
	}
	return t
}

// parseTop reads what appendTo writes, off what comes after it.
func parseTop(text string) (t tableTop, rest string, ok bool) {
	passed, rest, ok := cutSized(text)
	if !ok || len(rest) < topSize {
		return tableTop{}, "", false
	}
	t = tableTop{passed, fromAt(rest), stampAt(rest[fromSize:]), sumAt(rest[fromSize+stampSize:]), sumAt(rest[topSize-sha256.Size:])}
	return t, rest[topSize:], true
}

func (t tableTop) appendTo(text []byte) []byte {
	text = append(appendSized(text, t.passed), t.all[:]...)
	return append(append(t.listed.appendTo(text), t.sum[:]...), t.facts[:]...)
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

// fromAt and sumAt read what a text begins with.
func fromAt(text string) (from site.Digest) {
	copy(from[:], text[:fromSize])
	return from
}

func sumAt(text string) (sum digest) {
	copy(sum[:], text[:sha256.Size])
	return sum
}

// cutSized takes off a text with its length before it.
func cutSized(text string) (part, rest string, ok bool) {
	if len(text) < 4 {
		return "", "", false
	}
	size := numberAt(text, 0)
	if size < 0 || len(text)-4 < size {
		return "", "", false
	}
	return text[4 : 4+size], text[4+size:], true
}

// rowText is row i as it lies in the cache.
func (t *table) rowText(i int) string {
	if t.since.hasRow(i) {
		return t.since.rows[i]
	}
	return t.rows[i*rowSize : (i+1)*rowSize]
}

func (t *table) row(i int) row {
	text := t.rowText(i)
	return row{fromAt(text), sumAt(text[fromSize:]), stampAt(text[fromSize+sha256.Size:])}
}

// stampAt reads a stamp as appendTo writes it.
func stampAt(text string) stamp {
	number := func(k int) uint64 { return uint64(numberAt(text, 2*k)) | uint64(numberAt(text, 2*k+1))<<32 }
	return stamp{int64(number(0)), int64(number(1)), int64(number(2)), number(3)}
}

// list is the list of the files in the table.
func (t *table) list() *list {
	return &list{paths: t.paths, rows: t, asIs: true, sum: t.sum}
}

// fromOf is what the file of row i was made from.
func (t *table) fromOf(i int) site.Digest { return fromAt(t.rowText(i)) }

// sizeOf is the size of the file of row i, in bytes.
func (t *table) sizeOf(i int) int64 { return stampAt(t.rowText(i)[fromSize+sha256.Size:]).size }

// sumOf is the checksum of the file of row i.
func (t *table) sumOf(i int) digest { return sumAt(t.rowText(i)[fromSize:]) }

// isFrom tells whether row i is of something made from that.
func (t *table) isFrom(i int, from site.Digest) bool {
	return from != site.Digest{} && t.fromOf(i) == from
}

// isLotFrom tells whether lot i was made from that.
func (t *table) isLotFrom(i int, from site.Digest) bool {
	return from != site.Digest{} && t.lotFrom(i) == from
}

// lotFrom is what lot i was made from.
func (t *table) lotFrom(i int) site.Digest {
	if from, since := t.since.lots[i]; since {
		return fromAt(from)
	}
	return fromAt(t.made[i*lotSize:])
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

// settled tells whether a stamp is old enough that a later change would show in it, to who
// noted it at that time.
func (s stamp) settled(at time.Time) bool {
	before := at.Add(-margin).UnixNano()
	return s.written < before && s.changed < before
}

// isAsLeft tells whether a file with this stamp is that of row i.
func (t *table) isAsLeft(i int, is stamp) bool {
	at := t.at
	if t.since.hasRow(i) {
		at = t.since.at
	}
	return stampAt(t.rowText(i)[fromSize+sha256.Size:]) == is && is.settled(at)
}

// isListLeft tells whether a list with this stamp is that of these files.
func (t *table) isListLeft(is stamp) bool {
	at := t.at
	if t.since.has != nil {
		at = t.since.at
	}
	return is == t.listed && is.settled(at)
}

// tableText is the top of a table in the making.
type tableText struct {
	tableTop
	lots pathsText
	made strings.Builder
}

// addLot adds a lot, whose first row has that number.
func (t *tableText) addLot(at string, from site.Digest, first int) {
	t.lots.add(at)
	t.made.Write(from[:])
	addNumber(&t.made, first)
}

// parts is a table of so many rows, which the parts that are given are of, with the ends and
// paths below them. The parts are those that it has in the cache.
func (t *tableText) parts(rows int, below ...string) []string {
	top := t.tableTop.appendTo([]byte(tableHead))
	top = binary.LittleEndian.AppendUint32(top, uint32(t.made.Len()/lotSize))
	top = binary.LittleEndian.AppendUint32(top, uint32(rows))
	return append([]string{string(top), t.made.String(), t.lots.ends.String(), t.lots.text.String()}, below...)
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
