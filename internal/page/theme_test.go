package page

import (
	"encoding/json"
	"io/fs"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/wording"
	"sidebatch.example/sidebatch/themes"
)

func file(text string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(text)} }

// A broken template is found when the theme is read, with file and line.
func TestNewRefuses(t *testing.T) {
	tests := []struct {
		name string
		file string
		text string
		want string
	}{
		{"a template that does not parse", "home.html", "<p>\n{{if}}</p>", "home.html:2"},
		{"an action that is never closed", "card.html", "<p>{{.Title</p>", "card.html:1"},
		{"a field that no view has", "home.html", "<p>\n\n{{.Titel}}</p>", "home.html:3"},
		{"a field of a list's element that no view has", "archive.html", "{{range .Rows}}\n{{.Titel}}{{end}}", "archive.html:2"},
		{"a piece that is not there", "404.html", "<p>\n{{template \"nothing.html\" .}}</p>", "404.html:2"},
		{"a tag that never ends", "home.html", "<p title=\"{{.About}}\n", "home.html"},
		{"an attribute without an end", "tray.html", "<p title={{if .Tests}}\"a\"{{else}}'b{{end}}>", "tray.html:1"},
		{"a word that is not there", "404.html", "<p>\n{{word \"nowhere\"}}</p>", `404.html:2:2: no word "nowhere"`},
		{"a word in a branch never taken", "404.html", "{{if false}}{{word \"nowhere\"}}{{end}}", `no word "nowhere"`},
		{"a word given to a function", "404.html", "{{print (word \"nowhere\")}}", `no word "nowhere"`},
		{"a word with a value too many", "404.html", "{{word \"archive\" 3}}", `word "archive" takes 0 values, not 1`},
		{"a word with a value too few", "404.html", "{{word \"median\"}}", `word "median" takes 1 values, not 0`},
		{"a word chosen by a view", "404.html", "{{word .Frame.Title}}", "not written out"},
		{"words that are no JSON", "words/en.json", "{", "words/en.json"},
		{"words of a language half done", "words/de.json", `{"page": {"archive": "Archiv"}}`, "words/de.json: no words for "},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := New(fstest.MapFS{tt.file: file(tt.text)})
			if err == nil {
				t.Fatal("no error")
			}
			if !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %q does not say %q", err, tt.want)
			}
		})
	}
}

// The built-in theme passes in every language; it is not tried each time that it is read.
func TestBuiltInTheme(t *testing.T) {
	r, err := New(nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.sets) < 2 {
		t.Errorf("%d languages", len(r.sets))
	}
	if err := r.try(); err != nil {
		t.Error(err)
	}
}

// A theme changes what it holds and inherits everything else.
func TestThemeOverrides(t *testing.T) {
	r, err := New(fstest.MapFS{
		"foot.html":             file("</main><footer>our own foot</footer></body></html>"),
		"words/en.json":         file(`{"page": {"archive": "Every trial we made"}}`),
		"styles/1-colours.css":  file("/* our own colours */\n"),
		"styles/9-ours.css":     file("/* our own last word */\n"),
		"notes/left-aside.html": file("{{broken"),
	})
	if err != nil {
		t.Fatal(err)
	}
	html, err := r.Home(fakeHome())
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"our own foot", "Every trial we made", "Newest answers"} {
		if !strings.Contains(string(html), want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	css := string(r.Styles())
	if !strings.HasPrefix(css, "/* our own colours */") || !strings.HasSuffix(css, "/* our own last word */\n") || !strings.Contains(css, ".card-head") {
		t.Error("the style sheet is not ours, the rest, ours")
	}
}

func TestLanguage(t *testing.T) {
	r, err := New(fstest.MapFS{"words/de.json": file(crossedOut(t))})
	if err != nil {
		t.Fatal(err)
	}
	for language, foreign := range map[string]bool{"": false, "en": false, "en-GB": false, "de": true, "de-CH": true, "fi": false} {
		v := fakeHome()
		v.Frame.Language = language
		html, err := r.Home(v)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(string(html), ">X-</h2>"); got != foreign {
			t.Errorf("language %q: foreign words %t, want %t", language, got, foreign)
		}
	}
}

// crossedOut is a words file with X- for every text, and the names in braces kept.
func crossedOut(t *testing.T) string {
	t.Helper()
	text, err := fs.ReadFile(themes.Bench(), "words/en.json")
	if err != nil {
		t.Fatal(err)
	}
	sections := map[string]map[string]any{}
	if err := json.Unmarshal(text, &sections); err != nil {
		t.Fatal(err)
	}
	braces := regexp.MustCompile(`\{[^}]*\}`)
	cross := func(text string) string { return "X-" + strings.Join(braces.FindAllString(text, -1), "") }
	for _, phrases := range sections {
		for key, value := range phrases {
			switch value := value.(type) {
			case string:
				phrases[key] = cross(value)
			case map[string]any:
				for form := range value {
					value[form] = cross(value["other"].(string))
				}
			}
		}
	}
	crossed, err := json.Marshal(sections)
	if err != nil {
		t.Fatal(err)
	}
	return string(crossed)
}

// Every word of the built-in file is used by some template.
func TestNoWordIsIdle(t *testing.T) {
	l, words := over(nil), wording.English().Of("page")
	set, err := l.parse(words)
	if err != nil {
		t.Fatal(err)
	}
	used := make(map[string]bool)
	for _, use := range wordUses(set) {
		used[use.key] = true
	}
	for _, key := range slices.Sorted(maps.Keys(words.All())) {
		if !used[key] {
			t.Errorf("no template says %q", key)
		}
	}
	if len(used) < 50 {
		t.Errorf("only %d words found in the templates", len(used))
	}
}

// Text that a reader sees comes from the words, not from the templates.
func TestTemplatesHoldNoText(t *testing.T) {
	bench := themes.Bench()
	names, err := fs.Glob(bench, "*.html")
	if err != nil || len(names) == 0 {
		t.Fatal(err, names)
	}
	for _, name := range names {
		text, err := fs.ReadFile(bench, name)
		if err != nil {
			t.Fatal(err)
		}
		for _, run := range visibleText(string(text)) {
			switch run {
			case "n", "p": // the signs of number and probability
			default:
				t.Errorf("%s: %q is not among the words", path.Base(name), run)
			}
		}
	}
}

// visibleText returns the runs of letters outside tags and actions.
func visibleText(template string) []string {
	var runs []string
	var run strings.Builder
	tag, action := false, 0
	for i := 0; i < len(template); i++ {
		switch c := template[i]; {
		case strings.HasPrefix(template[i:], "{{"):
			action++
			i++
		case strings.HasPrefix(template[i:], "}}"):
			action--
			i++
		case action > 0:
			continue
		case c == '<':
			tag = true
		case c == '>':
			tag = false
			continue
		case !tag && (c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'):
			run.WriteByte(c)
			continue
		}
		if run.Len() > 0 {
			runs = append(runs, run.String())
			run.Reset()
		}
	}
	return runs
}
