package site

import (
	"errors"
	"fmt"
	"net/url"
	"strings"
	"sync"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/results"
	"sidebatch.example/sidebatch/internal/writeup"
)

// factorFiles adds the files of one factor.
func (p *planner) factorFiles(f factorPage) {
	at, claims := factorsPage+p.factorsAt.at[f.key]+"/", p.fromClaims(f)
	of := &gathering{users: 2, gather: func() (*gathered, error) { return p.gatherAbout(f) }}
	p.addFrom(at+"index.html", p.fromFactor(f, claims, of), func() ([]byte, error) {
		g, err := of.get()
		if err != nil {
			return nil, err
		}
		return p.factor(f, g, at)
	})
	p.addFrom(at+results.ComparisonsFile, claims, func() ([]byte, error) {
		g, err := of.get()
		if err != nil {
			return nil, err
		}
		return p.comparisons(f, g), nil
	})
	p.addFrom(at+results.ComparisonsFile+results.MetadataSuffix, p.from("comparisons", f.name), func() ([]byte, error) {
		return results.ComparisonsMetadata(f.name, p.Kitchen.Words, p.Kitchen.Language)
	})
}

// gathered is what all trials say of a factor. What they say on a measure is added up when
// something is to be told of it that no earlier run has left.
type gathered struct {
	findings.Evidence
	from []Digest // stands for the rows of each measure; zero where nothing is remembered

	// settled are the measures once more, added up. Evidence stays as it was put together, for
	// both files are made of it at the same time.
	settled []func() *findings.MeasureEvidence
}

func (p *planner) gatherAbout(f factorPage) (*gathered, error) {
	claims, err := p.claimsAbout(f.key, f.cards)
	if err != nil {
		return nil, err
	}
	studies, by := make([]*findings.Study, len(claims)), make(map[*findings.Study]*claim, len(claims))
	for i, c := range claims {
		studies[i], by[c.Study] = c.Study, c
	}
	e, _ := findings.GatherAbout(f.key, studies)
	g := &gathered{Evidence: e, from: make([]Digest, len(e.Measures)), settled: make([]func() *findings.MeasureEvidence, len(e.Measures))}
	each(len(e.Measures), func(i int) {
		g.from[i] = p.fromRows(f, &e.Measures[i], by)
		g.settled[i] = sync.OnceValue(func() *findings.MeasureEvidence {
			m := e.Measures[i]
			m.Settle()
			return &m
		})
	})
	return g, nil
}

// gathering puts together what all trials say of a factor for the first file that is made of
// it, and lets go of it after the last: of a large kitchen it is large.
type gathering struct {
	users  int
	gather func() (*gathered, error)

	mutex sync.Mutex
	used  int
	found *gathered
}

func (g *gathering) get() (*gathered, error) {
	g.mutex.Lock()
	defer g.mutex.Unlock()
	if g.found == nil {
		var err error
		if g.found, err = g.gather(); err != nil {
			return nil, err
		}
	}
	found := g.found
	if g.used++; g.used%g.users == 0 {
		g.found = nil
	}
	return found, nil
}

// shownOn are the trials that the page of a factor lists, and those that it names in the rows of
// measures. Where trials say something else than in the last run that is known when it was put
// together, which the files of one factor need as well.
func (p *planner) shownOn(f factorPage, claims Digest, of *gathering) (listed, named []string, err error) {
	text, err := passage(p.memory, factorPassage("shown", f.key), claims, func() (string, error) {
		g, err := of.gather()
		if err != nil {
			return "", err
		}
		if !p.gathered {
			p.gathered, of.found = true, g
		}
		listed, named := writeup.Shown(g.Evidence)
		return strings.Join(listed, "\n") + "\n\n" + strings.Join(named, "\n"), nil
	})
	first, rest, _ := strings.Cut(text, "\n\n")
	return strings.Split(first, "\n"), strings.Split(rest, "\n"), err
}

// factorAddress is where a factor has its page, from a page with that root; "" where
// it has none.
func (p *planner) factorAddress(root, key string) string {
	if name := p.factorsAt.at[key]; name != "" {
		return root + factorsPage + name + "/"
	}
	return ""
}

// comparisons is the file with every contrast of a factor.
func (p *planner) comparisons(f factorPage, g *gathered) []byte {
	lines := make([]string, 1+len(g.Measures))
	lines[0] = string(results.ComparisonsHead())
	each(len(g.Measures), func(i int) {
		lines[1+i], _ = passage(p.memory, passageName("lines", f.key, &g.Measures[i]), g.from[i], func() (string, error) {
			return string(results.ComparisonsOn(g.settled[i]())), nil
		})
	})
	size := 0
	for _, text := range lines {
		size += len(text)
	}
	all := make([]byte, 0, size)
	for _, text := range lines {
		all = append(all, text...)
	}
	return all
}

func (p *planner) factor(f factorPage, g *gathered, at string) ([]byte, error) {
	v := writeup.Factor(g.Evidence, p.Kitchen.Words)
	say := p.phrases()
	v.Frame = p.frame(at, g.Factor.Name, say.Say("factor about", "kitchen", p.Kitchen.Name, "factor", g.Factor.Name))
	v.Frame.Crumbs = []page.Link{{Text: say.Say("factors"), Href: "../"}}
	root := v.Frame.Root
	v.Method = root + methodsPage + "#" + v.Method
	for i := range v.Trials {
		line := &v.Trials[i]
		says, err := p.archiveEntry(p.published[line.Trial.Href])
		if err != nil {
			return nil, err
		}
		line.Words, line.Trial.Href = says.Answer, root+line.Trial.Href+"/"
	}
	v.Measures = make([]page.HTML, len(g.Measures))
	errs := make([]error, len(g.Measures))
	each(len(g.Measures), func(i int) {
		name := passageName("measure", f.key, &g.Measures[i])
		v.Measures[i], errs[i] = passage(p.memory, name, p.fromFactorMeasure(g, i), func() (page.HTML, error) { return p.factorMeasure(g, i, root) })
	})
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	v.Ingredients = p.foodsOf(f, root)
	if v.Cut != "" && g.Planned {
		v.Archive = root + archivePage + "?factor=" + url.QueryEscape(p.factorsAt.at[f.key])
	}
	v.Downloads = []page.Download{
		{Name: results.ComparisonsFile, Href: results.ComparisonsFile, Format: "CSV", What: say.Say("every contrast")},
		{Name: results.ComparisonsFile + results.MetadataSuffix, Href: results.ComparisonsFile + results.MetadataSuffix, Format: "JSON", What: say.Say("its columns")},
	}
	return p.look.Pages.Factor(v)
}

// factorMeasure renders what the page of a factor says on one measure.
func (p *planner) factorMeasure(g *gathered, i int, root string) (page.HTML, error) {
	m := g.settled[i]()
	v := writeup.FactorMeasure(*m, i, p.Kitchen.Words)
	for j := range v.Rows {
		r := &v.Rows[j]
		// What a note says of a repeat counts only where it is true.
		if r.Repeats.Href != "" {
			r.Repeats = page.Link{}
			if original := p.repeats[r.Trial.Href]; original != nil {
				r.Repeats = original.neighbour().link(root)
			}
		}
		r.Trial.Href = root + r.Trial.Href + "/"
		if r.AtHome {
			r.Trial.Href += "#at-home"
		}
	}
	drawn, err := drawEvidence(p.phrases(), *m, fmt.Sprintf("figure-%d", i+1))
	if err != nil {
		return "", err
	}
	v.Figure = drawn
	if v.Cut != "" {
		v.All = results.ComparisonsFile
	}
	return p.look.Pages.FactorMeasure(p.Kitchen.Language, v)
}

// foodsOf links to the foods that were varied in a factor's place.
func (p *planner) foodsOf(f factorPage, root string) []page.Link {
	var links []page.Link
	for _, i := range p.foodsFor[f.key] {
		food := p.foods[i]
		links = append(links, page.Link{Text: food.name, Href: root + ingredientsPage + p.foodsAt.at[food.key] + "/"})
	}
	return links
}
