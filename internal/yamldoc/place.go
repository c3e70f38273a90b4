package yamldoc

import (
	"bytes"
	"slices"
	"unicode/utf8"

	"sidebatch.example/sidebatch/internal/problem"
)

// places turns places as the YAML library counts them into byte offsets, and
// byte offsets into places as the user's editor counts them.
//
// The two differ: the library takes a lone CR and the Unicode line separators
// for line ends, everybody else counts LF only. Both count columns in runes.
type places struct {
	file      string
	firstLine int
	src       []byte
	lines     []int // offsets where lines begin, by LF
	yamlLines []int // offsets where lines begin, as YAML 1.1 has it
}

func newPlaces(file string, firstLine int, src []byte) *places {
	p := &places{file: file, firstLine: firstLine, src: src, lines: []int{0}, yamlLines: []int{0}}
	for i, c := range src {
		if c == '\n' {
			p.lines = append(p.lines, i+1)
		}
		if endsYAMLLine(src, i) {
			p.yamlLines = append(p.yamlLines, i+1)
		}
	}
	return p
}

// endsYAMLLine says whether byte i is the last of a line end: CR LF, CR, LF,
// NEL, LS or PS.
func endsYAMLLine(src []byte, i int) bool {
	switch src[i] {
	case '\n':
		return true
	case '\r':
		return i+1 == len(src) || src[i+1] != '\n'
	case 0x85:
		return i > 0 && src[i-1] == 0xC2
	case 0xA8, 0xA9:
		return i > 1 && src[i-1] == 0x80 && src[i-2] == 0xE2
	}
	return false
}

// offset returns the byte offset of a line and column as the library counts
// them, both from 1. What lies beyond the end is moved to the end.
func (p *places) offset(line, column int) int {
	if line < 1 {
		return 0
	}
	if line > len(p.yamlLines) {
		return len(p.src)
	}
	return p.skip(p.yamlLines[line-1], column-1)
}

// skip returns the offset n runes after another offset.
func (p *places) skip(offset, n int) int {
	for ; n > 0 && offset < len(p.src); n-- {
		_, size := utf8.DecodeRune(p.src[offset:])
		offset += size
	}
	return offset
}

// pos returns the place of a byte offset.
func (p *places) pos(offset int) problem.Pos {
	line, exact := slices.BinarySearch(p.lines, offset)
	if !exact {
		line--
	}
	return problem.Pos{
		File:   p.file,
		Line:   p.firstLine + line,
		Column: 1 + utf8.RuneCount(p.src[p.lines[line]:offset]),
	}
}

// find returns offset if the text stands there as it is, otherwise -1.
func (p *places) find(offset int, text string) int {
	if offset > len(p.src) || !bytes.HasPrefix(p.src[offset:], []byte(text)) {
		return -1
	}
	return offset
}

// blockText returns where the text of a block scalar begins, whose | or >
// stands at the offset: at the first rune of its first line that is not blank.
func (p *places) blockText(offset int) int {
	end := bytes.IndexByte(p.src[offset:], '\n')
	if end < 0 {
		return offset
	}
	text := offset + end
	for text < len(p.src) && bytes.IndexByte([]byte(" \t\r\n"), p.src[text]) >= 0 {
		text++
	}
	if text == len(p.src) {
		return offset
	}
	return text
}
