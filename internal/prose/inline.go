package prose

import (
	"html"
	"strings"

	"github.com/yuin/goldmark/ast"
	tables "github.com/yuin/goldmark/extension/ast"
)

// inlines writes what stands inside a line.
func (w *writer) inlines(parent ast.Node) {
	if !w.deeper(parent) {
		return
	}
	defer func() { w.depth-- }()
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		w.inline(n)
	}
}

func (w *writer) inline(n ast.Node) {
	switch n := n.(type) {
	case *ast.Text:
		w.text(n)
	case *ast.String:
		w.escape(string(n.Value))
	case *ast.CodeSpan:
		w.tag("<code>")
		w.escape(w.code(n))
		w.tag("</code>")
	case *ast.Emphasis:
		name := "em"
		if n.Level == 2 {
			name = "strong"
		}
		w.tag("<", name, ">")
		w.inlines(n)
		w.tag("</", name, ">")
	case *ast.RawHTML:
		w.escape(string(n.Segments.Value(w.src)))
	case *ast.Link:
		w.link(n)
	case *ast.Image:
		w.image(n)
	case *ast.AutoLink:
		w.autoLink(n)
	case *tables.FootnoteLink:
		w.noteLink(n)
	case *tables.FootnoteBacklink:
		w.noteBack(n)
	}
}

func (w *writer) text(n *ast.Text) {
	if n.IsRaw() {
		w.escape(string(n.Value(w.src)))
	} else {
		w.markdown(n.Value(w.src))
	}
	switch {
	case n.HardLineBreak():
		w.tag("<br>\n")
	case n.SoftLineBreak():
		w.tag("\n")
	}
}

// code returns the text of a code span, on one line.
func (w *writer) code(n ast.Node) string {
	var b strings.Builder
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		if t, ok := c.(*ast.Text); ok {
			b.Write(t.Value(w.src))
		}
	}
	return strings.ReplaceAll(b.String(), "\n", " ")
}

// plain returns the words of a node without any marks, spaces collapsed.
func (w *writer) plain(n ast.Node) string {
	var b strings.Builder
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Text:
			if n.IsRaw() {
				b.Write(n.Value(w.src))
			} else {
				b.WriteString(w.unescaped(n.Value(w.src)))
			}
			if n.HardLineBreak() || n.SoftLineBreak() {
				b.WriteByte(' ')
			}
		case *ast.String:
			b.Write(n.Value)
		case *ast.CodeSpan:
			b.WriteString(w.code(n))
			return ast.WalkSkipChildren, nil
		case *ast.AutoLink:
			b.Write(n.Label(w.src))
		case *ast.RawHTML:
			b.Write(n.Segments.Value(w.src))
		}
		return ast.WalkContinue, nil
	})
	return printable(strings.Join(strings.Fields(b.String()), " "))
}

// unescaped returns text with its backslashes and entities resolved, in the
// same way as text is written.
func (w *writer) unescaped(text []byte) string {
	var side writer
	side.markdown(text)
	return printable(html.UnescapeString(side.out.String()))
}
