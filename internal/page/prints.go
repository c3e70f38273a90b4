package page

import (
	"bytes"
	"errors"
	"html/template"
)

// alone is a page that is a file by itself: its style sheet stands inside.
type alone[V any] struct {
	Frame Frame
	Style template.CSS
	View  V
}

// Repeat renders the bench sheet as a page of the site.
func (r *Renderer) Repeat(v BenchSheet) ([]byte, error) { return r.page("repeat.html", v.Frame, v) }

// BenchSheet renders the bench sheet as a file that stands alone, without the files
// and pages that lie beside the page of the site.
func (r *Renderer) BenchSheet(v BenchSheet) ([]byte, error) {
	v.Downloads, v.Sheets = nil, Sheets{}
	return standAlone(r, "bench-sheet.html", v.Frame, v)
}

// Ballots renders all ballots of a tasting as one file, a ballot a sheet.
func (r *Renderer) Ballots(v Ballots) ([]byte, error) {
	return standAlone(r, "ballots.html", v.Frame, v)
}

// PouringList renders the list for whoever pours.
func (r *Renderer) PouringList(v PouringList) ([]byte, error) {
	return standAlone(r, "pouring-list.html", v.Frame, v)
}

// standAlone renders a page with the style sheet inside it.
func standAlone[V any](r *Renderer, name string, f Frame, view V) ([]byte, error) {
	style := append(bytes.Clone(r.styles), r.prints...)
	if bytes.Contains(style, []byte("</")) {
		return nil, errors.New("theme: a style sheet holds </, which would end the style element of a printed page")
	}
	return r.page(name, f, alone[V]{Frame: f, Style: template.CSS(style), View: view})
}
