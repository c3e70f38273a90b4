package linkcheck

import (
	"fmt"
	"iter"
	"maps"
	"slices"
)

// memory is what is known of the files that passed before.
type memory struct {
	passed  iter.Seq2[string, []byte] // those that were not read again; nil where there are none
	lapsed  iter.Seq2[string, []byte] // those that are others now, or gone
	foreign []string                  // files of somebody else that links led to
}

// site answers what is asked of the files of the site.
type site struct {
	has    func(name string) bool
	facts  func(name string) []byte
	others func(name string) bool
	read   func(name string) ([]byte, error)
}

// Kind says which facts are of use to this checker.
func (c *Checker) Kind() string {
	if c.home == nil {
		return "links 1"
	}
	return "links 1 " + c.home.String()
}

// Before is told what Broken returned when the files last passed, and the facts that See
// returned then, in the order of names: of the files that are what they were, and of those
// that are others now, which were seen, or are gone.
func (c *Checker) Before(whole []byte, passed, lapsed iter.Seq2[string, []byte]) {
	c.before = memory{passed, lapsed, namesIn(whole)}
}

// readTouched reads the files that passed before and have a link to something that was there
// then and is not now. All other links of such files lead where they led then.
func (c *Checker) readTouched() error {
	if c.before.passed == nil {
		return nil
	}
	l := lost{names: map[uint64]bool{}, pairs: map[pair]bool{}}
	for name, was := range c.before.lapsed {
		if c.site.has(name) {
			l.idsLost(name, was, c.site.facts(name))
		} else {
			l.addName(name)
		}
	}
	for _, name := range c.before.foreign {
		if c.site.others(name) {
			c.foreign[name] = true
		} else {
			l.addName(name)
		}
	}
	if len(l.names)+len(l.pairs) == 0 {
		return nil
	}
	for name, facts := range c.before.passed {
		if !l.touches(facts) {
			continue
		}
		if err := c.readAgain(name); err != nil {
			return err
		}
	}
	return nil
}

// readAgain reads a file whose facts alone are known.
func (c *Checker) readAgain(name string) error {
	data, err := c.site.read(name)
	if err != nil {
		return fmt.Errorf("following the links of the site: %w", err)
	}
	c.files[name] = read(name, data)
	return nil
}

// exists tells whether the site has a file.
func (c *Checker) exists(name string) bool {
	return c.files[name] != nil || c.site.has(name)
}

// lacks tells whether a file has ids, and none by this fragment.
func (c *Checker) lacks(at place) bool {
	if f := c.files[at.name]; f != nil {
		return f.ids != nil && !f.ids[at.fragment] && !f.ids[at.written]
	}
	r := parseFacts(c.site.facts(at.name))
	return r.hasIDs && !has(r.ids, hash(at.fragment)) && !has(r.ids, hash(at.written))
}

// allNames returns the paths of all files, sorted.
func (c *Checker) allNames() []string {
	all := slices.AppendSeq(slices.Clone(c.many), maps.Keys(c.files))
	if c.before.passed != nil {
		for name := range c.before.passed {
			all = append(all, name)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}
