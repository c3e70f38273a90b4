package site

import (
	"cmp"
	"maps"
	"slices"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
)

// Index is what a site is planned from: a card of every trial, and a way to the trial
// behind it.
type Index struct {
	reader     reader
	Trials     []*Card // published ones, newest first
	InProgress []*Card // notes without a date of publication, by slug

	published  map[string]*Card   // by slug
	repeats    map[string]*Card   // the trial that one repeats, by the slug of the one
	repeatedBy map[string][]*Card // published trials that repeat one, newest first
}

// newIndex puts cards into their order, and finds out which trials repeat which.
func newIndex(r reader, cards []*Card) *Index {
	x := &Index{reader: r, published: map[string]*Card{}, repeats: map[string]*Card{}, repeatedBy: map[string][]*Card{}}
	for _, c := range cards {
		if c.Published.IsZero() {
			x.InProgress = append(x.InProgress, c)
			continue
		}
		x.Trials = append(x.Trials, c)
		x.published[c.Slug] = c
	}
	slices.SortStableFunc(x.Trials, func(a, b *Card) int {
		return cmp.Or(-a.Published.Compare(b.Published), cmp.Compare(a.Slug, b.Slug))
	})
	x.relate()
	return x
}

// index is the site as its cards tell it.
func (s *Site) index() *Index {
	var cards []*Card
	for _, e := range slices.Concat(s.InProgress, s.Trials) {
		cards = append(cards, cardOf(e))
	}
	return newIndex(s.reader, cards)
}

// Card is what the rest of the site knows of a trial: all that any page is made of that is
// not the trial's own.
type Card struct {
	Slug      string
	Title     string
	Published trial.Date // zero while it is in progress
	Repeats   trial.Repeats
	Links     []string // the other trials that its prose leads to
	Factors   []string // the keys of the factors that it varied

	held *Entry // the trial itself, where it stays in memory
}

func cardOf(e *Entry) *Card {
	var factors []string
	for _, c := range e.Contrasts {
		for _, d := range slices.Concat(c.Planned, c.Unplanned) {
			if key := findings.FactorKey(d.Factor); !slices.Contains(factors, key) {
				factors = append(factors, key)
			}
		}
	}
	return &Card{
		Slug:      e.Trial.Slug,
		Title:     e.Trial.Title,
		Published: e.Trial.Published,
		Repeats:   e.Trial.Repeats,
		Links:     e.account.links,
		Factors:   factors,
		held:      e,
	}
}

// trials answers whether there is a published trial of a name. Nil takes any name for one:
// which trials are published is known only when all notes have been read.
type trials map[string]*Card

func (x *Index) known() trials { return x.published }

func (t trials) has(slug string) bool { return t == nil || t[slug] != nil }

func (t trials) slugs() []string { return slices.Sorted(maps.Keys(t)) }

// around is what the pages of one trial say of others and of the site.
type around struct {
	Factors    map[string]string // where a factor has its page, from the site's root, by its key
	Repeats    *neighbour
	RepeatedBy []neighbour
}

// neighbour is another trial that a page links to.
type neighbour struct{ Slug, Title string }

func (c *Card) neighbour() neighbour { return neighbour{c.Slug, c.Title} }

func (n neighbour) link(root string) page.Link {
	return page.Link{Text: n.Title, Href: root + n.Slug + "/"}
}

// link links a write-up to the pages of its factors, to the trial that it repeats and to
// those that repeat it.
func (a around) link(v *page.WriteUp) {
	root := v.Frame.Root
	for i := range v.Differs {
		if at := a.Factors[v.Differs[i].Href]; at != "" {
			v.Differs[i].Href = root + at
		} else {
			v.Differs[i].Href = ""
		}
	}
	if a.Repeats != nil {
		v.Repeats = a.Repeats.link(root)
	}
	for _, by := range a.RepeatedBy {
		v.Repeated = append(v.Repeated, by.link(root))
	}
}

// around is what surrounds a trial.
func (p *planner) around(c *Card) around {
	a := around{Factors: map[string]string{}}
	for _, key := range c.Factors {
		if at := p.factorsAt.at[key]; at != "" {
			a.Factors[key] = factorsPage + at + "/"
		}
	}
	if original := p.repeats[c.Slug]; original != nil {
		n := original.neighbour()
		a.Repeats = &n
	}
	for _, by := range p.repeatedBy[c.Slug] {
		a.RepeatedBy = append(a.RepeatedBy, by.neighbour())
	}
	return a
}
