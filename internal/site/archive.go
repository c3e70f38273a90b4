package site

import (
	"encoding/json"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/page"
)

// searchFile holds the words of every note, for the archive's search.
const searchFile = "search.json"

// mostFactors is how many factors the archive links to by itself, those of the most
// trials; the rest stand in the list of all factors.
const mostFactors = 24

// addArchive adds the files of the archive. What they say of trials is asked for when
// the first of them is made.
func (p *planner) addArchive(entries func() ([]archiveEntry, error)) {
	add := func(at string, from Digest, make func([]archiveEntry) ([]byte, error)) {
		p.addFrom(at, from, func() ([]byte, error) {
			all, err := entries()
			if err != nil {
				return nil, err
			}
			return make(all)
		})
	}
	add(archivePage+"index.html", p.fromArchive(), p.archive)
	add(archivePage+searchFile, p.fromParts("search", archivePart, p.Trials), searchData)
}

// archive lists every trial. It is a plain list with everything that the filters go
// by in it, and whole without a script. Only the words of the notes stand apart, in a
// file that the script fetches when somebody is about to search: they would make the
// page several times as large for everybody.
func (p *planner) archive(entries []archiveEntry) ([]byte, error) {
	say := p.phrases()
	v := page.Archive{
		Frame:   p.frame(archivePage, say.Say("archive"), say.Say("archive about", "kitchen", p.Kitchen.Name)),
		Script:  p.script,
		Filters: &page.Filters{Words: searchFile, Trials: len(entries)},
	}
	root := v.Frame.Root
	tally := newTally()
	for _, e := range entries {
		row := p.archiveRow(e, root)
		row.Facets = p.facets(e, tally)
		v.Rows = append(v.Rows, row)
	}
	v.Count = p.archiveCount(entries)
	v.Filters.Factors, v.Filters.Ingredients = tally.choices("factor"), tally.choices("ingredient")
	v.Filters.Measures, v.Filters.Years = tally.choices("measure"), tally.choices("year")
	slices.Reverse(v.Filters.Years)
	v.Factors = p.mostTried(root)
	if n := len(p.factorsAt.at); n > 0 {
		v.Names = append(v.Names, page.Link{Text: say.Count("all factors", n), Href: root + factorsPage})
	}
	if n := len(p.foodsAt.at); n > 0 {
		v.Names = append(v.Names, page.Link{Text: say.Count("all ingredients", n), Href: root + ingredientsPage})
	}
	return p.look.Pages.Archive(v)
}

// archiveRow is a trial as a line of a page with that root.
func (p *planner) archiveRow(e archiveEntry, root string) page.ArchiveRow {
	row := page.ArchiveRow{
		Href:     root + e.Slug + "/",
		Title:    e.Title,
		Question: e.Question,
		Answer:   e.Answer,
		Evidence: e.Evidence,
		Date:     page.Date{Text: e.Day, ISO: e.Published.String()},
	}
	for _, factor := range e.Varied {
		row.Varied = append(row.Varied, page.Link{Text: factor.Name, Href: p.factorAddress(root, factor.Key)})
	}
	return row
}

// archiveCount says how much there is: "12 trials, 31 contrasts".
func (p *planner) archiveCount(entries []archiveEntry) string {
	say := p.phrases()
	contrasts := 0
	for _, e := range entries {
		contrasts += e.Contrasts
	}
	return say.Say("archive count", "trials", say.Count("trial", len(entries)), "contrasts", say.Count("contrast", contrasts))
}

// mostTried links to the factors of the most trials, by name.
func (p *planner) mostTried(root string) []page.Link {
	most := slices.Clone(p.factors)
	slices.SortStableFunc(most, func(a, b factorPage) int { return b.tried - a.tried })
	var links []page.Link
	for _, f := range most[:min(len(most), mostFactors)] {
		links = append(links, page.Link{Text: f.name, Href: p.factorAddress(root, f.key)})
	}
	slices.SortStableFunc(links, func(a, b page.Link) int {
		return strings.Compare(strings.ToLower(a.Text), strings.ToLower(b.Text))
	})
	return links
}

// searchData is the words of every trial by its slug.
func searchData(entries []archiveEntry) ([]byte, error) {
	all := make(map[string]string, len(entries))
	for _, e := range entries {
		all[e.Slug] = e.Words
	}
	return json.Marshal(all) // keys come sorted
}
