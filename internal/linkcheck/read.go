package linkcheck

import (
	"bytes"
	"path"
	"strings"

	"golang.org/x/net/html"
)

// file is what a finished file says of addresses.
type file struct {
	ids   map[string]bool // nil where fragments are not ids
	links []link          // each once, in the order of the file
}

// link is an address as it is written.
type link struct {
	address string
	authors bool // what a page links to, in the author's words
	base    bool // of a base element
}

// reader collects the addresses of a file.
type reader struct {
	file
	feed bool // XML: all addresses were made by the program
	html bool // of a feed: what stands in this element is HTML, not text (RFC 4287, 3.1.1)
	seen map[link]bool
}

func read(name string, data []byte) *file {
	r := &reader{seen: map[link]bool{}}
	switch path.Ext(name) {
	case ".html", ".svg":
		r.ids = map[string]bool{}
		r.markup(data, false)
	case ".xml":
		r.feed = true
		r.markup(data, false)
	case ".css":
		r.css(string(data))
	}
	f := r.file // alone: what it was collected with is not kept
	return &f
}

func (r *reader) add(l link) {
	if !r.seen[l] {
		r.seen[l] = true
		r.links = append(r.links, l)
	}
}

// markup reads HTML, SVG and feeds, tag by tag. What stands as text in a noscript element,
// or in a feed where it says so, is markup once more; that is done once and no deeper.
func (r *reader) markup(data []byte, inner bool) {
	z := html.NewTokenizer(bytes.NewReader(data))
	inside := ""
	for {
		switch z.Next() {
		case html.ErrorToken:
			return
		case html.StartTagToken, html.SelfClosingTagToken:
			name, more := z.TagName()
			inside, r.html = string(name), false
			for more {
				var key, value []byte
				key, value, more = z.TagAttr()
				r.attribute(inside, string(key), string(value))
			}
		case html.EndTagToken:
			inside = ""
		case html.TextToken:
			r.text(inside, z, inner)
		}
	}
}

func (r *reader) text(inside string, z *html.Tokenizer, inner bool) {
	switch {
	case inside == "style":
		r.css(string(z.Raw()))
	case inside == "noscript" && !inner:
		r.markup(bytes.Clone(z.Raw()), true)
	case !r.feed || inner:
	case r.html:
		r.markup(bytes.Clone(z.Text()), true)
	case inside == "loc" || inside == "id" || inside == "icon" || inside == "logo" || strings.HasSuffix(inside, ":loc"):
		r.add(link{address: string(z.Text())})
	}
}

// attribute takes what an attribute says. The value is decoded: &amp; is &.
func (r *reader) attribute(element, key, value string) {
	switch key {
	case "id":
		if r.ids != nil {
			r.ids[value] = true
		}
	case "name":
		if r.ids != nil && element == "a" {
			r.ids[value] = true
		}
	case "type":
		r.html = value == "html"
	case "href":
		r.add(link{address: value, authors: !r.feed && (element == "a" || element == "area"), base: element == "base"})
	case "src", "poster", "action", "formaction", "xlink:href", "data-worker", "data-words":
		r.add(link{address: value})
	case "data":
		if element == "object" {
			r.add(link{address: value})
		}
	case "content": // what a page says of itself to those who show a card of it
		if element == "meta" && (strings.HasPrefix(value, "https://") || strings.HasPrefix(value, "http://")) {
			r.add(link{address: value})
		}
	case "srcset", "imagesrcset":
		r.srcset(value)
	case "style", "fill", "stroke", "filter", "mask", "clip-path", "marker-start", "marker-mid", "marker-end":
		r.css(value)
	}
}

// srcset takes the addresses of a choice of pictures (HTML Living Standard, "Parsing a
// srcset attribute"; sizes hold no comma here).
func (r *reader) srcset(choices string) {
	const space = " \t\n\f\r"
	for {
		choices = strings.TrimLeft(choices, space+",")
		if choices == "" {
			return
		}
		end := strings.IndexAny(choices, space)
		if end < 0 {
			end = len(choices)
		}
		address := choices[:end]
		choices = choices[end:]
		bare := strings.TrimRight(address, ",")
		r.add(link{address: bare})
		if bare == address {
			_, choices, _ = strings.Cut(choices, ",")
		}
	}
}
