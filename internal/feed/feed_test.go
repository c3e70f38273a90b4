package feed

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/testkit"
)

func example() Feed {
	return Feed{
		Address:  "https://two-griddles.example/feed.xml",
		Site:     "https://two-griddles.example/",
		Title:    "Two Griddles",
		Subtitle: "Side-by-side trials & what they showed",
		Language: "en",
		Author:   "Two Griddles",
		Entries: []Entry{
			{
				Address:   "https://two-griddles.example/cr%C3%AApes/",
				Title:     "Crêpes <thin> & thick?",
				Published: "2026-03-01",
				Updated:   "2026-03-09",
				Authors:   []string{"Noor Haddad", "Teo Lindqvist"},
				Keywords:  []string{"griddle", "a \"quoted\" word"},
				Summary:   "Thin ones < thick ones.",
				Content:   "<p>Thin ones &lt; thick ones, <b>5 of 6</b>. ]]&gt;</p>",
			},
			{
				Address:   "https://two-griddles.example/water/",
				Title:     "Boiling or cool water?",
				Published: "2026-02-20",
			},
		},
	}
}

func TestAtom(t *testing.T) {
	got, err := Atom(example())
	if err != nil {
		t.Fatal(err)
	}
	testkit.Golden(t, "testdata/feed.xml", got)
}

// TestAtomRules holds a feed against what RFC 4287 says must be there: section
// numbers stand beside each check.
func TestAtomRules(t *testing.T) {
	data, err := Atom(example())
	if err != nil {
		t.Fatal(err)
	}
	var f atomFeed
	if err := xml.Unmarshal(data, &f); err != nil {
		t.Fatal(err)
	}
	if f.XMLName.Space != "http://www.w3.org/2005/Atom" { // 2
		t.Errorf("namespace %q", f.XMLName.Space)
	}
	if want := "2026-03-09T00:00:00Z"; f.Updated != want { // 4.2.15: the newest change
		t.Errorf("updated %q, want %q", f.Updated, want)
	}
	if len(f.Links) != 2 || f.Links[0].Rel != "self" || f.Links[0].Address != f.ID { // 4.1.1: should have a self link
		t.Errorf("links %+v", f.Links)
	}
	for i, e := range f.Entries {
		want := example().Entries[i]
		if e.ID != want.Address || e.Link.Address != want.Address { // 4.2.6
			t.Errorf("entry %d: id %q", i, e.ID)
		}
		for _, date := range []string{e.Published, e.Updated} { // 3.3: RFC 3339
			if _, err := time.Parse(time.RFC3339, date); err != nil {
				t.Error(err)
			}
		}
		if e.Title != want.Title || e.Summary != want.Summary {
			t.Errorf("entry %d: title %q, summary %q", i, e.Title, e.Summary)
		}
		if want.Content != "" && (e.Content.Type != "html" || e.Content.Text != want.Content) { // 4.1.3.3: escaped
			t.Errorf("entry %d: content %+v", i, e.Content)
		}
	}
}

// TestLanguage: the schema of RFC 4287 takes no other shape of language tag.
func TestLanguage(t *testing.T) {
	for tag, kept := range map[string]bool{"en": true, "es-419": true, "": false, "en us": false, "englishlanguage": false, "e\"n": false} {
		f := example()
		f.Language = tag
		data, err := Atom(f)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(string(data), `xml:lang="`+tag+`"`); got != kept {
			t.Errorf("language %q written: %v, want %v", tag, got, kept)
		}
	}
}

func TestAtomRefuses(t *testing.T) {
	tests := []struct {
		name  string
		spoil func(*Feed)
		want  string
	}{
		{"no entries", func(f *Feed) { f.Entries = nil }, "no entries"},
		{"no title", func(f *Feed) { f.Title = " " }, "no title"},
		{"relative feed", func(f *Feed) { f.Address = "feed.xml" }, "not a whole web address"},
		{"other scheme", func(f *Feed) { f.Site = "javascript:alert(1)" }, "not a whole web address"},
		{"entry without a title", func(f *Feed) { f.Entries[0].Title = "" }, "no title"},
		{"relative entry", func(f *Feed) { f.Entries[0].Address = "/rye/" }, "not a whole web address"},
		{"no day", func(f *Feed) { f.Entries[0].Published = "2026-02-30" }, "no day of publication"},
		{"updated before", func(f *Feed) { f.Entries[0].Updated = "2026-01-01" }, "no day after"},
		{"no author", func(f *Feed) { f.Author = "" }, "no author"},
		{"nameless author", func(f *Feed) { f.Entries[0].Authors = []string{""} }, "without a name"},
		{"twice", func(f *Feed) { f.Entries[1].Address = f.Entries[0].Address }, "two entries"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := example()
			tt.spoil(&f)
			if _, err := Atom(f); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v, want %q", err, tt.want)
			}
		})
	}
}

// TestHostileWords puts any text into every place that holds words: the file stays
// well-formed, and what XML can carry comes out as it went in.
func TestHostileWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{
			"]]>", "</title><script>", "<!--", "&#0;", "\x00", "\ufffe", "\xff\xfe", "<![CDATA[", "\u2028", "a\r\nb",
		}))
		f := example()
		f.Title = "t" + words.Draw(t, "title")
		f.Subtitle = words.Draw(t, "subtitle")
		f.Entries[0].Summary = words.Draw(t, "summary")
		f.Entries[0].Content = words.Draw(t, "content")
		f.Entries[0].Keywords = []string{words.Draw(t, "keyword")}
		f.Entries[0].Authors = []string{"a" + words.Draw(t, "author")}
		data, err := Atom(f)
		if err != nil {
			t.Fatal(err)
		}
		wellFormed(t, data)
		var got atomFeed
		if err := xml.Unmarshal(data, &got); err != nil {
			t.Fatal(err)
		}
		if want := carried(f.Title); got.Title != want {
			t.Fatalf("title %q, want %q", got.Title, want)
		}
	})
}

// carried is a text as XML 1.0 can carry it (section 2.2).
func carried(text string) string {
	var b strings.Builder
	for _, r := range text {
		ok := r == '\t' || r == '\n' || r == '\r' || (r >= 0x20 && r <= 0xd7ff) ||
			(r >= 0xe000 && r <= 0xfffd) || (r >= 0x10000 && r <= 0x10ffff)
		if !ok {
			r = utf8.RuneError
		}
		b.WriteRune(r)
	}
	return b.String()
}

func wellFormed(t interface{ Fatal(...any) }, data []byte) {
	decoder := xml.NewDecoder(bytes.NewReader(data))
	for {
		_, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}

func pages(n int) []Page {
	all := make([]Page, n)
	for i := range all {
		all[i] = Page{Address: fmt.Sprintf("https://two-griddles.example/%d/", i), Modified: "2026-02-20"}
	}
	return all
}

func TestSitemap(t *testing.T) {
	list := []Page{
		{Address: "https://two-griddles.example/"},
		{Address: "https://two-griddles.example/a&b/", Modified: "2026-02-20"},
		{Address: "https://two-griddles.example/cr%C3%AApes/", Modified: "2026-03-01"},
	}
	files, err := Sitemap("https://two-griddles.example/", list)
	if err != nil || len(files) != 1 || files[0].Name != SitemapFile {
		t.Fatalf("files %v, %v", files, err)
	}
	testkit.Golden(t, "testdata/sitemap.xml", files[0].Data)
}

// TestSitemapParts: a list of parts from one page more than a part may hold, under the
// names that were said beforehand.
func TestSitemapParts(t *testing.T) {
	const site = "https://two-griddles.example/"
	for n, want := range map[int]int{mostPages: 1, mostPages + 1: 3, 2 * mostPages: 3, 2*mostPages + 1: 4} {
		files, err := Sitemap(site, pages(n))
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		for _, f := range files {
			names = append(names, f.Name)
		}
		if len(files) != want || !slices.Equal(names, SitemapNames(n)) {
			t.Errorf("%d pages in %q, want %d files, %q", n, names, want, SitemapNames(n))
		}
		if got := strings.Count(string(joined(files)), "<url>"); got != n {
			t.Errorf("%d pages listed, want %d", got, n)
		}
		if n == mostPages+1 {
			testkit.Golden(t, "testdata/sitemap-index.xml", files[0].Data)
		}
	}
}

// TestSitemapSize: a file stays under 50 MiB (sitemaps.org) however long the addresses are
// and whatever is to be escaped in them.
func TestSitemapSize(t *testing.T) {
	long := make([]Page, mostPages)
	for i := range long {
		address := fmt.Sprintf("https://two-griddles.example/%d/", i)
		long[i] = Page{Address: address + strings.Repeat("&", longest-1-len(address)), Modified: "2026-02-20"}
	}
	files, err := Sitemap("https://two-griddles.example/", long)
	if err != nil || len(files) != 1 || len(files[0].Data) > 50<<20 {
		t.Fatalf("%d files, %v", len(files), err)
	}
}

func joined(files []File) []byte {
	var all []byte
	for _, f := range files {
		all = append(all, f.Data...)
	}
	return all
}

func TestSitemapRefuses(t *testing.T) {
	const site = "https://two-griddles.example/trials/"
	tests := []struct {
		name string
		in   []Page
		want string
	}{
		{"none", nil, "no pages"},
		{"elsewhere", []Page{{Address: "https://two-griddles.example/"}}, "not below"},
		{"relative", []Page{{Address: "rye/"}}, "not a whole"},
		{"not escaped", []Page{{Address: site + "crêpes/"}}, "ASCII"},
		{"day", []Page{{Address: site, Modified: "yesterday"}}, "no day"},
		{"twice", []Page{{Address: site}, {Address: site}}, "twice"},
		{"long", []Page{{Address: site + strings.Repeat("a", 2048)}}, "bytes"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := Sitemap(site, tt.in); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v, want %q", err, tt.want)
			}
		})
	}
}

func TestRobots(t *testing.T) {
	tests := []struct{ name, in, want string }{
		{"with an address", "https://two-griddles.example/sitemap.xml",
			"User-agent: *\nAllow: /\n\nSitemap: https://two-griddles.example/sitemap.xml\n"},
		{"without", "", "User-agent: *\nAllow: /\n"},
	}
	for _, tt := range tests {
		got, err := Robots(tt.in)
		if err != nil || string(got) != tt.want {
			t.Errorf("%s: %q, %v, want %q", tt.name, got, err, tt.want)
		}
	}
	if _, err := Robots("/sitemap.xml"); err == nil {
		t.Error("a relative address is taken")
	}
	if _, err := Robots("https://a.example/\nDisallow: /"); err == nil {
		t.Error("an address with a line of its own is taken")
	}
}
