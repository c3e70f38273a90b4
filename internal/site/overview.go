package site

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/writeup"
)

// overview is what goes over all trials: factors and foods with their addresses.
type overview struct {
	factors   []findings.Evidence
	foods     []findings.Pantry
	factorsAt shelf
	foodsAt   shelf
	foodNames map[string]string // by key
}

func (x *Index) overview() overview {
	var all []*findings.Findings
	for _, c := range x.Trials {
		all = append(all, c.held.Findings)
	}
	o := overview{factors: findings.EvidenceOf(all), foods: findings.PantryOf(all), factorsAt: newShelf(), foodsAt: newShelf(), foodNames: map[string]string{}}
	for _, f := range o.factors {
		o.factorsAt.put(findings.FactorKey(f.Factor), f.Factor.Name, "factor")
	}
	for _, f := range o.foods {
		o.foodsAt.put(f.Key, f.Name, "ingredient")
		o.foodNames[f.Key] = f.Name
	}
	return o
}

// many adds the pages that go over several trials.
func (p *planner) many() {
	p.add(factorsPage+"index.html", p.factorList)
	for _, e := range p.factors {
		at := factorsPage + p.factorsAt.at[findings.FactorKey(e.Factor)] + "/"
		p.add(at+"index.html", func() ([]byte, error) { return p.factor(e, at) })
	}
	p.add(ingredientsPage+"index.html", p.foodList)
	for _, f := range p.foods {
		at := ingredientsPage + p.foodsAt.at[f.Key] + "/"
		p.add(at+"index.html", func() ([]byte, error) { return p.ingredient(f, at) })
	}
}

// factorAddress is where a factor has its page, from a page with that root; "" where
// it has none.
func (p *planner) factorAddress(root, key string) string {
	if name := p.factorsAt.at[key]; name != "" {
		return root + factorsPage + name + "/"
	}
	return ""
}

func (p *planner) factor(e findings.Evidence, at string) ([]byte, error) {
	v := writeup.Factor(e)
	say := p.phrases()
	v.Frame = p.frame(at, e.Factor.Name, say.Say("factor about", "kitchen", p.Kitchen.Name, "factor", e.Factor.Name))
	v.Frame.Crumbs = []page.Link{{Text: say.Say("factors"), Href: "../"}}
	root := v.Frame.Root
	v.Method = root + methodsPage + "#" + v.Method
	for i := range v.Trials {
		v.Trials[i].Trial.Href = root + v.Trials[i].Trial.Href + "/"
	}
	for i := range v.Measures {
		m := &v.Measures[i]
		for j := range m.Rows {
			r := &m.Rows[j]
			if original := p.repeats[r.Trial.Href]; original != nil && !r.AtHome {
				r.Repeats = original.neighbour().link(root)
			}
			r.Trial.Href = root + r.Trial.Href + "/"
			if r.AtHome {
				r.Trial.Href += "#at-home"
			}
		}
		drawn, err := drawEvidence(say, e.Measures[i], fmt.Sprintf("figure-%d", i+1))
		if err != nil {
			return nil, err
		}
		m.Figure = drawn
	}
	v.Ingredients = p.foodsOf(e, root)
	return p.look.Pages.Factor(v)
}

// foodsOf links to the foods that were varied in a factor's place.
func (p *planner) foodsOf(e findings.Evidence, root string) []page.Link {
	var links []page.Link
	key := findings.FactorKey(e.Factor)
	for _, f := range p.foods {
		if slices.ContainsFunc(f.Uses, func(u findings.FoodUse) bool { return u.IsFactor(key) }) {
			links = append(links, page.Link{Text: f.Name, Href: root + ingredientsPage + p.foodsAt.at[f.Key] + "/"})
		}
	}
	return links
}

func (p *planner) ingredient(f findings.Pantry, at string) ([]byte, error) {
	v := writeup.Ingredient(f)
	say := p.phrases()
	v.Frame = p.frame(at, f.Name, say.Say("ingredient about", "kitchen", p.Kitchen.Name, "food", f.Name))
	v.Frame.Crumbs = []page.Link{{Text: say.Say("ingredients"), Href: "../"}}
	root := v.Frame.Root
	for _, list := range [][]page.TrialLine{v.Varied, v.Used} {
		for i := range list {
			list[i].Trial.Href = root + list[i].Trial.Href + "/"
			for j := range list[i].Also {
				list[i].Also[j].Href = p.factorAddress(root, list[i].Also[j].Href)
			}
		}
	}
	return p.look.Pages.Ingredient(v)
}

func (p *planner) factorList() ([]byte, error) {
	say := p.phrases()
	v := page.Names{
		Frame: p.frame(factorsPage, say.Say("factors"), say.Say("factors about", "kitchen", p.Kitchen.Name)),
		Of:    "factors",
	}
	for _, e := range p.factors {
		v.Entries = append(v.Entries, entry(e.Factor.Name, p.factorsAt.at[findings.FactorKey(e.Factor)], say.Count("trial", len(e.Trials))))
	}
	sortEntries(v.Entries)
	return p.look.Pages.Names(v)
}

func (p *planner) foodList() ([]byte, error) {
	say := p.phrases()
	v := page.Names{
		Frame: p.frame(ingredientsPage, say.Say("ingredients"), say.Say("ingredients about", "kitchen", p.Kitchen.Name)),
		Of:    "ingredients",
	}
	for _, f := range p.foods {
		v.Entries = append(v.Entries, entry(f.Name, p.foodsAt.at[f.Key], say.Count("trial", len(f.Uses))))
	}
	sortEntries(v.Entries)
	return p.look.Pages.Names(v)
}

func entry(name, folder, trials string) page.NameEntry {
	return page.NameEntry{Page: page.Link{Text: name, Href: folder + "/"}, Count: trials}
}

func sortEntries(entries []page.NameEntry) {
	slices.SortStableFunc(entries, func(a, b page.NameEntry) int {
		return cmp.Or(strings.Compare(strings.ToLower(a.Page.Text), strings.ToLower(b.Page.Text)), strings.Compare(a.Page.Href, b.Page.Href))
	})
}
