package yamldoc

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/problem"
)

// writer writes random documents and remembers what it wrote where.
type writer struct {
	t    *rapid.T
	b    strings.Builder
	want []string
}

func (w *writer) here() string {
	text := w.b.String()
	start := strings.LastIndexByte(text, '\n') + 1
	return fmt.Sprintf("%d:%d", 1+strings.Count(text, "\n"), 1+utf8.RuneCountInString(text[start:]))
}

func (w *writer) note(format string, args ...any) {
	w.want = append(w.want, w.here()+" "+fmt.Sprintf(format, args...))
}

func (w *writer) text() {
	word := rapid.SampledFrom([]string{"no", "010", "1.10", "crème brûlée", "🥞 x", "2026-02-14", "a: b", "[", "it's", "- x", "#1", "~"}).Draw(w.t, "text")
	w.note("text %s", word)
	if strings.ContainsAny(word, ":[-#~'") || rapid.Bool().Draw(w.t, "quote") {
		word = "'" + strings.ReplaceAll(word, "'", "''") + "'"
	}
	w.b.WriteString(word)
}

func (w *writer) keys() []string {
	return rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"a", "side 1", "é", "no rest", "焼き", "010", "yes"}), 1, 4, rapid.ID).Draw(w.t, "keys")
}

// inline writes a value within one line.
func (w *writer) inline(depth int) {
	kind := rapid.IntRange(0, 2).Draw(w.t, "inline kind")
	if depth == 0 || kind == 0 {
		w.text()
		return
	}
	if kind == 1 {
		w.note("list")
		w.b.WriteString("[")
		for i := range rapid.IntRange(0, 3).Draw(w.t, "items") {
			if i > 0 {
				w.b.WriteString(", ")
			}
			w.inline(depth - 1)
		}
		w.b.WriteString("]")
		return
	}
	w.note("group")
	w.b.WriteString("{")
	for i, key := range w.keys() {
		if i > 0 {
			w.b.WriteString(", ")
		}
		w.note("key %s", key)
		w.b.WriteString(key + ": ")
		w.inline(depth - 1)
	}
	w.b.WriteString("}")
}

// group writes keys on lines of their own; the cursor stands at the first key.
func (w *writer) group(indent string, depth int) {
	w.note("group")
	for i, key := range w.keys() {
		if i > 0 {
			w.b.WriteString(indent)
		}
		w.note("key %s", key)
		w.b.WriteString(key + ":")
		if depth > 0 && rapid.Bool().Draw(w.t, "below") {
			w.b.WriteString("\n" + indent + "  ")
			w.group(indent+"  ", depth-1)
			continue
		}
		w.b.WriteString(" ")
		w.inline(depth)
		w.b.WriteString(rapid.SampledFrom([]string{"\n", " # why\n", "\n\n", "\r\n"}).Draw(w.t, "end"))
	}
}

func list(f *Field) []string {
	at := fmt.Sprintf("%d:%d ", f.Pos().Line, f.Pos().Column)
	switch f.Kind() {
	case Text:
		return []string{at + "text " + f.text}
	case List:
		out := []string{at + "list"}
		for _, item := range f.items {
			out = append(out, list(item)...)
		}
		return out
	case Mapping:
		out := []string{at + "group"}
		for _, e := range f.entries {
			out = append(out, fmt.Sprintf("%d:%d key %s", e.KeyPos.Line, e.KeyPos.Column, e.Key))
			out = append(out, list(e.Value)...)
		}
		return out
	}
	return []string{at + "nothing"}
}

// TestWrittenIsRead: what a writer that counts runes wrote is read back, each
// key and value at its place.
func TestWrittenIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := &writer{t: t}
		w.group("", 4)
		src := w.b.String()
		var problems problem.List
		f := Parse("k.yaml", 1, []byte(src), &problems)
		if f == nil || problems.Len() > 0 {
			t.Fatalf("%s\n%v", src, problems.Sorted())
		}
		if diff := cmp.Diff(w.want, list(f)); diff != "" {
			t.Fatalf("%s\n(-written +read):\n%s", src, diff)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, c := range problemCases() {
		if len(c.in) < 2000 {
			f.Add([]byte(strings.NewReplacer("§", "", "¶", "").Replace(c.in)))
		}
	}
	f.Add([]byte("a: 1\nb: [no, 'x']\nc: |\n  hi\nd:\n  e: {é: \"ü\"}\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		var problems problem.List
		field := Parse("k.yaml", 1, src, &problems)
		if field == nil && problems.Errors() == 0 {
			t.Fatal("nothing was read and nothing was reported")
		}
		lines := strings.Split(string(src), "\n")
		inside := func(p problem.Pos) bool {
			return p.Line >= 1 && p.Line <= len(lines) && p.Column >= 1 && p.Column <= utf8.RuneCountInString(lines[p.Line-1])+1
		}
		for _, p := range problems.Sorted() {
			if p.Pos.Line > 0 && !inside(p.Pos) {
				t.Errorf("a problem outside the file: %v", p)
			}
			if p.What == "" || strings.HasPrefix(p.What, "yaml:") {
				t.Errorf("a problem not in our words: %v", p)
			}
		}
		if field == nil {
			return
		}
		walk(field, func(f *Field) {
			if !inside(f.Pos()) || !inside(f.KeyPos()) {
				t.Errorf("a field outside the file: %v, key %v", f.Pos(), f.KeyPos())
			}
			if f.textAt < 0 || f.Kind() != Text {
				return
			}
			if p := f.PosAt(0); !inside(p) {
				t.Errorf("text outside the file: %v", p)
			} else if rest := []rune(strings.TrimPrefix(lines[p.Line-1], "\uFEFF"))[p.Column-1:]; !strings.HasPrefix(string(rest), firstLine(f.text)) {
				t.Errorf("%v: %q stands there, not %q", p, string(rest), f.text)
			}
		})
	})
}

func firstLine(text string) string {
	line, _, _ := strings.Cut(text, "\n")
	return line
}

func TestNilIsAbsent(t *testing.T) {
	var problems problem.List
	var f *Field
	if text, ok := f.Text(&problems); text != "" || ok {
		t.Errorf("Text: %q, %v", text, ok)
	}
	if word, ok := f.OneOf(&problems, ""); word != "" || ok {
		t.Errorf("OneOf: %q, %v", word, ok)
	}
	if value, ok := f.Bool(&problems); value || ok {
		t.Errorf("Bool: %v, %v", value, ok)
	}
	if f.Items(&problems) != nil || f.Texts(&problems) != nil || f.Entries(&problems) != nil || f.Kind() != Empty {
		t.Error("a nil field holds something")
	}
	if zero := (problem.Pos{}); f.Pos() != zero || f.KeyPos() != zero || f.PosAt(3) != zero {
		t.Error("a nil field has a place")
	}
	m := f.Map(&problems)
	if m.Get("a") != nil || m.Need("a") != nil || m.Has("a") {
		t.Error("a nil map holds something")
	}
	m.Done()
	if problems.Len() > 0 {
		t.Errorf("an absent field is reported: %v", problems.Sorted())
	}
}

func TestReadsKnownKeys(t *testing.T) {
	var problems problem.List
	f := Parse("k.yaml", 1, []byte("control: Yes\nnot controlled: no\nkind: score\nby: [Noor, Teo]\nempty:\nbad: *x2\n"), &problems)
	if f != nil {
		t.Fatal("an alias without an anchor was read")
	}
	problems = problem.List{}
	f = Parse("k.yaml", 1, []byte("control: Yes\nnot controlled: no\nkind: score\nby: [Noor, Teo]\nempty:\n"), &problems)
	m := f.Map(&problems)
	if value, ok := m.Get("control").Bool(&problems); !value || !ok {
		t.Errorf("control: %v, %v", value, ok)
	}
	if value, ok := m.Get("not controlled").Bool(&problems); value || !ok {
		t.Errorf("not controlled: %v, %v", value, ok)
	}
	if word, ok := m.Need("kind").OneOf(&problems, "time", "score"); word != "score" || !ok {
		t.Errorf("kind: %q, %v", word, ok)
	}
	if diff := cmp.Diff([]string{"Noor", "Teo"}, m.Get("by").Texts(&problems)); diff != "" {
		t.Error(diff)
	}
	if m.Get("empty") != nil || !m.Has("empty") || m.Has("absent") {
		t.Error("an empty key is there, and has no value")
	}
	m.Done()
	if problems.Len() > 0 {
		t.Errorf("%v", problems.Sorted())
	}
}

func BenchmarkParse(b *testing.B) {
	var src strings.Builder
	for i := range 200 {
		fmt.Fprintf(&src, "sample %d:\n  name: Crème %d\n  change: {rest: 0 min, water: 195 g}\n  steps: [one, two]\n", i, i)
	}
	b.SetBytes(int64(src.Len()))
	for b.Loop() {
		var problems problem.List
		if Parse("k.yaml", 1, []byte(src.String()), &problems) == nil {
			b.Fatal("not read")
		}
	}
}
