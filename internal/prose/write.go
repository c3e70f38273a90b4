package prose

import (
	"bufio"
	"bytes"
	"html"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"
	tables "github.com/yuin/goldmark/extension/ast"
	marks "github.com/yuin/goldmark/renderer/html"

	"sidebatch.example/sidebatch/internal/problem"
)

// writer writes one note as HTML.
type writer struct {
	src       []byte
	at        places
	words     Words
	resolver  Resolver
	problems  *problem.List
	ids       ids
	onlyHTTPS bool // links to anything else are words

	out      bytes.Buffer
	buffered *bufio.Writer // into out
	depth    int
	tooDeep  bool // has been reported
	exhibits int  // figures, tables and pictures so far
	coded    int  // bytes of code in blocks so far
	inLink   bool // inside an a element, which may hold no other
	refs     map[noteRef]bool
}

// noteRef is a reference to a footnote: its number, and which of the references
// to that footnote it is, from 0.
type noteRef struct{ note, ref int }

func (w *writer) tag(parts ...string) {
	for _, part := range parts {
		w.out.WriteString(part)
	}
}

// escape writes text that is no markdown.
func (w *writer) escape(text string) { w.out.WriteString(html.EscapeString(text)) }

// markdown writes text in which backslashes and entities are still to be resolved.
func (w *writer) markdown(text []byte) {
	if w.buffered == nil {
		w.buffered = bufio.NewWriterSize(&w.out, 256) // a note has a thousand such texts
	}
	marks.DefaultWriter.Write(w.buffered, text)
	w.buffered.Flush()
}

// deeper counts a level of nesting; false means that the limit is reached, and
// the node is left out.
func (w *writer) deeper(n ast.Node) bool {
	if w.depth >= maxDepth {
		if !w.tooDeep {
			w.problems.Errorf(w.at.pos(n.Pos()), problem.TooDeep,
				"more than %d quotations, lists or emphases inside one another", maxDepth)
		}
		w.tooDeep = true
		return false
	}
	w.depth++
	return true
}

// oneMore counts a figure, table or picture; false means that there are too many, and
// the node is left out.
func (w *writer) oneMore(n ast.Node) bool {
	w.exhibits++
	if w.exhibits == maxPlaced+1 {
		w.problems.Errorf(w.at.pos(n.Pos()), problem.TooMany, "more than %d figures, tables and pictures", maxPlaced)
	}
	return w.exhibits <= maxPlaced
}

// codeBlock writes a block of code. Of a note with very much of it, the rest is plain.
func (w *writer) codeBlock(language string, code []byte) {
	if w.coded += len(code); w.coded > maxAllCode {
		language = ""
	}
	w.tag(Highlight(language, code), "\n")
}

// blocks writes the blocks inside a node.
func (w *writer) blocks(parent ast.Node) {
	if !w.deeper(parent) {
		return
	}
	defer func() { w.depth-- }()
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		w.block(n)
	}
}

func (w *writer) block(n ast.Node) {
	switch n := n.(type) {
	case *ast.Heading:
		w.heading(n)
	case *ast.Paragraph:
		w.paragraph(n)
	case *ast.TextBlock:
		w.textBlock(n)
	case *ast.Blockquote:
		w.tag("<blockquote>\n")
		w.blocks(n)
		w.tag("</blockquote>\n")
	case *ast.List:
		w.list(n)
	case *ast.ListItem:
		w.tag("<li>")
		w.blocks(n)
		w.tag("</li>\n")
	case *ast.ThematicBreak:
		w.tag("<hr>\n")
	case *ast.CodeBlock:
		w.codeBlock("", n.Lines().Value(w.src))
	case *ast.FencedCodeBlock:
		w.codeBlock(string(n.Language(w.src)), n.Lines().Value(w.src))
	case *ast.HTMLBlock:
		w.rawBlock(n)
	case *tables.Table:
		w.table(n)
	case *tables.FootnoteList:
		w.notes(n)
	}
}

func (w *writer) heading(n *ast.Heading) {
	w.findSlips(n)
	level := strconv.Itoa(min(n.Level+1, 6))
	w.tag("<h", level, ` id="`, html.EscapeString(w.ids.of(w.plain(n))), `">`)
	w.inlines(n)
	w.tag("</h", level, ">\n")
}

func (w *writer) paragraph(n *ast.Paragraph) {
	w.findSlips(n)
	if images := w.alone(n); images != nil {
		w.placed(images)
		return
	}
	w.tag("<p>")
	w.inlines(n)
	w.tag("</p>\n")
}

// textBlock writes the text of a list item that has no blank line around it.
func (w *writer) textBlock(n *ast.TextBlock) {
	w.findSlips(n)
	if images := w.alone(n); images != nil {
		w.placed(images)
		return
	}
	w.inlines(n)
	if n.NextSibling() != nil {
		w.tag("\n")
	}
}

func (w *writer) list(n *ast.List) {
	if !n.IsOrdered() {
		w.tag("<ul>\n")
		w.blocks(n)
		w.tag("</ul>\n")
		return
	}
	w.tag("<ol")
	if n.Start != 1 {
		w.tag(` start="`, strconv.Itoa(n.Start), `"`)
	}
	w.tag(">\n")
	w.blocks(n)
	w.tag("</ol>\n")
}

// rawBlock shows a block of HTML as the text it is.
func (w *writer) rawBlock(n *ast.HTMLBlock) {
	text := string(n.Lines().Value(w.src))
	if n.HasClosure() {
		text += string(n.ClosureLine.Value(w.src))
	}
	w.tag("<p>")
	for i, line := range strings.Split(strings.TrimSpace(text), "\n") {
		if i > 0 {
			w.tag("<br>\n")
		}
		w.escape(strings.TrimSpace(line))
	}
	w.tag("</p>\n")
}

// table writes a table in a container that scrolls sideways on its own, which
// the keyboard must be able to reach, and which therefore needs a name.
func (w *writer) table(n *tables.Table) {
	head := n.FirstChild()
	var names []string
	for cell := head.FirstChild(); cell != nil; cell = cell.NextSibling() {
		if name := w.plain(cell); name != "" {
			names = append(names, name)
		}
	}
	label := w.words.Table
	if len(names) > 0 {
		label += ": " + strings.Join(names, ", ")
	}
	w.tag(`<div class="scroll" tabindex="0" role="group" aria-label="`, html.EscapeString(label), "\">\n<table>\n<thead>\n")
	w.row(head)
	w.tag("</thead>\n")
	if row := head.NextSibling(); row != nil {
		w.tag("<tbody>\n")
		for ; row != nil; row = row.NextSibling() {
			w.row(row)
		}
		w.tag("</tbody>\n")
	}
	w.tag("</table>\n</div>\n")
}

func (w *writer) row(n ast.Node) {
	w.tag("<tr>\n")
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		cell, ok := c.(*tables.TableCell)
		if !ok {
			continue
		}
		w.findSlips(cell)
		name, attributes := "td", ""
		// An empty head names no column.
		if _, head := n.(*tables.TableHeader); head && cell.FirstChild() != nil {
			name, attributes = "th", ` scope="col"`
		}
		if cell.Alignment != tables.AlignNone {
			attributes += ` class="` + cell.Alignment.String() + `"`
		}
		w.tag("<", name, attributes, ">")
		w.inlines(cell)
		w.tag("</", name, ">\n")
	}
	w.tag("</tr>\n")
}
