package site

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"path"
	"sync"

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
}

// planner lists the outputs of a site.
type planner struct {
	*Site
	look    Look
	small   *slim.Minifier
	styles  string // path of the style sheet from the site's root
	icon    string
	script  string                            // of the archive
	counter string                            // of the pages to repeat a trial from
	light   func() (map[string]string, error) // the theme's colours
	overview
	outputs []Output
	// published are the days on which the trials came out, by slug.
	published map[string]string
}

// Plan lists every file of the site. The list has one order, and what the files
// hold depends on nothing but the site and the theme.
func Plan(s *Site, look Look) []Output { return planned(s, look).outputs }

func planned(s *Site, look Look) *planner {
	p := &planner{Site: s, look: look, overview: s.overview(), published: map[string]string{}, small: slim.New()}
	p.styles = p.asset("styles", ".css", p.slimmed("styles.css", append(look.Pages.Styles(), prose.HighlightCSS()...)))
	p.icon = p.asset("icon", ".svg", p.slimmed("icon.svg", look.Pages.Icon()))
	p.script = p.asset("archive", ".js", look.Pages.ArchiveScript())
	p.light = sync.OnceValues(look.Pages.Light)
	p.counter = p.asset("counter", ".js", look.Pages.CounterScript())
	p.add("index.html", p.home)
	p.add(archivePage+"index.html", p.archive)
	p.add(archivePage+searchFile, p.searchWords)
	p.many()
	p.add(methodsPage+"index.html", p.methods)
	p.add("404.html", p.notFound)
	for _, e := range s.Trials {
		p.published[e.Trial.Slug] = e.Trial.Published.String()
		p.trial(e)
	}
	p.standards()
	if look.InProgress {
		for _, e := range s.InProgress {
			p.trial(e)
		}
	}
	return p
}

func (p *planner) add(at string, make func() ([]byte, error)) {
	p.outputs = append(p.outputs, Output{Path: at, Make: func() ([]byte, error) {
		data, err := make()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", at, err)
		}
		return p.slimmed(at, data), nil
	}})
}

// slimmed makes a file smaller, by the ending of its name. One that the minifier cannot
// read goes out as it is: it says the same.
func (p *planner) slimmed(name string, data []byte) []byte {
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

// asset adds a file that is named by what is in it, so that a browser may keep it
// for ever, and returns its path.
func (p *planner) asset(name, extension string, data []byte) string {
	sum := sha256.Sum256(data)
	at := "assets/" + name + "-" + hex.EncodeToString(sum[:5]) + extension
	p.outputs = append(p.outputs, Output{Path: at, Make: func() ([]byte, error) { return data, nil }})
	return at
}

// frame is what the pages of the site share.
func (p *planner) frame(pagePath, title, description string) page.Frame {
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
