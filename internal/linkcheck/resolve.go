package linkcheck

import (
	"net/url"
	"path"
	"strings"
)

// place is a place on the site.
type place struct {
	name     string // the file, below the site folder
	fragment string // "" for the whole file
	written  string // the fragment as written, with its percent signs
}

// leads is how an address leads.
type leads int

const (
	here       leads = iota // to a place on the site
	elsewhere               // to another host, or to nothing that is a file
	outside                 // above the site's root
	unreadable              // it is no address
)

// resolve says where a link of a file leads, as a browser would (RFC 3986, 5.2, with an
// index.html in every folder). A browser stops at the root of the host; here an address that
// goes above the site's own root is told, because it fails where the site lies in a folder.
func (c *Checker) resolve(from string, l link) (place, leads) {
	address := strings.Trim(l.address, " \t\n\f\r")
	u, err := url.Parse(address)
	if err != nil {
		if hasScheme(address) {
			return place{}, elsewhere
		}
		return place{}, unreadable
	}
	at := place{name: from, written: u.EscapedFragment()}
	at.fragment, _, _ = strings.Cut(u.Fragment, ":~:") // text to be marked is no id
	switch absolute := u.Scheme != "" || u.Host != ""; {
	case absolute && (l.authors || !c.onHost(u)):
		return place{}, elsewhere
	case absolute || strings.HasPrefix(u.Path, "/"):
		below, ok := c.belowRoot(u.Path)
		if !ok {
			return place{}, elsewhere // another part of the same host
		}
		at.name = below
	case u.Path != "":
		at.name = joined(path.Dir(from), u.Path)
	}
	if at.name == ".." || strings.HasPrefix(at.name, "../") {
		return at, outside
	}
	if at.name == "" || strings.HasSuffix(at.name, "/") {
		at.name += "index.html"
	}
	return at, here
}

func hasScheme(address string) bool {
	scheme, _, found := strings.Cut(address, ":")
	return found && scheme != "" && !strings.ContainsAny(scheme, "/?#")
}

// onHost tells whether an absolute address lies on the host of the site.
func (c *Checker) onHost(u *url.URL) bool {
	web := u.Scheme == "" || u.Scheme == "https" || u.Scheme == "http"
	return c.home != nil && web && strings.EqualFold(u.Host, c.home.Host)
}

// belowRoot takes the path of the site's root off a path from the root of the host.
func (c *Checker) belowRoot(p string) (string, bool) {
	root := "/"
	if c.home != nil {
		root = c.home.Path
	}
	p = joined("/", p)
	if p+"/" == root {
		return "", true
	}
	return strings.CutPrefix(p, root)
}

// joined joins two paths and keeps the slash that says that a folder is meant; the root of
// the site is "".
func joined(dir, p string) string {
	whole := path.Join(dir, p)
	last := p[strings.LastIndexByte(p, '/')+1:]
	if whole != "/" && (last == "" || last == "." || last == "..") {
		whole += "/"
	}
	if whole == "./" {
		return ""
	}
	return whole
}
