package linkcheck

import (
	"errors"
	"fmt"
	"iter"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// passed is a site whose links all led somewhere, and what was kept of it.
type passed struct {
	files map[string]string
	facts map[string][]byte
	whole []byte
	keeps int // how many files the check after it keeps with all their words; 0 is the usual
}

// again checks a site that was changed since it passed, reading what changed and what the
// checker asks for.
func (p passed) again(home string, files map[string]string, foreign map[string]bool) (now passed, read int, err error) {
	c := New(home)
	if p.keeps > 0 {
		c.whole = p.keeps - 1
	}
	now = passed{files: files, facts: map[string][]byte{}}
	for name, text := range files {
		if was, there := p.files[name]; !there || was != text {
			now.facts[name] = c.See(name, []byte(text))
		}
	}
	passed, lapsed := map[string][]byte{}, map[string][]byte{}
	for name := range p.files {
		if files[name] == p.files[name] && now.facts[name] == nil && holds(files, name) {
			passed[name], now.facts[name] = p.facts[name], p.facts[name]
		} else {
			lapsed[name] = p.facts[name]
		}
	}
	if p.files != nil {
		c.Before(p.whole, inOrder(passed), inOrder(lapsed))
	}
	now.whole, err = c.Broken(among(now.facts), in(now.facts), func(name string) bool { return foreign[name] && !holds(files, name) }, func(name string) ([]byte, error) {
		read++
		text, there := files[name]
		if !there || text != p.files[name] && p.keeps == 0 {
			return nil, errors.New("asked for what was shown")
		}
		return []byte(text), nil
	})
	return now, read, err
}

// inOrder goes through facts in the order of names.
func inOrder(facts map[string][]byte) iter.Seq2[string, []byte] {
	return func(yield func(string, []byte) bool) {
		for _, name := range slices.Sorted(maps.Keys(facts)) {
			if !yield(name, facts[name]) {
				return
			}
		}
	}
}

// in looks facts up.
func in(facts map[string][]byte) func(string) []byte {
	return func(name string) []byte { return facts[name] }
}

// among answers whether there are facts of a name.
func among(facts map[string][]byte) func(string) bool {
	return func(name string) bool {
		_, is := facts[name]
		return is
	}
}

// nobody has files beside those of the site.
func nobody(string) bool { return false }

func holds(files map[string]string, name string) bool {
	_, there := files[name]
	return there
}

// TestAgainIsLikeWhole: after any changes a check from facts says, word for word, what a
// check of all files says, however many of them it keeps whole.
func TestAgainIsLikeWhole(t *testing.T) {
	broke := 0
	rapid.Check(t, func(t *rapid.T) {
		home := rapid.SampledFrom([]string{"", "https://kitchen.example/", "https://host.example/a/"}).Draw(t, "home")
		files, foreign := map[string]string{}, map[string]bool{}
		var last passed
		for range rapid.IntRange(1, 6).Draw(t, "runs") {
			files = maps.Clone(files)
			for range rapid.IntRange(0, 4).Draw(t, "changes") {
				change(t, files, foreign)
			}
			last.keeps = rapid.IntRange(0, 3).Draw(t, "keeps")
			now, _, err := last.again(home, files, foreign)
			_, _, whole := passed{}.again(home, files, foreign)
			if fmt.Sprint(err) != fmt.Sprint(whole) {
				t.Fatalf("of all files: %v\nof those that changed: %v", whole, err)
			}
			if err == nil {
				last = now
				continue
			}
			broke++
			if last.files != nil && rapid.Bool().Draw(t, "mended") {
				files = last.files
			}
		}
	})
	if broke == 0 {
		t.Error("no link was ever broken")
	}
}

// change changes a file, adds or removes one, of the site or of somebody else.
func change(t *rapid.T, files map[string]string, foreign map[string]bool) {
	name := rapid.SampledFrom([]string{"index.html", "a/index.html", "b/index.html", "b/c.svg", "b/d.css", "t.csv"}).Draw(t, "name")
	switch rapid.SampledFrom([]string{"write", "write", "write", "remove", "foreign"}).Draw(t, "what") {
	case "remove":
		delete(files, name)
	case "foreign":
		if foreign[name] = !foreign[name]; foreign[name] {
			delete(files, name)
		}
	default:
		var text strings.Builder
		for range rapid.IntRange(0, 2).Draw(t, "ids") {
			fmt.Fprintf(&text, "<p id=%s>", rapid.SampledFrom([]string{"x", "é", "top", "a-long-one", "(y"}).Draw(t, "id"))
		}
		for range rapid.IntRange(0, 2).Draw(t, "links") {
			to := rapid.SampledFrom([]string{"", "/", "a/", "../a/", "b/", "/b/", "/b/c.svg", "c.svg", "../t.csv", "t.csv", "https://kitchen.example/a/", "/a/b/", "%zz"}).Draw(t, "to")
			at := rapid.SampledFrom([]string{"", "", "#x", "#%C3%A9", "#é", "#top", "#a-long-two", "#(y"}).Draw(t, "at")
			fmt.Fprintf(&text, rapid.SampledFrom([]string{"<a href=%q>", "<img src=%q>", "<style>p{background:url(%s)}</style>"}).Draw(t, "element"), to+at)
		}
		files[name], foreign[name] = text.String(), false
	}
}

// TestReadsWhatItMust: pages are read again only where a link of theirs was broken.
func TestReadsWhatItMust(t *testing.T) {
	first := small()
	last, _, err := passed{}.again("", first, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, file, text string // "" removes it
		read             int
		want             string
	}{
		{"nothing", "", "", 0, ""},
		{"a page changed", "rye/index.html", `<p id=crème><a href="..">home</a>`, 0, ""},
		{"an id gone that nobody means", "rye/index.html", `<a href="..">home</a>`, 0, ""},
		{"a page gone", "rye/index.html", "", 1, `index.html: the address "rye/#top" leads to nothing on the site`},
		{"a style sheet gone", "assets/s-12ab.css", "", 1, `index.html: the address "assets/s-12ab.css" leads to nothing on the site`},
		{"a wrong id in a page that stays", "rye/index.html", `<a href="../#mian">`, 1,
			`rye/index.html: the address "../#mian" names a place that index.html does not have (did you mean #main?)`},
		{"a right id in a page that stays", "rye/index.html", `<a href="../#main">`, 0, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := maps.Clone(first)
			if c.text != "" {
				files[c.file] = c.text
			} else {
				delete(files, c.file)
			}
			_, read, err := last.again("", files, nil)
			if err == nil {
				err = errors.New("")
			}
			if read != c.read || err.Error() != c.want {
				t.Errorf("read %d, want %d; said %s\nwant %s", read, c.read, err, c.want)
			}
		})
	}
}

// TestUnreadable: a page that is needed and cannot be read is no page whose links are right.
func TestUnreadable(t *testing.T) {
	c := New("")
	facts := New("").See("index.html", []byte(`<a href=a.html>`))
	passed := map[string][]byte{"index.html": facts}
	c.Before(nil, inOrder(passed), inOrder(map[string][]byte{"a.html": New("").See("a.html", nil)}))
	gone := errors.New("gone")
	if _, err := c.Broken(among(passed), in(passed), nobody, func(string) ([]byte, error) { return nil, gone }); !errors.Is(err, gone) {
		t.Errorf("said %v", err)
	}
}

// FuzzFacts: of whatever is taken for facts, no more is read than there is.
func FuzzFacts(f *testing.F) {
	for name, text := range small() {
		f.Add(New("").See(name, []byte(text)))
	}
	f.Add([]byte{1, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 1})
	f.Add([]byte{1, 2, 1})
	f.Fuzz(func(t *testing.T, facts []byte) {
		c := New("")
		all := map[string][]byte{"a.html": facts, "b.html": c.See("b.html", []byte(`<a href="a.html#x">`))}
		c.Before(facts, inOrder(map[string][]byte{"a.html": facts}), inOrder(map[string][]byte{"b.html": facts, "c.html": facts}))
		_, _ = c.Broken(among(all), in(all), nobody, func(string) ([]byte, error) { return nil, nil }) // it may say anything
	})
}

// BenchmarkAgain is a check of 50,000 pages of which one was made again and lost an id.
func BenchmarkAgain(b *testing.B) {
	const pages = 50_000
	page := func(i int) (string, []byte) {
		var text strings.Builder
		for k := range 30 {
			fmt.Fprintf(&text, `<p id="part-%d">Words of the page.<a href="../trial-%d/#part-%d">that</a></p>`, k, (i+k*k)%pages, k%29)
		}
		return fmt.Sprintf("trial-%d/index.html", i), []byte(text.String())
	}
	facts := map[string][]byte{}
	size := 0
	first := New("")
	for i := range pages {
		name, text := page(i)
		facts[name] = first.See(name, text)
		size += len(facts[name])
	}
	name, text := page(7)
	lapsed := map[string][]byte{name: facts[name]}
	passed := maps.Clone(facts)
	delete(passed, name)
	for b.Loop() {
		c := New("")
		facts[name] = c.See(name, []byte(strings.Replace(string(text), `id="part-29"`, "", 1)))
		c.Before(nil, inOrder(passed), inOrder(lapsed))
		if _, err := c.Broken(among(facts), in(facts), nobody, nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(size)/pages, "bytes/page")
}
