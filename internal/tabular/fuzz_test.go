package tabular

import (
	"bytes"
	"strings"
	"testing"
	"unicode"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/problem"
)

// checkTable fails for a table that is no table, or a problem that says nothing.
func checkTable(t *testing.T, table Table, problems *problem.List) {
	t.Helper()
	heading, rows := table.Texts()
	if len(heading) > mostColumns || len(rows) > mostRows {
		t.Fatalf("%d columns, %d rows", len(heading), len(rows))
	}
	for i, r := range rows {
		if len(r) != len(heading) {
			t.Fatalf("row %d has %d cells, the heading %d", i, len(r), len(heading))
		}
		for _, c := range table.Rows()[i].cells {
			if c.Place.Line < 1 || c.Place.Column < 1 || strings.ContainsRune(c.Text, '\x00') || strings.TrimSpace(c.Text) != c.Text {
				// An apostrophe taken away may leave what stood behind it.
				if !signPattern.MatchString(c.Text) {
					t.Fatalf("a cell that cannot be: %+v", c)
				}
			}
		}
	}
	for _, p := range problems.Sorted() {
		if p.What == "" || p.Code == "" || p.Pos.File == "" || p.Pos.Line < 0 || p.Pos.Column < 0 {
			t.Fatalf("a problem that says nothing: %#v", p)
		}
	}
}

// FuzzCSV reads any bytes as CSV, with and without lines before the heading. What was
// read is, written down, read again as it was, and settled numbers are settled.
func FuzzCSV(f *testing.F) {
	for _, seed := range []string{
		"sample;piece\na;1,5\n", "\ufeffsample\tpiece\r\na\t\"x\r\ny\"\r\n", "sep=;\na;b\n1,500;2.5\n", "\xff\xfea\x00,\x00b\x00", "Model: \"X\n\ntime,core\n0,20\n", "a,b,,\n1,2,,\n,,,\n",
	} {
		f.Add([]byte(seed), false)
		f.Add([]byte(seed), true)
	}
	f.Fuzz(func(t *testing.T, data []byte, logger bool) {
		var problems problem.List
		w := Wanted{File: "log.csv", Columns: []string{"sample", "time"}, Problems: &problems}
		if logger {
			w.Heading = func(cells []string) bool { return len(cells) > 1 && cells[0] == "time" }
		}
		table := Read(data, w)
		checkTable(t, table, &problems)
		heading, rows := table.Texts()
		if len(heading) == 0 {
			return
		}
		settled, _ := table.Settle(heading[:1], Unsaid, &problems)
		if again, changed := settled.Settle(heading[:1], DecimalPoint, nil); changed {
			t.Fatalf("settled again: %q, then %q", shown(settled), shown(again))
		}
		if hasBlank(heading) {
			return // a heading of nothing, or a row of one empty cell, is no row to CSV
		}
		if len(heading) == 1 && strings.ContainsAny(heading[0], ",;\t") {
			return // the only column has a separator in its name: read back, it parts columns
		}
		if !strings.ContainsFunc(strings.Join(heading, ""), func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) {
			return // no column has a name that is one: of separators and quotes alone anything may be made
		}
		h, r := Read(Write(heading, rows, CRLF), Wanted{File: "log.csv", Plain: true}).Texts()
		if diff := cmp.Diff(append([][]string{heading}, rows...), append([][]string{h}, r...)); diff != "" && !strings.Contains(string(Write(heading, rows, LF)), "\n ") && !oddSpace(rows) && !oddSpace([][]string{heading}) {
			t.Fatal(diff)
		}
	})
}

func hasBlank(names []string) bool {
	for _, name := range names {
		if name == "" {
			return true
		}
	}
	return false
}

// oddSpace reports a cell that begins with space, which can only have stood behind
// an apostrophe.
func oddSpace(rows [][]string) bool {
	for _, row := range rows {
		for _, cell := range row {
			if strings.TrimSpace(cell) != cell {
				return true
			}
		}
	}
	return false
}

// FuzzWorkbook reads any bytes as the sheet, the styles and the shared texts of a
// workbook, and as a workbook.
func FuzzWorkbook(f *testing.F) {
	f.Add([]byte(`<sheetData><row r="1"><c r="A1" t="s"><v>0</v></c><c t="inlineStr"><is><t>b</t></is></c></row><row><c s="1"><v>46067.75</v></c><c t="b"><f>1</f><v>1</v></c></row></sheetData><mergeCells><mergeCell ref="A1:B2"/></mergeCells>`),
		[]byte(`<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><numFmts><numFmt numFmtId="170" formatCode="[h]:mm;@"/></numFmts><cellXfs><xf numFmtId="0"/><xf numFmtId="170"/></cellXfs></styleSheet>`),
		[]byte(`<sst><si><t>a</t></si></sst>`))
	f.Add([]byte{}, []byte{}, []byte("PK"))
	f.Fuzz(func(t *testing.T, sheet, styles, shared []byte) {
		for _, data := range [][]byte{raw(t, string(sheet), map[string]string{"xl/styles.xml": string(styles), "xl/sharedStrings.xml": string(shared)}), sheet} {
			var problems problem.List
			table := Read(data, Wanted{File: "log.xlsx", Problems: &problems})
			checkTable(t, table, &problems)
			var again problem.List
			if other := Read(bytes.Clone(data), Wanted{File: "log.xlsx", Problems: &again}); shown(other) != shown(table) || again.Len() != problems.Len() {
				t.Fatal("two readings found different things")
			}
		}
	})
}
