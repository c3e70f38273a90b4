package prose

import (
	"bytes"

	"sidebatch.example/sidebatch/internal/problem"
)

// What no hand would write is refused before it is parsed: the parser's work
// grows with the square of some of these.
const (
	maxSource   = 1 << 20 // bytes
	maxLine     = 20_000  // bytes
	maxIndent   = 200     // spaces before a list item or a quotation
	maxMarkers  = 50      // list and quotation marks that begin one line
	maxCells    = 100_000 // columns of the widest table times lines
	maxSigns    = 2_000   // signs [ < * _ ` in one run of lines without a blank one
	maxAllSigns = 100_000 // such signs in all
	maxNotes    = 2_000   // footnotes and references to them
	maxRun      = 5_000   // lines without a blank one
	maxDepth    = 100     // blocks, emphasis and links inside one another, when written
	maxInline   = 5_000   // bytes of a short field
	maxCode     = 20_000  // bytes of code in one block that are highlighted
	maxAllCode  = 200_000 // of one note
	maxPlaced   = 300     // figures, tables and pictures
	maxCodeLine = 500     // bytes of a line of code that is highlighted
)

// withinLimits reports the first line that goes beyond a limit.
func (w *writer) withinLimits() bool {
	if len(w.src) > maxSource {
		w.problems.Hinted(problem.Pos{File: w.at.doc.File}, problem.Unreadable, "split the note",
			"more than %d KiB of prose", maxSource>>10)
		return false
	}
	var c counts
	for i, start := range w.at.lines {
		end := len(w.src)
		if i+1 < len(w.at.lines) {
			end = w.at.lines[i+1]
		}
		if end-start > maxLine {
			w.problems.Hinted(w.at.pos(start), problem.Unreadable, "break it into several lines",
				"a line of more than %d bytes", maxLine)
			return false
		}
		if what := c.line(w.src[start:end]); what != "" {
			w.problems.Errorf(w.at.pos(start), problem.TooDeep, "%s", what)
			return false
		}
	}
	return true
}

// counts goes through the lines of a note and counts what is limited.
type counts struct {
	signs, lines, columns  int // since the last blank line
	allSigns, cells, notes int // in all
}

// line counts one line, and says what is too much with it.
func (c *counts) line(line []byte) string {
	if len(bytes.TrimSpace(line)) == 0 {
		c.signs, c.lines, c.columns = 0, 0, 0
		return ""
	}
	signs := countSigns(line)
	c.lines++
	c.signs += signs
	c.allSigns += signs
	c.notes += bytes.Count(line, []byte("[^"))
	c.columns = max(c.columns, columns(line))
	c.cells += c.columns
	switch {
	case markers(line) > maxMarkers:
		return "lists or quotations too deep inside one another"
	case c.cells > maxCells:
		return "tables of too many cells"
	case c.signs > maxSigns:
		return "too many brackets, stars or quotes in one paragraph"
	case c.allSigns > maxAllSigns:
		return "too many brackets, stars or quotes"
	case c.notes > maxNotes:
		return "too many footnotes"
	case c.lines > maxRun:
		return "too many lines without a blank one"
	}
	return ""
}

// countSigns counts the signs that the parser has to match with one another.
func countSigns(line []byte) int {
	n := 0
	for _, c := range line {
		switch c {
		case '[', '<', '*', '_', '`':
			n++
		}
	}
	return n
}

// markers counts the marks that begin a line and may open a list or quotation
// each. A line indented beyond the limit counts as one beyond the limit.
func markers(line []byte) int {
	n, indent := 0, 0
	for i, c := range line {
		switch {
		case c == ' ':
			indent++
		case c == '\t':
			indent += 4
		case c == '>':
			n++
		case c == '*' || c == '-' || c == '+' || c == '.' || c == ')':
			if i+1 < len(line) && (line[i+1] == ' ' || line[i+1] == '\t') {
				n++
			}
		case c >= '0' && c <= '9':
		default:
			return tooIndented(n, indent)
		}
	}
	return tooIndented(n, indent)
}

func tooIndented(n, indent int) int {
	if n > 0 && indent > maxIndent {
		return maxMarkers + 1
	}
	return n
}

// columns counts the columns, at most, of a line that may part a table's head
// from its body; 0 for any other line.
func columns(line []byte) int {
	if len(bytes.Trim(line, "|-: \t\r\n>")) > 0 || bytes.IndexByte(line, '-') < 0 {
		return 0
	}
	return 1 + bytes.Count(line, []byte("|"))
}
