package site

import (
	"maps"
	"slices"
	"strconv"

	"sidebatch.example/sidebatch/internal/page"
)

// Index is what a site is planned from: a card of every trial, and a way to the trial
// behind it.
type Index struct {
	Trials     []*Card // published ones, newest first
	InProgress []*Card // notes without a date of publication, by slug

	bySlug  []*Card // all of these, in the order of folders; nil where all trials are held
	reader  reader
	binding *binding // nil until there is a theme
	opened  *opened  // nil where all trials are held
	memory  *Memory  // nil where all trials are held
	setting Digest   // zero where nothing is remembered

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
	slices.SortFunc(x.Trials, func(a, b *Card) int {
		return byDayThenSlug(b.Published, a.Published, a, b)
	})
	x.relate()
	return x
}

// titles is the site as far as trials repeat each other and lead to each other.
func (s *Site) titles() *Index {
	var cards []*Card
	for _, e := range slices.Concat(s.InProgress, s.Trials) {
		cards = append(cards, e.title())
	}
	return newIndex(s.reader, cards)
}

// bound is the site as its cards tell it, with a theme.
func (s *Site) bound(look Look) *Index {
	entries := slices.Concat(s.InProgress, s.Trials)
	cards := make([]*Card, len(entries))
	each(len(entries), func(i int) { cards[i] = entries[i].card() })
	x := newIndex(s.reader, cards)
	x.binding = bind(s.reader, look)
	return x
}

// trials answers whether there is a published trial of a name. Nil takes any name for one:
// which trials are published is known only when all notes have been read.
type trials map[string]*Card

func (x *Index) known() trials { return x.published }

func (t trials) has(slug string) bool { return t == nil || t[slug] != nil }

func (t trials) slugs() []string { return slices.Sorted(maps.Keys(t)) }

// around is what the pages of one trial say of others and of the site.
type around struct {
	Factors    []factorAt
	Repeats    *neighbour
	RepeatedBy []neighbour
}

// factorAt is where a factor has its page, below that of all factors.
type factorAt struct{ Key, At string }

// addTo adds the texts that stand for all of it.
func (a around) addTo(texts []string) []string {
	texts = append(texts, strconv.Itoa(len(a.Factors)), strconv.Itoa(len(a.RepeatedBy)))
	for _, f := range a.Factors {
		texts = append(texts, f.Key, f.At)
	}
	for _, by := range a.RepeatedBy {
		texts = append(texts, by.Slug, by.Title)
	}
	if a.Repeats != nil {
		texts = append(texts, a.Repeats.Slug, a.Repeats.Title)
	}
	return texts
}

// factor is where a factor has its page, from the site's root, or "".
func (a around) factor(key string) string {
	for _, f := range a.Factors {
		if f.Key == key {
			return factorsPage + f.At + "/"
		}
	}
	return ""
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
		if at := a.factor(v.Differs[i].Href); at != "" {
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
	var a around
	for _, f := range c.Factors {
		if at := p.factorsAt.at[f.Key]; at != "" {
			a.Factors = append(a.Factors, factorAt{f.Key, at})
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
