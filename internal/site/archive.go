package site

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/results"
	"sidebatch.example/sidebatch/internal/writeup"
)

// searchFile holds the words of every note, for the archive's search.
const searchFile = "search.json"

// mostFactors is how many factors the archive links to by itself, those of the most
// trials; the rest stand in the list of all factors.
const mostFactors = 24

// archive lists every trial. It is a plain list with everything that the filters go
// by in it, and whole without a script. Only the words of the notes stand apart, in a
// file that the script fetches when somebody is about to search: they would make the
// page several times as large for everybody.
func (p *planner) archive() ([]byte, error) {
	say := p.phrases()
	v := page.Archive{
		Frame:   p.frame(archivePage, say.Say("archive"), say.Say("archive about", "kitchen", p.Kitchen.Name)),
		Script:  p.script,
		Filters: &page.Filters{Words: searchFile, Trials: len(p.Trials)},
	}
	root := v.Frame.Root
	contrasts := 0
	tally := newTally()
	for _, c := range p.Trials {
		e := c.held
		row := writeup.Row(e.Findings)
		row.Href = root + e.Trial.Slug + "/"
		row.Facets = p.facets(e, tally)
		for i := range row.Varied {
			row.Varied[i].Href = p.factorAddress(root, row.Varied[i].Href)
		}
		v.Rows = append(v.Rows, row)
		contrasts += len(e.Contrasts)
	}
	v.Count = say.Say("archive count", "trials", say.Count("trial", len(p.Trials)), "contrasts", say.Count("contrast", contrasts))
	v.Filters.Factors, v.Filters.Ingredients = tally.choices("factor"), tally.choices("ingredient")
	v.Filters.Measures, v.Filters.Years = tally.choices("measure"), tally.choices("year")
	slices.Reverse(v.Filters.Years)
	v.Factors = p.mostTried(root)
	if len(p.factors) > 0 {
		v.Names = append(v.Names, page.Link{Text: say.Count("all factors", len(p.factors)), Href: root + factorsPage})
	}
	if len(p.foods) > 0 {
		v.Names = append(v.Names, page.Link{Text: say.Count("all ingredients", len(p.foods)), Href: root + ingredientsPage})
	}
	return p.look.Pages.Archive(v)
}

// mostTried links to the factors of the most trials, by name.
func (p *planner) mostTried(root string) []page.Link {
	most := slices.Clone(p.factors)
	slices.SortStableFunc(most, func(a, b findings.Evidence) int { return len(b.Trials) - len(a.Trials) })
	var links []page.Link
	for _, e := range most[:min(len(most), mostFactors)] {
		links = append(links, page.Link{Text: e.Factor.Name, Href: p.factorAddress(root, findings.FactorKey(e.Factor))})
	}
	slices.SortStableFunc(links, func(a, b page.Link) int {
		return strings.Compare(strings.ToLower(a.Text), strings.ToLower(b.Text))
	})
	return links
}

// facets are what a trial is found by, counted in the tally.
func (p *planner) facets(e *Entry, t tally) page.Facets {
	var factors, foods, measures []string
	for _, c := range e.Contrasts {
		for _, d := range c.Planned {
			at := p.factorsAt.at[findings.FactorKey(d.Factor)]
			factors = t.count("factor", factors, at, d.Factor.Name)
		}
	}
	for _, key := range findings.FoodKeys(e.Trial) {
		at := p.foodsAt.at[key]
		foods = t.count("ingredient", foods, at, p.foodNames[key])
	}
	for _, m := range e.Trial.Measures {
		measures = t.count("measure", measures, folder(string(m.Kind)), results.KindName(p.Kitchen.Words, m.Kind))
	}
	year := strconv.Itoa(e.Trial.Published.Year)
	t.count("year", nil, year, year)
	return page.Facets{
		Slug:        e.Trial.Slug,
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

// searchWords is, for every trial, each word of its note once that its line in the
// archive does not say already.
func (p *planner) searchWords() ([]byte, error) {
	all := make(map[string]string, len(p.Trials))
	for _, c := range p.Trials {
		e := c.held
		said := map[string]bool{}
		row := writeup.Row(e.Findings)
		shown := []string{row.Title, row.Question, row.Answer, row.Evidence}
		for _, link := range row.Varied {
			shown = append(shown, link.Text)
		}
		unsaid(shown, said)
		t := e.Trial
		texts := append([]string{t.Recipe.Name, string(t.Prose)}, t.Keywords...)
		texts = append(texts, t.Recipe.Steps...)
		for _, s := range t.Samples {
			texts = append(texts, s.Name)
			for _, i := range s.Plan.Ingredients {
				texts = append(texts, i.Food+" "+i.Preparation)
			}
		}
		all[t.Slug] = strings.Join(unsaid(texts, said), " ")
	}
	return json.Marshal(all) // keys come sorted
}

// unsaid cuts texts into words of two letters or more, in small letters, and keeps
// those that were not said yet.
func unsaid(texts []string, said map[string]bool) []string {
	var words []string
	for _, text := range texts {
		for _, word := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
			return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.IsMark(r)
		}) {
			if len(word) > 1 && !said[word] {
				said[word] = true
				words = append(words, word)
			}
		}
	}
	return words
}
