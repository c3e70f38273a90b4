package site

import (
	"cmp"
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strings"
	"sync"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/results"
	"sidebatch.example/sidebatch/internal/writeup"
)

// overview is what goes over all trials: factors and foods with their addresses, and the
// trials that each is about.
type overview struct {
	factors   []factorPage // in the order in which they were first tried
	foods     []foodPage   // in the order in which they were first used
	factorsAt shelf
	foodsAt   shelf
	foodNames map[string]string // by key
	foodsFor  map[string][]int  // foods that were varied as a factor, by the factor's key
}

// factorPage is a factor with the trials in which it differs, oldest first.
type factorPage struct {
	key, name string // the name that the oldest trial has for it
	cards     []*Card
	tried     int // trials that varied it, or in which it alone differs
}

// foodPage is a food with the trials that used it, oldest first.
type foodPage struct {
	key, name, row string
	written        []string // how else notes write it
	cards          []*Card
	varied         int // trials in which it was varied
}

// newest are the trials that the page of a food shows, oldest first.
func (f *foodPage) newest() []*Card {
	varied, used := 0, 0
	var shown []*Card
	for _, c := range slices.Backward(f.cards) {
		if varied == writeup.MostTrials && used == writeup.MostTrials {
			break
		}
		n := &used
		if c.food(f.key).Varied {
			n = &varied
		}
		if *n < writeup.MostTrials {
			*n++
			shown = append(shown, c)
		}
	}
	slices.Reverse(shown)
	return shown
}

// overview sorts the published trials by factor and food.
func (x *Index) overview() overview {
	o := overview{factorsAt: newShelf(), foodsAt: newShelf(), foodNames: map[string]string{}, foodsFor: map[string][]int{}}
	factors, foods := map[string]int{}, map[string]int{}
	for _, c := range x.byDay() {
		for _, f := range c.Factors {
			i, known := factors[f.Key]
			if !known {
				i = len(o.factors)
				factors[f.Key] = i
				o.factors = append(o.factors, factorPage{key: f.Key, name: f.Name})
			}
			at := &o.factors[i]
			at.cards = append(at.cards, c)
			if f.Tried {
				at.tried++
			}
		}
		for _, f := range c.Foods {
			i, known := foods[f.Key]
			if !known {
				i = len(o.foods)
				foods[f.Key] = i
				o.foods = append(o.foods, foodPage{key: f.Key, name: f.Written[0], row: f.Row})
			}
			o.foods[i].add(c, f)
			for _, key := range f.Factors {
				o.foodsFor[key] = append(o.foodsFor[key], i)
			}
		}
	}
	o.factors = slices.DeleteFunc(o.factors, func(f factorPage) bool { return f.tried == 0 })
	o.shelve()
	return o
}

// byDay are the published trials by the day on which they were cooked, oldest first.
func (x *Index) byDay() []*Card {
	return slices.SortedFunc(slices.Values(x.Trials), func(a, b *Card) int {
		return cmp.Or(a.Day.Compare(b.Day), cmp.Compare(a.Slug, b.Slug))
	})
}

func (f *foodPage) add(c *Card, used *cardFood) {
	f.cards = append(f.cards, c)
	if used.Varied {
		f.varied++
	}
	for _, name := range used.Written {
		if name != f.name && !slices.Contains(f.written, name) && !findings.SameWords(name, f.name) {
			f.written = findings.AddWords(f.written, name)
		}
	}
}

// shelve gives factors and foods their addresses.
func (o *overview) shelve() {
	for _, f := range o.factors {
		o.factorsAt.put(f.key, f.name, "factor")
	}
	for _, f := range o.foods {
		o.foodsAt.put(f.key, f.name, "ingredient")
		o.foodNames[f.key] = f.name
	}
	for key, foods := range o.foodsFor {
		slices.Sort(foods)
		o.foodsFor[key] = slices.Compact(foods)
	}
}

// many adds the pages that go over several trials.
func (p *planner) many() {
	p.addFrom(factorsPage+"index.html", p.fromFactorList(), p.factorList)
	for _, f := range p.factors {
		p.factorFiles(f)
	}
	p.addFrom(ingredientsPage+"index.html", p.fromFoodList(), p.foodList)
	for _, f := range p.foods {
		at := ingredientsPage + p.foodsAt.at[f.key] + "/"
		p.addFrom(at+"index.html", p.fromFood(f), func() ([]byte, error) { return p.ingredient(f, at) })
	}
}

// factorFiles adds the files of one factor.
func (p *planner) factorFiles(f factorPage) {
	at, claims := factorsPage+p.factorsAt.at[f.key]+"/", p.fromClaims(f)
	of := &shared{users: 2, make: func() (findings.Evidence, error) {
		studies, err := p.claimsAbout(f.key, f.cards)
		e, _ := findings.EvidenceAbout(f.key, studies)
		return e, err
	}}
	p.addFrom(at+"index.html", p.fromFactor(f, claims), func() ([]byte, error) {
		e, err := of.evidence()
		if err != nil {
			return nil, err
		}
		return p.factor(f, e, at)
	})
	p.addFrom(at+results.ComparisonsFile, claims, func() ([]byte, error) {
		e, err := of.evidence()
		if err != nil {
			return nil, err
		}
		return results.Comparisons(e), nil
	})
	p.addFrom(at+results.ComparisonsFile+results.MetadataSuffix, p.from("comparisons", f.name), func() ([]byte, error) {
		return results.ComparisonsMetadata(f.name, p.Kitchen.Words, p.Kitchen.Language)
	})
}

// shared is the evidence about a factor, put together for the first file that is made of
// it and let go after the last: of a large kitchen it is large.
type shared struct {
	users int
	make  func() (findings.Evidence, error)

	mutex sync.Mutex
	used  int
	found findings.Evidence
	err   error
}

func (s *shared) evidence() (findings.Evidence, error) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	if s.used%s.users == 0 {
		s.found, s.err = s.make()
	}
	found, err := s.found, s.err
	if s.used++; s.used%s.users == 0 {
		s.found = findings.Evidence{}
	}
	return found, err
}

// factorAddress is where a factor has its page, from a page with that root; "" where
// it has none.
func (p *planner) factorAddress(root, key string) string {
	if name := p.factorsAt.at[key]; name != "" {
		return root + factorsPage + name + "/"
	}
	return ""
}

func (p *planner) factor(f factorPage, e findings.Evidence, at string) ([]byte, error) {
	v := writeup.Factor(e, p.Kitchen.Words)
	say := p.phrases()
	v.Frame = p.frame(at, e.Factor.Name, say.Say("factor about", "kitchen", p.Kitchen.Name, "factor", e.Factor.Name))
	v.Frame.Crumbs = []page.Link{{Text: say.Say("factors"), Href: "../"}}
	root := v.Frame.Root
	v.Method = root + methodsPage + "#" + v.Method
	figures, errs := make([]*page.Figure, len(e.Measures)), make([]error, len(e.Measures))
	each(len(e.Measures), func(i int) { figures[i], errs[i] = drawEvidence(say, e.Measures[i], fmt.Sprintf("figure-%d", i+1)) })
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	for i := range v.Trials {
		v.Trials[i].Trial.Href = root + v.Trials[i].Trial.Href + "/"
	}
	for i := range v.Measures {
		m := &v.Measures[i]
		for j := range m.Rows {
			r := &m.Rows[j]
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
		m.Figure = figures[i]
		if m.Cut != "" {
			m.All = results.ComparisonsFile
		}
	}
	v.Ingredients = p.foodsOf(f, root)
	if v.Cut != "" && e.Planned {
		v.Archive = root + archivePage + "?factor=" + url.QueryEscape(p.factorsAt.at[f.key])
	}
	v.Downloads = []page.Download{
		{Name: results.ComparisonsFile, Href: results.ComparisonsFile, Format: "CSV", What: say.Say("every contrast")},
		{Name: results.ComparisonsFile + results.MetadataSuffix, Href: results.ComparisonsFile + results.MetadataSuffix, Format: "JSON", What: say.Say("its columns")},
	}
	return p.look.Pages.Factor(v)
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

func (p *planner) ingredient(f foodPage, at string) ([]byte, error) {
	pantry := findings.Pantry{Key: f.key, Name: f.name, Row: f.row, Written: f.written, Trials: len(f.cards), VariedIn: f.varied}
	for _, c := range f.newest() {
		s, err := p.foodsIn(c)
		if err != nil {
			return nil, err
		}
		pantry.Uses = append(pantry.Uses, s.Use(f.key)...)
	}
	v := writeup.Ingredient(pantry, p.Kitchen.Words)
	say := p.phrases()
	v.Frame = p.frame(at, f.name, say.Say("ingredient about", "kitchen", p.Kitchen.Name, "food", f.name))
	v.Frame.Crumbs = []page.Link{{Text: say.Say("ingredients"), Href: "../"}}
	root := v.Frame.Root
	if v.CutVaried != "" || v.CutUsed != "" {
		v.Archive = root + archivePage + "?ingredient=" + url.QueryEscape(p.foodsAt.at[f.key])
	}
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
	for _, f := range p.factors {
		v.Entries = append(v.Entries, entry(f.name, p.factorsAt.at[f.key], say.Count("trial", f.tried)))
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
		v.Entries = append(v.Entries, entry(f.name, p.foodsAt.at[f.key], say.Count("trial", len(f.cards))))
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
