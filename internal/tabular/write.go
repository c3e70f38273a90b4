package tabular

import (
	"bytes"
	"encoding/csv"
	"iter"
	"regexp"
	"slices"
	"strings"
)

// LineEnd is how a written table ends its lines.
type LineEnd bool

const (
	LF   LineEnd = false
	CRLF LineEnd = true // as RFC 4180 asks for
)

// Write writes a table as RFC 4180 has it, in UTF-8 without a byte-order mark. Cells
// that a spreadsheet would take for a formula are guarded.
func Write(heading []string, rows [][]string, end LineEnd) []byte {
	return WriteRows(0, heading, slices.Values(rows), end)
}

// WriteRows writes rows that come one after the other, each of which may lie where the one
// before lay; the whole is of so many bytes, about. Without a heading, nil, the rows are such
// as follow others.
func WriteRows(size int, heading []string, rows iter.Seq[[]string], end LineEnd) []byte {
	var b bytes.Buffer
	b.Grow(size)
	out := csv.NewWriter(&b)
	out.UseCRLF = bool(end)
	var guarded []string
	write := func(cells []string) {
		guarded = guarded[:0]
		for _, c := range cells {
			guarded = append(guarded, Guard(c))
		}
		_ = out.Write(guarded) // a buffer takes everything, and the separator is sound
	}
	if heading != nil {
		write(heading)
	}
	for row := range rows {
		write(row)
	}
	out.Flush()
	return b.Bytes()
}

// Guard makes a cell harmless that a spreadsheet would take for a formula, one that
// begins with =, +, -, @, a tab or a carriage return, or with the wide forms of
// these signs: it gets an apostrophe in front. A plain number stays as it is, so
// that -18 is a number to a spreadsheet, and so does every other cell.
//
// Tables are read without such an apostrophe, whoever put it there: reading what
// Guard wrote gives the cell as it was. A cell that had apostrophes before its sign
// already gets one more.
func Guard(cell string) string {
	if beginsPlainly(cell) || isNumber(cell) || !signPattern.MatchString(cell) {
		return cell
	}
	return "'" + cell
}

// beginsPlainly tells of nearly all cells, and quickly, that they begin with none of the signs.
func beginsPlainly(cell string) bool {
	if cell == "" {
		return true
	}
	c := cell[0]
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9'
}

// isNumber reports whether a cell is a plain number: a sign if any, digits with a point if any,
// and a power of ten if any, as in -1.5e-3.
func isNumber(cell string) bool {
	digits := func(text string) (rest string, some bool) {
		rest = strings.TrimLeft(text, "0123456789")
		return rest, len(rest) < len(text)
	}
	sign := func(text string) string {
		if text != "" && (text[0] == '+' || text[0] == '-') {
			return text[1:]
		}
		return text
	}
	rest, whole := digits(sign(cell))
	part := false
	if after, point := strings.CutPrefix(rest, "."); point {
		rest, part = digits(after)
	}
	if !whole && !part {
		return false
	}
	if rest != "" && (rest[0] == 'e' || rest[0] == 'E') {
		power := false
		if rest, power = digits(sign(rest[1:])); !power {
			return false
		}
	}
	return rest == ""
}

// unguard takes away what Guard puts in front.
func unguard(cell string) string {
	if cell != "" && cell[0] == '\'' && signPattern.MatchString(cell) {
		return cell[1:]
	}
	return cell
}

var signPattern = regexp.MustCompile(`^'*[=+\-@\t\r＝＋－＠]`)
