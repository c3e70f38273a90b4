package site

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/prose"
)

// Look is a theme as Plan needs it.
type Look struct {
	Pages   *page.Renderer
	Methods []page.MethodText
}

// planner lists the outputs of a site.
type planner struct {
	*Site
	look    Look
	styles  string // path of the style sheet from the site's root
	icon    string
	outputs []Output
}

// Plan lists every file of the site. The list has one order, and what the files
// hold depends on nothing but the site and the theme.
func Plan(s *Site, look Look) []Output {
	p := &planner{Site: s, look: look}
	p.styles = p.asset("styles", ".css", append(look.Pages.Styles(), prose.HighlightCSS()...))
	p.icon = p.asset("icon", ".svg", look.Pages.Icon())
	p.add("index.html", p.home)
	p.add(archivePage+"index.html", p.archive)
	p.add(methodsPage+"index.html", p.methods)
	p.add("404.html", p.notFound)
	for _, e := range s.Trials {
		p.trial(e)
	}
	return p.outputs
}

func (p *planner) add(path string, make func() ([]byte, error)) {
	p.outputs = append(p.outputs, Output{Path: path, Make: func() ([]byte, error) {
		data, err := make()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		return data, nil
	}})
}

// asset adds a file that is named by what is in it, so that a browser may keep it
// for ever, and returns its path.
func (p *planner) asset(name, extension string, data []byte) string {
	sum := sha256.Sum256(data)
	path := "assets/" + name + "-" + hex.EncodeToString(sum[:5]) + extension
	p.add(path, func() ([]byte, error) { return data, nil })
	return path
}

// frame is what the pages of the site share.
func (p *planner) frame(pagePath, title, description string) page.Frame {
	return page.Frame{
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
