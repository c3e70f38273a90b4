package press

import (
	"crypto/sha256"
	"encoding/binary"
	"maps"
	"slices"
	"strings"
	"time"

	"sidebatch.example/sidebatch/internal/cache"
)

// since is what became another since a table was written, with the same files in the same
// lots: a run that makes a few of very many files notes these, and no others again.
//
// In the cache, all numbers little-endian: the head; the checksum of the top of the table; the
// top as it is now; and, with their number in 4 bytes before them, the lots, each its number
// in 4 bytes and the digest of what it was made from, and the rows, each its number in 4 bytes
// and the row as in the table. Both are in their order.
type since struct {
	of   digest // the checksum of the top of the table
	top  tableTop
	at   time.Time
	lots map[int]string // what each was made from
	rows map[int]string
	has  []uint64 // a bit for each row, which is quicker to ask
}

const (
	sinceName = "press-since"
	sinceHead = "sidebatch press since 1\n"
)

// mostSince is how many of so many rows may be noted apart.
func mostSince(rows int) int { return max(2, rows/64) }

// parseSince is false where the text is not of that table.
func parseSince(text string, at time.Time, t *table) (s since, ok bool) {
	rest, found := strings.CutPrefix(text, sinceHead)
	if !found || len(rest) < sha256.Size || sumAt(rest) != t.tableTop.sumOf() {
		return since{}, false
	}
	s = since{of: sumAt(rest), at: at}
	if s.top, rest, ok = parseTop(rest[sha256.Size:]); !ok {
		return since{}, false
	}
	if s.lots, rest, ok = parseNumbered(rest, fromSize, t.lots.len()); !ok {
		return since{}, false
	}
	if s.rows, rest, ok = parseNumbered(rest, rowSize, t.len()); !ok || rest != "" {
		return since{}, false
	}
	s.has = make([]uint64, t.len()/64+1)
	for i := range s.rows {
		s.has[i/64] |= 1 << (i % 64)
	}
	return s, true
}

// parseNumbered reads some of n texts of one size, each after its number.
func parseNumbered(text string, size, n int) (some map[int]string, rest string, ok bool) {
	if len(text) < 4 {
		return nil, "", false
	}
	count := numberAt(text, 0)
	if text = text[4:]; len(text)/(4+size) < count {
		return nil, "", false
	}
	some = make(map[int]string, count)
	last := -1
	for range count {
		i := numberAt(text, 0)
		if i <= last || i >= n {
			return nil, "", false
		}
		some[i], last, text = text[4:4+size], i, text[4+size:]
	}
	return some, text, true
}

func appendNumbered(text []byte, some map[int]string) []byte {
	text = binary.LittleEndian.AppendUint32(text, uint32(len(some)))
	for _, i := range slices.Sorted(maps.Keys(some)) {
		text = append(binary.LittleEndian.AppendUint32(text, uint32(i)), some[i]...)
	}
	return text
}

func (s *since) text() string {
	text := s.top.appendTo(append([]byte(sinceHead), s.of[:]...))
	return string(appendNumbered(appendNumbered(text, s.lots), s.rows))
}

// hasRow tells whether row i became another.
func (s *since) hasRow(i int) bool { return s.has != nil && s.has[i/64]&(1<<(i%64)) != 0 }

// sumOf is a checksum of all that is in the top of a table. It has the stamp of the list, which
// no other table of the same site has, unless the list stayed as it is: then what was true of
// its files with that stamp still is.
func (t tableTop) sumOf() digest { return sha256.Sum256(t.appendTo(nil)) }

// noteSince notes what became another since the table was written that the last run had, and is
// false where that is much, or the files are others.
func (f *folder) noteSince(h *holding, top tableTop, o Options) (done bool, err error) {
	if !h.samePaths(h.table) || len(h.lots) != h.table.lots.len() || len(h.results)+len(h.table.since.rows) > mostSince(h.len()) {
		return false, nil
	}
	s := since{of: h.table.written.sumOf(), top: top, lots: map[int]string{}, rows: map[int]string{}}
	for k, lot := range h.lots {
		from, to := h.filesOf(k)
		if first, after := h.table.rowsOf(k); h.table.lots.path(k) != lot.At || first != from || after != to {
			return false, nil
		}
		if _, noted := h.table.since.lots[k]; noted || h.table.lotFrom(k) != lot.From {
			s.lots[k] = string(lot.From[:])
		}
	}
	maps.Copy(s.rows, h.table.since.rows)
	for _, r := range h.results {
		s.rows[r.number] = string(row{h.fromOf(r.number), r.sum, f.stampNow(h, r)}.appendTo(nil))
	}
	return true, o.Cache.Write(sinceName, s.text())
}

// readTable reads what the last run noted; an empty table is as good as none.
func readTable(o Options) *table {
	text, at, ok := o.Cache.ReadDated(tableName)
	if !ok {
		return &table{}
	}
	t := parseTable(text, at)
	if text, at, ok := o.Cache.ReadDated(sinceName); ok && t.len() > 0 {
		if s, ok := parseSince(text, at, &t); ok {
			t.since, t.tableTop = s, s.top
		}
	}
	return &t
}

// forgetSince has nothing noted since the table, which is about to be written.
func forgetSince(c cache.Cache) error {
	if _, was := c.Read(sinceName); !was {
		return nil
	}
	return c.Write(sinceName)
}
