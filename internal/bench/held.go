package bench

import (
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/tabular"
)

// Held is what a log that lies there already holds.
type Held int

const (
	Blank Held = iota // no readings: it may be written over
	Same              // the same rows
	Other             // readings of its own, or something that is no log
)

// Compare says what an existing log holds, next to one that is to be written.
// Columns without a single entry and the order of the rows do not matter.
func (l Log) Compare(existing []byte) Held {
	var problems problem.List
	if len(strings.TrimSpace(string(existing))) == 0 {
		return Blank
	}
	written := tabular.Read(l.Data, tabular.Wanted{File: l.Name, Plain: true, Problems: &problems})
	heading, _ := written.Texts()
	standing := tabular.Read(existing, tabular.Wanted{File: l.Name, Columns: heading, Problems: &problems})
	if problems.Errors() > 0 {
		return Other
	}
	if slices.Equal(entries(standing), entries(written)) {
		return Same
	}
	if hasReadings(standing) {
		return Other
	}
	return Blank
}

// entries are the rows of a log in a form that can be compared.
func entries(table tabular.Table) []string {
	headings, _ := table.Texts()
	slices.Sort(headings)
	var rows []string
	for _, row := range table.Rows() {
		var cells []string
		for _, heading := range headings {
			if text, _ := row.Cell(heading); text != "" {
				cells = append(cells, heading+"\x00"+text)
			}
		}
		rows = append(rows, strings.Join(cells, "\x01"))
	}
	slices.Sort(rows)
	return rows
}

// hasReadings reports whether any cell is filled in that does not only say which row
// it is.
func hasReadings(table tabular.Table) bool {
	headings, _ := table.Texts()
	for _, row := range table.Rows() {
		for _, heading := range headings {
			if text, _ := row.Cell(heading); text != "" && !slices.Contains([]string{"assessor", "sample", "batch", "piece", "set"}, heading) {
				return true
			}
		}
	}
	return false
}
