// Package blurb writes what stands below a video: the question, the answer, the whole
// recipe, chapters, cautions and the address of the write-up, as plain text.
//
// It is handed findings and puts the views of package writeup into lines; it computes
// nothing and knows no file. What has to be shorter loses whole parts, in a fixed
// order; it refuses to cut a part in two, and to leave out the question, the answer,
// cautions, allergens, the address, or that data are invented.
package blurb

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"sidebatch.example/sidebatch/internal/findings"
)

// Text is a finished description.
type Text struct {
	Words   string   // lines that end in a line feed, without angle brackets or control characters
	LeftOut []string // the parts that did not fit, in plain English, in the order in which they went
}

// Characters is the length in Unicode code points, line feeds included.
func (t Text) Characters() int { return utf8.RuneCountInString(t.Words) }

// Bytes is the length in UTF-8.
func (t Text) Bytes() int { return len(t.Words) }

// TooLong says that what must stay is longer than the limit.
type TooLong struct {
	Needs, Limit int
}

// Error names both numbers.
func (e *TooLong) Error() string {
	return fmt.Sprintf("what must stay (question, answer, cautions, allergens and address) takes %d, more than %d", e.Needs, e.Limit)
}

// part is a piece of the description that stands or goes as a whole.
type part struct {
	name  string // for whoever is told that it is left out
	lines []string
	goes  int // 1 goes first; 0 never goes
}

// Of writes the description of a trial. A limit above 0 is never exceeded, neither in
// Unicode code points nor in bytes of UTF-8: sites count in one or the other. Then
// these go, each as a whole, until the rest fits: the times of the recipe, its steps,
// the chapters, the ingredients. The error is [*TooLong] where that is not enough.
func Of(f *findings.Findings, limit int) (Text, error) {
	return fit(partsOf(f), limit)
}

func fit(parts []part, limit int) (Text, error) {
	t := Text{Words: joined(parts)}
	for next := 1; limit > 0 && t.Bytes() > limit; next++ {
		at := slices.IndexFunc(parts, func(p part) bool { return p.goes == next })
		switch {
		case next > lastToGo:
			return Text{}, &TooLong{Needs: t.Bytes(), Limit: limit}
		case at < 0:
			continue
		}
		t.LeftOut = append(t.LeftOut, parts[at].name)
		parts = slices.Delete(slices.Clone(parts), at, at+1)
		t.Words = joined(parts)
	}
	return t, nil
}

// The order in which parts go.
const (
	timesGo = 1 + iota
	stepsGo
	chaptersGo
	ingredientsGo

	lastToGo = ingredientsGo
)

// joined puts parts below each other with an empty line between.
func joined(parts []part) string {
	var blocks []string
	for _, p := range parts {
		var lines []string
		for _, line := range p.lines {
			if line = plain(line); line != "" {
				lines = append(lines, line)
			}
		}
		if len(lines) > 0 {
			blocks = append(blocks, strings.Join(lines, "\n"))
		}
	}
	return strings.Join(blocks, "\n\n") + "\n"
}

// plain is a text on one line without what a description may not hold: an angle
// bracket becomes a pointed one, any space a plain one, and control characters go.
func plain(text string) string {
	text = strings.Map(func(r rune) rune {
		switch {
		case r == '<':
			return '‹'
		case r == '>':
			return '›'
		case r == '\u00a0', r == '\u202f', r == '\u2028', r == '\u2029', r == '\t', r == '\n', r == '\r':
			return ' '
		case r < ' ', r >= 0x7f && r < 0xa0, r == utf8.RuneError:
			return -1
		}
		return r
	}, text)
	return strings.Join(strings.Fields(text), " ")
}
