package site

import (
	"bytes"
	"fmt"
	"hash/fnv"
	"io"
	"maps"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/testkit"
)

// blobs is a store in memory, with a clock that the test sets.
type blobs struct {
	now   time.Time
	mutex sync.Mutex
	held  map[string]blob
}

type blob struct {
	data string
	at   time.Time
}

func (b *blobs) ReadDated(name string) (string, time.Time, bool) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	held, ok := b.held[name]
	return held.data, held.at, ok
}

func (b *blobs) Write(name string, parts ...string) error {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	b.held[name] = blob{strings.Join(parts, ""), b.now}
	return nil
}

// surveyed reads a kitchen with what the store remembers, and has it remember this run.
func surveyed(t *testing.T, fsys fstest.MapFS, store *blobs, look Look) (*Index, problem.List) {
	t.Helper()
	memory := Remember(store)
	var problems problem.List
	content := Content{FS: fsys, Shown: "k"}
	x := Surveyor{Content: content, Kitchen: ReadKitchen(content, &problems), Look: look, Memory: memory}.Survey(&problems)
	if problems.Errors() == 0 {
		if err := memory.Keep(x, x.Standing(problems)); err != nil {
			t.Fatal(err)
		}
	}
	return x, problems
}

// moves are what else is done to a kitchen: folders change their names and their places.
func moves(fsys fstest.MapFS, n int) map[string]func(slug string) {
	other := string(rune('a' + n%4))
	move := func(from, to string) {
		for name, f := range maps.Clone(fsys) {
			if rest, in := strings.CutPrefix(name, from+"/"); in {
				delete(fsys, name)
				fsys[to+"/"+rest] = f
			}
		}
	}
	note := func(slug, more, change string) {
		f := keptNote(fmt.Sprintf("Trial %d", n), fmt.Sprintf("published: 2025-0%d-01", 1+n%9), more, "As we did.")
		f.Data = bytes.Replace(f.Data, []byte("change: {lid: with}"), []byte("change: {"+change+"}"), 1)
		f.Data = bytes.Replace(f.Data, []byte("{lid: without}"), []byte("{lid: without, cup: thin}"), 1)
		f.ModTime = time.Unix(int64(n), 0)
		fsys[slug+"/trial.md"] = f
		if fsys[slug+"/pieces.csv"] == nil {
			fsys[slug+"/pieces.csv"] = keptLog("62")
		}
	}
	return map[string]func(string){
		"rename": func(slug string) { move(slug, slug+other) },
		"back":   func(slug string) { move(slug+other, slug) },
		"swap": func(slug string) {
			move(slug, "aside")
			move(other, slug)
			move("aside", other)
		},
		"cup":     func(slug string) { note(slug, "", "cup: thick") },
		"another": func(slug string) { note(slug, "", "lid: half on") },
		"food":    func(slug string) { note(slug, "", "water: 480 g water") },
		"cooked":  func(slug string) { note(slug, fmt.Sprintf("cooked: 2024-0%d-11", 1+n%9), "lid: with") },
		"address": func(string) {
			fsys["kitchen.yaml"] = &fstest.MapFile{ModTime: time.Unix(int64(n), 0),
				Data: fmt.Appendf(nil, "name: Kitchen\naddress: https://kitchen-%d.example/\n", n%3)}
		},
	}
}

// What a run remembers changes nothing but the work: after every edit the files of a site
// are those of a clean reading, and an output whose digest is what it was has the bytes
// that it had. Blobs get lost on the way.
func TestMemoryChangesNothing(t *testing.T) {
	look := testLook(t)
	look.Program = "this one"
	fsys := fstest.MapFS{"kitchen.yaml": {}}
	random := testkit.Rand(t)
	store := &blobs{held: map[string]blob{}}
	runs := &rememberedRuns{before: map[string]rememberedFile{}, alls: map[Digest]Digest{}, lots: map[string]Digest{}}
	count := 300
	if raced {
		count = 60
	}
	for n := range count {
		all := edits(fsys, n+1)
		maps.Copy(all, moves(fsys, n+1))
		names := slices.Sorted(maps.Keys(all))
		name, slug := names[random.IntN(len(names))], string(rune('a'+random.IntN(4)))
		all[name](slug)
		runs.edit = fmt.Sprintf("edit %d, %s %s", n, name, slug)
		store.now = time.Unix(int64(n+1+random.IntN(6)), 0)
		if random.IntN(8) == 0 {
			lost := slices.Sorted(maps.Keys(store.held))
			delete(store.held, lost[random.IntN(len(lost))])
		}
		x, problems := surveyed(t, fsys, store, look)
		clean, want := surveyed(t, fsys, &blobs{held: map[string]blob{}}, look)
		if problems.Errors() != want.Errors() {
			t.Fatalf("%s: errors %v, want %v", runs.edit, problems.Sorted(), want.Sorted())
		}
		if want.Errors() > 0 {
			for _, s := range []string{"a", "b", "c", "d"} { // mended at once, or hardly a kitchen would be whole
				edits(fsys, n+1)["publish"](s)
			}
			continue
		}
		if got, want := x.Standing(problems).Questions, clean.Standing(want).Questions; got != want {
			t.Fatalf("%s: %d questions, want %d", runs.edit, got, want)
		}
		runs.compare(t, x, clean)
	}
	if runs.compared < count/3 || runs.spared < 3*count || runs.recalled < count/3 {
		t.Errorf("only %d kitchens were compared, %d files spared and %d trials remembered", runs.compared, runs.spared, runs.recalled)
	}
}

// rememberedRuns are runs with a memory, held against clean ones.
type rememberedRuns struct {
	edit                       string
	before                     map[string]rememberedFile
	alls                       map[Digest]Digest // of all files, by what stands for all that they are made of
	lots                       map[string]Digest // of the files of each lot, by its place and what stands for them
	compared, spared, recalled int
}

type rememberedFile struct {
	from Digest
	data []byte
}

// compareLots: of lots in the order of their places, each lists its files in order, all at its
// place, and with the same digest the same files, made of the same.
func (r *rememberedRuns) compareLots(t *testing.T, lots []Lot) {
	t.Helper()
	last := ""
	for _, lot := range lots {
		if lot.At <= last || lot.From == (Digest{}) {
			t.Fatalf("%s: lot %s after %s, from %x", r.edit, lot.At, last, lot.From)
		}
		last = lot.At
		texts, path := []string{}, ""
		for _, o := range lot.List() {
			if o.Path <= path || o.Path != lot.At && (!strings.HasSuffix(lot.At, "/") || !strings.HasPrefix(o.Path, lot.At)) || o.From == (Digest{}) {
				t.Fatalf("%s: %s after %s in lot %s, from %x", r.edit, o.Path, path, lot.At, o.From)
			}
			path = o.Path
			texts = append(texts, o.Path, o.From.text())
		}
		known, is := lot.At+"\n"+lot.From.text(), digestOf(texts...)
		if was, before := r.lots[known]; before && was != is {
			t.Fatalf("%s: the files of %s are others, and its digest is not", r.edit, lot.At)
		}
		r.lots[known] = is
	}
}

// compare holds the files of a run against those of a clean one, and against those of the
// run before where they say that they are made of the same.
func (r *rememberedRuns) compare(t *testing.T, x, clean *Index) {
	t.Helper()
	r.compared++
	for _, c := range x.Trials {
		if c.recalled {
			r.recalled++
		}
	}
	now := map[string]rememberedFile{}
	files := madeFiles(t, All(clean.Plan()))
	lots := x.Plan()
	r.compareLots(t, lots)
	for _, o := range All(lots) {
		want, there := files[o.Path]
		if !there {
			t.Fatalf("%s: %s is too much", r.edit, o.Path)
		}
		now[o.Path] = rememberedFile{o.From, want}
		if old := r.before[o.Path]; old.from == o.From && o.From != (Digest{}) {
			r.spared++
			if !bytes.Equal(old.data, want) {
				t.Fatalf("%s: %s is another, but its digest is not:\n%s", r.edit, o.Path, testkit.Diff(old.data, want))
			}
			continue
		}
		if sharePath.MatchString(o.Path) {
			if !bytes.Equal(want, o.From[:]) {
				t.Fatalf("%s: %s is drawn from another", r.edit, o.Path)
			}
			continue
		}
		if got, err := o.Make(); err != nil || !bytes.Equal(got, want) {
			t.Fatalf("%s: %s differs (%v):\n%s", r.edit, o.Path, err, testkit.Diff(want, got))
		}
	}
	if len(now) != len(files) {
		t.Fatalf("%s: %d files, want %d", r.edit, len(now), len(files))
	}
	texts := []string{}
	for _, path := range slices.Sorted(maps.Keys(now)) {
		texts = append(texts, path, now[path].from.text(), string(now[path].data))
	}
	all, is := x.all(), digestOf(texts...)
	if was, known := r.alls[all]; known && was != is || all == (Digest{}) {
		t.Fatalf("%s: the files are others, and the digest of all is not", r.edit)
	}
	r.alls[all] = is
	r.before = now
}

// TestShardOf: trials are spread as the standard library's FNV-1a has it, and evenly.
func TestShardOf(t *testing.T) {
	var in [shards]int
	for i := range 1600 {
		slug := fmt.Sprintf("rye-rolls-%d", i)
		sum := fnv.New32a()
		_, _ = io.WriteString(sum, slug)
		n := shardOf(slug)
		if want := int(sum.Sum32() % shards); n != want {
			t.Fatalf("%s: %d, not %d", slug, n, want)
		}
		in[n]++
	}
	if slices.Min(in[:]) < 60 || slices.Max(in[:]) > 140 {
		t.Errorf("of 1600 trials: %v", in)
	}
}

// A page is made again when what it is made from changed, and only then.
func TestFrom(t *testing.T) {
	look := testLook(t)
	look.Program = "this one"
	store := &blobs{held: map[string]blob{}}
	fsys := fstest.MapFS{"kitchen.yaml": {Data: []byte("address: https://kitchen.example/\n")}}
	for _, slug := range []string{"a", "b"} {
		edits(fsys, 1)["publish"](slug)
	}
	moves(fsys, 1)["cup"]("c")
	digests := func() map[string]Digest {
		x, problems := surveyed(t, fsys, store, look)
		if problems.Errors() > 0 {
			t.Fatal(problems.Sorted())
		}
		all := map[string]Digest{}
		for _, o := range All(x.Plan()) {
			all[o.Path] = o.From
		}
		return all
	}
	changed := func(before, now map[string]Digest) []string {
		var paths []string
		for _, path := range slices.Sorted(maps.Keys(now)) {
			if now[path] != before[path] && !strings.HasPrefix(path, "a/") {
				paths = append(paths, path)
			}
		}
		return paths
	}
	first := digests()
	for path, from := range first {
		if from == (Digest{}) && path != "sitemap.xml" && path != "robots.txt" {
			t.Errorf("%s does not say what it is made from", path)
		}
	}
	if again := changed(first, digests()); len(again) > 0 {
		t.Errorf("nothing changed, and %q did", again)
	}
	edits(fsys, 2)["log"]("a")
	want := []string{"archive/index.html", "factors/lid/comparisons.csv", "factors/lid/index.html", "feed.xml", "index.html"}
	got := changed(first, digests())
	if !slices.Equal(got, want) {
		t.Errorf("a log changed %q, want %q", got, want)
	}
	if len(changed(first, func() map[string]Digest { look.Program = "another"; return digests() }())) < len(first)/2 {
		t.Error("another program, and most files are made of the same")
	}
}
