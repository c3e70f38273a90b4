package site

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/results"
	"sidebatch.example/sidebatch/internal/trial"
)

// facets are what a trial is found by.
func (p *planner) facets(e archiveEntry) page.Facets {
	var factors, foods, measures []string
	for _, factor := range e.Varied {
		factors = once(factors, p.factorsAt.at[factor.Key])
	}
	for _, key := range e.Foods {
		foods = once(foods, p.foodsAt.at[key])
	}
	for _, kind := range e.Measures {
		measures = once(measures, folder(kind))
	}
	return page.Facets{
		Slug:        e.Slug,
		Factors:     strings.Join(factors, " "),
		Ingredients: strings.Join(foods, " "),
		Measures:    strings.Join(measures, " "),
		Years:       strconv.Itoa(e.Published.Year),
	}
}

// once adds a value unless it is there.
func once(values []string, value string) []string {
	if slices.Contains(values, value) {
		return values
	}
	return append(values, value)
}

// choose fills in the choices of the filters, with how many of the trials each leaves.
func (p *planner) choose(f *page.Filters, cards []*Card) {
	factors, foods := newTally[*cardFactor](), newTally[*cardFood]()
	measures, years := newTally[string](), newTally[int]()
	for _, c := range cards {
		for _, factor := range c.Factors {
			if factor.Varied {
				factors.add(factor)
			}
		}
		for _, food := range c.Foods {
			foods.add(food)
		}
		for i, kind := range c.Measures {
			if !slices.Contains(c.Measures[:i], kind) {
				measures.add(kind)
			}
		}
		years.add(c.Published.Year)
	}
	f.Factors = factors.choices(func(x *cardFactor) (string, string) { return p.factorsAt.at[x.Key], x.Name })
	f.Ingredients = foods.choices(func(x *cardFood) (string, string) { return p.foodsAt.at[x.Key], p.foodNames[x.Key] })
	f.Measures = measures.choices(func(kind string) (string, string) {
		return folder(kind), results.KindName(p.Kitchen.Words, trial.Kind(kind))
	})
	f.Years = years.choices(func(year int) (string, string) { return strconv.Itoa(year), strconv.Itoa(year) })
	slices.Reverse(f.Years)
}

// tally counts trials by what they have. Of many trials most have the same, which is then in
// memory once, and so quickly counted.
type tally[T comparable] struct {
	trials map[T]int
	order  []T // in which they came
}

func newTally[T comparable]() *tally[T] { return &tally[T]{trials: map[T]int{}} }

func (t *tally[T]) add(x T) {
	n := t.trials[x]
	if n == 0 {
		t.order = append(t.order, x)
	}
	t.trials[x] = n + 1
}

// choices are the values of a filter by name, which is that of the first that has the value.
func (t *tally[T]) choices(of func(T) (value, name string)) []page.Choice {
	names, trials := map[string]string{}, map[string]int{}
	for _, x := range t.order {
		value, name := of(x)
		if trials[value] == 0 {
			names[value] = name
		}
		trials[value] += t.trials[x]
	}
	var all []page.Choice
	for value, name := range names {
		all = append(all, page.Choice{Value: value, Text: name, Count: strconv.Itoa(trials[value])})
	}
	slices.SortFunc(all, func(a, b page.Choice) int {
		return cmp.Or(strings.Compare(strings.ToLower(a.Text), strings.ToLower(b.Text)), strings.Compare(a.Value, b.Value))
	})
	return all
}
