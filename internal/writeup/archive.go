package writeup

import (
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
)

// Card is a trial in short, without its address.
func Card(f *findings.Findings) page.Card {
	t := f.Trial
	a := answer(f)
	c := page.Card{
		Title:    t.Title,
		Question: t.Question,
		Answer:   Short(f),
		Prefer:   a.Prefer,
		By:       people(t),
		Date:     Day(t.Kitchen.Words, t.Published),
		Factors:  Varied(f),
		Evidence: Evidence(f),
	}
	for i := range f.Samples {
		c.Samples = append(c.Samples, Ref(&f.Samples[i]))
	}
	return c
}

// Short is the answer in a sentence: the people's own words, or what was seen.
func Short(f *findings.Findings) string {
	a := answer(f)
	if a.Words != "" {
		return a.Words
	}
	return a.Finding
}

// Row is a trial as a line of the archive, without its address. The addresses of
// factors are their keys, which the site completes.
func Row(f *findings.Findings) page.ArchiveRow {
	row := page.ArchiveRow{
		Title:    f.Trial.Title,
		Question: f.Trial.Question,
		Answer:   Short(f),
		Evidence: Evidence(f),
		Date:     Day(f.Trial.Kitchen.Words, f.Trial.Published),
	}
	for _, factor := range factors(f, planned) {
		row.Varied = append(row.Varied, page.Link{Text: factor.Name, Href: findings.FactorKey(factor)})
	}
	return row
}
