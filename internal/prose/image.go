package prose

import (
	"html"
	"strings"

	"github.com/yuin/goldmark/ast"

	"sidebatch.example/sidebatch/internal/problem"
)

// alone returns the images of a paragraph that holds nothing else, nil for any
// other paragraph.
func (w *writer) alone(block ast.Node) []*ast.Image {
	var images []*ast.Image
	for n := block.FirstChild(); n != nil; n = n.NextSibling() {
		switch n := n.(type) {
		case *ast.Image:
			images = append(images, n)
		case *ast.Text:
			if strings.TrimSpace(string(n.Value(w.src))) != "" {
				return nil
			}
		default:
			return nil
		}
	}
	return images
}

// placed writes images that stand alone, each as a block of its own.
func (w *writer) placed(images []*ast.Image) {
	for _, n := range images {
		a := parseAddress(destination(n.Destination))
		if a.scheme == "figure" || a.scheme == "table" {
			w.exhibit(n, a)
			continue
		}
		if shown, ok := w.picture(n, a, true); ok {
			w.tag(shown, "\n")
			continue
		}
		w.tag("<p>")
		w.image(n)
		w.tag("</p>\n")
	}
}

// exhibit writes a figure or table of the trial. When there is none, its
// caption stands in its place.
func (w *writer) exhibit(n *ast.Image, a address) {
	if !w.oneMore(n) {
		return
	}
	caption := w.plain(n)
	place := w.resolver.Figure
	if a.scheme == "table" {
		place = w.resolver.Table
	}
	shown, err := place(a.name(), caption)
	if err != nil {
		w.report(n, err)
		w.tag("<p>")
		w.escape(caption)
		w.tag("</p>\n")
		return
	}
	w.tag(shown, "\n")
}

// image writes an image in running text.
func (w *writer) image(n *ast.Image) {
	a := parseAddress(destination(n.Destination))
	alt := w.plain(n)
	switch {
	case w.onlyHTTPS:
		w.escape(alt)
	case a.scheme == "value":
		w.report(n, &Wrong{Code: problem.BadAddress, What: "a value written as an image", Hint: "leave out the ! before the ["})
		w.escape(alt)
	case a.ours():
		w.report(n, &Wrong{Code: problem.BadAddress, What: "a " + a.scheme + " in running text",
			Hint: "put it into a paragraph of its own, with blank lines around it"})
		w.escape(alt)
	default:
		if shown, ok := w.picture(n, a, false); ok {
			w.tag(shown)
			return
		}
		src, err := w.href(a, true)
		if err != nil {
			w.report(n, err)
			w.escape(alt)
			return
		}
		w.tag(`<img src="`, src, `" alt="`, html.EscapeString(alt), `"`)
		w.title(n.Title)
		w.tag(">")
	}
}

// picture asks a resolver that shows pictures itself.
func (w *writer) picture(n *ast.Image, a address, alone bool) (shown string, ok bool) {
	pictures, ok := w.resolver.(Pictures)
	if !ok || a.refused(true) != nil {
		return "", false
	}
	if !w.oneMore(n) {
		return "", true
	}
	shown, err := pictures.Picture(Picture{
		Dest: a.whole, Alt: w.plain(n), Title: w.unescaped(n.Title), Alone: alone,
		Place: w.at.pos(n.Pos()),
	})
	if err != nil {
		w.report(n, err)
		shown = html.EscapeString(w.plain(n))
		if alone {
			shown = "<p>" + shown + "</p>"
		}
		return shown, true
	}
	return shown, shown != ""
}
