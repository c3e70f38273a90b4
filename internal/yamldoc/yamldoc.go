// Package yamldoc reads YAML as positioned fields: every key and value knows
// its file, line and column, and every scalar is the text as it was written.
//
// It refuses to decode: 010, 1.10, 2026-02-14 and no stay text, and what they
// mean is for the reader of the format to say. It refuses the parts of YAML
// that let one place change the meaning of another (anchors, aliases, merge
// keys, tags, several documents), and documents too deep or too large to have
// been written by hand. It knows no key of any format; a [Map] learns the
// known keys from being asked for them.
//
// Reading goes on after a problem. A nil *[Field] stands for an optional field
// that is absent and a nil *[Map] for one that cannot be read: all methods of
// both give zero values and report nothing, so that reading code stays flat.
package yamldoc

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"sidebatch.example/sidebatch/internal/problem"
)

const (
	maxSize  = 1 << 20 // bytes of source
	maxLine  = 10_000  // bytes of one line
	maxDepth = 20      // lists and maps inside one another
	maxNodes = 20_000  // scalars, lists and maps, keys included
	maxKey   = 200     // characters of a key
	maxText  = 10_000  // characters of a value
)

// Parse reads one YAML document. The line number of src's first line in the
// file is firstLine: 1 for a file of its own, 2 for front matter.
//
// A document that holds nothing, or comments only, gives a field of kind Empty.
// The result is nil when the source as a whole could not be read; the reason is
// then among the problems (Unreadable, NotText, Syntax, TooDeep). A part that
// was refused is reported once and reads as absent.
func Parse(file string, firstLine int, src []byte, problems *problem.List) *Field {
	src = bytes.TrimPrefix(src, []byte("\uFEFF"))
	if len(src) > maxSize {
		problems.Hinted(problem.Pos{File: file}, problem.Unreadable, "leave long text to the prose or to a file of its own",
			"more than %d KiB of YAML", maxSize>>10)
		return nil
	}
	at := newPlaces(file, firstLine, src)
	if !checkLines(at, problems) || !checkRunes(at, problems) {
		return nil
	}
	node, next, err := decode(src)
	if err != nil {
		explain(at, err, problems)
		return nil
	}
	if next != nil {
		problems.Hinted(at.pos(at.offset(next.Line, next.Column)), problem.Syntax, "keep what stands above the line ---",
			"a second document begins here")
	}
	if node == nil {
		return &Field{kind: Empty, pos: at.pos(0)}
	}
	b := builder{at: at, problems: problems}
	field := b.field(node, 1)
	if b.nodes > maxNodes {
		return nil
	}
	return field
}

// decode returns the root of the first document, nil if there is none, and the
// second document, if there is one.
func decode(src []byte) (root, second *yaml.Node, err error) {
	// The library reports what it finds wrong by panics of its own, and turns
	// only those that it knows into errors. Those that it does not know must not
	// cross the border of this package either.
	defer func() {
		if r := recover(); r != nil {
			err = errUnknown
		}
	}()
	decoder := yaml.NewDecoder(bytes.NewReader(src))
	var first, other yaml.Node
	if err := decoder.Decode(&first); errors.Is(err, io.EOF) {
		return nil, nil, nil
	} else if err != nil {
		return nil, nil, err
	}
	if err := decoder.Decode(&other); errors.Is(err, io.EOF) {
		return first.Content[0], nil, nil
	} else if err != nil {
		return nil, nil, err
	}
	return first.Content[0], &other, nil
}

var errUnknown = errors.New("unknown")

// checkLines reports the first line too long to have been written by hand.
func checkLines(at *places, problems *problem.List) bool {
	for i, start := range at.lines {
		end := len(at.src)
		if i+1 < len(at.lines) {
			end = at.lines[i+1]
		}
		if end-start > maxLine {
			problems.Hinted(at.pos(start), problem.Unreadable, "break it into several lines",
				"a line of more than %d bytes", maxLine)
			return false
		}
	}
	return true
}

// checkRunes reports the first rune that YAML does not allow anywhere.
func checkRunes(at *places, problems *problem.List) bool {
	for i := 0; i < len(at.src); {
		r, size := utf8.DecodeRune(at.src[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			problems.Hinted(at.pos(i), problem.NotText, "save the file as UTF-8", "a byte that is not UTF-8 text")
			return false
		case r == 0:
			problems.Errorf(at.pos(i), problem.NotText, "a NUL byte in the text")
			return false
		case !allowed(r):
			problems.Hinted(at.pos(i), problem.Syntax, "delete it; it does not show", "the control character %U", r)
			return false
		}
		i += size
	}
	return true
}

// allowed says whether YAML 1.2, production c-printable, allows the rune.
func allowed(r rune) bool {
	switch {
	case r == '\t', r == '\n', r == '\r', r == 0x85:
		return true
	case r < ' ', r >= 0x7F && r < 0xA0, r == 0xFEFF, r == 0xFFFE, r == 0xFFFF:
		return false
	}
	return !problem.Turns(r)
}

// acts finds the first rune of a value that does something instead of being seen. Only
// an escape, "\e", brings one past checkRunes.
func acts(text string) (r rune, found bool) {
	for _, r := range text {
		if r != '\t' && r != '\n' && r != 0x85 && unicode.IsControl(r) || problem.Turns(r) {
			return r, true
		}
	}
	return 0, false
}

// builder turns nodes of the library into fields.
type builder struct {
	at       *places
	problems *problem.List
	nodes    int
}

func (b *builder) field(n *yaml.Node, depth int) *Field {
	start := b.at.offset(n.Line, n.Column)
	f := &Field{pos: b.at.pos(start), textAt: -1}
	if !b.accept(n, f.pos, depth) {
		f.refused = true
		return f
	}
	switch n.Kind {
	case yaml.SequenceNode:
		f.kind = List
		for _, item := range n.Content {
			f.items = append(f.items, b.field(item, depth+1))
		}
	case yaml.MappingNode:
		f.kind = Mapping
		b.entries(f, n, depth)
	default:
		b.scalar(f, n, start)
	}
	return f
}

// accept counts the node and reports what is refused.
func (b *builder) accept(n *yaml.Node, pos problem.Pos, depth int) bool {
	b.nodes++
	switch {
	case b.nodes > maxNodes+1:
		return false
	case b.nodes > maxNodes:
		b.problems.Errorf(pos, problem.TooDeep, "more than %d values in one note", maxNodes)
		return false
	case depth > maxDepth:
		b.problems.Errorf(pos, problem.TooDeep, "more than %d lists and groups inside one another", maxDepth)
		return false
	case n.Kind == yaml.AliasNode:
		b.problems.Hinted(pos, problem.TooDeep, "write the value out, or put the text in quotes",
			"*%s is an alias, and notes have none", n.Value)
		return false
	case n.Anchor != "":
		b.problems.Hinted(pos, problem.TooDeep, "leave it out, or put the text in quotes",
			"&%s is an anchor, and notes have none", n.Anchor)
		return false
	case n.Style&yaml.TaggedStyle != 0 || bytes.HasPrefix(b.at.src[b.at.offset(n.Line, n.Column):], []byte("!")):
		b.problems.Hinted(pos, problem.Syntax, "put text that starts with ! in quotes", "a tag, and notes have none")
		return false
	}
	return true
}

func (b *builder) scalar(f *Field, n *yaml.Node, start int) {
	quoted := n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) != 0
	block := n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0
	if !quoted && !block && n.Tag == "!!null" {
		f.kind = Empty
		return
	}
	if utf8.RuneCountInString(n.Value) > maxText {
		b.problems.Hinted(f.pos, problem.TooMany, "leave long text to the prose", "more than %d characters in one value", maxText)
		f.refused = true
		return
	}
	if r, found := acts(n.Value); found {
		b.problems.Hinted(f.pos, problem.Syntax, "delete it; it does not show", "the control character %U", r)
		f.refused = true
		return
	}
	f.kind, f.text = Text, n.Value
	switch {
	case block:
		f.pos = b.at.pos(b.at.blockText(start))
	case quoted:
		f.textAt = b.at.find(start+1, n.Value)
	default:
		f.textAt = b.at.find(start, n.Value)
	}
	f.at = b.at
}

func (b *builder) entries(f *Field, n *yaml.Node, depth int) {
	first := map[string]problem.Pos{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		keyPos := b.at.pos(b.at.offset(key.Line, key.Column))
		name, ok := b.key(key, keyPos, depth)
		read := b.field(value, depth+1)
		if !ok {
			continue
		}
		if before, doubled := first[name]; doubled {
			b.problems.Hinted(keyPos, problem.DoubledKey, "keep one of the two", "%s is already on line %d", name, before.Line)
			continue
		}
		first[name] = keyPos
		if at := closeColon(token{text: name}); at >= 0 && read.kind == Empty && !read.refused && key.Style == 0 {
			colon := b.at.skip(b.at.offset(key.Line, key.Column), utf8.RuneCountInString(name[:at]))
			b.problems.Hinted(b.at.pos(colon), problem.Syntax, "write a space after the colon", "no space after the colon")
			continue
		}
		read.keyPos = keyPos
		f.entries = append(f.entries, Entry{Key: name, KeyPos: keyPos, Value: read})
	}
}

// key reads a key as written, or reports why it is none.
func (b *builder) key(n *yaml.Node, pos problem.Pos, depth int) (string, bool) {
	if n.Kind == yaml.SequenceNode || n.Kind == yaml.MappingNode {
		b.nodes += len(n.Content)
		b.problems.Hinted(pos, problem.WrongType, "put it in quotes if { or [ belongs to the name", "a key that is not a word")
		return "", false
	}
	if !b.accept(n, pos, depth) {
		return "", false
	}
	if n.Tag == "!!merge" {
		b.problems.Hinted(pos, problem.TooDeep, "write the keys out", "<< merges keys, and notes have no merging")
		return "", false
	}
	if n.Value == "" {
		b.problems.Errorf(pos, problem.WrongType, "a value without a key")
		return "", false
	}
	if r, found := acts(n.Value); found || strings.ContainsAny(n.Value, "\t\n") {
		if !found {
			r = rune(n.Value[strings.IndexAny(n.Value, "\t\n")])
		}
		b.problems.Hinted(pos, problem.Syntax, "delete it; it does not show", "the control character %U in a key", r)
		return "", false
	}
	if utf8.RuneCountInString(n.Value) > maxKey {
		b.problems.Errorf(pos, problem.TooMany, "more than %d characters in one key", maxKey)
		return "", false
	}
	return n.Value, true
}
