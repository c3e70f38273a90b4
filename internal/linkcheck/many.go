package linkcheck

import (
	"maps"
	"slices"
)

// shown returns the facts of a file that was shown in this run.
func (c *Checker) shown(name string) (facts []byte, ok bool) {
	if facts, ok = c.many[name]; ok {
		return facts, true
	}
	if f := c.files[name]; f != nil {
		return c.factsOf(name, f), true
	}
	return nil, false
}

// isOdd tells whether a file has a link of which its facts say nothing, and which may be
// wrong: one that leads to no other file and to no other host.
func (c *Checker) isOdd(from string, f *file) bool {
	return slices.ContainsFunc(f.links, func(l link) bool {
		at, how := c.resolve(from, l)
		lost := how == here && at.name == from && at.fragment != "" && !f.ids[at.fragment] && !f.ids[at.written]
		return l.base || how == outside || how == unreadable || lost
	})
}

// readDoubtful reads those of the many files again that have a link to what is not there, by
// their facts and by those of the files that they lead to.
func (c *Checker) readDoubtful() error {
	if len(c.many) == 0 {
		return nil
	}
	all := c.allNames()
	there := make(map[uint64]recalled, len(all))
	for _, name := range all {
		facts, ok := c.shown(name)
		r := parseFacts(facts)
		if !ok {
			r, _ = c.before.of(name)
		}
		there[hash(name)] = r
	}
	for _, name := range slices.Sorted(maps.Keys(c.many)) {
		if !isSound(parseFacts(c.many[name]), there) {
			if err := c.readAgain(name); err != nil {
				return err
			}
		}
	}
	return nil
}

// isSound tells whether every link of a file leads to a file that is there, and every
// fragment to an id of it, however it is written.
func isSound(r recalled, there map[uint64]recalled) bool {
	for at := 0; at+hashSize <= len(r.names); at += hashSize {
		if _, ok := there[hashAt(r.names[at:])]; !ok {
			return false
		}
	}
	for at := 0; at+2*hashSize <= len(r.pairs); at += 2 * hashSize {
		to, ok := there[hashAt(r.pairs[at:])]
		if !ok || to.hasIDs && !has(to.ids, hashAt(r.pairs[at+hashSize:])) {
			return false
		}
	}
	return true
}
