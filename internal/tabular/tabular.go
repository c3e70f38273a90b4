// Package tabular reads tables as spreadsheets and instruments write them: CSV with
// commas, semicolons or tabs, and workbooks (.xlsx, Office Open XML, ECMA-376). It
// gives rows of cells as text, each with its place, and writes tables as RFC 4180
// has it. The word is that of the W3C's Model for Tabular Data.
//
// It knows no trial: which columns a log needs, and what a cell means, is its
// reader's. It refuses to guess. Where a text can be read in two ways (1,500; a
// workbook's 1:10 that holds an hour and ten minutes) it says so and leaves the
// choice to the author. It computes no formulas, opens no other file that a workbook
// points to, and unpacks nothing outside memory.
package tabular

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"sidebatch.example/sidebatch/internal/problem"
)

// The limits of a table. A day of readings every second is 86,400 rows.
const (
	MostBytes   = 16 << 20 // of a file
	mostRows    = 100_000
	mostColumns = 200
	mostRunes   = 10_000 // in a cell
	mostCells   = 1_000_000
	mostSlips   = 1_000  // quotes out of place
	mostInLine  = 20_000 // separators in one line, those inside quotes too
)

// Form is how a table was written.
type Form int

const (
	Comma Form = iota
	Semicolon
	Tab
	Workbook
)

// String names what stands between the cells, as messages say it.
func (f Form) String() string {
	return [...]string{"commas", "semicolons", "tabs", "a workbook"}[f]
}

// Cell is one cell, without space around its text. In a workbook the line of its
// place is the row and its column the column.
type Cell struct {
	Text   string
	Place  problem.Pos
	Number bool   // a workbook holds it as a number, a date or a time, not as text
	Doubt  string // of a workbook's time that shows other than it holds: both, in words
}

// Row is a record with a cell for every column of the heading.
type Row struct {
	heading []Cell
	cells   []Cell
}

// Under returns the cell under a heading; a column that is not there has an empty one
// without a place.
func (r Row) Under(column string) Cell {
	for i := len(r.heading) - 1; i >= 0; i-- {
		if r.heading[i].Text == column {
			return r.cells[i]
		}
	}
	return Cell{}
}

// Cell returns what stands under a heading, and where.
func (r Row) Cell(column string) (text string, at problem.Pos) {
	c := r.Under(column)
	return c.Text, c.Place
}

// Place is where the row begins.
func (r Row) Place() problem.Pos { return r.cells[0].Place }

// Table is a heading and rows that are as long as it. The zero value is a table in
// which nothing could be read.
type Table struct {
	Form    Form
	AsIs    bool   // it has commas and begins with its heading, as tables are published
	Text    []byte // of CSV: the whole file as UTF-8 with line feeds
	heading []Cell
	rows    []Row
}

// Heading returns the names of the columns in their order.
func (t Table) Heading() []Cell { return t.heading }

// HasColumn reports whether a column has that name.
func (t Table) HasColumn(column string) bool {
	return slices.ContainsFunc(t.heading, func(c Cell) bool { return c.Text == column })
}

// Rows returns the rows that are not blank.
func (t Table) Rows() []Row { return t.rows }

// Texts returns the table as text alone.
func (t Table) Texts() (heading []string, rows [][]string) {
	for _, c := range t.heading {
		heading = append(heading, c.Text)
	}
	for _, r := range t.rows {
		cells := make([]string, 0, len(heading))
		for _, c := range r.cells {
			cells = append(cells, c.Text)
		}
		rows = append(rows, cells)
	}
	return heading, rows
}

// Wanted says what is to be read. Problems may be nil: for reading again what has been
// reported already.
type Wanted struct {
	File     string                    // as problems name it; .xlsx is a workbook
	Sheet    string                    // the sheet of a workbook, if it has one of that name; else the first one
	Columns  []string                  // that the heading is expected to have
	Plain    bool                      // there is nothing to find out: it has commas and begins with its heading
	Heading  func(cells []string) bool // what a heading looks like, where other lines may stand before it
	Problems *problem.List
}

// preamble is how many lines may stand before the heading of an instrument's file.
const preamble = 30

// Read reads a table. What is wrong with it is reported, and such rows are left out.
//
// The separator of a CSV file is the one with which the heading has most of the
// wanted columns, then most cells; a line sep=; before it settles it. Where Heading
// is given, up to 30 lines before the heading are skipped. Columns without a name
// and without content at the end, and blank rows, are left out.
func Read(data []byte, w Wanted) Table {
	if IsWorkbook(w.File) {
		return readWorkbook(data, w)
	}
	return readCSV(data, w)
}

// IsWorkbook reports whether a file's name says that it is a workbook.
func IsWorkbook(file string) bool {
	return len(file) > len(workbookEnd) && strings.EqualFold(file[len(file)-len(workbookEnd):], workbookEnd)
}

const workbookEnd = ".xlsx"

// headingAt finds the heading among the first records, or returns -1.
func (w Wanted) headingAt(records [][]Cell) int {
	for i, record := range records {
		switch {
		case blank(record):
		case w.Heading == nil:
			return i
		case i > preamble:
			return -1
		case w.Heading(texts(record)):
			return i
		}
	}
	return -1
}

func texts(cells []Cell) []string {
	all := make([]string, 0, len(cells))
	for _, c := range cells {
		all = append(all, c.Text)
	}
	return all
}

// assemble makes a table of records, the first of which is the heading.
func (w Wanted) assemble(form Form, records [][]Cell) Table {
	if len(records) == 0 {
		return Table{Form: form}
	}
	written := len(records[0])
	t := Table{Form: form, heading: records[0][:width(records)]}
	if len(t.heading) > mostColumns {
		w.Problems.Errorf(t.heading[mostColumns].Place, problem.Unreadable, "more than %d columns", mostColumns)
		return Table{Form: form}
	}
	w.checkHeading(t.heading)
	for _, cells := range records[1:] {
		if blank(cells) {
			continue
		}
		if len(t.rows) == mostRows {
			w.Problems.Errorf(cells[0].Place, problem.Unreadable, "more than %d rows", mostRows)
			return t
		}
		if cells, ok := w.fit(t, written, cells); ok {
			t.rows = append(t.rows, Row{t.heading, cells})
		}
	}
	return t
}

// width is the heading's length without columns at its end that are empty in every
// row.
func width(records [][]Cell) int {
	n := len(records[0])
	for n > 1 && records[0][n-1].Text == "" {
		filled := slices.ContainsFunc(records, func(cells []Cell) bool { return len(cells) >= n && cells[n-1].Text != "" })
		if filled {
			break
		}
		n--
	}
	return n
}

// checkHeading reports columns without a name and names that stand twice.
func (w Wanted) checkHeading(cells []Cell) {
	seen := map[string]bool{}
	for i, c := range cells {
		if c.Text == "" {
			w.Problems.Errorf(c.Place, problem.BadHeader, "column %d has no name", i+1)
		} else if seen[c.Text] {
			w.Problems.Errorf(c.Place, problem.BadHeader, "the column %q stands twice", c.Text)
		}
		seen[c.Text] = true
	}
}

// fit makes a row as long as the heading, or says why it is not. A row of CSV has as
// many cells as the heading was written with: one with more or fewer may have its
// cells under other headings than were meant.
func (w Wanted) fit(t Table, written int, cells []Cell) ([]Cell, bool) {
	for t.Form == Workbook && len(cells) < written {
		at := cells[0].Place
		at.Column = len(cells) + 1
		cells = append(cells, Cell{Place: at})
	}
	if len(cells) != written {
		hint := "a cell beside the table has no column"
		if t.Form != Workbook {
			hint = "an empty cell still has its " + strings.TrimSuffix(t.Form.String(), "s")
		}
		w.Problems.Hinted(cells[0].Place, problem.BadRow, hint, "the row has %s, the heading %d%s",
			count(len(cells), "cell"), written, t.Form.parted())
		return nil, false
	}
	cells = cells[:len(t.heading)]
	for _, c := range cells {
		if len(c.Text) > mostRunes && utf8.RuneCountInString(c.Text) > mostRunes {
			w.Problems.Errorf(c.Place, problem.BadRow, "the cell has more than %d characters", mostRunes)
			return nil, false
		}
	}
	return cells, true
}

// parted says what was taken for the separator where it is not the usual one.
func (f Form) parted() string {
	if f == Semicolon || f == Tab {
		return ", parted by " + f.String()
	}
	return ""
}

func count(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}

func blank(cells []Cell) bool {
	return !slices.ContainsFunc(cells, func(c Cell) bool { return c.Text != "" })
}

// With returns the table with its cells changed: each is handed over with its
// column's name.
func (t Table) With(change func(column string, c Cell) Cell) Table {
	rows := make([]Row, 0, len(t.rows))
	for _, r := range t.rows {
		cells := make([]Cell, 0, len(r.cells))
		for i, c := range r.cells {
			cells = append(cells, change(t.heading[i].Text, c))
		}
		rows = append(rows, Row{t.heading, cells})
	}
	t.rows = rows
	return t
}
