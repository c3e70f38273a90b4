package wording

import (
	"regexp"
	"strings"
	"testing"
	"testing/fstest"
)

// ours is a small theme over the built-in one.
func ours(files map[string]string) fstest.MapFS {
	theme := fstest.MapFS{}
	for name, text := range files {
		theme[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return theme
}

func TestSay(t *testing.T) {
	book, err := Read(ours(map[string]string{"words/en.json": `{"page": {
		"plain": "As it is", "named": "{of} against {against}, {of} again", "braces": "{unknown} and {", "in turn": "{} of {}", "turned": "{2} comes before {1}",
		"trials": {"one": "one trial", "other": "{n} trials"}}}`}))
	if err != nil {
		t.Fatal(err)
	}
	page := book.In("en").Of("page")
	for _, c := range []struct{ name, got, want string }{
		{"plain", page.Say("plain"), "As it is"},
		{"filled in by name", page.Say("named", "of", "A", "against", "B"), "A against B, A again"},
		{"a value with braces stays what it is", page.Say("named", "of", "{against}", "against", "B"), "{against} against B, {against} again"},
		{"a name that nobody fills in", page.Say("braces", "of", "A"), "{unknown} and {"},
		{"a value without a name", page.Say("named", "of"), "{of} against {against}, {of} again"},
		{"a phrase that is not there", page.Say("nowhere"), "[page/nowhere]"},
		{"so many that are not there", page.Count("nowhere", 2), "[page/nowhere]"},
		{"one", page.Count("trials", 1), "one trial"},
		{"none", page.Count("trials", 0), "0 trials"},
		{"many", page.Count("trials", 12345), "12,345 trials"},
		{"half of one", page.Count("trials", 2, "n", "1.5"), "1.5 trials"},
		{"a section that is not there", book.In("en").Of("nowhere").Say("plain"), "[nowhere/plain]"},
		{"no language", Phrases{}.Say("plain"), "[/plain]"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.name, c.got, c.want)
		}
	}
	if spanish := book.In("es").Of("page"); book.Has("es") && spanish.Say("plain") != "As it is" {
		t.Error("a phrase that a theme has in English only is not said in Spanish")
	}
	if !page.Has("plain") || page.Has("nowhere") || page.All()["plain"] != "As it is" {
		t.Error("Has and All do not tell what there is")
	}
}

func TestFill(t *testing.T) {
	book, err := Read(ours(map[string]string{"words/en.json": `{"page": {"in turn": "{} of {}", "turned": "{2} comes before {1}", "none": "nothing"}}`}))
	if err != nil {
		t.Fatal(err)
	}
	page := book.In("en").Of("page")
	for _, c := range []struct {
		key    string
		values []any
		want   string
		err    string
	}{
		{"in turn", []any{3, "{1}"}, "3 of {1}", ""},
		{"turned", []any{"first", "second"}, "second comes before first", ""},
		{"none", nil, "nothing", ""},
		{"none", []any{1}, "", "takes 0 values, not 1"},
		{"in turn", []any{1}, "", "takes 2 values, not 1"},
		{"turned", []any{1}, "", "takes 2 values, not 1"},
		{"nowhere", nil, "", `no word "nowhere"`},
	} {
		got, err := page.Fill(c.key, c.values...)
		if got != c.want || (err == nil) != (c.err == "") || err != nil && !strings.Contains(err.Error(), c.err) {
			t.Errorf("%s %v: %q, %v, want %q, %q", c.key, c.values, got, err, c.want, c.err)
		}
	}
}

// TestNumbers: grouping of thousands as the Unicode CLDR and the Real Academia
// Española (Ortografía, 2010: no mark in numbers of four digits) have it, and dates.
func TestNumbers(t *testing.T) {
	book, err := Read(nil)
	if err != nil {
		t.Fatal(err)
	}
	en, es := book.In("en"), book.In("es-MX")
	for _, c := range []struct{ name, got, want string }{
		{"a thousand", en.Integer(1000), "1,000"},
		{"below", en.Integer(999), "999"},
		{"a capital", Capital("émile says"), "Émile says"},
		{"a capital of nothing", Capital(""), ""},
		{"a million", en.Integer(1234567), "1,234,567"},
		{"minus", en.Integer(-12345), "−12,345"},
		{"in Spanish, four digits", es.Integer(1000), "1000"},
		{"in Spanish, five", es.Integer(12345), "12.345"},
		{"a decimal", en.Decimal("1.5"), "1.5"},
		{"in Spanish", es.Decimal("−1.5"), "−1,5"},
		{"a day", en.Date(2026, 2, 14), "14 February 2026"},
		{"in Spanish", es.Date(2026, 2, 14), "14 de febrero de 2026"},
		{"a month", en.MonthOf(2026, 2), "February 2026"},
		{"in Spanish", es.MonthOf(2026, 2), "febrero de 2026"},
		{"a month alone", es.Month(12), "diciembre"},
		{"nothing", en.List(nil), ""},
		{"one", en.List([]string{"a"}), "a"},
		{"two", en.List([]string{"a", "b"}), "a and b"},
		{"three", en.List([]string{"a", "b", "c"}), "a, b and c"},
		{"in Spanish", es.List([]string{"agua", "sal"}), "agua y sal"},
		{"before the vowel i", es.List([]string{"agua", "inulina"}), "agua e inulina"},
		{"before hi", es.List([]string{"agua", "higos"}), "agua e higos"},
		{"before a diphthong", es.List([]string{"agua", "hielo"}), "agua y hielo"},
		{"before another letter", es.List([]string{"agua", "harina"}), "agua y harina"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.name, c.got, c.want)
		}
	}
}

// TestBuiltIn: the words of the program are whole in both languages; Read checks it.
func TestBuiltIn(t *testing.T) {
	book, err := Read(nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(book.Names(), " "); got != "en es" {
		t.Fatalf("languages %q", got)
	}
	if len(book.languages["en"].phrases) < 500 {
		t.Errorf("only %d phrases", len(book.languages["en"].phrases))
	}
	blanks := regexp.MustCompile(`\{[^}]*\}`)
	for key, english := range book.languages["en"].phrases {
		for form, text := range english {
			if len(strings.Fields(blanks.ReplaceAllString(text, ""))) > 3 && book.languages["es"].phrases[key][form] == text {
				t.Errorf("%s is not in Spanish: %q", key, text)
			}
		}
	}
	if English().Name() != "en" || !book.Has("es-AR") || book.Has("fi") || book.In("fi").Name() != "en" {
		t.Error("a language is not found")
	}
}

func TestSlips(t *testing.T) {
	for _, c := range []struct{ name, file, text, want string }{
		{"no JSON", "words/en.json", "{\n\n\"page\": }", "words/en.json: line 3: "},
		{"no sections", "words/en.json", `{"archive": "Archive"}`, "words/en.json: line 1: "},
		{"a number", "words/en.json", `{"page": {"archive": 3}}`, `page, "archive": a phrase is a text`},
		{"a form that no language has", "words/en.json", `{"page": {"archive": {"some": "x"}}}`, `no plural form is called "some"`},
		{"no language", "words/x-1.json.json", `{}`, "is no language"},
		{"a language half done", "words/fi.json", `{"page": {"archive": "Arkisto"}}`, "words/fi.json: no words for "},
		{"many slips are cut short", "words/fi.json", `{}`, " more"},
		{"a name that nothing fills in", "words/en.json", `{"findings": {"count": "{passes} von {all}"}}`, `"findings/count" has {all}, which nothing fills in`},
	} {
		_, err := Read(ours(map[string]string{c.file: c.text}))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// TestOtherLanguages: a language is held against the original, name by name and form
// by form.
func TestOtherLanguages(t *testing.T) {
	needed := map[string]phrase{}
	for key, text := range map[string]string{"a/plain": "of {n}", "a/turned": "{} of {}", "units/cup": "cup"} {
		needed[key] = phrase{0: text}
	}
	read := func(text string) []string {
		book := &Book{languages: map[string]*Language{}}
		if err := book.add(ours(map[string]string{"words/pl.json": text}), "words/pl.json"); err != nil {
			t.Fatal(err)
		}
		return book.languages["pl"].slips(needed)
	}
	pieces, err := readPhrase([]byte(`{"one": "one piece", "other": "{n} pieces"}`))
	if err != nil {
		t.Fatal(err)
	}
	needed["a/pieces"] = pieces
	for _, c := range []struct{ name, text, want string }{
		{"whole", `{"a": {"plain": "{n}", "turned": "{2}, {1}", "pieces": {"one": "x", "few": "{n}", "many": "{n}", "other": "{n}"}}}`, ""},
		{"a form is missing", `{"a": {"plain": "{n}", "turned": "{}{}", "pieces": {"one": "x", "many": "{n}", "other": "{n}"}}}`, `"a/pieces" lacks the form "few"`},
		{"a name is missing", `{"a": {"plain": "x", "turned": "{}{}", "pieces": {"one": "x", "few": "{n}", "many": "{n}", "other": "{n}"}}}`, `"a/plain" has no {n}`},
		{"a name too many", `{"a": {"plain": "{n} {m}", "turned": "{}{}", "pieces": {"one": "x", "few": "{n}", "many": "{n}", "other": "{n}"}}}`, `"a/plain" has {m}, which nothing fills in`},
		{"a phrase is missing", `{"a": {"plain": "{n}", "turned": "{}{}"}}`, `no words for "a/pieces"`},
	} {
		if got := strings.Join(read(c.text), "; "); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(`{"page": {"archive": "Archive {}", "n": {"one": "{n}", "other": "{n} of {"}}}`))
	f.Add([]byte("{"))
	f.Fuzz(func(t *testing.T, text []byte) {
		book, err := Read(fstest.MapFS{"words/en.json": {Data: text}})
		if err != nil {
			return
		}
		l := book.In("en")
		for key := range l.Of("page").All() {
			l.Of("page").Say(key, "n", "{n}")
			l.Of("page").Count(key, 3)
			if n, ok := l.Of("page").Takes(key); ok {
				if _, err := l.Of("page").Fill(key, make([]any, n)...); err != nil {
					t.Errorf("%q: %v", key, err)
				}
			}
		}
	})
}
