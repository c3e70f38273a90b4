// Package linkcheck follows the addresses of a finished site, before it takes the place of
// the old one: every address in its pages, drawings, style sheets, feed and site map that
// lies on the site must lead to a file of it, and every fragment to an id there. Links of
// the notes are checked where they are read, so what is found here comes from a theme, or
// from a mistake in the program.
//
// What it is shown it sums up in a few hundred bytes a file. In a later run files that stay
// need not be shown again: with these it knows which of their links may lead nowhere now, and
// asks to read those files and no others. What it says is what it would say of all of them.
//
// It refuses to ask another host for anything, and to open a file: it knows what it was
// shown. It does not read scripts, JSON or text, whose addresses no browser follows of its
// own accord. An absolute address on the site, where a page links to it (an a or area
// element), is taken as the author's: files that somebody else looks after may lie there.
package linkcheck

import (
	"errors"
	"fmt"
	"maps"
	"net/url"
	"path"
	"slices"
	"strings"
	"sync"

	"sidebatch.example/sidebatch/internal/problem"
)

// most is how many broken addresses are told one by one.
const most = 20

// mostWhole is how many files are kept with all their words. Of the rest of a large site no
// more is kept than facts, and a file is read again where they say that a link may be broken.
const mostWhole = 300

// Checker collects what the files of one site say. It may be shown files from several
// goroutines.
type Checker struct {
	home  *url.URL // nil when the site has no address; else its path ends in a slash
	whole int      // mostWhole, outside tests
	mu    sync.Mutex
	files map[string]*file // read, and followed word by word
	many  []string         // the others that were shown

	before  memory
	site    site
	foreign map[string]bool // files of somebody else that links lead to
}

// New returns the checker of a site. The address is that of its front page, as
// https://kitchen.example/; with "" absolute addresses are left alone.
func New(address string) *Checker {
	c := &Checker{whole: mostWhole, files: map[string]*file{}, foreign: map[string]bool{}}
	if u, err := url.Parse(address); err == nil && u.Host != "" {
		u.Path = strings.TrimSuffix(u.Path, "/") + "/"
		c.home = u
	}
	return c
}

// See reads a finished file, by its path below the site folder, and returns what is to be
// known of it when it is not read again. It keeps nothing of data.
func (c *Checker) See(name string, data []byte) (facts []byte) {
	read := read(name, data)
	facts = c.factsOf(name, read)
	odd := c.isOdd(name, read)
	c.mu.Lock()
	defer c.mu.Unlock()
	if odd || len(c.files) < c.whole {
		c.files[name] = read
	} else {
		c.many = append(c.many, name)
	}
	return facts
}

// Broken returns an error that joins one for each address that leads nowhere, in the order
// of the pages, or nil, and what is to be known of all the next time. It is called when all
// files were seen, but for those that passed before. has tells whether the site has a file, and
// facts returns those of one as See did; others tells whether the site folder holds
// a file of somebody else under a path, which links may lead to; read returns a file of the
// site, whose words are needed where a link of it is broken.
func (c *Checker) Broken(has func(name string) bool, facts func(name string) []byte, others func(name string) bool, read func(name string) ([]byte, error)) (whole []byte, err error) {
	c.site = site{has, facts, others, read}
	if err := errors.Join(c.readTouched(), c.readDoubtful()); err != nil {
		return nil, err
	}
	if err := c.follow(); err != nil {
		return nil, err
	}
	return []byte(strings.Join(slices.Sorted(maps.Keys(c.foreign)), separator)), nil
}

// follow follows every link of the files that were read.
func (c *Checker) follow() error {
	found := map[finding][]string{} // the pages of each
	wrote := map[finding]string{}   // the address, as the first of them has it
	var order []finding
	for _, from := range slices.Sorted(maps.Keys(c.files)) {
		for _, l := range c.files[from].links {
			f := c.followOne(from, l)
			if f == (finding{}) {
				continue
			}
			pages := found[f]
			if pages == nil {
				order, wrote[f] = append(order, f), l.address
			}
			if pages == nil || pages[len(pages)-1] != from {
				found[f] = append(pages, from)
			}
		}
	}
	var errs []error
	for i, f := range order {
		if i == most {
			errs = append(errs, fmt.Errorf("and %d more addresses like these", len(order)-most))
			break
		}
		pages := found[f][0]
		if n := len(found[f]) - 1; n > 0 {
			pages = fmt.Sprintf("%s and %d more", pages, n)
		}
		errs = append(errs, fmt.Errorf("%s: the address %q %s%s", pages, wrote[f], f.what, c.hint(f)))
	}
	return errors.Join(errs...)
}

// finding is what is wrong with an address, the same on every page that has it.
type finding struct {
	what     string // "" for nothing
	target   string // the file it leads to, below the site folder
	fragment string // the missing id; "" where the file is missing
}

// followOne looks where a link leads.
func (c *Checker) followOne(from string, l link) finding {
	if l.base {
		return finding{what: "in a base element moves all others of the page (leave it out: addresses are seen from their page)"}
	}
	at, how := c.resolve(from, l)
	switch how {
	case elsewhere:
		return finding{}
	case unreadable:
		return finding{what: "cannot be read", target: l.address}
	case outside:
		return finding{what: "leads out of the site", target: at.name}
	}
	if !c.exists(at.name) {
		if c.foreign[at.name] || c.site.others(at.name) {
			c.foreign[at.name] = true
			return finding{}
		}
		return finding{what: "leads to nothing on the site", target: at.name}
	}
	if at.fragment == "" || strings.EqualFold(at.fragment, "top") || !c.lacks(at) {
		return finding{}
	}
	if path.Ext(at.name) == ".svg" && strings.ContainsAny(at.fragment, "(=") {
		return finding{} // a part of the drawing by its corners
	}
	return finding{"names a place that " + at.name + " does not have", at.name, at.fragment}
}

// hint says what was probably meant.
func (c *Checker) hint(f finding) string {
	meant := ""
	switch {
	case f.target == "" || f.what == "cannot be read":
	case f.fragment != "":
		if c.files[f.target] == nil && c.readAgain(f.target) != nil {
			break // the address is wrong all the same
		}
		if near := problem.Nearest(f.fragment, slices.Sorted(maps.Keys(c.files[f.target].ids))); near != "" {
			meant = "#" + near
		}
	case c.exists(f.target + "/index.html"):
		meant = f.target + "/"
	default:
		meant = c.nearest(f.target)
	}
	if meant == "" {
		return ""
	}
	return " (did you mean " + meant + "?)"
}

// nearest returns the file whose path is most like one that is not there. Files that are
// named by what is in them stand under a name that nobody guesses: styles-2927a967fb.css is
// what styles.css means.
func (c *Checker) nearest(missing string) string {
	names := c.allNames()
	ext := path.Ext(missing)
	stem := strings.TrimSuffix(missing, ext) + "-"
	short := make([]string, len(names))
	for i, name := range names {
		if ext != "" && strings.HasPrefix(name, stem) && path.Ext(name) == ext {
			return name
		}
		short[i] = strings.TrimSuffix(name, "index.html")
	}
	return problem.Nearest(strings.TrimSuffix(missing, "index.html"), short)
}
