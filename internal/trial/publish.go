package trial

import (
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/tabular"
)

// Sheet returns what stands in a log as it is published: the heading, and the rows
// that are as long as it, without blank ones. Cells have no space around them.
func (f File) Sheet() (heading []string, rows [][]string) {
	return tabular.Read(f.Data, tabular.Wanted{File: f.Name, Plain: true}).Texts()
}

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
