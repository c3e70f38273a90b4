package feed

import (
	"encoding/xml"
	"fmt"
	"net/url"
	"slices"
)

// What one file of a sitemap may hold at most (sitemaps.org, protocol 0.9). The protocol
// allows 50,000 addresses and 50 MiB. 5,000 are under that however long they are: escaping
// makes five bytes of one at the most, and the tags around an address are fewer than 100.
const (
	mostPages = 5000
	mostParts = 50_000
	longest   = 2048 // an address, in bytes; the protocol says less than that
)

// SitemapFile is the name under which a sitemap, or the list of its parts, stands
// at the root of the site.
const SitemapFile = "sitemap.xml"

// Page is one address of the site.
type Page struct {
	Address  string // whole
	Modified string // a day; may be empty
}

// File is a file to be written at the root of the site.
type File struct {
	Name string
	Data []byte
}

type urlset struct {
	XMLName xml.Name  `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 urlset"`
	Pages   []mapPage `xml:"url"`
}

type sitemapindex struct {
	XMLName xml.Name  `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 sitemapindex"`
	Parts   []mapPage `xml:"sitemap"`
}

type mapPage struct {
	Address  string `xml:"loc"`
	Modified string `xml:"lastmod,omitempty"`
}

// SitemapNames are the names of the files that Sitemap returns for so many pages.
func SitemapNames(pages int) []string {
	names := []string{SitemapFile}
	if pages > mostPages {
		for n := range (pages + mostPages - 1) / mostPages {
			names = append(names, fmt.Sprintf("sitemap-%d.xml", n+1))
		}
	}
	return names
}

// Sitemap returns the files of a sitemap: one, or, for more than 5,000 pages, its parts and
// before them the list that names them. Site is the site's own address, with a slash at the
// end; every page must lie below it.
func Sitemap(site string, pages []Page) ([]File, error) {
	if len(pages) == 0 {
		return nil, fmt.Errorf("sitemap: no pages")
	}
	if err := check(site, pages); err != nil {
		return nil, err
	}
	names := SitemapNames(len(pages))
	if len(names) == 1 {
		data, err := document(urlset{Pages: mapped(pages)})
		return []File{{Name: SitemapFile, Data: data}}, err
	}
	if len(names) > mostParts {
		return nil, fmt.Errorf("sitemap: %d parts are more than a list of parts may hold", len(names)-1)
	}
	var index sitemapindex
	files := make([]File, 1, len(names))
	for part := range slices.Chunk(mapped(pages), mostPages) {
		name := names[len(files)]
		data, err := document(urlset{Pages: part})
		if err != nil {
			return nil, err
		}
		files = append(files, File{Name: name, Data: data})
		listed := mapPage{Address: site + name}
		for _, page := range part {
			listed.Modified = max(listed.Modified, page.Modified)
		}
		index.Parts = append(index.Parts, listed)
	}
	data, err := document(index)
	files[0] = File{Name: SitemapFile, Data: data}
	return files, err
}

// mapped are pages as the file has them.
func mapped(pages []Page) []mapPage {
	all := make([]mapPage, len(pages))
	for i, p := range pages {
		all[i] = mapPage(p)
	}
	return all
}

// check fails where a page cannot stand in the sitemap of a site, or stands there twice.
func check(site string, pages []Page) error {
	seen := make(map[string]bool, len(pages))
	for _, p := range pages {
		if err := p.check(site); err != nil {
			return err
		}
		if seen[p.Address] {
			return fmt.Errorf("sitemap: %s stands twice", p.Address)
		}
		seen[p.Address] = true
	}
	return nil
}

func (p Page) check(site string) error {
	if err := whole(p.Address); err != nil {
		return err
	}
	switch {
	case len(p.Address) >= longest:
		return fmt.Errorf("sitemap: an address of %d bytes", len(p.Address))
	case len(p.Address) < len(site) || p.Address[:len(site)] != site:
		return fmt.Errorf("sitemap: %s is not below %s", p.Address, site)
	case p.Modified != "" && !isDay(p.Modified):
		return fmt.Errorf("sitemap: %q is no day", p.Modified)
	}
	for i := range len(p.Address) {
		if p.Address[i] >= 0x80 {
			return fmt.Errorf("sitemap: %s is not written in ASCII (escape it as RFC 3986 has it)", p.Address)
		}
	}
	return nil
}

// Robots returns robots.txt: everybody may read everything. Sitemap is the whole
// address of the sitemap, or empty where the site does not know its address; the
// line is left out then, for it cannot be relative.
//
// Robots ask for the file at the root of a host alone: that of a site in a folder
// of its host takes effect only if it is copied there.
func Robots(sitemap string) ([]byte, error) {
	text := "User-agent: *\nAllow: /\n"
	if sitemap == "" {
		return []byte(text), nil
	}
	if err := whole(sitemap); err != nil {
		return nil, err
	}
	u, err := url.Parse(sitemap)
	if err != nil {
		return nil, err
	}
	return []byte(text + "\nSitemap: " + u.String() + "\n"), nil
}
