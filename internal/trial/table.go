package trial

import (
	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
)

// Names of the logs that are not named after a measure.
const (
	PiecesFile  = piecesFile
	TastingFile = tastingFile
)

// Table is a CSV file that is no log of the trial, such as ballots that were filled
// in, read as the logs are.
type Table struct{ sheet sheet }

// ReadTable reads a table. What is wrong with it as CSV is reported, and such rows
// are left out.
func ReadTable(file string, data []byte, problems *problem.List) Table {
	return Table{readSheet(file, data, problems)}
}

// TableRow is a row of a table.
type TableRow struct{ row row }

// Cell returns what stands under a heading, without space around it, and where. A
// heading that the table does not have gives nothing.
func (r TableRow) Cell(heading string) (text string, at problem.Pos) {
	c := r.row.get(heading)
	return c.Text, c.Place
}

// Place is where the row begins.
func (r TableRow) Place() problem.Pos { return r.row.Place }

// Rows returns the rows that are not blank.
func (t Table) Rows() []TableRow {
	rows := make([]TableRow, 0, len(t.sheet.rows))
	for _, r := range t.sheet.rows {
		rows = append(rows, TableRow{r})
	}
	return rows
}

// Heading returns the headings with their places.
func (t Table) Heading() (names []string, at []problem.Pos) {
	for _, c := range t.sheet.heading {
		names, at = append(names, c.Text), append(at, c.Place)
	}
	return names, at
}

// CheckReading says what is wrong with a text as a reading of the measure in a log
// of that kitchen, and what was probably meant; nothing where it can be read.
func (m Measure) CheckReading(text string, k kitchen.Kitchen) (what, hint string) {
	r := &reader{kitchen: k}
	_, what, hint = r.value(m, text)
	return what, hint
}
