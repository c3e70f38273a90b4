// Package slim makes HTML, CSS, SVG and JSON smaller without changing what they say:
// spaces that nobody sees, comments, long ways to write a colour or a path. It also
// compresses finished files.
//
// It is the one door to the minifier, and to compression with Brotli. What the minifier
// cannot read it hands back as it came, with the error.
package slim

import (
	"fmt"

	"github.com/tdewolff/minify/v2"
	"github.com/tdewolff/minify/v2/css"
	"github.com/tdewolff/minify/v2/html"
	"github.com/tdewolff/minify/v2/json"
	"github.com/tdewolff/minify/v2/svg"
)

// Minifier makes files smaller. It never changes after New and may be used from several
// goroutines.
type Minifier struct{ by *minify.M }

// New returns a minifier. End tags, quotes and the tags of the document stay: they cost
// next to nothing once compressed, and pages are read by people and simple programs too. So
// do attributes that say the default: style sheets and scripts look for them.
func New() *Minifier {
	by := minify.New()
	by.Add("text/html", &html.Minifier{KeepDocumentTags: true, KeepEndTags: true, KeepQuotes: true, KeepDefaultAttrVals: true})
	by.Add("text/css", &css.Minifier{})
	// Two decimals are what figures are drawn with; the minifier must not round them.
	by.Add("image/svg+xml", &svg.Minifier{})
	by.Add("application/ld+json", &json.Minifier{KeepNumbers: true})
	return &Minifier{by}
}

// HTML makes a page smaller, with the SVG, styles and JSON-LD in it.
func (m *Minifier) HTML(page []byte) ([]byte, error) { return m.make("text/html", page) }

// CSS makes a style sheet smaller.
func (m *Minifier) CSS(sheet []byte) ([]byte, error) { return m.make("text/css", sheet) }

// SVG makes a drawing smaller.
func (m *Minifier) SVG(drawing []byte) ([]byte, error) { return m.make("image/svg+xml", drawing) }

func (m *Minifier) make(kind string, data []byte) ([]byte, error) {
	small, err := m.by.Bytes(kind, data)
	if err != nil {
		return data, fmt.Errorf("cannot be made smaller: %w", err)
	}
	return small, nil
}
