package site

import (
	"fmt"
	"slices"
	"sync"

	"sidebatch.example/sidebatch/internal/chart"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/writeup"
)

// gallery is what a trial has to show: which figures there are, by their one name each.
type gallery struct {
	*findings.Findings
	swaps    []recipe.Swap   // those in which fat is worth a picture
	compared []trial.Measure // those with a figure of their differences
	tasted   []trial.Measure // those with a figure of their scores
	exhibits []exhibit

	// main is the figure on the trial's picture; nil where there is none.
	main func() (chart.Figure, error)
}

func galleryOf(f *findings.Findings) *gallery {
	g := &gallery{Findings: f, swaps: fatSwaps(writeup.Swaps(f)), compared: compared(f), tasted: tasted(f)}
	g.exhibits = g.figures()
	g.main = sync.OnceValues(g.mainFigure)
	return g
}

// hung is a gallery that is put together when somebody first asks for it: the prose, the
// pages and the picture of a trial all do.
type hung struct {
	once sync.Once
	all  *gallery
}

// gallery is what the trial has to show.
func (e *Entry) gallery() *gallery {
	e.hung.once.Do(func() { e.hung.all = galleryOf(e.Findings) })
	return e.hung.all
}

// names lists the figures that a trial has, by name.
func (g *gallery) names() []string { return namesOf(g.exhibits) }

// figureID is a figure's anchor on its page: by its place among the trial's
// figures, for a name may be in any script.
func (g *gallery) figureID(name string) string {
	return fmt.Sprintf("figure-%d", 1+slices.IndexFunc(g.exhibits, func(e exhibit) bool { return e.name == name }))
}

// shownAnyway lists the figures that a page shows even where the prose places
// none: all but those of the parts of a sum, which the sum's figure stacks, and
// the one of all tests, which is the tests' own.
func (g *gallery) shownAnyway() []string {
	effects := g.effectFigures()
	return slices.DeleteFunc(g.names(), func(name string) bool {
		m := g.Trial.Measure(name)
		effect := slices.Contains(effects, name) && !turnsOn(g.Findings, name)
		return name == sharesFigure || (m != nil && m.PartOf != "") || effect
	})
}

// figures lists the figures that a trial has: one for each measure with a reading,
// one for all tests together, one for each thermometer log, for each swap of fats, and
// those of effects.
func (g *gallery) figures() []exhibit {
	var all []exhibit
	tests := false
	for _, m := range g.Trial.Measures {
		if hasReadings(g.Findings, m) {
			all = append(all, exhibit{m.Name, measureFigure(m)})
			tests = tests || m.Kind.IsShare()
		}
	}
	if tests {
		all = append(all, exhibit{sharesFigure, "the shares of everything that is counted, a figure each"})
	}
	for _, p := range g.Trial.Probes {
		if len(p.Rows) > 0 && len(p.Probes) > 0 {
			all = append(all, exhibit{p.Name, "temperatures of the thermometer log over time"})
		}
	}
	for _, swap := range g.swaps {
		all = append(all, exhibit{swapFigure(swap), "fats in a tablespoon of each food that was tried as " + swap.Role})
	}
	for _, m := range g.compared {
		all = append(all, exhibit{differencesFigure(m), m.Name + ": the difference of each pair of samples with its interval"})
	}
	for _, m := range g.tasted {
		all = append(all, exhibit{scoresFigure(m), m.Name + ": what each assessor gave each sample"})
	}
	return all
}

// draw draws a figure by its name. The id is unique on the page.
func (g *gallery) draw(name, caption, id string) (page.Figure, error) {
	d, err := g.drawingOf(name, caption, id)
	if err != nil {
		return page.Figure{}, err
	}
	svg, err := d.chart.Draw()
	return figure(d.id, d.title, svg, d.table), err
}

// drawingOf finds a figure by its name.
func (g *gallery) drawingOf(name, caption, id string) (drawing, error) {
	f := g.Findings
	for _, p := range f.Trial.Probes {
		if p.Name == name && f.Trial.Measure(name) == nil {
			return drawCurves(f, p, caption, id)
		}
	}
	for _, swap := range g.swaps {
		if swapFigure(swap) == name {
			return drawSwap(f, swap, caption, id)
		}
	}
	if drawn, ok, err := g.drawEffects(name, caption, id); ok {
		return drawn, err
	}
	m := f.Trial.Measure(name)
	switch {
	case m == nil:
		return drawing{}, fmt.Errorf("no figure is called %q", name)
	case m.Kind.IsShare():
		return drawShares(f, *m, caption, id)
	case m.Kind == trial.Time && m.Source == trial.OfParts && len(m.Parts) <= 4:
		return drawTimes(f, *m, caption, id)
	}
	return drawMarks(f, *m, caption, id)
}
