package tabular

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"sidebatch.example/sidebatch/internal/problem"
)

func readCSV(data []byte, w Wanted) Table {
	if len(data) > MostBytes {
		w.Problems.Errorf(problem.Pos{File: w.File}, problem.Unreadable, "is larger than %d MB", MostBytes>>20)
		return Table{}
	}
	text, ok := Text(fromUTF16(data), w.File, w.Problems)
	if !ok {
		return Table{}
	}
	in := reader{Wanted: w, lines: bytes.Split(text, []byte("\n"))}
	if !in.narrow() {
		return Table{}
	}
	form, first := w.start(text)
	if first < 0 || len(bytes.Trim(text, ",;\t \n\"")) == 0 {
		w.noHeading()
		return Table{}
	}
	records := in.records(form, first, 0)
	if at := w.headingAt(records); at >= 0 {
		records = records[at:]
	} else if len(records) > 0 {
		w.noHeading()
		return Table{}
	}
	t := w.assemble(form, records)
	t.AsIs = form == Comma && first == 0
	t.Text = text
	return t
}

// start finds the separator, and the line in which the heading begins; -1 is none.
func (w Wanted) start(text []byte) (Form, int) {
	if w.Plain {
		return Comma, 0
	}
	if form, told := settled(text); told {
		return form, 1
	}
	return w.detect(text)
}

func (w Wanted) noHeading() {
	if w.Heading == nil {
		w.Problems.Errorf(problem.Pos{File: w.File}, problem.BadHeader, "there is no heading line")
		return
	}
	w.Problems.Hinted(problem.Pos{File: w.File}, problem.BadHeader, "the heading names the time and at least one more column",
		"there is no heading line among the first %d", preamble)
}

// settled reads a line sep=; at the beginning, with which some programs tell
// spreadsheets the separator.
func settled(text []byte) (form Form, told bool) {
	line := settling.FindSubmatch(text)
	if line == nil {
		return Comma, false
	}
	return [...]Form{Comma, Semicolon, Tab}[strings.IndexByte(",;\t", line[1][0])], true
}

var settling = regexp.MustCompile(`^(?i:"?sep=([,;\t])"?[ ,;\t]*\n)`)

// detect tries every separator.
func (w Wanted) detect(text []byte) (Form, int) {
	lines := bytes.Split(text, []byte("\n"))
	lines = lines[:min(len(lines), preamble+2)] // a heading that goes over lines is still whole
	type found struct{ named, cells, line int }
	best, form := found{line: -1}, Comma
	for _, f := range []Form{Comma, Semicolon, Tab} {
		// What is wrong is told when the file is read with the separator found.
		in := reader{Wanted: Wanted{File: w.File}, lines: lines}
		records := in.records(f, 0, preamble+1)
		at := w.headingAt(records)
		if at < 0 {
			continue
		}
		this := found{cells: len(records[at]), line: records[at][0].Place.Line - 1}
		for _, c := range records[at] {
			if slices.Contains(w.Columns, c.Text) {
				this.named++
			}
		}
		if best.line < 0 || this.named > best.named || this.named == best.named && this.cells > best.cells {
			best, form = this, f
		}
	}
	if w.Heading == nil {
		best.line = min(best.line, 0) // blank lines before it are no preamble
	}
	return form, best.line
}

func (f Form) separator() rune { return [...]rune{',', ';', '\t', ','}[f] }

// reader reads the records of a CSV file.
type reader struct {
	Wanted
	lines [][]byte
}

// records reads from a line on, and stops after so many records unless most is 0. A
// record with a quote out of place is reported and left out.
func (r reader) records(form Form, from, most int) [][]Cell {
	in := csv.NewReader(bytes.NewReader(bytes.Join(r.lines[from:], []byte("\n"))))
	in.FieldsPerRecord = -1
	in.Comma = form.separator()
	var records [][]Cell
	all, slips := 0, 0 // cells, and records that are left out
	for most == 0 || len(records) < most {
		record, err := in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			r.report(err, from)
			if slips++; slips > mostSlips {
				break // it is another kind of file, and nobody reads on
			}
			continue
		}
		if len(records) > mostRows+preamble {
			break // assemble reports it
		}
		// One cell beyond the limit is enough to report it.
		cells := make([]Cell, min(len(record), mostColumns+1))
		for i := range cells {
			line, column := in.FieldPos(i)
			cells[i] = Cell{Text: unguard(strings.TrimSpace(record[i])), Place: r.place(line+from, column)}
		}
		if all += len(cells); all > mostCells {
			r.Problems.Errorf(cells[0].Place, problem.Unreadable, "more than %d cells", mostCells)
			break
		}
		records = append(records, cells)
	}
	return records
}

// narrow reports a line with so many separators that cells of it alone would fill the
// memory.
func (r reader) narrow() bool {
	for i, line := range r.lines {
		if len(line) <= mostInLine {
			continue
		}
		for _, form := range []Form{Comma, Semicolon, Tab} {
			if bytes.Count(line, []byte(string(form.separator()))) > mostInLine {
				r.Problems.Errorf(r.place(i+1, 1), problem.Unreadable, "a line with more than %d separators", mostInLine)
				return false
			}
		}
	}
	return true
}

func (r reader) report(err error, from int) {
	var parse *csv.ParseError
	at := problem.Pos{File: r.File}
	if errors.As(err, &parse) {
		at = r.place(parse.Line+from, parse.Column)
	}
	what := err.Error()
	switch {
	case errors.Is(err, csv.ErrBareQuote):
		what = "a quote inside a cell that is not quoted"
	case errors.Is(err, csv.ErrQuote):
		what = "a quoted cell that does not end where it should"
	}
	r.Problems.Hinted(at, problem.BadRow,
		`a cell with a comma or a quote stands in quotes, and a quote in it is doubled: "12"" pan"`, "%s", what)
}

// place turns encoding/csv's column, counted from 1 in bytes, into runes.
func (r reader) place(line, column int) problem.Pos {
	at := problem.Pos{File: r.File, Line: line, Column: 1}
	if line >= 1 && line <= len(r.lines) {
		text := r.lines[line-1]
		at.Column = utf8.RuneCount(text[:min(max(column-1, 0), len(text))]) + 1
	}
	return at
}
