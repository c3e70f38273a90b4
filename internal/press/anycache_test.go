package press

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/cache"
	"sidebatch.example/sidebatch/internal/linkcheck"
	"sidebatch.example/sidebatch/internal/site"
)

// TestAnyCache: whatever happened to the cache and the site in between, publishing with it
// gives the same folder, list and refusal of broken links as publishing into a new one.
func TestAnyCache(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		top, err := os.MkdirTemp("", "press")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(top)
		out := filepath.Join(top, "public")
		for range rapid.IntRange(2, 6).Draw(t, "runs") {
			set := drawLinked(t)
			fresh := filepath.Join(top, "fresh")
			said, want := runLinked(t, out, set, true), runLinked(t, fresh, set, false)
			if said != want {
				t.Fatalf("said %q, want %q", said, want)
			}
			if diff := cmp.Diff(held(t, fresh), held(t, out)); diff != "" && want == "" {
				t.Fatalf("the folder (-want +got):\n%s", diff)
			}
			a, _ := os.ReadFile(filepath.Join(fresh, listName))
			b, _ := os.ReadFile(filepath.Join(out, listName))
			if want == "" && !bytes.Equal(a, b) {
				t.Fatalf("the list is\n%s\nand should be\n%s", b, a)
			}
			if err := os.RemoveAll(fresh); err != nil {
				t.Fatal(err)
			}
			harm(t, out, files{"index.html": "other"})
		}
	})
}

// runLinked returns what was said.
func runLinked(t *rapid.T, out string, set files, keeping bool) string {
	outputs, _ := set.known()
	o := Options{Out: out, Inspect: linkcheck.New("")}
	if keeping {
		o.Cache = cache.At(CacheOf(out))
	}
	sum, err := publishAll(t.Context(), outputs, o)
	if err != nil {
		return strings.ReplaceAll(err.Error(), out, "OUT")
	}
	if sum.CacheError != nil {
		t.Fatal(sum.CacheError)
	}
	return ""
}

// drawLinked draws a site of a few pages that link to each other, some to nothing.
func drawLinked(t *rapid.T) files {
	set := files{}
	names := []string{"index.html", "a/index.html", "b.html", "c.css"}
	for _, name := range names {
		text := rapid.SampledFrom([]string{"", "<p id=x>", "<p id=y>", "none"}).Draw(t, name)
		if text == "none" {
			continue
		}
		if rapid.IntRange(0, 2).Draw(t, "linked") == 0 {
			text += "<a href=\"/" + rapid.SampledFrom(names).Draw(t, "to") + rapid.SampledFrom([]string{"", "#x"}).Draw(t, "at") + "\">"
		}
		set[name] = text
	}
	return set
}

// harm does something to the cache, or makes it be believed in.
func harm(t *rapid.T, out string, other files) {
	dir := CacheOf(out)
	name := rapid.SampledFrom([]string{tableName, sinceName, factsName}).Draw(t, "blob")
	file := filepath.Join(dir, name+".blob")
	whole, err := os.ReadFile(file)
	if err != nil || len(whole) == 0 {
		return
	}
	later := time.Now().Add(time.Hour)
	way := rapid.SampledFrom([]string{"nothing", "settled", "deleted", "all deleted", "cut", "garbled", "newer", "swapped", "garbled inside"}).Draw(t, "harm")
	switch way {
	case "settled":
		err = os.Chtimes(file, later, later)
	case "deleted":
		err = os.Remove(file)
	case "all deleted":
		err = os.RemoveAll(dir)
	case "cut":
		err = os.WriteFile(file, whole[:rapid.IntRange(0, len(whole)).Draw(t, "length")], 0o644)
	case "garbled":
		for range rapid.IntRange(1, 8).Draw(t, "bytes") {
			whole[rapid.IntRange(0, len(whole)-1).Draw(t, "at")] = rapid.Byte().Draw(t, "byte")
		}
		err = os.WriteFile(file, whole, 0o644)
	case "newer":
		c := cache.At(dir)
		data, _ := c.Read(name)
		err = c.Write(name, strings.Replace(data, " 1\n", " 2\n", 1))
	case "garbled inside": // as a mistake in the program would, past the checksum of the cache
		c := cache.At(dir)
		data, _ := c.Read(name)
		if n := len(data); n > 0 {
			err = c.Write(name, data[:rapid.IntRange(0, n).Draw(t, "length")])
		}
	case "swapped":
		elsewhere := out + "-other"
		if said := runLinked(t, elsewhere, other, true); said != "" {
			t.Fatal(said)
		}
		if err = os.RemoveAll(dir); err == nil {
			err = os.Rename(CacheOf(elsewhere), dir)
		}
		_ = os.RemoveAll(elsewhere)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// twoRows is a table of two files, each in a lot of its own.
func twoRows() string {
	text := tableText{tableTop: tableTop{"links", site.Digest{5}, stamp{size: 3}, digest{4}, digest{7}}}
	text.addLot("a", site.Digest{}, 0)
	text.addLot("b/", site.Digest{6}, 1)
	var all pathsText
	all.add("a")
	all.add("b/c")
	rows := row{from: site.Digest{2}}.appendTo(row{sum: digest{1}}.appendTo(nil))
	return strings.Join(text.parts(2, string(rows), all.ends.String(), all.text.String()), "")
}

// FuzzParseTable: whatever is in the cache, no more is read from it than there is.
func FuzzParseTable(f *testing.F) {
	f.Add(twoRows())
	f.Add(tableHead)
	f.Fuzz(func(t *testing.T, data string) {
		table := parseTable(data, time.Time{})
		again := tableText{tableTop: table.tableTop}
		files := 0
		for i := range table.lots.len() {
			from, to := table.rowsOf(i)
			again.addLot(table.lots.path(i), fromAt(table.made[i*lotSize:]), from)
			files += to - from
		}
		var rows []byte
		for i := range table.len() {
			rows = table.row(i).appendTo(rows)
			if at, is := table.find(table.path(i)); !is || at != i {
				t.Errorf("path %d is found as %d", i, at)
			}
		}
		if files != table.len() {
			t.Errorf("%d files in lots, %d rows", files, table.len())
		}
		if whole := strings.Join(again.parts(table.len(), string(rows), table.below), ""); table.len() > 0 && data != whole {
			t.Error("printed again it is another")
		}
	})
}

// FuzzParseFacts: the same for facts.
func FuzzParseFacts(f *testing.F) {
	old := paths{"onetwo", "\x03\x00\x00\x00\x06\x00\x00\x00"}
	f.Add(strings.Join(factsText(inspected{kind: "k", whole: "w", old: facts{"", old}}, digest{}, 2, func(i int) ([]byte, int) {
		return [][]byte{nil, []byte("2")}[i], 1
	}), ""), 2)
	f.Fuzz(func(t *testing.T, data string, files int) {
		if files < 0 {
			return
		}
		old := parseFacts(data, "k", digest{}, files)
		again := factsText(inspected{kind: "k", whole: old.whole, old: old}, digest{}, old.len(), func(i int) ([]byte, int) {
			if i%3 == 1 {
				return old.of(i), 0
			}
			return nil, i
		})
		if whole := strings.Join(again, ""); old.len() > 0 && !strings.HasPrefix(data, whole) {
			t.Error("printed again they are others")
		}
	})
}
