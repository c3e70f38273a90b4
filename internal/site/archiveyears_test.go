package site

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// daysOf makes so many days of a year, spread over its months, newest first.
func daysOf(year, n int) []trial.Date {
	var days []trial.Date
	for i := range n {
		days = append(days, trial.Date{Year: year, Month: 12 - i*12/n, Day: 28 - i%28})
	}
	return days
}

// TestDivided: where the archive is divided, and that no trial is lost or doubled by it.
func TestDivided(t *testing.T) {
	for name, c := range map[string]struct {
		days []trial.Date
		want string // pages with what they show of their trials
	}{
		"nothing":              {nil, "archive/ 0 of 0"},
		"as many as one holds": {slices.Concat(daysOf(2025, 100), daysOf(2024, 100)), "archive/ 200 of 200"},
		"one more":             {slices.Concat(daysOf(2025, 101), daysOf(2024, 100)), "archive/ 100 of 201, archive/2025/ 101 of 101, archive/2024/ 100 of 100"},
		"all of one year":      {daysOf(2025, 201), "archive/ 100 of 201, archive/2025/ 201 of 201"},
		"a gap of years":       {slices.Concat(daysOf(2025, 150), daysOf(987, 51)), "archive/ 100 of 201, archive/2025/ 150 of 150, archive/0987/ 51 of 51"},
		"a full year":          {slices.Concat(daysOf(2025, 400), daysOf(2024, 1)), "archive/ 100 of 401, archive/2025/ 400 of 400, archive/2024/ 1 of 1"},
		"one more in the year": {daysOf(2025, 401), "archive/ 100 of 401, archive/2025/ 100 of 401, " +
			"archive/2025/12/ 34 of 34, archive/2025/11/ 33 of 33, archive/2025/10/ 34 of 34, archive/2025/09/ 33 of 33, " +
			"archive/2025/08/ 34 of 34, archive/2025/07/ 33 of 33, archive/2025/06/ 33 of 33, archive/2025/05/ 34 of 34, " +
			"archive/2025/04/ 33 of 33, archive/2025/03/ 34 of 34, archive/2025/02/ 33 of 33, archive/2025/01/ 33 of 33"},
		"a month of a year": {slices.Repeat([]trial.Date{{Year: 2025, Month: 3, Day: 9}}, 401), "archive/ 100 of 401, archive/2025/ 100 of 401, archive/2025/03/ 401 of 401"},
	} {
		var got []string
		covered := make([]int, len(c.days))
		var walk func(archivePart)
		walk = func(a archivePart) {
			got = append(got, fmt.Sprintf("%s %d of %d", a.at, a.shown(), a.trials()))
			for _, part := range a.parts {
				walk(part)
			}
			for i := a.from; i < a.to && len(a.parts) == 0; i++ {
				covered[i]++
			}
		}
		walk(divided(c.days, archiveLimits{}))
		if all := strings.Join(got, ", "); all != c.want {
			t.Errorf("%s: %s, want %s", name, all, c.want)
		}
		if i := slices.IndexFunc(covered, func(n int) bool { return n != 1 }); i >= 0 {
			t.Errorf("%s: trial %d stands on %d pages", name, i, covered[i])
		}
	}
}

// jars are cards of trials that nobody read, newest first: 440 of 2025, ten of 2023.
func jars() []*Card {
	var all []*Card
	days := slices.Concat(daysOf(2025, 440), daysOf(2023, 10))
	slices.SortFunc(days, func(a, b trial.Date) int { return b.Compare(a) })
	for i, day := range days {
		e := archiveEntry{
			Slug: fmt.Sprintf("jar-%03d", i), Title: fmt.Sprintf("Jar %d", i), Question: "Does the lid matter?", Answer: "No.",
			Published: day, Day: day.String(), Varied: []archiveFactor{{"lid", "condition lid"}}, Foods: []string{"salt"},
			Measures: []string{"pass or fail"}, Contrasts: 2,
		}
		all = append(all, &Card{Slug: e.Slug, Title: e.Title, Published: day, Measures: e.Measures, Contrasts: e.Contrasts,
			Factors: []*cardFactor{{Key: "condition lid", Name: "lid", Varied: true}}, Foods: []*cardFood{{Key: "salt", Written: []string{"salt"}}},
			says: &said{archive: e, words: fmt.Sprintf("word%d", i)}})
	}
	return all
}

// jarFiles are the files of the archive of such cards.
func jarFiles(t *testing.T, cards []*Card) map[string]string {
	t.Helper()
	pages, err := page.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	var problems problem.List
	r := reader{Kitchen: ReadKitchen(Content{FS: fstest.MapFS{}}, &problems)}
	x := newIndex(r, cards)
	x.binding = bind(r, Look{Pages: pages})
	p := planned(x)
	p.outputs = nil
	p.factorsAt.put("condition lid", "lid", "factor")
	p.addArchive()
	files := map[string]string{}
	for _, o := range p.outputs {
		files[o.Path] = contentOf(t, p.outputs, o.Path)
		if day := p.modified(o.Path); strings.HasSuffix(o.Path, "/index.html") && o.Path != archivePage+"index.html" &&
			!strings.HasPrefix(strings.ReplaceAll(day, "-", "/"), strings.TrimSuffix(strings.TrimPrefix(o.Path, archivePage), "/index.html")) {
			t.Errorf("%s was modified on %q", o.Path, day)
		}
	}
	return files
}

var slugInList = regexp.MustCompile(`<li class="trial" data-slug="([^"]*)"`)

func slugsIn(html string) (slugs []string) {
	for _, m := range slugInList.FindAllStringSubmatch(html, -1) {
		slugs = append(slugs, m[1])
	}
	return slugs
}

// TestArchiveByYear: a divided archive leads to every trial, by links alone, and each page
// has the words of its notes beside it.
func TestArchiveByYear(t *testing.T) {
	entries := jars()
	files := jarFiles(t, entries)
	for path, wants := range map[string][]string{
		"archive/index.html": {">The newest 100 trials</h2>", `<a href="2025/" data-year="2025" data-trials="440" data-pages="12/ 11/ 10/ 09/ 08/ 07/ 06/ 05/ 04/ 03/ 02/ 01/">2025</a>`,
			`<a href="2023/" data-year="2023" data-trials="10">2023</a>`, `<option value="lid">lid (450)</option>`, `<option value="2023">2023 (10)</option>`, "450 trials, 900 contrasts", `data-words-beside="search.json"`, "<script src="},
		"archive/2025/index.html":    {"<title>Archive, 2025 – ", "The newest 100 trials", `<a href="03/" data-year="2025" data-trials="37">March</a>`, "440 trials, 880 contrasts", `<a href="../../archive/2023/">Older: 2023</a>`, `<a href="../../archive/">Archive</a>`},
		"archive/2025/01/index.html": {"<title>Archive, January 2025 – ", `<a href="../">2025</a>`, `<a href="../../../archive/2025/02/">Newer: February 2025</a>`, `<a href="../../../archive/2023/">Older: 2023</a>`, `<a href="../../../factors/lid/">lid</a>`, "Every trial"},
		"archive/2023/index.html":    {"<title>Archive, 2023 – ", "Every trial", `<a href="../../archive/2025/01/">Newer: January 2025</a>`, `data-factor="lid"`, `<a href="../../jar-440/">Jar 440</a>`},
	} {
		for _, want := range wants {
			if !strings.Contains(files[path], want) {
				t.Errorf("%s lacks %s", path, want)
			}
		}
		if path != "archive/index.html" && (strings.Contains(files[path], "<script src=") || strings.Contains(files[path], "<form")) {
			t.Errorf("%s has filters of its own", path)
		}
	}
	for _, path := range []string{"archive/index.html", "archive/2025/index.html"} {
		if got := slugsIn(files[path]); len(got) != 100 || got[0] != "jar-000" || got[99] != "jar-099" {
			t.Errorf("%s lists %q", path, got)
		}
		if _, has := files[strings.TrimSuffix(path, "index.html")+searchFile]; has {
			t.Errorf("beside %s stand words of notes, which stand with its parts", path)
		}
	}
	var listed []string
	for _, path := range slices.Sorted(maps.Keys(files)) {
		folder, search := strings.CutSuffix(path, searchFile)
		if !search {
			continue
		}
		slugs := slugsIn(files[folder+"index.html"])
		listed = append(listed, slugs...)
		var words map[string]string
		if err := json.Unmarshal([]byte(files[path]), &words); err != nil {
			t.Fatal(err)
		}
		if slices.Sort(slugs); !slices.Equal(slices.Sorted(maps.Keys(words)), slugs) {
			t.Errorf("%s has the words of %d trials, the page lists %d", path, len(words), len(slugs))
		}
	}
	slices.Sort(listed)
	if len(listed) != len(entries) || len(slices.Compact(listed)) != len(entries) {
		t.Errorf("%d trials listed in full, %d of them once, want %d", len(listed), len(slices.Compact(listed)), len(entries))
	}
}

// TestArchivePartAlone: a note that changes makes the page of its time another one, and
// the first pages only where it stands among the newest.
func TestArchivePartAlone(t *testing.T) {
	entries := jars()
	before := jarFiles(t, entries)
	for i, want := range map[int]string{
		0:   "archive/2025/12/index.html archive/2025/12/search.json archive/2025/index.html archive/index.html",
		300: "archive/2025/04/index.html archive/2025/04/search.json",
		445: "archive/2023/index.html archive/2023/search.json",
	} {
		changed := slices.Clone(entries)
		other := *changed[i]
		says := *other.says
		says.archive.Answer, says.words = "Yes.", "another"
		other.says = &says
		changed[i] = &other
		var got []string
		after := jarFiles(t, changed)
		for _, path := range slices.Sorted(maps.Keys(after)) {
			if after[path] != before[path] {
				got = append(got, path)
			}
		}
		if all := strings.Join(got, " "); all != want {
			t.Errorf("trial %d changes %s, want %s", i, all, want)
		}
	}
}

// TestArchiveLinks follows the links of an archive of the demo that is divided as far as
// it goes.
func TestArchiveLinks(t *testing.T) {
	pages, err := page.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	var problems problem.List
	s := Load(Content{FS: os.DirFS("../../content"), Shown: "content"}, &problems)
	outputs := Plan(s, Look{Pages: pages, archive: archiveLimits{whole: 1, year: 1, newest: 1}})
	var paths []string
	seen := map[string]pageLinks{}
	for _, o := range outputs {
		paths = append(paths, o.Path)
		if strings.HasPrefix(o.Path, archivePage) && strings.HasSuffix(o.Path, ".html") {
			seen[o.Path] = linksOf(t, []byte(contentOf(t, outputs, o.Path)))
		}
	}
	if len(seen) < 4 {
		t.Fatalf("the archive has %d pages", len(seen))
	}
	sitemap := contentOf(t, outputs, "sitemap.xml")
	for path, p := range seen {
		for _, id := range p.doubled {
			t.Errorf("%s: the id %q stands twice", path, id)
		}
		for _, to := range p.to {
			checkLink(t, path, to, paths, seen)
		}
		if !strings.Contains(sitemap, "/"+strings.TrimSuffix(path, "index.html")+"</loc>") {
			t.Errorf("the sitemap lacks %s", path)
		}
	}
}
