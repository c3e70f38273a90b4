package linkcheck

import (
	"fmt"
	"maps"
	"slices"
)

// memory is what is known of the files that passed before and were not read again.
type memory struct {
	names   []string // sorted
	facts   [][]byte // of each
	lapsed  []lapse
	foreign []string // files of somebody else that links led to
	read    func(name string) ([]byte, error)
}

type lapse struct {
	name  string
	facts []byte
}

// Kind says which facts are of use to this checker.
func (c *Checker) Kind() string {
	if c.home == nil {
		return "links 1"
	}
	return "links 1 " + c.home.String()
}

// Before is told what Broken returned when the files last passed, and how many there were.
func (c *Checker) Before(whole []byte, files int) {
	c.before.foreign = namesIn(whole)
	c.before.names, c.before.facts = make([]string, 0, files), make([][]byte, 0, files)
}

// Recall is told of a file that is what it was when the files last passed, with the facts
// that See returned of it. It is called in the order of names.
func (c *Checker) Recall(name string, facts []byte) {
	c.before.names = append(c.before.names, name)
	c.before.facts = append(c.before.facts, facts)
}

// Lapse is told of a file that passed then and is another now, which was seen, or is gone.
func (c *Checker) Lapse(name string, facts []byte) {
	c.before.lapsed = append(c.before.lapsed, lapse{name, facts})
}

// of returns the facts of a recalled file.
func (m *memory) of(name string) (recalled, bool) {
	at, found := slices.BinarySearch(m.names, name)
	if !found {
		return recalled{}, false
	}
	return parseFacts(m.facts[at]), true
}

// readTouched reads the recalled files that have a link to something that was there when
// they passed and is not now. All other links of recalled files lead where they led then.
func (c *Checker) readTouched(others func(string) bool) error {
	l := lost{names: map[uint64]bool{}, pairs: map[pair]bool{}}
	for _, was := range c.before.lapsed {
		if now, shown := c.shown(was.name); shown {
			l.idsLost(was.name, was.facts, now)
		} else {
			l.addName(was.name)
		}
	}
	for _, name := range c.before.foreign {
		if others(name) {
			c.foreign[name] = true
		} else {
			l.addName(name)
		}
	}
	if len(l.names)+len(l.pairs) == 0 {
		return nil
	}
	for i, name := range c.before.names {
		if !l.touches(c.before.facts[i]) {
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
	data, err := c.before.read(name)
	if err != nil {
		return fmt.Errorf("following the links of the site: %w", err)
	}
	c.files[name] = read(name, data)
	return nil
}

// exists tells whether the site has a file, shown or recalled.
func (c *Checker) exists(name string) bool {
	if c.files[name] != nil || c.many[name] != nil {
		return true
	}
	_, found := slices.BinarySearch(c.before.names, name)
	return found
}

// lacks tells whether a file has ids, and none by this fragment.
func (c *Checker) lacks(at place) bool {
	if f := c.files[at.name]; f != nil {
		return f.ids != nil && !f.ids[at.fragment] && !f.ids[at.written]
	}
	r := parseFacts(c.many[at.name])
	if c.many[at.name] == nil {
		r, _ = c.before.of(at.name)
	}
	return r.hasIDs && !has(r.ids, hash(at.fragment)) && !has(r.ids, hash(at.written))
}

// allNames returns the paths of all files, sorted.
func (c *Checker) allNames() []string {
	all := slices.Clone(c.before.names)
	all = slices.AppendSeq(slices.AppendSeq(all, maps.Keys(c.files)), maps.Keys(c.many))
	slices.Sort(all)
	return slices.Compact(all)
}
