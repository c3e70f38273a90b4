package site

import (
	"cmp"
	"net/url"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
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
		return byDayThenSlug(a.Day, b.Day, a, b)
	})
}

// byDayThenSlug orders two trials by a day of each.
func byDayThenSlug(dayOfA, dayOfB trial.Date, a, b *Card) int {
	if order := dayOfA.Compare(dayOfB); order != 0 {
		return order // most are known by that, and slugs take longer to compare
	}
	return strings.Compare(a.Slug, b.Slug)
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
