package site

import (
	"slices"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/results"
	"sidebatch.example/sidebatch/internal/trial"
)

// facets are what a trial is found by, counted in the tally.
func (p *planner) facets(e archiveEntry, t tally) page.Facets {
	var factors, foods, measures []string
	for _, factor := range e.Varied {
		factors = t.count("factor", factors, p.factorsAt.at[factor.Key], factor.Name)
	}
	for _, key := range e.Foods {
		foods = t.count("ingredient", foods, p.foodsAt.at[key], p.foodNames[key])
	}
	for _, kind := range e.Measures {
		measures = t.count("measure", measures, folder(kind), results.KindName(p.Kitchen.Words, trial.Kind(kind)))
	}
	year := strconv.Itoa(e.Published.Year)
	t.count("year", nil, year, year)
	return page.Facets{
		Slug:        e.Slug,
		Factors:     strings.Join(factors, " "),
		Ingredients: strings.Join(foods, " "),
		Measures:    strings.Join(measures, " "),
		Years:       year,
	}
}

// tally counts the trials of every value of every filter.
type tally struct {
	trials map[string]map[string]int
	names  map[string]string
}

func newTally() tally { return tally{trials: map[string]map[string]int{}, names: map[string]string{}} }

// count adds a value to those of a trial, once.
func (t tally) count(filter string, values []string, value, name string) []string {
	if slices.Contains(values, value) {
		return values
	}
	if t.trials[filter] == nil {
		t.trials[filter] = map[string]int{}
	}
	t.trials[filter][value]++
	if _, named := t.names[filter+" "+value]; !named {
		t.names[filter+" "+value] = name
	}
	return append(values, value)
}

// choices are the values of a filter by name.
func (t tally) choices(filter string) []page.Choice {
	var all []page.Choice
	for value, trials := range t.trials[filter] {
		all = append(all, page.Choice{Value: value, Text: t.names[filter+" "+value], Count: strconv.Itoa(trials)})
	}
	slices.SortFunc(all, func(a, b page.Choice) int {
		if c := strings.Compare(strings.ToLower(a.Text), strings.ToLower(b.Text)); c != 0 {
			return c
		}
		return strings.Compare(a.Value, b.Value)
	})
	return all
}
