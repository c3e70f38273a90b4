package site

import (
	"fmt"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/prose"
)

// How many trials the first page shows, and the page of an address that leads nowhere.
const (
	newest           = 12
	newestInNotFound = 3
)

func (p *planner) home() ([]byte, error) {
	v := page.Home{
		Frame:   p.frame("index.html", p.Kitchen.Name, p.describeKitchen()),
		About:   p.Kitchen.About,
		Archive: archivePage,
	}
	for _, c := range p.Trials[:min(len(p.Trials), newest)] {
		shown, err := p.front(c)
		if err != nil {
			return nil, err
		}
		v.Cards = append(v.Cards, shown.Card)
	}
	if more := len(p.Trials) - len(v.Cards); more > 0 {
		v.More = p.phrases().Count("more in the archive", more)
	}
	return p.look.Pages.Home(v)
}

func (s *reader) describeKitchen() string {
	if s.Kitchen.About != "" {
		return s.Kitchen.About
	}
	return s.phrases().Say("kitchen about")
}

// methods renders the theme's texts on how amounts, counts and claims are made.
func (p *planner) methods() ([]byte, error) {
	v := page.Methods{
		Frame: p.frame(methodsPage, p.phrases().Say("methods"), p.phrases().Say("methods about")),
	}
	for _, text := range p.look.Methods {
		var problems problem.List
		html := prose.Render(prose.Doc{File: text.File, FirstLine: text.FirstLine, Source: text.Markdown}, plainLinks{}, &problems)
		if problems.Errors() > 0 {
			return nil, fmt.Errorf("%s", problems.Sorted()[0])
		}
		v.Sections = append(v.Sections, page.MethodSection{ID: text.ID, Title: text.Title, HTML: page.HTML(html)})
	}
	return p.look.Pages.Methods(v)
}

func (p *planner) notFound() ([]byte, error) {
	v := page.NotFound{Frame: p.frame(notFoundPage, p.phrases().Say("not found"), p.phrases().Say("not found about"))}
	v.Frame.Root = p.rootPath()
	v.Frame.Canonical = ""
	for _, c := range p.Trials[:min(len(p.Trials), newestInNotFound)] {
		v.Newest = append(v.Newest, c.neighbour().link(v.Frame.Root))
	}
	return p.look.Pages.NotFound(v)
}

// plainLinks resolves the links of texts that have no trial behind them.
type plainLinks struct{}

func (plainLinks) Figure(name, _ string) (string, error) { return "", noTrial(name) }
func (plainLinks) Table(name, _ string) (string, error)  { return "", noTrial(name) }
func (plainLinks) Value(path, _ string) (string, error)  { return "", noTrial(path) }

func (plainLinks) Address(dest string, image bool) (string, error) {
	if image {
		return "", noTrial(dest)
	}
	return dest, nil
}

func noTrial(name string) error {
	return &prose.Wrong{Code: problem.UnknownTarget, What: fmt.Sprintf("%q has no trial to come from", name)}
}
