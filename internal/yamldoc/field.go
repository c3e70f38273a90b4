package yamldoc

import (
	"strings"
	"unicode/utf8"

	"sidebatch.example/sidebatch/internal/problem"
)

// Kind says what a field holds.
type Kind int

const (
	Empty   Kind = iota // nothing, ~ or null without quotes
	Text                // a scalar
	List                // a list
	Mapping             // keys with values
)

// String returns the kind as it stands in a message.
func (k Kind) String() string {
	switch k {
	case Text:
		return "text"
	case List:
		return "a list"
	case Mapping:
		return "a group of keys"
	}
	return "nothing"
}

// Field is one value with its place. Nil stands for a value that is absent.
type Field struct {
	kind    Kind
	refused bool // already reported: reads as absent
	text    string
	items   []*Field
	entries []Entry

	pos, keyPos problem.Pos
	at          *places
	textAt      int // offset of the text where it stands as it is, otherwise -1
}

// Entry is a key with its value. The value is never nil; nothing after the
// colon is a field of kind Empty.
type Entry struct {
	Key    string
	KeyPos problem.Pos
	Value  *Field
}

// Pos returns the place of the value's first rune: for quoted text the quote,
// for block text the first rune of the text, for a group its first key.
func (f *Field) Pos() problem.Pos {
	if f == nil {
		return problem.Pos{}
	}
	return f.pos
}

// KeyPos returns the place of the key that the value stands under; a value
// that has no key, an item of a list or the whole document, gives its own place.
func (f *Field) KeyPos() problem.Pos {
	if f == nil {
		return problem.Pos{}
	}
	if f.keyPos == (problem.Pos{}) {
		return f.pos
	}
	return f.keyPos
}

// PosAt returns the place of the n-th rune of the text, counted from 0, or of
// its end. Text that is not written as it reads (block text, text over several
// lines, quoted text with escapes) has one place only: Pos.
func (f *Field) PosAt(n int) problem.Pos {
	if f == nil {
		return problem.Pos{}
	}
	if f.kind != Text || f.textAt < 0 || n < 0 || n > utf8.RuneCountInString(f.text) {
		return f.pos
	}
	return f.at.pos(f.at.skip(f.textAt, n))
}

// Kind returns what the field holds; Empty for nil.
func (f *Field) Kind() Kind {
	if f == nil || f.refused {
		return Empty
	}
	return f.kind
}

// is says whether the field is of the kind, and reports when it is another.
func (f *Field) is(kind Kind, problems *problem.List) bool {
	if f == nil || f.refused {
		return false
	}
	if f.kind == kind {
		return true
	}
	problems.Hinted(f.pos, problem.WrongType, f.rewritten(kind), "%v where %v belongs", f.kind, kind)
	return false
}

// rewritten says how the field would be written as another kind.
func (f *Field) rewritten(kind Kind) string {
	short := f.kind == Text && utf8.RuneCountInString(f.text) <= 30 && !strings.ContainsAny(f.text, "\n[]{},")
	switch {
	case kind == List && short:
		return "write [" + f.text + "]"
	case kind == List:
		return "write [one, two], or a line each that starts with a dash"
	case kind == Mapping:
		return "write {key: value}, or a line each with key: value"
	case kind == Text && f.kind == Mapping:
		return "put text that holds a colon or begins with { in quotes"
	}
	return ""
}

// Text returns the text as written, without quotes. Another kind is reported
// as WrongType.
func (f *Field) Text(problems *problem.List) (string, bool) {
	if !f.is(Text, problems) {
		return "", false
	}
	return f.text, true
}

// Items returns the items of a list, in order. Another kind is reported as
// WrongType: a single text is not taken for a list of one.
func (f *Field) Items(problems *problem.List) []*Field {
	if !f.is(List, problems) {
		return nil
	}
	return f.items
}

// Texts returns the items of a list of texts. Items of another kind are
// reported and left out.
func (f *Field) Texts(problems *problem.List) []string {
	var texts []string
	for _, item := range f.Items(problems) {
		if text, ok := item.Text(problems); ok {
			texts = append(texts, text)
		}
	}
	return texts
}

// Entries returns the keys and values of a group whose keys are free, in
// order. A key written twice was reported as DoubledKey when the document was
// read, and only the first is here. Another kind is reported as WrongType.
func (f *Field) Entries(problems *problem.List) []Entry {
	if !f.is(Mapping, problems) {
		return nil
	}
	return f.entries
}

// OneOf returns the text if it is one of the words, and reports it as BadWord
// if it is not.
func (f *Field) OneOf(problems *problem.List, words ...string) (string, bool) {
	text, ok := f.Text(problems)
	if !ok {
		return "", false
	}
	for _, word := range words {
		if text == word {
			return word, true
		}
	}
	hint := problem.DidYouMean(text, words)
	if hint == "" {
		hint = "one of: " + strings.Join(words, ", ")
	}
	problems.Hinted(f.pos, problem.BadWord, hint, "%q is not a word known here", text)
	return "", false
}

// Bool reads true, yes, false and no, in any letter case, and reports other
// text as BadWord. Without ok the value is false.
func (f *Field) Bool(problems *problem.List) (value, ok bool) {
	text, ok := f.Text(problems)
	if !ok {
		return false, false
	}
	switch strings.ToLower(text) {
	case "true", "yes":
		return true, true
	case "false", "no":
		return false, true
	}
	problems.Hinted(f.pos, problem.BadWord, "write yes or no", "%q is neither yes nor no", text)
	return false, false
}
