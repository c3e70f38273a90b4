package press

import (
	"crypto/sha256"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"sidebatch.example/sidebatch/internal/cache"
)

// TestSince: where a few of many files become others, the table stays as it is on the disk, and
// reads as if it had been written anew. What was noted since another table is left out.
func TestSince(t *testing.T) {
	out := newFolder(t)
	c := cache.At(CacheOf(out))
	set := files{}
	for i := range 200 {
		set[fmt.Sprintf("t%03d.html", i)] = fmt.Sprint("page ", i)
	}
	names := slices.Sorted(maps.Keys(set))
	table := func() string { text, _ := c.Read(tableName); return text }
	same := func(when string) { t.Helper(); checkTable(t, out, set, when) }
	publishKnown(t, out, set, Options{})
	settle(t, out, set)
	first := table()
	for n, i := range []int{7, 199, 7} { // three rows may be noted apart
		set[names[i]] = fmt.Sprint("changed ", n)
		publishKnown(t, out, set, Options{})
		if table() != first {
			t.Fatalf("change %d: the table was written", n)
		}
		same(fmt.Sprint("change ", n))
		dateTable(t, out)
		if _, made := publishKnown(t, out, set, Options{}); made != 0 {
			t.Errorf("change %d: %d made again", n, made)
		}
	}
	noted, _ := c.Read(sinceName)
	for i := range 10 {
		set[names[10+i]] = "changed too"
	}
	publishKnown(t, out, set, Options{})
	if table() == first {
		t.Error("many changes, and the table was not written")
	}
	if left, _ := c.Read(sinceName); left != "" {
		t.Error("what was noted before is still there")
	}
	same("many changes")
	if err := c.Write(sinceName, noted); err != nil {
		t.Fatal(err)
	}
	same("what was noted since another table")
}

// checkTable holds what is noted of files against these, and against those of the site.
func checkTable(t *testing.T, out string, set files, when string) {
	t.Helper()
	got := readTable(Options{Cache: cache.At(CacheOf(out))})
	outputs, _ := set.known()
	for k, lot := range inLots(outputs) {
		if at, is := got.lots.find(lot.At); !is || !got.isLotFrom(at, lot.From) {
			t.Errorf("%s: lot %d, %s, is from another", when, k, lot.At)
		}
	}
	for i, name := range slices.Sorted(maps.Keys(set)) {
		info, err := os.Stat(filepath.Join(out, name))
		if err != nil {
			t.Fatal(err)
		}
		r := got.row(i)
		if r.sum != sha256.Sum256([]byte(set[name])) || r.stamp.size != info.Size() || r.stamp.written != info.ModTime().UnixNano() {
			t.Errorf("%s: %s: another row", when, name)
		}
		if sum := got.list().sumOf(i); sum != r.sum {
			t.Errorf("%s: %s: another checksum in the list", when, name)
		}
	}
}

// FuzzParseSince: whatever is in the cache, no more is read from it than there is, and only what
// is of the table.
func FuzzParseSince(f *testing.F) {
	table := parseTable(twoRows(), time.Time{})
	some := since{of: table.written.sumOf(), top: tableTop{sum: digest{3}}, lots: map[int]string{1: strings.Repeat("l", fromSize)},
		rows: map[int]string{0: strings.Repeat("r", rowSize), 1: strings.Repeat("s", rowSize)}}
	f.Add(some.text())
	f.Add((&since{of: some.of}).text())
	f.Add(sinceHead)
	f.Fuzz(func(t *testing.T, data string) {
		s, ok := parseSince(data, time.Time{}, &table)
		if !ok {
			return
		}
		if again := s.text(); again != data {
			t.Error("printed again it is another")
		}
		table := table
		table.since, table.tableTop = s, s.top
		for i := range table.len() {
			if _, noted := s.rows[i]; noted != s.hasRow(i) {
				t.Errorf("row %d: %v", i, noted)
			}
			table.row(i)
			table.lotFrom(i)
		}
	})
}
