package press

import "strings"

// facts are what an inspector gave of the files in one list, when they passed. They are as
// good for a later list with the same paths, as long as no file has others.
//
// In the cache, all numbers little-endian: the head; the kind, with its length in 4
// bytes before it; the checksum of the list; the facts of the whole, like the kind; for
// each file of the list where its facts end, in 4 bytes; and those, one after the other.
type facts struct {
	whole string
	paths // the facts of each file, in the place of its path
}

const (
	factsName = "links"
	factsHead = "sidebatch facts 1\n"
)

// parseFacts returns no facts where the text holds none of that kind and that list.
func parseFacts(text, kind string, of digest, files int) facts {
	rest, found := strings.CutPrefix(text, string(appendSized([]byte(factsHead), kind)))
	rest, same := strings.CutPrefix(rest, string(of[:]))
	whole, rest, sized := cutSized(rest)
	if !found || !same || !sized || len(rest)/4 < files {
		return facts{}
	}
	old := facts{whole, paths{rest[4*files:], rest[:4*files]}}
	if !old.follow() {
		return facts{}
	}
	return old
}

// of returns the facts of a file of the list.
func (old *facts) of(at int) []byte { return []byte(old.path(at)) }

// factsText prints the facts of n files as parseFacts reads them, in parts. Of each, of
// returns the facts, or, where they are those of before, the number of the file then.
func factsText(in inspected, list digest, n int, of func(i int) (facts []byte, was int)) []string {
	top := append(appendSized([]byte(factsHead), in.kind), list[:]...)
	top = appendSized(top, in.whole)
	var ends strings.Builder
	ends.Grow(4 * n)
	var made strings.Builder // facts that follow each other
	var parts []string
	size, from, to := 0, 0, 0 // those of before that follow each other, and are not among the parts yet
	flush := func() {
		parts = append(parts, in.old.text[from:to], made.String())
		made.Reset()
		from = to
	}
	for i := range n {
		facts, was := of(i)
		if facts != nil {
			made.Write(facts)
			size += len(facts)
		} else {
			begin, end := in.old.begin(was), in.old.begin(was+1)
			if made.Len() > 0 || begin != to {
				flush()
				from = begin
			}
			to = end
			size += end - begin
		}
		addNumber(&ends, size)
	}
	flush()
	return append([]string{string(top), ends.String()}, parts...)
}
