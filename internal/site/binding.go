package site

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"path"
	"sync"

	"sidebatch.example/sidebatch/internal/chart"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/prose"
	"sidebatch.example/sidebatch/internal/slim"
)

// Look is a theme as Plan needs it.
type Look struct {
	Pages   *page.Renderer
	Methods []page.MethodText

	// InProgress asks for the pages of notes in progress as well. No page leads
	// there, and publish leaves them out.
	InProgress bool

	archive archiveLimits // when the archive is divided; zero is the usual

	// Program names the program and the theme by what is in them; with another name all
	// that earlier runs remember is forgotten. With "" nothing is remembered.
	Program string
}

// binding is what holds the pages of a site together: the kitchen, the theme, and the
// files that all pages use. Pages of one trial are made by it, and so it knows of no other.
type binding struct {
	reader
	look     Look
	small    *slim.Minifier
	styles   string // path of the style sheet from the site's root
	icon     string
	script   string                            // of the archive
	counter  string                            // of the pages to repeat a trial from
	light    func() (map[string]string, error) // the theme's colours
	easel    *chart.Easel                      // for the trials' pictures
	anyTrial bool                              // a trial is published
	assets   []Output
}

func bind(r reader, look Look) *binding {
	p := &binding{reader: r, look: look, small: slim.New(), easel: new(chart.Easel)}
	p.styles = p.asset("styles", ".css", p.slimmed("styles.css", append(look.Pages.Styles(), prose.HighlightCSS()...)))
	p.icon = p.asset("icon", ".svg", p.slimmed("icon.svg", look.Pages.Icon()))
	p.script = p.asset("archive", ".js", look.Pages.ArchiveScript())
	p.light = sync.OnceValues(look.Pages.Light)
	p.counter = p.asset("counter", ".js", look.Pages.CounterScript())
	return p
}

// asset adds a file that is named by what is in it, so that a browser may keep it
// for ever, and returns its path.
func (p *binding) asset(name, extension string, data []byte) string {
	sum := sha256.Sum256(data)
	at := "assets/" + name + "-" + hex.EncodeToString(sum[:5]) + extension
	p.assets = append(p.assets, Output{Path: at, Make: func() ([]byte, error) { return data, nil }})
	return at
}

// output is a file of the site that is made smaller once it is made.
func (p *binding) output(at string, make func() ([]byte, error)) Output {
	return Output{Path: at, Make: func() ([]byte, error) {
		data, err := make()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", at, err)
		}
		return p.slimmed(at, data), nil
	}}
}

// slimmed makes a file smaller, by the ending of its name. One that the minifier cannot
// read goes out as it is: it says the same.
func (p *binding) slimmed(name string, data []byte) []byte {
	small := data
	switch path.Ext(name) {
	case ".html":
		small, _ = p.small.HTML(data)
	case ".css":
		small, _ = p.small.CSS(data)
	case ".svg":
		small, _ = p.small.SVG(data)
	}
	return small
}

// frame is what the pages of the site share.
func (p *binding) frame(pagePath, title, description string) page.Frame {
	feed := ""
	if p.hasFeed() {
		feed = feedFile
	}
	return page.Frame{
		Feed:        feed,
		Site:        p.Kitchen.Name,
		About:       p.Kitchen.About,
		Language:    p.Kitchen.Language,
		Root:        up(pagePath),
		Title:       title,
		Description: description,
		Canonical:   p.canonical(pagePath),
		Styles:      p.styles,
		Icon:        p.icon,
		Invented:    p.Kitchen.Invented,
	}
}
