package site

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
)

// searchFile holds the words of every note, for the archive's search.
const searchFile = "search.json"

// mostFactors is how many factors the archive links to by itself, those of the most
// trials; the rest stand in the list of all factors.
const mostFactors = 24

// addArchive adds the files of the archive: one page, or where there are many trials a
// page of the newest with further pages by year and month. The days on which the trials
// came out say how it is divided.
func (p *planner) addArchive() {
	var days []trial.Date
	for _, c := range p.Trials {
		days = append(days, c.Published)
	}
	a := divided(days, p.look.archive)
	p.addFrom(archivePage+"index.html", p.fromArchive(a), func() ([]byte, error) { return p.archive(a) })
	if len(a.parts) == 0 {
		p.addSearch(a)
	}
	for _, year := range a.parts {
		p.addArchivePart(a, year)
		for _, month := range year.parts {
			p.addArchivePart(a, month)
		}
	}
}

// addSearch adds the words of those notes that a page of the archive lists in full.
func (p *planner) addSearch(a archivePart) {
	cards := p.Trials[a.from:a.to]
	p.addFrom(a.at+searchFile, p.fromParts("search", wordsPart, cards), func() ([]byte, error) {
		all := make(map[string]string, len(cards))
		for _, c := range cards {
			words, err := p.words(c)
			if err != nil {
				return nil, err
			}
			all[c.Slug] = words
		}
		return json.Marshal(all) // keys come sorted
	})
}

// archiveRows are the trials that a page with that root shows, newest first.
func (p *planner) archiveRows(a archivePart, root string) ([]page.ArchiveRow, error) {
	rows := make([]page.ArchiveRow, a.shown())
	errs := make([]error, len(rows))
	each(len(rows), func(i int) {
		e, err := p.archiveEntry(p.Trials[a.from+i])
		rows[i], errs[i] = p.archiveRow(e, root), err
	})
	return rows, errors.Join(errs...)
}

// archive lists every trial, or the newest where the archive is divided. It is a plain
// list with everything that the filters go by in it, and whole without a script. Only the
// words of the notes stand apart, in a file that the script fetches when somebody is about
// to search: they would make the page several times as large for everybody. The choices of
// the filters are those of all trials.
func (p *planner) archive(a archivePart) ([]byte, error) {
	say, cards := p.phrases(), p.Trials[a.from:a.to]
	v := page.Archive{
		Frame:   p.frame(archivePage, say.Say("archive"), say.Say("archive about", "kitchen", p.Kitchen.Name)),
		Script:  p.script,
		Filters: &page.Filters{Words: searchFile, Trials: len(cards), Divided: len(a.parts) > 0},
		Years:   p.partLinks(a),
	}
	root := v.Frame.Root
	var err error
	if v.Rows, err = p.archiveRows(a, root); err != nil {
		return nil, err
	}
	if len(v.Rows) < len(cards) {
		v.Newest = len(v.Rows)
	}
	v.Count = p.archiveCount(cards)
	p.choose(v.Filters, cards)
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
		Facets:   p.facets(e),
	}
	for _, factor := range e.Varied {
		row.Varied = append(row.Varied, page.Link{Text: factor.Name, Href: p.factorAddress(root, factor.Key)})
	}
	return row
}

// archiveCount says how much there is: "12 trials, 31 contrasts".
func (p *planner) archiveCount(cards []*Card) string {
	say := p.phrases()
	contrasts := 0
	for _, c := range cards {
		contrasts += c.Contrasts
	}
	return say.Say("archive count", "trials", say.Count("trial", len(cards)), "contrasts", say.Count("contrast", contrasts))
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
