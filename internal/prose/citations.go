package prose

import (
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"

	"sidebatch.example/sidebatch/internal/problem"
)

// Citation is a link or image with an address of our own.
type Citation struct {
	Scheme string // "figure", "table" or "value"
	Name   string // what follows the scheme, escapes resolved
	Words  string // the author's, or the caption, with spaces collapsed; empty words are to be filled in
	Pos    problem.Pos
}

// Citations lists the figures, tables and values that the prose names, in its order.
// Prose beyond the limits of [Render] has none.
func Citations(doc Doc) []Citation {
	if doc.FirstLine == 0 {
		doc.FirstLine = 1
	}
	w := &writer{src: doc.Source, at: newPlaces(doc), problems: &problem.List{}}
	if !w.withinLimits() {
		return nil
	}
	var all []Citation
	_ = ast.Walk(noteParser().Parse(text.NewReader(doc.Source)), func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		var dest []byte
		switch n := n.(type) {
		case *ast.Link:
			dest = n.Destination
		case *ast.Image:
			dest = n.Destination
		default:
			return ast.WalkContinue, nil
		}
		if a := parseAddress(destination(dest)); a.ours() {
			all = append(all, Citation{Scheme: a.scheme, Name: a.name(), Words: w.plain(n), Pos: w.at.pos(n.Pos())})
		}
		return ast.WalkContinue, nil
	})
	return all
}
