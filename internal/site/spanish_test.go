package site

import (
	"encoding/json"
	"encoding/xml"
	"io/fs"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"golang.org/x/net/html"

	"sidebatch.example/sidebatch/internal/bench"
	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/results"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/themes"
)

// TestSpanish publishes a kitchen that writes in Spanish, and prints its sheets. No
// page, figure, entry of the feed, linked data or metadata of a log may hold an English
// phrase that the theme has other words for in Spanish, or a word that only English
// has. What stays as it is: names and notes of the food table, the keys of the note, and
// the sources that are cited.
func TestSpanish(t *testing.T) {
	s, files := spanishFiles(t)
	phrases, kept, checked := englishOnly(t), tableWords(s), 0
	for _, file := range slices.Sorted(maps.Keys(files)) {
		for _, text := range readable(t, file, files[file]) {
			checked++
			cites := strings.HasPrefix(file, methodsPage) || strings.HasPrefix(text, "Fuente: ") || text == quantity.Inch.Symbol()
			for _, slip := range englishIn(kept.Replace(text), phrases, !cites) {
				t.Errorf("%s: %q in %q", file, slip, text)
			}
		}
	}
	if checked < 2000 || len(phrases) < 200 {
		t.Errorf("only %d texts were held against %d phrases", checked, len(phrases))
	}
}

// TestSpanishSlips: the check above finds English where it stands.
func TestSpanishSlips(t *testing.T) {
	phrases := englishOnly(t)
	for _, tt := range []struct {
		file, text string
		want       bool
	}{
		{"index.html", `<html><body><p>Skip to content</p></body></html>`, true},
		{"index.html", `<html><body><p aria-label="Search the text">x</p></body></html>`, true},
		{"index.html", `<html><body><svg><desc>water boils, 97,9 °C and more</desc></svg></body></html>`, true},
		{"index.html", `<html><body><script type="application/ld+json">{"a":[{"description":"one row of it"}]}</script></body></html>`, true},
		{"index.html", `<html><body><p>El agua hierve a 97,9 °C.</p><code>one row of it</code></body></html>`, false},
		{"index.html", `<html><body><th>Share</th></body></html>`, true},
		{"feed.xml", `<feed><title>The write-up of it</title></feed>`, true},
		{"feed.xml", `<feed><content>&lt;p&gt;one of them&lt;/p&gt;</content></feed>`, true},
		{"a.csv-metadata.json", `{"dc:description":"who of them tasted"}`, true},
	} {
		slips := 0
		for _, text := range readable(t, tt.file, []byte(tt.text)) {
			slips += len(englishIn(text, phrases, true))
		}
		if got := slips > 0; got != tt.want {
			t.Errorf("%s: English in it is %t, want %t", tt.text, got, tt.want)
		}
	}
}

// spanishFiles are the files of the site that readers or search engines read, and the
// sheets that are printed for a tasting.
func spanishFiles(t *testing.T) (*Site, map[string][]byte) {
	t.Helper()
	var problems problem.List
	s := Load(Content{FS: os.DirFS("../../testdata/kitchens/cocina"), Shown: "content"}, &problems)
	for _, p := range problems.Sorted() {
		if p.Weight == problem.Error {
			t.Fatalf("unexpected problem: %s", p)
		}
	}
	if got := s.Kitchen.Words.Name(); got != "es" {
		t.Fatalf("the kitchen speaks %q", got)
	}
	pages, err := page.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	methods, err := page.MethodTexts(nil, "es")
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, o := range Plan(s, Look{Pages: pages, Methods: methods}) {
		read := strings.HasSuffix(o.Path, ".html") || strings.HasSuffix(o.Path, results.MetadataSuffix) || o.Path == feedFile
		if !read {
			continue
		}
		if files[o.Path], err = o.Make(); err != nil {
			t.Fatal(err)
		}
	}
	for name, sheet := range printed(t, s, pages) {
		files["printed/"+name] = sheet
	}
	return s, files
}

// printed are the sheets of the trial that is tasted.
func printed(t *testing.T, s *Site, pages *page.Renderer) map[string][]byte {
	t.Helper()
	e := s.Trials[slices.IndexFunc(s.Trials, func(e *Entry) bool { return len(e.Trial.Tastings) > 0 })]
	panel := bench.Panel{Assessors: 5, Sets: 2, Seed: "1"}
	laid, err := bench.Lay(e.Trial, panel)
	if err != nil {
		t.Fatal(err)
	}
	frame := func(title string) page.Frame {
		return page.Frame{Language: s.Kitchen.Language, Title: title, Invented: true}
	}
	sheets := map[string][]byte{}
	keep := func(name string) func([]byte, error) {
		return func(data []byte, err error) {
			if err != nil {
				t.Fatal(err)
			}
			sheets[name] = data
		}
	}
	ballots := laid.Ballots(e.Findings)
	ballots.Frame = frame(ballots.Frame.Title)
	keep("ballots.html")(pages.Ballots(ballots))
	list := laid.PouringList(e.Findings, panel)
	list.Frame = frame(list.Frame.Title)
	keep("pouring-list.html")(pages.PouringList(list))
	sheet := bench.Sheet(e.Findings, bench.Run{Batches: 2, Assessors: 5})
	sheet.Frame = frame(sheet.Title)
	keep("bench-sheet.html")(pages.BenchSheet(sheet))
	return sheets
}

// englishOnly lists the pieces of English phrases, of two words or more, that the
// Spanish file does not have in the same phrase; and those of one word that are no
// phrase of the Spanish file, with alone before them, for they may stand in other texts.
func englishOnly(t *testing.T) []string {
	t.Helper()
	english, spanish := wordsFile(t, "en"), wordsFile(t, "es")
	word := regexp.MustCompile(`\pL{2,}`)
	seen, shared := map[string]bool{}, map[string]bool{}
	for _, forms := range spanish {
		for _, form := range forms {
			shared[form] = true
		}
	}
	for key, forms := range english {
		own := strings.Join(spanish[key], "\n")
		for _, form := range forms {
			if len(word.FindAllString(form, 2)) == 1 && !strings.Contains(form, "{") && !shared[form] && !strings.HasPrefix(key, "units/") {
				seen[alone+form] = true
			}
			for _, piece := range regexp.MustCompile(`\{[^}]*\}`).Split(form, -1) {
				piece = strings.Trim(piece, " ,.;:()“”")
				if len(word.FindAllString(piece, 2)) == 2 && !strings.Contains(own, piece) {
					seen[piece] = true
				}
			}
		}
	}
	return slices.Sorted(maps.Keys(seen))
}

// alone marks a word that is English only where it is a whole text.
const alone = "= "

// wordsFile are all forms of every phrase of a words file.
func wordsFile(t *testing.T, language string) map[string][]string {
	t.Helper()
	data, err := fs.ReadFile(themes.Bench(), "words/"+language+".json")
	if err != nil {
		t.Fatal(err)
	}
	var sections map[string]map[string]any
	if err := json.Unmarshal(data, &sections); err != nil {
		t.Fatal(err)
	}
	all := map[string][]string{}
	for section, phrases := range sections {
		for key, value := range phrases {
			all[section+"/"+key] = textsOfJSON(value)
		}
	}
	return all
}

// tableWords takes out what the food table says, which is in English everywhere, and
// names of their own.
func tableWords(s *Site) *strings.Replacer {
	source := food.Source()
	pairs := []string{source.Name, "…", "Dietary Guidelines for Americans", "…", trial.NoteFile, "…"}
	for _, e := range s.Trials {
		for _, sample := range e.Trial.Samples {
			for _, i := range sample.Plan.Ingredients {
				if !i.Found {
					continue
				}
				for _, text := range []string{i.Match.Food.Description, i.Match.Note, i.Food} {
					if text != "" {
						pairs = append(pairs, text, "…")
					}
				}
			}
		}
	}
	return strings.NewReplacer(pairs...)
}

// onlyEnglish are frequent words that Spanish does not have.
var onlyEnglish = regexp.MustCompile(`(?i)(?:^|[\s(“«])(the|of|and|with|is|are|was|were|this|that|each|every|against|from|for|than|what|which|how|at|by|to|in|on|or|it|one|not|out|trial|sample|piece|about|set aside|taster)(?:$|[\s),.:;”»])`)

// englishIn lists the English phrases and, unless a text cites sources, the English
// words in a text.
func englishIn(text string, phrases []string, words bool) []string {
	var slips []string
	for _, phrase := range phrases {
		if whole, is := strings.CutPrefix(phrase, alone); is {
			if text == whole {
				slips = append(slips, whole)
			}
			continue
		}
		if at := strings.Index(text, phrase); at >= 0 && stands(text, at, at+len(phrase)) {
			slips = append(slips, phrase)
		}
	}
	if found := onlyEnglish.FindStringSubmatch(text); words && found != nil {
		slips = append(slips, found[1])
	}
	if missingPhrase.MatchString(text) {
		slips = append(slips, "a phrase that is missing")
	}
	return slips
}

// missingPhrase is how a phrase that is missing comes out.
var missingPhrase = regexp.MustCompile(`\[(page|findings|writeup|site|bench|cautions|numbers|dates|units)/`)

// stands reports whether a stretch of a text is made of whole words.
func stands(text string, from, to int) bool {
	before, _ := utf8.DecodeLastRuneInString(text[:from])
	after, _ := utf8.DecodeRuneInString(text[to:])
	return !unicode.IsLetter(before) && !unicode.IsLetter(after)
}

// readable are the texts of a file that somebody reads.
func readable(t *testing.T, file string, data []byte) []string {
	t.Helper()
	switch {
	case strings.HasSuffix(file, ".html"):
		return textsOfHTML(t, string(data))
	case strings.HasSuffix(file, ".xml"):
		return textsOfFeed(t, data)
	}
	var metadata any
	var texts []string
	if err := json.Unmarshal(data, &metadata); err != nil {
		t.Fatal(err)
	}
	descriptions(metadata, &texts)
	return texts
}

// descriptions collects what a log's metadata say in words.
func descriptions(value any, texts *[]string) {
	switch value := value.(type) {
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(value)) {
			if text, is := value[key].(string); is && (strings.HasPrefix(key, "dc:") || key == "@value") {
				*texts = append(*texts, text)
				continue
			}
			descriptions(value[key], texts)
		}
	case []any:
		for _, v := range value {
			descriptions(v, texts)
		}
	}
}

// textsOfJSON lists every text in a value but addresses.
func textsOfJSON(value any) []string {
	var texts []string
	switch value := value.(type) {
	case string:
		if !strings.HasPrefix(value, "http") {
			texts = append(texts, value)
		}
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(value)) {
			if !strings.HasPrefix(key, "@") { // names of the vocabulary
				texts = append(texts, textsOfJSON(value[key])...)
			}
		}
	case []any:
		for _, v := range value {
			texts = append(texts, textsOfJSON(v)...)
		}
	}
	return texts
}

func textsOfFeed(t *testing.T, data []byte) []string {
	t.Helper()
	var texts []string
	read := xml.NewDecoder(strings.NewReader(string(data)))
	for {
		token, err := read.Token()
		if token == nil {
			return texts
		}
		if err != nil {
			t.Fatal(err)
		}
		if text, is := token.(xml.CharData); is && strings.TrimSpace(string(text)) != "" {
			texts = append(texts, textsOfHTML(t, string(text))...)
		}
	}
}

// textsOfHTML lists the texts of a page that are shown or read aloud, its linked data
// among them. Blocks of code, logs and the note's source are left out, and so are
// cited titles.
func textsOfHTML(t *testing.T, page string) []string {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	var texts []string
	add := func(text string) {
		if text = strings.Join(strings.Fields(strings.ReplaceAll(text, "\u00a0", " ")), " "); text != "" {
			texts = append(texts, text)
		}
	}
	var walk func(n *html.Node)
	walk = func(n *html.Node) {
		if n.Type == html.TextNode {
			add(n.Data)
		}
		for _, a := range n.Attr {
			if spoken(a.Key) && !strings.HasPrefix(a.Val, "http") && !strings.Contains(a.Val, "width=device-width") {
				add(a.Val)
			}
		}
		if n.Data == "script" && n.FirstChild != nil && strings.HasPrefix(strings.TrimSpace(n.FirstChild.Data), "{") {
			var linked any
			if err := json.Unmarshal([]byte(n.FirstChild.Data), &linked); err != nil {
				t.Fatal(err)
			}
			for _, text := range textsOfJSON(linked) {
				add(text)
			}
		}
		if left(n) {
			return
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
	}
	walk(doc)
	return texts
}

// spoken reports whether an attribute holds words for people.
func spoken(attribute string) bool {
	return slices.Contains([]string{"content", "aria-label", "alt", "title", "placeholder", "label",
		"data-some", "data-none", "data-start", "data-stop"}, attribute)
}

// left reports whether what is in an element is no text of the page.
func left(n *html.Node) bool {
	switch n.Data {
	case "script", "style", "code", "pre", "cite":
		return n.Type == html.ElementNode
	}
	for _, a := range n.Attr {
		if a.Key == "class" && slices.Contains(strings.Fields(a.Val), "source") {
			return true
		}
	}
	return false
}
