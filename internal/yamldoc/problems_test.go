package yamldoc

import (
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/problem"
)

// A case has § where the problem must be reported, and nowhere else.
type problemCase struct {
	name, in   string
	code       problem.Code
	what, hint string
	read       func(*Field, *problem.List) // what is asked of the document, if anything
}

func (c problemCase) run(t *testing.T) {
	t.Helper()
	src, want := marked(c.in, 2)
	var problems problem.List
	f := Parse("trial.md", 2, []byte(src), &problems)
	if c.read != nil {
		c.read(f, &problems)
	}
	found := problems.Sorted()
	if len(found) != 1 {
		t.Errorf("%s: %d problems, want 1: %v", c.name, len(found), found)
		return
	}
	p := found[0]
	switch {
	case p.Pos.File != "trial.md":
		t.Errorf("%s: file %q", c.name, p.Pos.File)
	case len(want['§']) == 1 && place(p.Pos) != want['§'][0]:
		t.Errorf("%s: at %s, want %s: %v", c.name, place(p.Pos), want['§'][0], p)
	case p.Code != c.code || p.Weight != problem.Error:
		t.Errorf("%s: code %s, want the error %s: %v", c.name, p.Code, c.code, p)
	case !strings.Contains(p.What, c.what) || !strings.Contains(p.Hint, c.hint):
		t.Errorf("%s: got %v, want %q (%q)", c.name, p, c.what, c.hint)
	}
}

func TestProblems(t *testing.T) {
	for _, c := range problemCases() {
		c.run(t)
	}
}

func problemCases() []problemCase {
	return []problemCase{
		// Tabs.
		{"tab before a key", "a:\n§\tb: 1\n", problem.Syntax, "a tab in the indentation", "spaces", nil},
		{"tab after spaces", "a:\n  §\tb: 1\n", problem.Syntax, "a tab in the indentation", "spaces", nil},
		{"tab in block text", "a: |\n§\tx\n", problem.Syntax, "a tab in the indentation", "spaces", nil},
		{"tab below text", "a: x\n§\tb: y\n", problem.Syntax, "a tab in the indentation", "spaces", nil},

		// Colons.
		{"second colon", "note: brûlée§: too dark\n", problem.Syntax, "a second colon", "'brûlée: too dark'", nil},
		{"second colon in a list", "steps:\n  - Rest: 5 min\n  - name: Mix§: then it's done\n", problem.Syntax, "a second colon", "'Mix: then it''s done'", nil},
		{"second colon deep down", "a: 1\nb:\n  c: 2\n  d: e§: f\ng: 3\n", problem.Syntax, "a second colon", "'e: f'", nil},
		{"no space after the first colon", "name§:Cool\ncontrol: true\n", problem.Syntax, "no space after the colon", "a space", nil},
		{"no space after the last colon", "control: true\nname§:Cool\n", problem.Syntax, "no space after the colon", "a space", nil},
		{"no space after a colon in between", "a: 1\nname§:Cool\nb: 2\n", problem.Syntax, "no space after the colon", "a space", nil},
		{"no space after a colon in braces", "crème: {a: 1, é§:2}\n", problem.Syntax, "no space after the colon", "a space", nil},
		{"no colon", "a: 1\n§Cool water\nb: 2\n", problem.Syntax, "without a colon", "key: value", nil},
		{"no colon at the end", "a: 1\n§Cool water\n", problem.Syntax, "without a colon", "key: value", nil},
		{"key below text", "a: 1\n  §b: 2\n", problem.Syntax, "already has its text", "line it up", nil},
		{"key below text, windows line ends", "a: x\r\n §b: y\r\n", problem.Syntax, "already has its text", "line it up", nil},

		// Quotes.
		{"unclosed at the end", "a: 1\nname: §\"Cool\n", problem.Syntax, "not closed", "close it", nil},
		{"unclosed on the first line", "name: §'Cool\nb: 1\n", problem.Syntax, "not closed", "close it", nil},
		{"unclosed, another quote follows", "name: §\"Cool\nb: \"x\"\nc: 1\n", problem.Syntax, "not closed", "close it", nil},
		{"apostrophe in single quotes", "name: 'it'§s'\nb: 1\n", problem.Syntax, "after the closing quote", "apostrophe", nil},
		{"text after quotes", "name: \"Cool\" §water\nb: 1\n", problem.Syntax, "after the closing quote", "inside the quotes", nil},
		{"bad escape", "path: \"photos§\\cool.jpg\"\n", problem.Syntax, "a backslash", "single quotes", nil},

		// Brackets.
		{"unclosed [", "a: 1\nby: §[Noor, Teo\nb: 2\n", problem.Syntax, "a [ that is not closed", "close it with ]", nil},
		{"unclosed [ inside {", "a: {b: §[c, d}\ne: 1\n", problem.Syntax, "a [ that is not closed", "close it with ]", nil},
		{"unclosed { at the end", "a: §{b: c\n", problem.Syntax, "a { that is not closed", "close it with }", nil},
		{"unclosed { of the whole", "§{a: 1\n", problem.Syntax, "a { that is not closed", "close it with }", nil},
		{"one ] too many", "a: [x, y]§]\nb: 1\n", problem.Syntax, "after the closing ]", "quotes", nil},
		{"text after brackets", "a: {knead} §first\nb: 1\n", problem.Syntax, "after the closing }", "quotes", nil},
		{"no comma", "a: {b: 'c' §d: 'e'}\nf: 1\n", problem.Syntax, "without a comma", "comma", nil},
		{"text after a list in braces", "a: §{b: [c] d}\nf: 1\n", problem.Syntax, "cannot be read", "commas", nil},

		// Layout.
		{"uneven keys", "p:\n  a: 1\n §b: 2\n", problem.Syntax, "lines up with none", "the same number", nil},
		{"uneven items", "l:\n  - a\n §- b\n", problem.Syntax, "lines up with none", "the same number", nil},
		{"key among items", "- a\n§b: 1\n", problem.Syntax, "a key among list items", "dash", nil},
		{"item among keys", "a: 1\nb:\n  c: 2\n§- d\n", problem.Syntax, "a list item among keys", "indent", nil},
		{"item after its key", "by: §- Noor\n", problem.Syntax, "on the line of its key", "next line", nil},

		// First signs.
		{"at sign", "a: 1\nby: §@noor\n", problem.Syntax, "begins with @", "quotes", nil},
		{"percent", "a: §%x\n", problem.Syntax, "begins with %", "quotes", nil},
		{"star", "note: §*good* crust\n", problem.Syntax, "begins with *", "quotes", nil},
		{"ampersand", "note: §& more\n", problem.Syntax, "begins with &", "quotes", nil},
		{"greater", "a: §>5 min\n  y\n", problem.Syntax, "begins with >", "quotes", nil},
		{"bar", "a: §|x\n  y\n", problem.Syntax, "begins with |", "quotes", nil},
		{"question mark", "a: §? what\n", problem.Syntax, "begins with ?", "quotes", nil},
		{"lone brace", "a: §}\n", problem.Syntax, "begins with }", "quotes", nil},
		{"directive", "§%FOO\na: 1\n", problem.Syntax, "begins with %", "quotes", nil},
		{"exclamation mark", "a: §!important x\n", problem.Syntax, "a tag", "quotes", nil},
		{"lone exclamation mark", "a: §! x\n", problem.Syntax, "a tag", "quotes", nil},

		// Refused parts of YAML.
		{"anchor", "a: §&x 1\n", problem.TooDeep, "&x is an anchor", "quotes", nil},
		{"anchor before a group", "a: §&x\n  b: 1\n", problem.TooDeep, "&x is an anchor", "", nil},
		{"anchor before a key", "{a: 1, §&x b: 2}\n", problem.TooDeep, "&x is an anchor", "", nil},
		{"alias of nothing", "é: §*x\n", problem.TooDeep, "*x is an alias", "write the value out", nil},
		{"merge key", "a:\n  §<<: {b: 1}\n", problem.TooDeep, "merging", "write the keys out", nil},
		{"tag", "a: §!!str 1\n", problem.Syntax, "a tag", "quotes", nil},
		{"two documents", "a: 1\n§---\nb: 2\n", problem.Syntax, "second document", "---", nil},
		{"list as key", "? §[a, b]\n: 1\n", problem.WrongType, "a key that is not a word", "quotes", nil},
		{"group as key", "§{a: b}: 1\n", problem.WrongType, "a key that is not a word", "quotes", nil},
		{"no key on a line", "a: 1\n§: 2\n", problem.Syntax, "a value without a key", "before the colon", nil},
		{"no key in braces", "{a: 1, §: 2}\n", problem.Syntax, "a value without a key", "before the colon", nil},
		{"no key but quotes", "a: 1\n§'': 2\n", problem.WrongType, "a value without a key", "", nil},
		{"doubled key", "rest: 1\nb: 2\n§rest: 3\n", problem.DoubledKey, "rest is already on line 2", "keep one", nil},

		// Limits.
		{"21 deep", strings.Repeat("[", 20) + "§x" + strings.Repeat("]", 20), problem.TooDeep, "more than 20", "", nil},
		{"60 deep", strings.Repeat("[", 20) + "§" + strings.Repeat("[", 40) + strings.Repeat("]", 60), problem.TooDeep, "more than 20", "", nil},
		{"20,001 values", strings.Repeat("- a\n", 19_999) + "- §a\n", problem.TooDeep, "more than 20000 values", "", nil},
		{"20,001 values and more", strings.Repeat("- a\n", 19_999) + "- §a\n" + strings.Repeat("- a\n", 50), problem.TooDeep, "more than 20000 values", "", nil},
		{"a long value", "a: §" + strings.Repeat("x", 5000) + "\n  " + strings.Repeat("x", 5000) + "\n", problem.TooMany, "more than 10000 characters", "prose", nil},
		{"a long key", "§\"" + strings.Repeat("x", 201) + "\": 1\n", problem.TooMany, "more than 200 characters", "", nil},
		{"too long", strings.Repeat("# comment\n", 110_000), problem.Unreadable, "more than 1024 KiB", "", nil},
		{"too long a line", "a: 1\n§b: " + strings.Repeat("x", 10_000) + "\n", problem.Unreadable, "more than 10000 bytes", "several lines", nil},

		// Bytes.
		{"not UTF-8", "é: §\xff\n", problem.NotText, "not UTF-8", "UTF-8", nil},
		{"NUL", "é: 1§\x00\n", problem.NotText, "NUL", "", nil},
		{"control character", "é: 1§\x07\n", problem.Syntax, "U+0007", "delete", nil},
		{"a control character by an escape", `é: §"1\e[31m"` + "\n", problem.Syntax, "U+001B", "delete", nil},
		{"a control character by an escape in a key", `§"\x9b": 1` + "\n", problem.Syntax, "U+009B", "delete", nil},
		{"a line end in a key", `§"a\nb": 1` + "\n", problem.Syntax, "U+000A", "delete", nil},
		{"turned text", "é: 1§\u202e\n", problem.Syntax, "U+202E", "delete", nil},
		{"turned text by an escape", `é: §"1\u2066"` + "\n", problem.Syntax, "U+2066", "delete", nil},
		{"byte-order mark inside", "é: 1§\uFEFF\n", problem.Syntax, "U+FEFF", "delete", nil},
	}
}

func TestReading(t *testing.T) {
	for _, c := range readingCases() {
		c.run(t)
	}
}

func readingCases() []problemCase {
	text := func(f *Field, p *problem.List) { f.Map(p).Get("a").Text(p) }
	list := func(f *Field, p *problem.List) { f.Map(p).Get("a").Items(p) }
	texts := func(f *Field, p *problem.List) { f.Map(p).Get("a").Texts(p) }
	group := func(f *Field, p *problem.List) { f.Map(p).Get("a").Map(p).Done() }
	entries := func(f *Field, p *problem.List) { f.Map(p).Get("a").Entries(p) }
	kind := func(f *Field, p *problem.List) { f.Map(p).Get("a").OneOf(p, "time", "temperature", "score") }
	truth := func(f *Field, p *problem.List) { f.Map(p).Get("a").Bool(p) }
	each := func(f *Field, p *problem.List) {
		for _, e := range f.Entries(p) {
			e.Value.Text(p)
		}
	}
	known := func(f *Field, p *problem.List) {
		m := f.Map(p)
		for _, key := range []string{"title", "water temperature", "amounts for"} {
			m.Get(key)
		}
		m.Has("tested at")
		m.Done()
	}
	need := func(f *Field, p *problem.List) { f.Map(p).Need("a").Text(p) }
	needBelow := func(f *Field, p *problem.List) { f.Map(p).Need("a").Map(p).Need("name") }
	return []problemCase{
		{"list for text", "a: §[x]\n", problem.WrongType, "a list where text belongs", "", text},
		{"group for text", "a: §{x: y}\n", problem.WrongType, "a group of keys where text belongs", "in quotes", text},
		{"nothing for text", "a:§\nb: 1\n", problem.WrongType, "nothing where text belongs", "", each},
		{"text for a list", "a: §x y\n", problem.WrongType, "text where a list belongs", "write [x y]", list},
		{"awkward text for a list", "a: §x, y\n", problem.WrongType, "text where a list belongs", "write [one, two]", list},
		{"group for a list", "a: §{x: y}\n", problem.WrongType, "a group of keys where a list belongs", "write [one, two]", list},
		{"list in a list of texts", "a: [x, §[y], z]\n", problem.WrongType, "a list where text belongs", "", texts},
		{"text for a group", "a: §x\n", problem.WrongType, "text where a group of keys belongs", "key: value", group},
		{"list for entries", "a:\n  §- x\n", problem.WrongType, "a list where a group of keys belongs", "key: value", entries},
		{"text for the whole", "§x\n", problem.WrongType, "text where a group of keys belongs", "", group},
		{"no word", "a: §scor\n", problem.BadWord, `"scor"`, "did you mean score?", kind},
		{"no word near", "a: §x\n", problem.BadWord, `"x"`, "one of: time, temperature, score", kind},
		{"letter case", "a: §Time\n", problem.BadWord, `"Time"`, "did you mean time?", kind},
		{"neither yes nor no", "a: §on\n", problem.BadWord, `"on"`, "yes or no", truth},
		{"unknown key", "title: x\n§amount for: y\n", problem.UnknownKey, "unknown key amount for", "did you mean amounts for?", known},
		{"unknown key with an underscore", "§water_temperature: y\n", problem.UnknownKey, "water_temperature", "did you mean water temperature?", known},
		{"unknown key near one that is there", "title: x\n§titel: y\n", problem.UnknownKey, "titel", "did you mean title?", known},
		{"unknown key near none", "title: x\n§glaze: y\n", problem.UnknownKey, "glaze", "keys that may stand here: water temperature, amounts for, tested at", known},
		{"missing key of the whole", "§b: 1\n", problem.MissingKey, "a is missing here", "", need},
		{"missing key below a key", "b: 1\n§a:\n  c: 1\n", problem.MissingKey, "name is missing here", "", needBelow},
		{"missing value", "b: 1\n§a:\n", problem.MissingKey, "nothing stands after a", "", need},
		{"needed but refused is told once", "a: §!x y\n", problem.Syntax, "a tag", "", need},
	}
}
