package yamldoc

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/problem"
)

// marked cuts the marks § and ¶ out of a source and returns where they stood.
func marked(src string, firstLine int) (clean string, at map[rune][]string) {
	at = map[rune][]string{}
	line, column := firstLine, 1
	var b strings.Builder
	for i := 0; i < len(src); {
		r, size := utf8.DecodeRuneInString(src[i:])
		i += size
		if r == '§' || r == '¶' {
			at[r] = append(at[r], fmt.Sprintf("%d:%d", line, column))
			continue
		}
		b.WriteString(src[i-size : i]) // as it is, for bytes that are no runes
		column++
		if r == '\n' {
			line, column = line+1, 1
		}
	}
	return b.String(), at
}

func place(p problem.Pos) string { return fmt.Sprintf("%d:%d", p.Line, p.Column) }

// walk calls visit for the field and all below it, in the order of the text.
func walk(f *Field, visit func(*Field)) {
	visit(f)
	for _, item := range f.items {
		walk(item, visit)
	}
	for _, e := range f.entries {
		walk(e.Value, visit)
	}
}

// TestPositions has § before each value and ¶ before each key. A group without
// braces begins with its first key, so its place is marked there.
func TestPositions(t *testing.T) {
	tests := []struct{ name, in string }{
		{"text", "§¶title: §Cool\n¶by: §[§Noor, §Teo]\n"},
		{"accents before the value", "§¶crème brûlée: §{¶é: §1, ¶焼き: §[§ö, §ü]}\n"},
		{"beyond the basic plane", "§¶🥞🥞: §{¶🥞: §🥞}\n"},
		{"quotes", "§¶'a b': §'x'\n¶\"c\": §\"y\"\n"},
		{"nested", "§¶samples:\n  §¶cool:\n    §¶control: §yes\n  ¶hot:\n    §¶change: §{¶rest: §0 min}\n"},
		{"lists", "§¶steps:\n  §- §Stir\n  - §Knead\n¶by:\n§- §Noor\n"},
		{"groups in a list", "§- §¶a: §1\n  ¶b: §2\n- §¶a: §3\n"},
		{"block text", "§¶words: |\n  §It rolled\n  twice\n¶more: >-\n\n    §and again\n"},
		{"block text that is empty", "§¶words: §|\n"},
		{"text over two lines", "§¶a: §one\n  two\n¶b: §three\n"},
		{"comments", "# first\n§¶a: §1 # one\n# between\n¶b: §2\n"},
		{"windows line ends", "§¶a: §1\r\n¶b:\r\n  §¶c: §2\r\n"},
		{"line separators inside a line", "§¶a: §'x\u2028  y'\n¶b: §'z\u0085  w'\n¶c: §1\n"},
		{"nothing after the colon", "§¶a:§\n¶b: §1\n"},
		{"byte-order mark", "\uFEFF§¶a: §1\n"},
	}
	for _, test := range tests {
		for _, firstLine := range []int{1, 2} {
			src, want := marked(strings.TrimPrefix(test.in, "\uFEFF"), firstLine)
			if strings.HasPrefix(test.in, "\uFEFF") {
				src = "\uFEFF" + src
			}
			var problems problem.List
			f := Parse("trial.md", firstLine, []byte(src), &problems)
			if problems.Len() > 0 {
				t.Errorf("%s: %v", test.name, problems.Sorted())
				continue
			}
			got := map[rune][]string{}
			walk(f, func(f *Field) {
				got['§'] = append(got['§'], place(f.Pos()))
				for _, e := range f.Entries(&problem.List{}) {
					if e.Value.KeyPos() != e.KeyPos {
						t.Errorf("%s: key %s: the value says its key is at %v, the entry %v", test.name, e.Key, e.Value.KeyPos(), e.KeyPos)
					}
				}
				if f.keyPos.Line > 0 {
					got['¶'] = append(got['¶'], place(f.KeyPos()))
				}
			})
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%s: places (-want +got):\n%s", test.name, diff)
			}
		}
	}
}

func TestPosAt(t *testing.T) {
	tests := []struct {
		name, in string // ¶ stands where the rune is
		n        int
	}{
		{"first rune", "a: ¶12 g\n", 0},
		{"third rune", "a: 12¶ g\n", 2},
		{"end", "a: 12 g¶\n", 4},
		{"after accents", "brûlée: é½¶ g\n", 2},
		{"single quotes", "a: '12 ¶g'\n", 3},
		{"double quotes", "a: \"12 ¶g\"\n", 3},
		{"escapes have one place", "a: ¶\"1\\t2 g\"\n", 3},
		{"doubled apostrophes have one place", "a: ¶'it''s'\n", 3},
		{"block text has one place", "a: |\n  ¶12 g\n", 2},
		{"two lines have one place", "a: ¶12\n  g\n", 3},
		{"beyond the end", "a: ¶12 g\n", 9},
		{"below zero", "a: ¶12 g\n", -1},
		{"lists have one place", "a: ¶[12 g]\n", 2},
	}
	for _, test := range tests {
		src, want := marked(test.in, 1)
		var problems problem.List
		f := Parse("k.yaml", 1, []byte(src), &problems)
		if problems.Len() > 0 {
			t.Fatalf("%s: %v", test.name, problems.Sorted())
		}
		if got := place(f.entries[0].Value.PosAt(test.n)); got != want['¶'][0] {
			t.Errorf("%s: PosAt(%d) = %s, want %s", test.name, test.n, got, want['¶'][0])
		}
	}
}

// show writes a field as one line that shows its kinds and texts.
func show(f *Field) string {
	if f.refused {
		return "REFUSED"
	}
	var parts []string
	switch f.Kind() {
	case Text:
		return fmt.Sprintf("%q", f.text)
	case List:
		for _, item := range f.items {
			parts = append(parts, show(item))
		}
		return "[" + strings.Join(parts, " ") + "]"
	case Mapping:
		for _, e := range f.entries {
			parts = append(parts, e.Key+"="+show(e.Value))
		}
		return "{" + strings.Join(parts, " ") + "}"
	}
	return "nothing"
}

// TestAsWritten keeps scalars from being decoded. The examples of the YAML
// specification are those of YAML 1.2.2, chapter 2, cited from memory.
func TestAsWritten(t *testing.T) {
	tests := []struct{ name, in, want string }{
		{"leading zero", "010", `"010"`},
		{"trailing zero", "1.10", `"1.10"`},
		{"date", "2026-02-14", `"2026-02-14"`},
		{"words of truth", "[yes, no, on, off, true, False]", `["yes" "no" "on" "off" "true" "False"]`},
		{"minutes and seconds", "1:10", `"1:10"`},
		{"other bases", "[0x1F, 0o17, 0b11, 1_000, 1e3, .5, .inf, .nan]", `["0x1F" "0o17" "0b11" "1_000" "1e3" ".5" ".inf" ".nan"]`},
		{"keys", "{010: a, yes: b, 2026-02-14: c, 1.10: d, ~: e}", `{010="a" yes="b" 2026-02-14="c" 1.10="d" ~="e"}`},
		{"nothing", "[null, ~, '', \"null\", '~']", `[nothing nothing "" "null" "~"]`},
		{"address", "https://two-griddles.example/", `"https://two-griddles.example/"`},
		{"empty", "", "nothing"},
		{"blanks", "\n \n\n", "nothing"},
		{"comments only", "# nothing yet\n", "nothing"},
		{"document start", "---\na: 1\n", `{a="1"}`},
		{"document end", "a: 1\n...\n", `{a="1"}`},

		{"YAML 1.2.2 example 2.1", "- Mark McGwire\n- Sammy Sosa\n- Ken Griffey\n", `["Mark McGwire" "Sammy Sosa" "Ken Griffey"]`},
		{"YAML 1.2.2 example 2.2", "hr:  65    # Home runs\navg: 0.278 # Batting average\nrbi: 147   # Runs Batted In\n", `{hr="65" avg="0.278" rbi="147"}`},
		{"YAML 1.2.2 example 2.5", "- [name        , hr, avg  ]\n- [Mark McGwire, 65, 0.278]\n", `[["name" "hr" "avg"] ["Mark McGwire" "65" "0.278"]]`},
		{"YAML 1.2.2 example 2.6", "Mark McGwire: {hr: 65, avg: 0.278}\nSammy Sosa: {\n    hr: 63,\n    avg: 0.288,\n }\n", `{Mark McGwire={hr="65" avg="0.278"} Sammy Sosa={hr="63" avg="0.288"}}`},
		{"YAML 1.2.2 example 2.13", "--- |\n  \\//||\\/||\n  // ||  ||__\n", `"\\//||\\/||\n// ||  ||__\n"`},
		{"YAML 1.2.2 example 2.14", "--- >\n  Mark McGwire's\n  year was crippled\n  by a knee injury.\n", `"Mark McGwire's year was crippled by a knee injury.\n"`},
		{"YAML 1.2.2 example 2.17 but for its backspace", "unicode: \"Sosa did fine.\\u263A\"\ncontrol: \"1998\\t1999\\t2000\\n\"\nsingle: '\"Howdy!\" he cried.'\nquoted: ' # Not a ''comment''.'\n",
			`{unicode="Sosa did fine.☺" control="1998\t1999\t2000\n" single="\"Howdy!\" he cried." quoted=" # Not a 'comment'."}`},
	}
	for _, test := range tests {
		var problems problem.List
		f := Parse("k.yaml", 1, []byte(test.in), &problems)
		if f == nil || problems.Len() > 0 {
			t.Errorf("%s: %v", test.name, problems.Sorted())
			continue
		}
		if got := show(f); got != test.want {
			t.Errorf("%s: got %s, want %s", test.name, got, test.want)
		}
	}
}

// TestEveryCodeHasACase compares the codes that this room can report with
// those of the cases in TestProblems and TestReading.
func TestEveryCodeHasACase(t *testing.T) {
	inSource := map[string]bool{}
	for _, file := range []string{"yamldoc.go", "place.go", "field.go", "mapping.go", "syntax.go", "layout.go", "tokens.go"} {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`problem\.([A-Z]\w+)`).FindAllStringSubmatch(string(src), -1) {
			inSource[m[1]] = true
		}
	}
	for _, other := range []string{"Pos", "List", "DidYouMean", "Code", "Turns"} {
		delete(inSource, other)
	}
	covered := map[problem.Code]bool{}
	for _, test := range slices.Concat(problemCases(), readingCases()) {
		covered[test.code] = true
	}
	for name := range inSource {
		// The code's text is its name in lower case, its words joined by hyphens.
		code := strings.ToLower(regexp.MustCompile(`([a-z])([A-Z])`).ReplaceAllString(name, "$1-$2"))
		if !covered[problem.Code(code)] {
			t.Errorf("no case reports %s", code)
		}
	}
	if len(inSource) < 8 {
		t.Errorf("found only %d codes in the source; the search is broken", len(inSource))
	}
}
