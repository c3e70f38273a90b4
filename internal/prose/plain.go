package prose

import (
	"strings"

	"github.com/yuin/goldmark/ast"
	tables "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/text"

	"sidebatch.example/sidebatch/internal/problem"
)

// PlainText returns the words of the prose for a summary or a search: a line
// for each paragraph, heading, list item or table cell, and the lines of code
// as they are. It leaves out the marks, references to footnotes, and images
// that stand alone; a value to be filled in leaves nothing. Prose beyond the
// limits of Render gives "".
func PlainText(src []byte) string {
	w := &writer{src: src, at: newPlaces(Doc{Source: src, FirstLine: 1}), problems: &problem.List{}}
	if !w.withinLimits() {
		return ""
	}
	var lines []string
	root := noteParser().Parse(text.NewReader(src))
	_ = ast.Walk(root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n.(type) {
		case *ast.Heading, *ast.Paragraph, *ast.TextBlock, *tables.TableCell:
			if line := w.plain(n); line != "" && w.alone(n) == nil {
				lines = append(lines, line)
			}
			return ast.WalkSkipChildren, nil
		case *ast.CodeBlock, *ast.FencedCodeBlock, *ast.HTMLBlock:
			lines = append(lines, strings.TrimSpace(string(n.Lines().Value(src))))
			return ast.WalkSkipChildren, nil
		}
		return ast.WalkContinue, nil
	})
	return printable(strings.Join(lines, "\n"))
}
