// Package prose turns the markdown of a note into HTML.
//
// It reads CommonMark with tables and footnotes, and three link schemes of our
// own: a figure (figure:cook-time) or a table (table:outcomes) is put where its
// image stands alone in a paragraph, and the words of a link to a value
// (value:boiling/roll) are checked, or filled in when there are none. What a
// name stands for is the business of a [Resolver]; this package knows no trial.
//
// It refuses raw HTML, which is shown as the text it is, every address that is
// not http, https, mailto, relative or a fragment, and source that no hand
// would write: too long, too deep, or a table of too many cells. A slip that
// CommonMark passes over in silence, a space in an address, is reported.
package prose

import (
	"strings"
	"sync"

	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"sidebatch.example/sidebatch/internal/problem"
)

// Resolver knows what addresses in prose stand for.
//
// Names and paths come without their scheme, with escapes resolved and hyphens
// left as they are: a hyphen may stand for a space or for itself, so a resolver
// compares names by [Fold]. An error of type [*Wrong] says itself what is
// wrong; any other is reported as UnknownTarget.
type Resolver interface {
	// Figure returns the figure as an HTML block.
	Figure(name, caption string) (html string, err error)
	// Table returns the table as an HTML block.
	Table(name, caption string) (html string, err error)
	// Value returns the words, as plain text, that stand for a value. Words are
	// the author's, with spaces collapsed; empty words are to be filled in.
	Value(path, words string) (text string, err error)
	// Address returns where an ordinary link or image leads. The address was
	// found to be http, https, mailto, relative or a fragment.
	Address(dest string, image bool) (href string, err error)
}

// Pictures may be implemented by a resolver that shows ordinary images itself.
type Pictures interface {
	// Picture returns an image as HTML, or "" for an ordinary img element.
	Picture(p Picture) (html string, err error)
}

// Picture is an ordinary image of the prose.
type Picture struct {
	Dest  string // the address as written, escapes resolved
	Alt   string
	Title string
	Alone bool // alone in its paragraph, so that it may be a block such as a figure
	Place problem.Pos
}

// Wrong is an error that says how it is to be reported.
type Wrong struct {
	Code problem.Code
	What string // what is wrong
	Hint string // what was probably meant; may be empty
}

// Error returns what is wrong and what was probably meant.
func (w *Wrong) Error() string {
	if w.Hint == "" {
		return w.What
	}
	return w.What + " (" + w.Hint + ")"
}

// Doc is the prose of a file.
type Doc struct {
	File      string
	FirstLine int // line in the file of Source's first line, from 1; 0 means 1
	Source    []byte
	Words     Words
	Taken     []string // ids that the page around the prose uses
}

// Words are what the prose adds for those who do not see the page, in the
// note's language. An empty word is the English one.
type Words struct {
	Table string // before the headings of a table; "Table"
	Notes string // names the footnotes; "Notes"
	Note  string // before a footnote's number; "Note"
	Back  string // names the way back from a footnote; "Back to the text"
}

func (w Words) orEnglish() Words {
	for _, word := range []struct {
		of      *string
		english string
	}{{&w.Table, "Table"}, {&w.Notes, "Notes"}, {&w.Note, "Note"}, {&w.Back, "Back to the text"}} {
		if *word.of == "" {
			*word.of = word.english
		}
	}
	return w
}

// Render returns the prose as HTML that can be trusted as far as the
// resolver's can. A resolver that is nil knows no name and leaves addresses as
// they are. What is wrong goes to problems, and the words stand in its place.
func Render(doc Doc, r Resolver, problems *problem.List) (html string) {
	if r == nil {
		r = nobody{}
	}
	if doc.FirstLine == 0 {
		doc.FirstLine = 1
	}
	w := &writer{
		src:      doc.Source,
		at:       newPlaces(doc),
		words:    doc.Words.orEnglish(),
		resolver: r,
		problems: problems,
		ids:      newIDs(doc.Taken),
	}
	if !w.withinLimits() {
		return ""
	}
	root := noteParser().Parse(text.NewReader(doc.Source))
	w.references(root)
	w.blocks(root)
	return printable(w.out.String())
}

// noteParser reads the prose of notes; it keeps no state between notes.
var noteParser = sync.OnceValue(func() parser.Parser {
	return parser.NewParser(
		parser.WithBlockParsers(parser.DefaultBlockParsers()...),
		parser.WithInlineParsers(parser.DefaultInlineParsers()...),
		parser.WithParagraphTransformers(parser.DefaultParagraphTransformers()...),
		parser.WithBlockParsers(util.Prioritized(extension.NewFootnoteBlockParser(), 999)),
		parser.WithInlineParsers(util.Prioritized(extension.NewFootnoteParser(), 101)),
		parser.WithParagraphTransformers(util.Prioritized(extension.NewTableParagraphTransformer(), 200)),
		parser.WithASTTransformers(
			util.Prioritized(extension.NewTableASTTransformer(), 0),
			util.Prioritized(extension.NewFootnoteASTTransformer(), 999),
		),
	)
})

// lineParser reads one line: emphasis, code and links, but no blocks.
var lineParser = sync.OnceValue(func() parser.Parser {
	return parser.NewParser(
		parser.WithBlockParsers(util.Prioritized(parser.NewParagraphParser(), 1000)),
		parser.WithInlineParsers(parser.DefaultInlineParsers()...),
	)
})

// Inline returns a short field, such as the words of a verdict, as HTML for the
// inside of a line. It knows emphasis, code and links to https addresses; the
// words of any other link or image stay as words. Line ends are spaces.
func Inline(src string) string {
	src = strings.Join(strings.Fields(src), " ")
	w := &writer{src: []byte(src), resolver: nobody{}, problems: &problem.List{}, onlyHTTPS: true}
	w.at = newPlaces(Doc{Source: w.src})
	if len(src) > maxInline {
		w.escape(src)
		return printable(w.out.String())
	}
	root := lineParser().Parse(text.NewReader(w.src))
	for block := root.FirstChild(); block != nil; block = block.NextSibling() {
		w.inlines(block)
	}
	return printable(w.out.String())
}

// nobody knows no names and leaves addresses as they are.
type nobody struct{}

func (nobody) Figure(name, _ string) (string, error)       { return "", unknown("figure", name) }
func (nobody) Table(name, _ string) (string, error)        { return "", unknown("table", name) }
func (nobody) Value(path, _ string) (string, error)        { return "", unknown("value", path) }
func (nobody) Address(dest string, _ bool) (string, error) { return dest, nil }

func unknown(scheme, name string) error {
	return &Wrong{Code: problem.UnknownTarget, What: "there is no " + scheme + " " + name}
}

// printable replaces what no HTML document may hold: bytes that are not UTF-8
// and control characters; and what turns the direction of the text after it, which an
// entity can write.
func printable(html string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t', r == '\n':
			return r
		case r == '\r':
			return -1
		case r < ' ', r >= 0x7F && r < 0xA0, r&0xFFFE == 0xFFFE, r >= 0xFDD0 && r <= 0xFDEF, problem.Turns(r):
			return '\uFFFD'
		}
		return r
	}, html)
}
