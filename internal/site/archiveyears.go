package site

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// archiveLimits say how long a list of trials may get. Zero is the usual number.
type archiveLimits struct {
	whole  int // trials that stand on one page; with more there are pages by year
	year   int // trials of a year that stand on one page; with more there are pages by month
	newest int // trials on a page whose list is divided
}

func (l archiveLimits) usual() archiveLimits {
	return archiveLimits{whole: cmp.Or(l.whole, 200), year: cmp.Or(l.year, 400), newest: cmp.Or(l.newest, 100)}
}

// archivePart is one page of the archive: the first page, a year, or a month. Its trials
// follow each other in the list of all trials, newest first.
type archivePart struct {
	at          string     // "archive/", "archive/2019/", "archive/2019/03/"
	year, month int        // 0 where it is about more than one
	last        trial.Date // of its newest trial
	from, to    int        // its trials in the list of all: from that one up to before this
	newest      int        // how many of them it shows where it is divided
	parts       []archivePart
}

// trials is how many there are in the part.
func (a archivePart) trials() int { return a.to - a.from }

// shown is how many of its trials the part's own page lists.
func (a archivePart) shown() int {
	if len(a.parts) == 0 {
		return a.trials()
	}
	return min(a.newest, a.trials())
}

// divided divides the archive by the days on which its trials came out, newest first.
func divided(days []trial.Date, limits archiveLimits) archivePart {
	limits = limits.usual()
	whole := archivePart{at: archivePage, to: len(days), newest: limits.newest}
	if len(days) <= limits.whole {
		return whole
	}
	whole.parts = whole.split(days, func(d trial.Date) int { return d.Year })
	for i := range whole.parts {
		year := &whole.parts[i]
		year.year = days[year.from].Year
		year.at = fmt.Sprintf("%s%04d/", whole.at, year.year)
		if year.trials() <= limits.year {
			continue
		}
		year.parts = year.split(days, func(d trial.Date) int { return d.Month })
		for j := range year.parts {
			month := &year.parts[j]
			month.year, month.month = year.year, days[month.from].Month
			month.at = fmt.Sprintf("%s%02d/", year.at, month.month)
		}
	}
	return whole
}

// split cuts a part wherever the number of its days changes.
func (a archivePart) split(days []trial.Date, number func(trial.Date) int) []archivePart {
	var parts []archivePart
	for i := a.from; i < a.to; i++ {
		if i == a.from || number(days[i]) != number(days[i-1]) {
			parts = append(parts, archivePart{from: i, last: days[i], newest: a.newest})
		}
		parts[len(parts)-1].to = i + 1
	}
	return parts
}

// addArchivePart adds the page of a year or month, with the words of its notes unless
// they stand with its own parts.
func (p *planner) addArchivePart(whole, part archivePart) {
	p.archived[part.at+"index.html"] = part.last.String()
	p.addFrom(part.at+"index.html", p.fromArchivePart(whole, part), func() ([]byte, error) { return p.archiveOf(whole, part) })
	if len(part.parts) == 0 {
		p.addSearch(part)
	}
}

// archiveOf lists the trials of a year or month. It depends on these alone, and on which
// pages come before and after it.
func (p *planner) archiveOf(whole, part archivePart) ([]byte, error) {
	say := p.phrases()
	when := part.when(say.Language())
	title := say.Say("archive of", "when", when)
	v := page.Archive{
		Frame:  p.frame(part.at, title, say.Say("archive of about", "kitchen", p.Kitchen.Name, "when", when)),
		Title:  title,
		Count:  p.archiveCount(p.Trials[part.from:part.to]),
		Months: p.partLinks(part),
	}
	root := v.Frame.Root
	v.All = root + archivePage
	v.Frame.Crumbs = []page.Link{{Text: say.Say("archive"), Href: v.All}}
	if part.month > 0 {
		v.Frame.Crumbs = append(v.Frame.Crumbs, page.Link{Text: strconv.Itoa(part.year), Href: "../"})
	}
	var err error
	if v.Rows, err = p.archiveRows(part, root); err != nil {
		return nil, err
	}
	if len(v.Rows) < part.trials() {
		v.Newest = len(v.Rows)
	}
	v.Newer, v.Older = whole.beside(part, root, say.Language())
	return p.look.Pages.Archive(v)
}

// when names the time that a part is about: 2019, or March 2019.
func (a archivePart) when(l *wording.Language) string {
	if a.month > 0 {
		return l.MonthOf(a.year, a.month)
	}
	return strconv.Itoa(a.year)
}

// beside links to the pages before and after one in time. A year that is divided leads to
// other years; the pages that list all their trials lead from one to the next.
func (a archivePart) beside(part archivePart, root string, l *wording.Language) (newer, older page.Link) {
	var row []*archivePart
	for i, year := range a.parts {
		if len(part.parts) > 0 || len(year.parts) == 0 {
			row = append(row, &a.parts[i])
			continue
		}
		for j := range year.parts {
			row = append(row, &year.parts[j])
		}
	}
	for i, at := range row {
		if at.at != part.at {
			continue
		}
		if i > 0 {
			newer = page.Link{Text: row[i-1].when(l), Href: root + row[i-1].at}
		}
		if i+1 < len(row) {
			older = page.Link{Text: row[i+1].when(l), Href: root + row[i+1].at}
		}
	}
	return newer, older
}

// partLinks lists the parts of a page, from that page.
func (p *planner) partLinks(a archivePart) []page.ArchivePart {
	say := p.phrases()
	var links []page.ArchivePart
	for _, part := range a.parts {
		link := page.ArchivePart{
			Page:   page.Link{Text: strconv.Itoa(part.year), Href: strings.TrimPrefix(part.at, a.at)},
			Count:  say.Count("trial", part.trials()),
			Year:   strconv.Itoa(part.year),
			Trials: part.trials(),
		}
		if part.month > 0 {
			link.Page.Text = say.Language().Month(part.month)
		}
		var below []string
		for _, month := range part.parts {
			below = append(below, strings.TrimPrefix(month.at, part.at))
		}
		link.Pages = strings.Join(below, " ")
		links = append(links, link)
	}
	return links
}
