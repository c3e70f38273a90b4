package tabular

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"sidebatch.example/sidebatch/internal/problem"
)

// sheetReader reads the cells of one sheet. The library's own readers will not do:
// they give a cell as it is shown, rounded, do not tell a formula without a result
// from an empty cell, and end without a word where a sheet is broken.
type sheetReader struct {
	Wanted
	book  *book
	spans []span
	seen  int // cells that stand in the sheet, empty ones too
	cells int // cells of the records so far, with the empty ones between
	bytes int // of their texts
}

// span is a range of merged cells.
type span struct{ left, top, right, bottom int }

// sheetCell is a c element of ECMA-376 Part 1, 18.3.1.4.
type sheetCell struct {
	Name    string  `xml:"r,attr"`
	Style   int     `xml:"s,attr"`
	Type    string  `xml:"t,attr"`
	Value   *string `xml:"v"`
	Formula *string `xml:"f"`
	Inline  *inline `xml:"is"`
}

// inline is a text that stands in its cell.
type inline struct{ text string }

// UnmarshalXML reads the text out of its runs.
func (i *inline) UnmarshalXML(in *xml.Decoder, _ xml.StartElement) error {
	text, err := richText(in)
	i.text = text
	return err
}

// read returns a record for every row with a cell that is not empty.
func (s *sheetReader) read(part []byte) ([][]Cell, error) {
	in := xml.NewDecoder(bytes.NewReader(part))
	var records [][]Cell
	row := 0
	for {
		token, err := in.Token()
		if errors.Is(err, io.EOF) {
			return records, nil
		}
		if err != nil {
			return nil, errBroken
		}
		start, is := token.(xml.StartElement)
		if !is {
			continue
		}
		switch start.Name.Local {
		case "row":
			if row, err = rowNumber(start, row); err != nil {
				return nil, err
			}
			cells, err := s.row(in, row)
			if err != nil {
				return nil, err
			}
			if len(cells) > 0 {
				records = append(records, cells)
			}
			if len(records) > mostRows+preamble {
				return records, nil // assemble reports it
			}
		case "mergeCell":
			s.span(start)
		}
	}
}

func rowNumber(start xml.StartElement, last int) (int, error) {
	for _, a := range start.Attr {
		if a.Name.Local != "r" {
			continue
		}
		n, err := strconv.Atoi(a.Value)
		if err != nil || n <= last || n > excelize.TotalRows {
			return 0, errBroken
		}
		return n, nil
	}
	if last == excelize.TotalRows {
		return 0, errBroken
	}
	return last + 1, nil
}

// row reads the cells of a row up to the last that is not empty.
func (s *sheetReader) row(in *xml.Decoder, row int) ([]Cell, error) {
	var cells []Cell
	column := 0
	for {
		token, err := in.Token()
		if err != nil {
			return nil, errBroken
		}
		switch t := token.(type) {
		case xml.EndElement:
			return cells, nil
		case xml.StartElement:
			var c sheetCell
			if err := in.DecodeElement(&c, &t); err != nil || t.Name.Local != "c" {
				return nil, errBroken
			}
			if column, err = columnNumber(c.Name, column, row); err != nil {
				return nil, err
			}
			if s.seen++; s.seen > mostCells || s.cells > mostCells || s.bytes > mostUnpacked {
				return nil, errLarge
			}
			cell := s.cell(c, problem.Pos{File: s.File, Line: row, Column: column})
			if cell.Text == "" {
				continue
			}
			before := len(cells)
			cells = s.put(cells, cell)
			s.cells += len(cells) - before
			s.bytes += len(cell.Text)
		}
	}
}

// put puts a cell into its column. One beyond the limit comes right behind it, where
// it is reported as one too many.
func (s *sheetReader) put(cells []Cell, c Cell) []Cell {
	for len(cells) < min(c.Place.Column-1, mostColumns) {
		cells = append(cells, Cell{Place: problem.Pos{File: s.File, Line: c.Place.Line, Column: len(cells) + 1}})
	}
	if len(cells) <= mostColumns {
		cells = append(cells, c)
	}
	return cells
}

// columnNumber reads the column out of a cell's name; without one it is the next.
func columnNumber(name string, last, row int) (int, error) {
	if name == "" {
		return last + 1, nil
	}
	column, at, err := excelize.CellNameToCoordinates(name)
	if err != nil || at != row || column <= last {
		return 0, errBroken
	}
	return column, nil
}

// cell turns a cell into text: what it shows where that is all it holds, and what it
// holds where it shows less.
func (s *sheetReader) cell(c sheetCell, at problem.Pos) Cell {
	cell := Cell{Place: at}
	value := ""
	if c.Value != nil {
		value = *c.Value
	}
	switch c.Type {
	case "s":
		n, err := strconv.Atoi(strings.TrimSpace(value))
		if err != nil || n < 0 || n >= len(s.book.shared) {
			s.Problems.Errorf(at, problem.BadWorkbook, "the cell refers to a text that the workbook does not have")
			return cell
		}
		cell.Text = s.book.shared[n]
	case "inlineStr":
		if c.Inline != nil {
			cell.Text = within(c.Inline.text)
		}
	case "b":
		cell.Text = map[string]string{"1": "true", "0": "false"}[strings.TrimSpace(value)]
	case "", "n":
		cell = s.number(strings.TrimSpace(value), c.Style, cell)
	default: // str, e, d: as it stands
		cell.Text = within(value)
	}
	if c.Formula != nil && c.Value == nil && c.Inline == nil {
		s.Problems.Hinted(at, problem.BadReading, "open it in a spreadsheet and save it, or write the value",
			"the formula has no result in the file")
	}
	cell.Text = unguard(strings.TrimSpace(unify(cell.Text)))
	if hidden := strings.IndexFunc(cell.Text, IsHidden); hidden >= 0 {
		r, _ := utf8.DecodeRuneInString(cell.Text[hidden:])
		s.Problems.Hinted(at, problem.NotText, "delete it; it does not show", "the control character %U", r)
		cell.Text = ""
	}
	return cell
}

// unify gives line ends the form that CSV is read in, and takes out what no text
// file may hold.
func unify(text string) string { return unified.Replace(text) }

var unified = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\x00", "", "\ufeff", "")

// span keeps a range of merged cells.
func (s *sheetReader) span(start xml.StartElement) {
	for _, a := range start.Attr {
		if a.Name.Local != "ref" || len(s.spans) > mostRows {
			continue
		}
		from, to, _ := strings.Cut(a.Value, ":")
		left, top, err1 := excelize.CellNameToCoordinates(from)
		right, bottom, err2 := excelize.CellNameToCoordinates(to)
		if err1 == nil && err2 == nil {
			s.spans = append(s.spans, span{left, top, right, bottom})
		}
	}
}

// merged reports merged cells from the heading on: the value stands in the first of
// them, and whether it was meant for the others nobody can know.
func (s *sheetReader) merged(heading int) {
	for _, m := range s.spans {
		if m.bottom < heading {
			continue
		}
		s.Problems.Hinted(problem.Pos{File: s.File, Line: m.top, Column: m.left}, problem.BadRow,
			"take the merge away, and write the value into every cell that it is meant for",
			"cells are merged with %s", cellName(m.right, m.bottom))
	}
}

func cellName(column, row int) string {
	name, err := excelize.CoordinatesToCellName(column, row)
	if err != nil {
		return ""
	}
	return name
}

// Named puts a sheet's name for a cell, such as C7, before what is wrong with it,
// where the problem is in a workbook.
func Named(p problem.Problem) problem.Problem {
	if IsWorkbook(p.Pos.File) && p.Pos.Line > 0 && p.Pos.Column > 0 {
		p.What = cellName(p.Pos.Column, p.Pos.Line) + ": " + p.What
	}
	return p
}
