package press

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"sidebatch.example/sidebatch/internal/cache"
)

// TestListOfFewChanges: where few of many files are made again, their lines are put into a list
// that was written before. It reads as if it had been written at once, and the table has its
// checksum.
func TestListOfFewChanges(t *testing.T) {
	out := newFolder(t)
	set := files{}
	for i := range 60 {
		set[fmt.Sprintf("t%02d/%s.html", i, bytes.Repeat([]byte("n"), 1+i%7))] = fmt.Sprint("page ", i)
	}
	for i := range 500 { // for more than one piece of the list
		set[fmt.Sprintf("u/%0200d", i)] = "page"
	}
	publishKnown(t, out, set, Options{})
	names := slices.Sorted(maps.Keys(set))
	for _, c := range []struct {
		name string
		do   func()
	}{
		{"the first", func() { set[names[0]] = "other" }},
		{"two beside each other", func() { set[names[30]], set[names[31]] = "other", "another" }},
		{"the last", func() { set[names[59]] = "other" }},
		{"one that comes", func() { set["t40/a"] = "new" }},
		{"one that goes", func() { delete(set, names[7]) }},
		{"all of it", func() { set["a"], set[names[20]] = "new", "other"; delete(set, names[8]) }},
		{"one that is as it was", func() {}},
	} {
		settle(t, out, set)
		c.do()
		publishKnown(t, out, set, Options{})
		names := slices.Sorted(maps.Keys(set))
		var want bytes.Buffer
		err := writeList(&want, len(names), func(i int) string { return names[i] }, func(i int) digest { return sha256.Sum256([]byte(set[names[i]])) })
		if err != nil {
			t.Fatal(err)
		}
		got, err := os.ReadFile(filepath.Join(out, listName))
		if err != nil {
			t.Fatal(err)
		}
		if len(got) < sumPiece {
			t.Fatalf("the list has %d bytes, which is one piece", len(got))
		}
		if !bytes.Equal(got, want.Bytes()) {
			t.Errorf("%s: another list:\n%s", c.name, got)
		}
		if table := readTable(Options{Cache: cache.At(CacheOf(out))}); table.sum != sumOfList(got) {
			t.Errorf("%s: the table has another checksum", c.name)
		}
	}
}
