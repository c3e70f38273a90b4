package site

import (
	"fmt"
	"html"
	"iter"
	"slices"
	"strings"
	"sync"

	"sidebatch.example/sidebatch/internal/feed"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/results"
	"sidebatch.example/sidebatch/internal/wording"
	"sidebatch.example/sidebatch/internal/writeup"
)

// Files at the root of the site that programs look for.
const (
	feedFile      = "feed.xml"
	robotsFile    = "robots.txt"
	schemasFolder = "schemas/"
)

// newestInFeed is how many trials the feed tells of.
const newestInFeed = 30

// hasFeed reports whether there is a feed: its entries need a whole address, and a
// feed without entries has no date.
func (p *binding) hasFeed() bool { return p.Kitchen.Address != "" && p.anyTrial }

// standards adds what programs read: schemas, feed, sitemap, robots.txt. It comes
// last, for the sitemap lists the pages that are there by then.
func (p *planner) standards() {
	p.addFrom(schemasFolder+"results.json", p.from("schemas"), func() ([]byte, error) {
		return results.ResultsSchema(p.canonical(schemasFolder + "results.json"))
	})
	p.addFrom(schemasFolder+"note.json", p.from("schemas"), func() ([]byte, error) {
		return results.NoteSchema(p.canonical(schemasFolder + "note.json"))
	})
	if p.hasFeed() {
		p.addFrom(feedFile, p.fromFeed(), p.feed)
	}
	sitemap := ""
	if p.Kitchen.Address != "" {
		p.sitemap()
		sitemap = p.canonical(feed.SitemapFile)
	}
	p.addFrom(robotsFile, p.from("robots", sitemap), func() ([]byte, error) { return feed.Robots(sitemap) })
}

// sitemap adds the list of all pages, in parts where there are too many.
func (p *planner) sitemap() {
	of := p.outputs[:len(p.outputs):len(p.outputs)] // those of now
	pages := 0
	d := newDigesting()
	for _, c := range p.Trials {
		paths := p.ownPathsText(c)
		pages += pagesIn(paths)
		d.add(c.Slug, c.Published.String(), paths)
	}
	for _, o := range of {
		if isListed(o.Path) {
			pages++
			d.add(o.Path, p.modified(o.Path))
		}
	}
	from := p.from("sitemap", d.digest().text())
	files := sync.OnceValues(func() ([]feed.File, error) { return feed.Sitemap(p.Kitchen.Address, p.sitemapPages(of)) })
	for i, name := range feed.SitemapNames(pages) {
		p.addFrom(name, from, func() ([]byte, error) {
			all, err := files()
			if err != nil {
				return nil, err
			}
			return all[i].Data, nil
		})
	}
}

// isListed holds for the pages that a sitemap lists.
func isListed(path string) bool {
	return strings.HasSuffix(path, ".html") && path != notFoundPage
}

// pagesIn counts the pages in the paths of a trial's files, a line each.
func pagesIn(paths string) int {
	n := strings.Count(paths, ".html\n")
	if strings.HasSuffix(paths, ".html") {
		n++
	}
	return n
}

// listed are the pages that the sitemap has, those of the site and those of published
// trials, each by its folder and its path below that.
func (p *planner) listed(outputs []Output) iter.Seq2[string, string] {
	return func(yield func(folder, name string) bool) {
		for _, o := range outputs {
			if isListed(o.Path) && !yield("", o.Path) {
				return
			}
		}
		for _, c := range p.Trials {
			folder := c.folder()
			for name := range p.ownPaths(c) {
				if isListed(name) && !yield(folder, name) {
					return
				}
			}
		}
	}
}

func (p *planner) sitemapPages(outputs []Output) []feed.Page {
	var pages []feed.Page
	for folder, name := range p.listed(outputs) {
		modified := p.modified(name)
		if folder != "" {
			modified = p.published[strings.TrimSuffix(folder, "/")].Published.String()
		}
		pages = append(pages, feed.Page{Address: p.canonical(folder + name), Modified: modified})
	}
	return pages
}

// ownPaths are those of a trial's files below its folder, in their order.
func (p *planner) ownPaths(c *Card) iter.Seq[string] {
	if c.held == nil {
		return c.files()
	}
	return func(yield func(string) bool) {
		for _, o := range p.ownFiles(c) {
			if !yield(strings.TrimPrefix(o.Path, c.folder())) {
				return
			}
		}
	}
}

// ownPathsText is all of them, a line each.
func (p *planner) ownPathsText(c *Card) string {
	if c.held == nil {
		return c.Files
	}
	return strings.Join(slices.Collect(p.ownPaths(c)), "\n")
}

// modified is the day since when a page of the site has been as it is, as far as notes say:
// that of the newest trial on it for the first page and for those of the archive. Of other
// pages it is not known, and stays empty.
func (p *planner) modified(path string) string {
	if day := p.archived[path]; day != "" {
		return day
	}
	if len(p.Trials) > 0 && (!strings.Contains(path, "/") || path == archivePage+"index.html") {
		return p.Trials[0].Published.String()
	}
	return ""
}

// feed tells of the newest trials, each with all of its answer.
func (p *planner) feed() ([]byte, error) {
	f := feed.Feed{
		Address:  p.canonical(feedFile),
		Site:     p.Kitchen.Address,
		Title:    p.Kitchen.Name,
		Subtitle: p.Kitchen.About,
		Language: p.Kitchen.Language,
		Author:   p.Kitchen.Name,
	}
	for _, c := range p.Trials[:min(len(p.Trials), newestInFeed)] {
		shown, err := p.front(c)
		if err != nil {
			return nil, err
		}
		f.Entries = append(f.Entries, shown.News)
	}
	return feed.Atom(f)
}

// news is a trial as the feed tells of it.
func (p *planner) news(e *Entry) feed.Entry {
	v := writeup.Of(e.Findings)
	return feed.Entry{
		Address:   p.canonical(e.Trial.Slug + "/"),
		Title:     e.Trial.Title,
		Published: e.Trial.Published.String(),
		Authors:   v.By,
		Keywords:  e.Trial.Keywords,
		Summary:   writeup.Short(e.Findings),
		Content:   p.entry(e, v),
	}
}

// entry is a trial in a feed reader, which has no style sheet of ours: question,
// answer, outcomes as a table, cautions, and where the rest stands.
func (p *planner) entry(e *Entry, v page.WriteUp) string {
	var b strings.Builder
	say := p.phrases()
	paragraph := func(text string) {
		if text != "" {
			fmt.Fprintf(&b, "<p>%s</p>", html.EscapeString(text))
		}
	}
	fmt.Fprintf(&b, "<p><strong>%s</strong></p>", html.EscapeString(v.Question))
	if p.Kitchen.Invented {
		paragraph(say.Say("feed invented"))
	}
	paragraph(v.Answer.Words)
	paragraph(v.Answer.Finding)
	if v.Outcomes != nil {
		b.WriteString(outcomesHTML(say, *v.Outcomes))
	}
	paragraph(v.Size)
	for _, c := range v.Cautions {
		paragraph(c.Words)
	}
	at := p.canonical(e.Trial.Slug + "/")
	link := func(address, text string) string {
		return fmt.Sprintf("<a href=\"%s\">%s</a>", html.EscapeString(address), html.EscapeString(text))
	}
	fmt.Fprintf(&b, "<p>%s, %s, %s</p>", link(at, say.Say("feed write-up")),
		link(at+"recipe/", say.Say("feed recipe")), link(at+"data/", say.Say("feed data")))
	return b.String()
}

// outcomesHTML is the outcome table without anything that needs a style.
func outcomesHTML(say wording.Phrases, o page.Outcomes) string {
	var b strings.Builder
	b.WriteString("<table><tr><th></th>")
	for _, s := range o.Samples {
		fmt.Fprintf(&b, "<th scope=\"col\">%s</th>", html.EscapeString(s.Letter+" "+s.Name))
	}
	b.WriteString("</tr>")
	for _, row := range o.Rows {
		fmt.Fprintf(&b, "<tr><th scope=\"row\">%s</th>", html.EscapeString(row.Measure))
		for _, c := range row.Cells {
			text := c.Value
			if text == "" {
				text = "–"
			}
			if c.N != "" {
				text = say.Say("value of n", "value", text, "n", c.N)
			}
			fmt.Fprintf(&b, "<td>%s</td>", html.EscapeString(text))
		}
		b.WriteString("</tr>")
	}
	b.WriteString("</table>")
	return b.String()
}
