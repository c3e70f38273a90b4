package feed

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"net/url"
)

// What one file of a sitemap may hold at most (sitemaps.org, protocol 0.9). The
// size is kept a little under the 50 MiB allowed, for the frame around the pages.
const (
	mostPages = 50_000
	mostBytes = 50<<20 - 4096
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

// Sitemap returns the files of a sitemap: one, or, for more than 50,000 pages or
// 50 MiB, its parts and before them the list that names them. Site is the site's
// own address, with a slash at the end; every page must lie below it.
func Sitemap(site string, pages []Page) ([]File, error) {
	return sitemap(site, pages, mostPages)
}

func sitemap(site string, pages []Page, most int) ([]File, error) {
	if len(pages) == 0 {
		return nil, fmt.Errorf("sitemap: no pages")
	}
	parts, err := split(site, pages, most)
	if err != nil {
		return nil, err
	}
	if len(parts) == 1 {
		data, err := document(urlset{Pages: parts[0]})
		return []File{{Name: SitemapFile, Data: data}}, err
	}
	if len(parts) > mostPages {
		return nil, fmt.Errorf("sitemap: %d parts are more than a list of parts may hold", len(parts))
	}
	var index sitemapindex
	var files []File
	for n, part := range parts {
		name := fmt.Sprintf("sitemap-%d.xml", n+1)
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
	return append([]File{{Name: SitemapFile, Data: data}}, files...), err
}

// split checks the pages and parts them so that no part is too long or too large.
func split(site string, pages []Page, most int) ([][]mapPage, error) {
	var parts [][]mapPage
	var part []mapPage
	size := 0
	seen := make(map[string]bool, len(pages))
	for _, p := range pages {
		if err := p.check(site); err != nil {
			return nil, err
		}
		if seen[p.Address] {
			return nil, fmt.Errorf("sitemap: %s stands twice", p.Address)
		}
		seen[p.Address] = true
		one := mapPage(p)
		cost, err := costOf(one)
		if err != nil {
			return nil, err
		}
		if len(part) == most || (len(part) > 0 && size+cost > mostBytes) {
			parts, part, size = append(parts, part), nil, 0
		}
		part, size = append(part, one), size+cost
	}
	return append(parts, part), nil
}

// costOf is how many bytes a page takes in the file, or a few more.
func costOf(p mapPage) (int, error) {
	var escaped bytes.Buffer
	if err := xml.EscapeText(&escaped, []byte(p.Address)); err != nil {
		return 0, err
	}
	const tags = 80 // with their indentation
	return escaped.Len() + len(p.Modified) + tags, nil
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
