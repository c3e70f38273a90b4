// Package feed writes what programs that follow a site read: an Atom feed
// (RFC 4287), a sitemap (sitemaps.org, protocol 0.9) and robots.txt (RFC 9309).
//
// It is handed ready words and whole addresses, and makes up neither: what a
// standard asks for and nobody gave is an error, never a default. There is no
// clock in it; every date is the caller's, so that the same site gives the same
// bytes. A character that XML cannot carry becomes U+FFFD.
package feed

import (
	"encoding/xml"
	"fmt"
	"net/url"
	"regexp"
	"strings"
	"time"
)

// Feed is a site's news.
type Feed struct {
	Address  string // the feed's own, whole; it is the feed's lasting id as well
	Site     string // the page that the feed is of, whole
	Title    string
	Subtitle string // may be empty
	Language string // BCP 47; may be empty, and what is not of that shape is left out
	Rights   string // may be empty
	Author   string // of entries that name none
	Entries  []Entry
}

// Entry is one page of the site.
type Entry struct {
	Address   string // of the page, whole; it is the entry's lasting id as well
	Title     string
	Published string   // a day, as "2026-02-20"
	Updated   string   // a day; empty: the day of publication
	Authors   []string // empty: the feed's
	Keywords  []string
	Summary   string // plain words; may be empty
	Content   string // HTML, its addresses whole; may be empty
}

// The elements of RFC 4287, in the order in which they are written.
type atomFeed struct {
	XMLName  xml.Name    `xml:"http://www.w3.org/2005/Atom feed"`
	Language string      `xml:"xml:lang,attr,omitempty"`
	Title    string      `xml:"title"`
	Subtitle string      `xml:"subtitle,omitempty"`
	ID       string      `xml:"id"`
	Updated  string      `xml:"updated"`
	Links    []atomLink  `xml:"link"`
	Author   *atomPerson `xml:"author"`
	Rights   string      `xml:"rights,omitempty"`
	Entries  []atomEntry `xml:"entry"`
}

type atomEntry struct {
	Title      string         `xml:"title"`
	ID         string         `xml:"id"`
	Link       atomLink       `xml:"link"`
	Published  string         `xml:"published"`
	Updated    string         `xml:"updated"`
	Authors    []atomPerson   `xml:"author"`
	Categories []atomCategory `xml:"category"`
	Summary    string         `xml:"summary,omitempty"`
	Content    *atomText      `xml:"content"`
}

type atomLink struct {
	Rel     string `xml:"rel,attr,omitempty"`
	Type    string `xml:"type,attr,omitempty"`
	Address string `xml:"href,attr"`
}

type atomPerson struct {
	Name string `xml:"name"`
}

type atomCategory struct {
	Term string `xml:"term,attr"`
}

type atomText struct {
	Type string `xml:"type,attr"`
	Text string `xml:",chardata"`
}

// Atom returns the feed as a document of RFC 4287. It is as new as its newest
// entry (section 4.2.15 asks for a date, and there is no clock), so a feed without
// entries is an error. Days are written as the beginning of that day in UTC.
func Atom(f Feed) ([]byte, error) {
	if len(f.Entries) == 0 {
		return nil, fmt.Errorf("feed: no entries, and so no date")
	}
	if err := f.check(); err != nil {
		return nil, err
	}
	out := atomFeed{
		Title:    f.Title,
		Subtitle: f.Subtitle,
		ID:       f.Address,
		Links: []atomLink{
			{Rel: "self", Type: "application/atom+xml", Address: f.Address},
			{Rel: "alternate", Type: "text/html", Address: f.Site},
		},
		Rights: f.Rights,
	}
	if languagePattern.MatchString(f.Language) {
		out.Language = f.Language
	}
	if f.Author != "" {
		out.Author = &atomPerson{Name: f.Author}
	}
	seen := map[string]bool{}
	for _, e := range f.Entries {
		if err := e.check(); err != nil {
			return nil, err
		}
		if len(e.Authors) == 0 && f.Author == "" {
			return nil, fmt.Errorf("feed: entry %q has no author, and the feed has none", e.Title)
		}
		if seen[e.Address] {
			return nil, fmt.Errorf("feed: two entries at %s", e.Address)
		}
		seen[e.Address] = true
		entry := e.atom()
		// Days at midnight in UTC are in the order of their text.
		out.Updated = max(out.Updated, entry.Updated)
		out.Entries = append(out.Entries, entry)
	}
	return document(out)
}

func (f Feed) check() error {
	if strings.TrimSpace(f.Title) == "" {
		return fmt.Errorf("feed: no title")
	}
	for _, address := range []string{f.Address, f.Site} {
		if err := whole(address); err != nil {
			return err
		}
	}
	return nil
}

func (e Entry) check() error {
	if strings.TrimSpace(e.Title) == "" {
		return fmt.Errorf("feed: the entry at %s has no title", e.Address)
	}
	if err := whole(e.Address); err != nil {
		return err
	}
	if !isDay(e.Published) {
		return fmt.Errorf("feed: %q is no day of publication", e.Published)
	}
	if e.Updated != "" && (!isDay(e.Updated) || e.Updated < e.Published) {
		return fmt.Errorf("feed: %q is no day after publication on %s", e.Updated, e.Published)
	}
	for _, name := range e.Authors {
		if strings.TrimSpace(name) == "" {
			return fmt.Errorf("feed: entry %q has an author without a name", e.Title)
		}
	}
	return nil
}

func (e Entry) atom() atomEntry {
	entry := atomEntry{
		Title:     e.Title,
		ID:        e.Address,
		Link:      atomLink{Rel: "alternate", Type: "text/html", Address: e.Address},
		Published: midnight(e.Published),
		Updated:   midnight(e.Published),
		Summary:   e.Summary,
	}
	if e.Updated != "" {
		entry.Updated = midnight(e.Updated)
	}
	for _, name := range e.Authors {
		entry.Authors = append(entry.Authors, atomPerson{Name: name})
	}
	for _, word := range e.Keywords {
		entry.Categories = append(entry.Categories, atomCategory{Term: word})
	}
	if e.Content != "" {
		entry.Content = &atomText{Type: "html", Text: e.Content}
	}
	return entry
}

// languagePattern is the shape that the schema of RFC 4287 gives a language tag.
var languagePattern = regexp.MustCompile(`^[A-Za-z]{1,8}(-[A-Za-z0-9]{1,8})*$`)

// document writes a value as an XML file.
func document(value any) ([]byte, error) {
	body, err := xml.MarshalIndent(value, "", "  ")
	if err != nil {
		return nil, err
	}
	return append(append([]byte(xml.Header), body...), '\n'), nil
}

// whole refuses an address that is not one by itself.
func whole(address string) error {
	u, err := url.Parse(address)
	if err != nil || (u.Scheme != "https" && u.Scheme != "http") || u.Host == "" || strings.ContainsAny(address, " \t\r\n<>\"") {
		return fmt.Errorf("feed: %q is not a whole web address", address)
	}
	return nil
}

// isDay reports whether a text is a day of the calendar, as ISO 8601 has it.
func isDay(text string) bool {
	_, err := time.Parse(time.DateOnly, text)
	return err == nil
}

// midnight writes the beginning of a day in UTC as RFC 3339 has it.
func midnight(day string) string { return day + "T00:00:00Z" }
