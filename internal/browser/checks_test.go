package browser

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"fmt"
	"io/fs"
	"net/url"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// inPage holds the functions that the checks call in a page.
//
//go:embed testdata/inpage.js
var inPage string

// A check looks at the page that is open in a tab and says what is wrong with it.

// checkAccessible runs axe-core over the page, everything that can be opened in
// it opened: as a phone and a wide screen show it, in light and dark, and each
// position of its switches. The rules are those for WCAG 2.2, A and AA, and the
// checker's own best practice.
func checkAccessible(t testing.TB, p *tab, axe string) []string {
	t.Helper()
	p.run(t, axe+";0", nil)
	p.run(t, "sidebatch.unfold()", nil)
	var wrong findings
	judge := func(at string) {
		var found []string
		p.run(t, "sidebatch.accessible()", &found)
		wrong.add(at, found)
	}
	for _, how := range screens() {
		p.look(t, how)
		judge(how.String())
	}
	for i := range switches(t, p) {
		p.run(t, fmt.Sprintf("sidebatch.turn(%d)", i), nil)
		judge(fmt.Sprintf("switch %d", i+1))
	}
	return wrong.list()
}

// findings are what a check found, with all the circumstances of each in one
// place.
type findings struct {
	what []string
	at   map[string][]string
}

func (f *findings) add(at string, found []string) {
	if f.at == nil {
		f.at = map[string][]string{}
	}
	for _, what := range found {
		if f.at[what] == nil {
			f.what = append(f.what, what)
		}
		f.at[what] = append(f.at[what], at)
	}
}

func (f *findings) list() (all []string) {
	for _, what := range f.what {
		all = append(all, what+" ("+strings.Join(f.at[what], "; ")+")")
	}
	return all
}

// screens are those that pages are judged on. The last is the one that a visit
// begins with.
func screens() []screen {
	return []screen{{phone, false}, {phone, true}, {desk, true}, {desk, false}}
}

func (how screen) String() string {
	return map[int]string{narrow: "narrow", phone: "phone", desk: "wide"}[how.width] + map[bool]string{false: ", light", true: ", dark"}[how.dark]
}

// switches counts the positions of switches that are not on as the page is opened.
func switches(t testing.TB, p *tab) int {
	t.Helper()
	var n int
	p.run(t, "sidebatch.switches()", &n)
	return n
}

// checkFits asks that the narrowest screen need not be scrolled sideways, with
// everything folded, unfolded, and in each position of the switches. WCAG 2.2,
// 1.4.10 asks for the same width.
func checkFits(t testing.TB, p *tab) []string {
	t.Helper()
	p.look(t, screen{width: narrow})
	var wrong findings
	measure := func(at string) {
		var found []string
		p.run(t, "sidebatch.wide()", &found)
		wrong.add(at, found)
	}
	measure("folded")
	p.run(t, "sidebatch.unfold()", nil)
	measure("unfolded")
	for i := range switches(t, p) {
		p.run(t, fmt.Sprintf("sidebatch.turn(%d)", i), nil)
		measure(fmt.Sprintf("switch %d", i+1))
	}
	return wrong.list()
}

// checkQuiet asks that the page said nothing, that everything it asked for came,
// and that it asked nobody else.
func checkQuiet(_ testing.TB, p *tab) []string { return p.noise() }

// content is what a reader sees of a page's main part.
type content struct {
	Title    string   `json:"title"`
	Headings []string `json:"headings"`
	Words    int      `json:"words"`
}

func readContent(t testing.TB, p *tab) (c content) {
	t.Helper()
	p.run(t, "sidebatch.content()", &c)
	return c
}

// checkScriptless opens the page again without scripts and asks that its title,
// all its headings and its text are there. What a script adds, such as the field
// of a search, may be missing.
func checkScriptless(t testing.TB, p *tab, address string) []string {
	t.Helper()
	with := readContent(t, p)
	p.scripts(t, false)
	defer p.scripts(t, true)
	p.open(t, address)
	without := readContent(t, p)
	var wrong []string
	if without.Title == "" || without.Title != with.Title {
		wrong = append(wrong, fmt.Sprintf("without scripts the title is %q, with them %q", without.Title, with.Title))
	}
	for _, h := range with.Headings {
		if !slices.Contains(without.Headings, h) {
			wrong = append(wrong, fmt.Sprintf("without scripts there is no %q", h))
		}
	}
	if without.Words*10 < with.Words*9 {
		wrong = append(wrong, fmt.Sprintf("without scripts there are %d words instead of %d", without.Words, with.Words))
	}
	return wrong
}

// most is how many bytes a write-up may take, compressed, before its photos.
const most = 60_000

// checkLight weighs the page, its styles and all that it loads but photos, each
// compressed by itself as a server sends it.
func checkLight(t testing.TB, p *tab, files fs.FS) []string {
	t.Helper()
	weight := 0
	var parts []string
	for _, address := range slices.Concat(p.requests(), icons(t, p)) {
		u, err := url.Parse(address)
		if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimPrefix(u.Path, "/")
		if name == "" || strings.HasSuffix(name, "/") {
			name += "index.html"
		}
		if slices.Contains([]string{".jpg", ".jpeg", ".png", ".webp", ".avif", ".gif"}, path.Ext(name)) {
			continue
		}
		data, err := fs.ReadFile(files, name)
		if err != nil {
			t.Fatal(err)
		}
		n := compressed(t, data)
		weight += n
		parts = append(parts, fmt.Sprintf("%s %d", name, n))
	}
	t.Logf("weighs %d bytes: %s", weight, strings.Join(parts, ", "))
	if weight > most {
		return []string{fmt.Sprintf("weighs %d bytes compressed (at most %d): %s", weight, most, strings.Join(parts, ", "))}
	}
	return nil
}

// icons are loaded by browsers with a window only, so they are weighed by name.
func icons(t testing.TB, p *tab) (addresses []string) {
	t.Helper()
	p.run(t, `[...document.querySelectorAll('link[rel~="icon"]')].map(l => l.href)`, &addresses)
	asked := p.requests()
	return slices.DeleteFunc(addresses, func(a string) bool { return slices.Contains(asked, a) })
}

func compressed(t testing.TB, data []byte) int {
	t.Helper()
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := z.Write(data); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Len()
}

// checkSheets asks that the page is printed on no more sheets of A4 than so many.
func checkSheets(t testing.TB, p *tab, most int) []string {
	t.Helper()
	if n := sheets(p.print(t)); n < 1 || n > most {
		return []string{fmt.Sprintf("prints on %d sheets, not on %d", n, most)}
	}
	return nil
}

// sheetObject is a page's object in a PDF (ISO 32000-2, 7.7.3.3); the browser
// writes them uncompressed.
var sheetObject = regexp.MustCompile(`/Type\s*/Page\b`)

func sheets(pdf []byte) int { return len(sheetObject.FindAll(pdf, -1)) }
