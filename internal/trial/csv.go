package trial

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"sidebatch.example/sidebatch/internal/problem"
)

// cell is one cell of a log with its place.
type cell struct {
	Text  string
	Place problem.Pos
}

// row is one record of a log, with a cell for every column of the heading.
type row struct {
	cells map[string]cell
	Place problem.Pos
}

// get returns the cell under a heading; an absent column has empty cells.
func (r row) get(column string) cell { return r.cells[column] }

// sheet is a log: the headings in order and the rows that could be read.
type sheet struct {
	heading []cell
	rows    []row
}

func (s sheet) has(column string) bool {
	return slices.ContainsFunc(s.heading, func(c cell) bool { return c.Text == column })
}

// readSheet reads CSV as RFC 4180 has it: a heading line, then rows as long as
// the heading. A bad row is reported and left out; reading goes on.
func readSheet(file string, data []byte, problems *problem.List) sheet {
	lines := bytes.Split(data, []byte("\n"))
	in := csv.NewReader(bytes.NewReader(data))
	in.FieldsPerRecord = -1
	var s sheet
	for {
		record, err := in.Read()
		if errors.Is(err, io.EOF) {
			return s
		}
		if err != nil {
			problems.Hinted(csvPlace(file, lines, err), problem.BadRow,
				`a cell with a comma or a quote stands in quotes, and a quote in it is doubled: "12"" pan"`,
				"%s", csvReason(err))
			continue
		}
		cells := make([]cell, len(record))
		for i, text := range record {
			line, column := in.FieldPos(i)
			cells[i] = cell{Text: unguard(strings.TrimSpace(text)), Place: runePlace(file, lines, line, column)}
		}
		if s.heading == nil {
			s.heading = heading(cells, problems)
			continue
		}
		if blank(cells) {
			continue
		}
		if len(cells) != len(s.heading) {
			problems.Hinted(cells[0].Place, problem.BadRow, "an empty cell still has its comma",
				"the row has %s, the heading %d", count(len(cells), "cell"), len(s.heading))
			continue
		}
		r := row{cells: make(map[string]cell, len(cells)), Place: cells[0].Place}
		for i, c := range cells {
			r.cells[s.heading[i].Text] = c
		}
		s.rows = append(s.rows, r)
	}
}

func count(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}

// heading reports columns without a name and names that stand twice.
func heading(cells []cell, problems *problem.List) []cell {
	seen := map[string]bool{}
	for i, c := range cells {
		if c.Text == "" {
			problems.Errorf(c.Place, problem.BadHeader, "column %d has no name", i+1)
		} else if seen[c.Text] {
			problems.Errorf(c.Place, problem.BadHeader, "the column %q stands twice", c.Text)
		}
		seen[c.Text] = true
	}
	return cells
}

func blank(cells []cell) bool {
	return !slices.ContainsFunc(cells, func(c cell) bool { return c.Text != "" })
}

func csvPlace(file string, lines [][]byte, err error) problem.Pos {
	var parse *csv.ParseError
	if !errors.As(err, &parse) {
		return problem.Pos{File: file}
	}
	return runePlace(file, lines, parse.Line, parse.Column)
}

func csvReason(err error) string {
	switch {
	case errors.Is(err, csv.ErrBareQuote):
		return "a quote inside a cell that is not quoted"
	case errors.Is(err, csv.ErrQuote):
		return "a quoted cell that does not end where it should"
	}
	return err.Error()
}

// runePlace turns encoding/csv's column, counted from 1 in bytes, into runes.
func runePlace(file string, lines [][]byte, line, column int) problem.Pos {
	at := problem.Pos{File: file, Line: line, Column: 1}
	if line >= 1 && line <= len(lines) {
		text := lines[line-1]
		at.Column = utf8.RuneCount(text[:min(max(column-1, 0), len(text))]) + 1
	}
	return at
}
