package tabular

import (
	"bytes"
	"encoding/csv"
	"regexp"
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
	var b bytes.Buffer
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
	write(heading)
	for _, row := range rows {
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
	if beginsPlainly(cell) {
		return cell
	}
	if signPattern.MatchString(cell) && !numberPattern.MatchString(cell) {
		return "'" + cell
	}
	return cell
}

// beginsPlainly tells of nearly all cells, and quickly, that they begin with none of the signs.
func beginsPlainly(cell string) bool {
	if cell == "" {
		return true
	}
	c := cell[0]
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9'
}

// unguard takes away what Guard puts in front.
func unguard(cell string) string {
	if cell != "" && cell[0] == '\'' && signPattern.MatchString(cell) {
		return cell[1:]
	}
	return cell
}

var (
	signPattern   = regexp.MustCompile(`^'*[=+\-@\t\r＝＋－＠]`)
	numberPattern = regexp.MustCompile(`^[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]+)?$`)
)
