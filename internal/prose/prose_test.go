package prose

import (
	"bytes"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"
	"golang.org/x/net/html"

	"sidebatch.example/sidebatch/internal/problem"
)

var update = flag.Bool("update", false, "write the golden files anew")

// kitchen is a resolver that knows a few names.
type kitchen struct{}

func (kitchen) Figure(name, caption string) (string, error) {
	if Fold(name) != "cook time" {
		return "", unknown("figure", name)
	}
	return `<figure><figcaption>` + html.EscapeString(caption) + "</figcaption></figure>", nil
}

func (kitchen) Table(name, caption string) (string, error) {
	if Fold(name) != "outcomes" {
		return "", errors.New("no table is called " + name)
	}
	return "<table><caption>" + html.EscapeString(caption) + "</caption><tr><td>6</td></tr></table>", nil
}

func (kitchen) Value(path, words string) (string, error) {
	value, ok := map[string]string{"boiling/roll": "6 of 6", "no rest/side 1": "40 s & more", "empty": ""}[Fold(path)]
	switch {
	case !ok:
		return "", unknown("value", path)
	case words != "" && words != value:
		return "", &Wrong{Code: problem.StaleNumber, What: "the log says " + value + ", not " + words, Hint: "write " + value}
	}
	return value, nil
}

func (kitchen) Address(dest string, image bool) (string, error) {
	if strings.HasPrefix(dest, "gone") {
		return "", &Wrong{Code: problem.BrokenLink, What: "there is no file " + dest}
	}
	if image {
		return "/slug/" + dest, nil
	}
	return dest, nil
}

// album also shows pictures itself.
type album struct{ kitchen }

func (album) Picture(p Picture) (string, error) {
	switch {
	case p.Dest == "gone.jpg":
		return "", &Wrong{Code: problem.BrokenLink, What: "there is no picture " + p.Dest}
	case p.Alone:
		return `<figure><img src="x.jpg" alt="` + html.EscapeString(p.Alt) + `"><figcaption>` + html.EscapeString(p.Title) + "</figcaption></figure>", nil
	}
	return "", nil
}

// TestGolden renders each note in testdata/*.txtar. A file holds the note, the
// HTML and the problems that are expected; its comment says what it is for.
func TestGolden(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txtar")
	if err != nil || len(files) < 10 {
		t.Fatalf("%d golden files: %v", len(files), err)
	}
	codes := map[problem.Code]bool{}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".txtar")
		archive, err := txtar.ParseFile(file)
		if err != nil {
			t.Fatal(err)
		}
		note := archive.Files[0].Data
		var resolver Resolver = kitchen{}
		if strings.HasPrefix(name, "picture") {
			resolver = album{}
		}
		var problems problem.List
		got := Render(Doc{File: "trial.md", FirstLine: 1, Source: note}, resolver, &problems)
		var told strings.Builder
		for _, p := range problems.Sorted() {
			codes[p.Code] = true
			told.WriteString(string(p.Code) + " " + p.String() + "\n")
		}
		wellFormed(t, name, got)
		result := &txtar.Archive{Comment: archive.Comment, Files: []txtar.File{
			archive.Files[0],
			{Name: "html", Data: []byte(got)},
			{Name: "problems", Data: []byte(told.String())},
		}}
		if *update {
			if err := os.WriteFile(file, txtar.Format(result), 0o666); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if diff := cmp.Diff(string(txtar.Format(archive)), string(txtar.Format(result))); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
	for _, code := range []problem.Code{problem.BadAddress, problem.SpacedAddress, problem.UnknownTarget, problem.StaleNumber, problem.BrokenLink} {
		if !codes[code] {
			t.Errorf("no golden file has a %s", code)
		}
	}
}

// wellFormed checks that tags are balanced and properly nested, that ids are
// there once, that each way to a footnote and back leads somewhere, and that no
// paragraph holds a block.
func wellFormed(t *testing.T, name, src string) {
	t.Helper()
	void := map[string]bool{"br": true, "hr": true, "img": true}
	inline := map[string]bool{"a": true, "p": true, "span": true, "em": true, "strong": true, "code": true, "sup": true}
	block := map[string]bool{"p": true, "div": true, "figure": true, "table": true, "ul": true, "ol": true, "blockquote": true, "pre": true, "section": true}
	ids, ways := map[string]bool{}, map[string]bool{}
	var stack []string
	z := html.NewTokenizer(strings.NewReader(src))
	for {
		kind := z.Next()
		if kind == html.ErrorToken {
			break
		}
		token := z.Token()
		switch kind {
		case html.CommentToken, html.DoctypeToken, html.SelfClosingTagToken:
			t.Errorf("%s: %v is none of ours", name, token)
		case html.StartTagToken:
			for _, a := range token.Attr {
				switch {
				case a.Key == "id" && ids[a.Val]:
					t.Errorf("%s: the id %s is there twice", name, a.Val)
				case a.Key == "id":
					ids[a.Val] = true
				case a.Key == "href" && strings.HasPrefix(a.Val, "#note."):
					ways[a.Val[1:]] = true
				case strings.HasPrefix(a.Key, "on") || a.Key == "style":
					t.Errorf("%s: the attribute %s", name, a.Key)
				}
			}
			for _, outer := range stack {
				if block[token.Data] && inline[outer] || token.Data == "a" && outer == "a" {
					t.Errorf("%s: %s inside %s", name, token.Data, outer)
				}
			}
			if !void[token.Data] {
				stack = append(stack, token.Data)
			}
		case html.EndTagToken:
			if len(stack) == 0 || stack[len(stack)-1] != token.Data {
				t.Errorf("%s: </%s> where %v is open", name, token.Data, stack)
				return
			}
			stack = stack[:len(stack)-1]
		}
	}
	if len(stack) > 0 {
		t.Errorf("%s: %v is never closed", name, stack)
	}
	for way := range ways {
		if !ids[way] {
			t.Errorf("%s: nothing has the id %s", name, way)
		}
	}
}

// TestPlaces has § where a problem must be reported, in the order of the text.
func TestPlaces(t *testing.T) {
	tests := []struct{ name, in string }{
		{"line", "a §[x](value:y)\n"},
		{"image", "a §![x](figure:cook-time) b\n"},
		{"after accents", "crème brûlée 焼き 🥞 §[x](value:y)\n"},
		{"second line", "a\né §[x](value:y)\n"},
		{"list", "- a\n  - é §[x](value:y)\n"},
		{"numbered list", "10. a\n\n    é §[x](value:y)\n"},
		{"list with a tab", "-\té §[x](value:y)\n"},
		{"quotation", "> a\n> é §[x](value:y)\n"},
		{"lazy quotation", "> a\né §[x](value:y)\n"},
		{"list in a quotation", "> - é §[x](value:y)\n>   b §[z](value:y)\n"},
		{"heading", "# é §[x](value:y)\n"},
		{"underlined heading", "é §[x](value:y)\n===\n"},
		{"table", "| é | b |\n|---|---|\n| ü §[x](value:y) | §[z](value:y) |\n"},
		{"head of a table", "| é §[x](value:y) | b |\n|---|---|\n| c | d |\n"},
		{"table in a list", "- | é | b |\n  |---|---|\n  | ü §[x](value:y) | c |\n"},
		{"emphasis", "*é **§[x](value:y)***\n"},
		{"reference", "é §[x][r] and §[r][] and §[r]\n\n[r]: value:y\n"},
		{"footnote", "a[^1]\n\n[^1]: é §[x](value:y)\n"},
		{"autolink", "é §<ftp://x.example/>\n"},
		{"windows line ends", "a\r\né §[x](value:y)\r\n"},
		{"words over two lines", "é §[x\ny](value:z)\n"},
		{"spaced", "é §[x](value:no rest/side 1) and §![y](figure:cook time)\n"},
		{"spaced in a list", "- a\n  - é §![y](figure:cook time)\n"},
		{"spaced in a quotation, over two lines", "> é §[x\n> y](value:no rest)\n"},
		{"spaced in a table", "| é | §[x](value:a b) |\n|---|---|\n| ü §[x](value:a b) | §[z](value:c d) |\n"},
		{"spaced in a heading", "## é §[x](value:a b)\n"},
		{"spaced in a definition", "§[x]: value:no rest\n"},
		{"spaced beside a link", "[a](https://a.example) §[x](value:a b) §[y](value:z)\n"},
		{"words with brackets", "§[a [b] c](value:d e)\n"},
		{"code does not count", "`[x](value:a b)` §[x](value:a b)\n"},
		{"backslashes count", "\\[x](value:a b) [x\\](value:a b) §[x](value:a b)\n"},
	}
	for _, test := range tests {
		for _, first := range []int{1, 41} {
			var want []string
			line, column := first, 1
			var src strings.Builder
			for _, r := range test.in {
				if r == '§' {
					want = append(want, problem.Pos{File: "t.md", Line: line, Column: column}.String())
					continue
				}
				src.WriteRune(r)
				column++
				if r == '\n' {
					line, column = line+1, 1
				}
			}
			var problems problem.List
			Render(Doc{File: "t.md", FirstLine: first, Source: []byte(src.String())}, nil, &problems)
			var got []string
			for _, p := range problems.Sorted() {
				got = append(got, p.Pos.String())
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%s (-want +got):\n%s%v", test.name, diff, problems.Sorted())
			}
		}
	}
}

// TestAddresses: what browsers take for a script must not become a link, in
// whatever spelling (WHATWG URL, basic URL parser).
func TestAddresses(t *testing.T) {
	tests := []struct {
		dest string // as it stands between < and >
		ok   bool
	}{
		{"https://k.example/a?b=c&d#e", true}, {"http://k.example", true}, {"HTTPS://k.example", true},
		{"mailto:a@k.example", true}, {"../other/", true}, {"photos/a b.jpg", true}, {"#notes", true}, {"/a", true}, {"?q", true}, {"a/b:c", true},
		{"javascript:alert(1)", false}, {"JavaScript:alert(1)", false}, {"java&#9;script:alert(1)", false}, {"java&Tab;script:x", false},
		{"&#1;javascript:x", false}, {"javascript&colon;x", false}, {"javascript\\:x", false}, {"&#x6A;avascript:x", false}, {" javascript:x", false},
		{"vbscript:x", false}, {"data:text/html,x", false}, {"data:image/png;base64,x", false}, {"file:///etc/passwd", false}, {"ftp://k.example", false},
		{"//k.example", false}, {"&#92;&#92;k.example", false}, {"/&#92;k.example", false}, {"tel:1", false}, {"", false}, {" ", false},
	}
	for _, test := range tests {
		for _, mark := range []string{"", "!"} {
			var problems problem.List
			got := Render(Doc{Source: []byte("a " + mark + "[w](<" + test.dest + ">)")}, nil, &problems)
			linked := strings.Contains(got, "href=") || strings.Contains(got, "src=")
			ok := test.ok && (mark == "" || !strings.HasPrefix(test.dest, "mailto"))
			switch {
			case linked != ok:
				t.Errorf("%s%q: %s", mark, test.dest, got)
			case ok && problems.Len() > 0 || !ok && (problems.Len() != 1 || problems.Sorted()[0].Code != problem.BadAddress):
				t.Errorf("%s%q: %v", mark, test.dest, problems.Sorted())
			}
		}
	}
}

func TestLimits(t *testing.T) {
	deep := strings.Repeat("> ", maxDepth/2)
	tests := []struct {
		name, in string
		code     problem.Code // empty when there is nothing wrong
	}{
		{"long", strings.Repeat(strings.Repeat("a", 1022)+"\n\n", maxSource/1024), ""},
		{"too long", strings.Repeat("a\n\n", maxSource/3+3), problem.Unreadable},
		{"too long a line", strings.Repeat("a", maxLine+1), problem.Unreadable},
		{"too many quotations", "x\n\n" + deep + "> a\n", problem.TooDeep},
		{"quotations", deep + "a\n", ""},
		{"too deep a list", "- a\n" + strings.Repeat(" ", maxIndent+1) + "- b\n", problem.TooDeep},
		{"too wide a table", strings.Repeat("a|", maxCells/10) + "\n" + strings.Repeat("-|", 9_999) + "\n" + strings.Repeat("a\n", 20), problem.Unreadable},
		{"too large a table", "a|b\n" + strings.Repeat("-|", 99) + "-\n" + strings.Repeat("a\n", 2_000), problem.TooDeep},
		{"too many stars", strings.Repeat("*a ", maxSigns+1), problem.TooDeep},
		{"too many stars in all", strings.Repeat(strings.Repeat("*", 1000)+"a\n\n", 101), problem.TooDeep},
		{"too many footnotes", strings.Repeat("[^1] \n\n", maxNotes+1), problem.TooDeep},
		{"too many lines", strings.Repeat("a\n", maxRun+1), problem.TooDeep},
		{"too deep an emphasis", "x\n\n" + strings.Repeat("*a ", maxDepth+5) + strings.Repeat("a*", maxDepth+5), problem.TooDeep},
		{"a rule of many dashes", strings.Repeat("- ", 40) + "\n", ""},
	}
	for _, test := range tests {
		var problems problem.List
		got := Render(Doc{File: "t.md", Source: []byte(test.in)}, nil, &problems)
		found := problems.Sorted()
		switch {
		case test.code == "" && (len(found) > 0 || got == ""):
			t.Errorf("%s: %v", test.name, found)
		case test.code != "" && (len(found) != 1 || found[0].Code != test.code):
			t.Errorf("%s: %v, want one %s", test.name, found, test.code)
		}
		wellFormed(t, test.name, got)
	}
}

func TestInline(t *testing.T) {
	tests := []struct{ in, want string }{
		{"plain", "plain"},
		{"It *rolled*  without\na crack.", "It <em>rolled</em> without a crack."},
		{"**a** `b<c` &amp; d \\* e", "<strong>a</strong> <code>b&lt;c</code> &amp; d * e"},
		{"# not a heading", "# not a heading"},
		{"- no list", "- no list"},
		{"1. no list", "1. no list"},
		{"    no code", "no code"},
		{"[a](https://a.example)", `<a href="https://a.example">a</a>`},
		{"<https://a.example>", `<a href="https://a.example">https://a.example</a>`},
		{"[a](http://a.example) [*b*](b) [c](javascript:x) [d](value:e) ![f](g.jpg) <http://h.example>", "a <em>b</em> c d f http://h.example"},
		{"[a](https:\\\\b) <https:\\x>", "a https:\\x"}, // refused, and there is nobody to tell
		{"<b>bold</b>", "&lt;b&gt;bold&lt;/b&gt;"},
		{"<script>alert(1)</script>", "&lt;script&gt;alert(1)&lt;/script&gt;"},
		{"", ""},
		{strings.Repeat("*a", maxInline), strings.Repeat("*a", maxInline)},
	}
	for _, test := range tests {
		got := Inline(test.in)
		if got != test.want {
			t.Errorf("Inline(%.60q) = %.200q, want %.200q", test.in, got, test.want)
		}
		wellFormed(t, test.in, got)
	}
}

func TestPlainText(t *testing.T) {
	src := "# Rolls *well*\n\nWith [6 of 6](value:boiling/roll) pieces[^1] &amp; `code`\non two lines.\n\n![Time](figure:cook-time)\n\n" +
		"- one\n- two\n\n| a | b |\n|---|---|\n| 1 | 2 |\n\n```yaml\na: 1\n```\n\n[^1]: A note.\n"
	want := "Rolls well\nWith 6 of 6 pieces & code on two lines.\none\ntwo\na\nb\n1\n2\na: 1\nA note."
	if got := PlainText([]byte(src)); got != want {
		t.Errorf("got %q\nwant %q", got, want)
	}
	if got := PlainText(bytes.Repeat([]byte("a"), maxLine+1)); got != "" {
		t.Errorf("beyond the limits: %.20q", got)
	}
}

func TestHeadingIDs(t *testing.T) {
	tests := []struct{ in, want string }{
		{"Crème brûlée", "crème-brûlée"},
		{"焼き", "焼き"},
		{"  Time, on the   griddle! ", "time-on-the-griddle"},
		{"20–25 °C", "20-25-c"},
		{"¿?", "section"},
		{"Recipe", "recipe-2"}, // the page has one
		{"Recipe", "recipe-3"},
		{"Recipe 2", "recipe-2-2"},
		{"नमस्ते", "नमस्ते"},
	}
	ids := newIDs([]string{"recipe"})
	for _, test := range tests {
		if got := ids.of(test.in); got != test.want {
			t.Errorf("%q: %s, want %s", test.in, got, test.want)
		}
	}
}

func TestFold(t *testing.T) {
	for _, name := range []string{"cook-time", "Cook time", "cook_time", " cook  time"} {
		if got := Fold(name); got != "cook time" {
			t.Errorf("Fold(%q) = %q", name, got)
		}
	}
}

func TestWordsOfTheNote(t *testing.T) {
	words := Words{Table: "Tabelle", Notes: "Anmerkungen", Note: "Anmerkung", Back: "Zurück"}
	src := "a[^1]\n\n| b |\n|---|\n| c |\n\n[^1]: d\n"
	got := Render(Doc{Source: []byte(src), Words: words}, nil, &problem.List{})
	for _, want := range []string{"Tabelle: b", `aria-label="Anmerkungen"`, `aria-label="Anmerkung 1"`, "Zurück, Anmerkung 1"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in %s", want, got)
		}
	}
}

func FuzzRender(f *testing.F) {
	files, _ := filepath.Glob("testdata/*.txtar")
	for _, file := range files {
		if archive, err := txtar.ParseFile(file); err == nil {
			f.Add(archive.Files[0].Data)
		}
	}
	f.Add([]byte("[a](javascript:x) <script> ![x](figure:a b)"))
	script := regexp.MustCompile(`(?i)<script|="\s*(javascript|data|vbscript):`)
	f.Fuzz(func(t *testing.T, src []byte) {
		var problems problem.List
		got := Render(Doc{File: "t.md", FirstLine: 1, Source: src}, album{}, &problems)
		if script.MatchString(got) {
			t.Errorf("a script: %s", got)
		}
		if !utf8.ValidString(got) {
			t.Errorf("not UTF-8: %q", got)
		}
		wellFormed(t, "fuzz", got)
		wellFormed(t, "inline", Inline(string(src)))
		PlainText(src)
		lines := strings.Split(string(src), "\n")
		for _, p := range problems.Sorted() {
			if p.Pos.Line == 0 {
				continue
			}
			if p.Pos.Line > len(lines) || p.Pos.Column < 1 || p.Pos.Column > 1+utf8.RuneCountInString(lines[p.Pos.Line-1]) {
				t.Errorf("outside the file: %v", p)
			}
		}
	})
}

func BenchmarkRender(b *testing.B) {
	note := []byte(strings.Repeat("## Cook time\n\nIt took [6 of 6](value:boiling/roll) and *that* is `all`.\n\n![Time](figure:cook-time)\n\n- one\n- two\n\n| a | b |\n|---|---|\n| 1 | 2 |\n\n", 20))
	b.SetBytes(int64(len(note)))
	for b.Loop() {
		var problems problem.List
		if Render(Doc{Source: note}, kitchen{}, &problems); problems.Len() > 0 {
			b.Fatal(problems.Sorted())
		}
	}
}
