package linkcheck

import (
	"cmp"
	"slices"
)

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
	there := c.allFacts()
	slices.Sort(c.many)
	for _, name := range c.many {
		if there.isSound(c.site.facts(name)) {
			continue
		}
		if err := c.readAgain(name); err != nil {
			return err
		}
	}
	return nil
}

// factsByHash are the facts of many files, in the order of the hashes of their paths.
type factsByHash []hashed

type hashed struct {
	name  uint64
	facts []byte
}

func (c *Checker) allFacts() factsByHash {
	names := c.allNames()
	all := make(factsByHash, len(names))
	for i, name := range names {
		all[i] = hashed{hash(name), c.site.facts(name)}
	}
	slices.SortFunc(all, func(a, b hashed) int { return cmp.Compare(a.name, b.name) })
	return all
}

func (all factsByHash) of(name uint64) (recalled, bool) {
	at, found := slices.BinarySearchFunc(all, name, func(h hashed, name uint64) int { return cmp.Compare(h.name, name) })
	if !found {
		return recalled{}, false
	}
	return parseFacts(all[at].facts), true
}

// isSound tells whether every link of a file leads to a file that is there, and every
// fragment to an id of it, however it is written.
func (all factsByHash) isSound(facts []byte) bool {
	r := parseFacts(facts)
	for at := 0; at+hashSize <= len(r.names); at += hashSize {
		if _, ok := all.of(hashAt(r.names[at:])); !ok {
			return false
		}
	}
	for at := 0; at+2*hashSize <= len(r.pairs); at += 2 * hashSize {
		to, ok := all.of(hashAt(r.pairs[at:]))
		if !ok || to.hasIDs && !has(to.ids, hashAt(r.pairs[at+hashSize:])) {
			return false
		}
	}
	return true
}
