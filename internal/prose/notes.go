package prose

import (
	"html"
	"strconv"

	"github.com/yuin/goldmark/ast"
	tables "github.com/yuin/goldmark/extension/ast"
)

// Ids of footnotes have a dot, which no heading's id has.

func noteID(note int) string { return "note." + strconv.Itoa(note) }

func (r noteRef) id() string {
	id := noteID(r.note) + ".from"
	if r.ref > 0 {
		id += "." + strconv.Itoa(r.ref+1)
	}
	return id
}

// references remembers which references to footnotes will be links: those in
// the words of an image or inside another link will not, and nothing may lead
// back to them.
func (w *writer) references(root ast.Node) {
	w.refs = map[noteRef]bool{}
	_ = ast.Walk(root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		switch n := n.(type) {
		case *ast.Link, *ast.Image:
			return ast.WalkSkipChildren, nil
		case *tables.FootnoteLink:
			w.refs[noteRef{n.Index, n.RefIndex}] = true
		}
		return ast.WalkContinue, nil
	})
}

func (w *writer) noteLink(n *tables.FootnoteLink) {
	number := strconv.Itoa(n.Index)
	ref := noteRef{n.Index, n.RefIndex}
	if !w.refs[ref] {
		w.tag("<sup>", number, "</sup>")
		return
	}
	w.tag(`<sup class="noteref"><a id="`, ref.id(), `" href="#`, noteID(n.Index), `" role="doc-noteref" aria-label="`,
		html.EscapeString(w.words.Note), " ", number, `">`, number, "</a></sup>")
}

func (w *writer) notes(list *tables.FootnoteList) {
	w.tag(`<section class="notes" role="doc-endnotes" aria-label="`, html.EscapeString(w.words.Notes), "\">\n<ol>\n")
	for n := list.FirstChild(); n != nil; n = n.NextSibling() {
		if note, ok := n.(*tables.Footnote); ok {
			w.tag(`<li id="`, noteID(note.Index), `">`)
			w.blocks(note)
			w.waysBack(note)
			w.tag("</li>\n")
		}
	}
	w.tag("</ol>\n</section>\n")
}

// waysBack writes the ways back that the parser hung below a note. It does so
// when the note ends in a list or the like; when it ends in a paragraph they
// are inside that one, and are written with its words.
func (w *writer) waysBack(note *tables.Footnote) {
	if _, ok := note.LastChild().(*tables.FootnoteBacklink); !ok {
		return
	}
	w.tag("<p>")
	for n := note.FirstChild(); n != nil; n = n.NextSibling() {
		if back, ok := n.(*tables.FootnoteBacklink); ok {
			w.noteBack(back)
		}
	}
	w.tag("</p>\n")
}

func (w *writer) noteBack(n *tables.FootnoteBacklink) {
	ref := noteRef{n.Index, n.RefIndex}
	if !w.refs[ref] {
		return
	}
	label := w.words.Back + ", " + w.words.Note + " " + strconv.Itoa(n.Index)
	if n.RefCount > 1 {
		label += " (" + strconv.Itoa(n.RefIndex+1) + ")"
	}
	w.tag("\u00A0<a class=\"noteback\" href=\"#", ref.id(), `" role="doc-backlink" aria-label="`, html.EscapeString(label), "\">\u21A9\uFE0E</a>")
}
