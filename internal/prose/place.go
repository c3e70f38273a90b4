package prose

import (
	"slices"
	"unicode/utf8"

	"sidebatch.example/sidebatch/internal/problem"
)

// places turns byte offsets in the prose into places in the file.
type places struct {
	doc   Doc
	lines []int // offsets where lines begin
}

func newPlaces(doc Doc) places {
	p := places{doc: doc, lines: []int{0}}
	for i, c := range doc.Source {
		if c == '\n' {
			p.lines = append(p.lines, i+1)
		}
	}
	return p
}

func (p places) pos(offset int) problem.Pos {
	offset = min(max(offset, 0), len(p.doc.Source))
	line, exact := slices.BinarySearch(p.lines, offset)
	if !exact {
		line--
	}
	return problem.Pos{
		File:   p.doc.File,
		Line:   p.doc.FirstLine + line,
		Column: 1 + utf8.RuneCount(p.doc.Source[p.lines[line]:offset]),
	}
}
