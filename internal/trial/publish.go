package trial

import (
	"regexp"
	"slices"
	"strings"
)

// Sheet returns what stands in a log as it is read: the heading, and the rows that
// are as long as it, without blank ones. Cells have no space around them.
func (f File) Sheet() (heading []string, rows [][]string) {
	s := readSheet(f.Name, f.Data, nil)
	for _, c := range s.heading {
		heading = append(heading, c.Text)
	}
	for _, r := range s.rows {
		cells := make([]string, 0, len(heading))
		for _, name := range heading {
			cells = append(cells, r.get(name).Text)
		}
		rows = append(rows, cells)
	}
	return heading, rows
}

// Guard makes a cell harmless that a spreadsheet would take for a formula, one that
// begins with =, +, -, @, a tab or a carriage return, or with the wide forms of
// these signs: it gets an apostrophe in front. A plain number stays as it is, so
// that -18 is a number to a spreadsheet, and so does every other cell.
//
// Logs are read without such an apostrophe, whoever put it there: reading what
// Guard wrote gives the cell as it was. A cell that had apostrophes before its sign
// already gets one more.
func Guard(cell string) string {
	if signPattern.MatchString(cell) && !numberPattern.MatchString(cell) {
		return "'" + cell
	}
	return cell
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

// LabelLines are the lines that a package's label may be quoted with, each with its
// unit where the note gives none, in the order of their names.
func LabelLines() [][2]string {
	var lines [][2]string
	for name, unit := range labelKeys() {
		lines = append(lines, [2]string{name, unit})
	}
	slices.SortFunc(lines, func(a, b [2]string) int { return strings.Compare(a[0], b[0]) })
	return lines
}
