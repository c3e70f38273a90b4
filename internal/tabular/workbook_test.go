package tabular

import (
	"archive/zip"
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"sidebatch.example/sidebatch/internal/problem"
)

// typed makes a workbook with the library, as a spreadsheet would save it: values by
// the names of their cells.
func typed(t testing.TB, cells map[string]any, more ...func(*excelize.File)) []byte {
	t.Helper()
	f := excelize.NewFile()
	for at, value := range cells {
		if err := f.SetCellValue("Sheet1", at, value); err != nil {
			t.Fatal(err)
		}
	}
	for _, do := range more {
		do(f)
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// styled gives a cell a number format.
func styled(t testing.TB, at, code string) func(*excelize.File) {
	return func(f *excelize.File) {
		style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &code})
		if err != nil {
			t.Fatal(err)
		}
		if err := f.SetCellStyle("Sheet1", at, at, style); err != nil {
			t.Fatal(err)
		}
	}
}

// builtInStyle gives a cell one of the formats that have a number.
func builtInStyle(t testing.TB, at string, id int) func(*excelize.File) {
	return func(f *excelize.File) {
		style, err := f.NewStyle(&excelize.Style{NumFmt: id})
		if err != nil {
			t.Fatal(err)
		}
		if err := f.SetCellStyle("Sheet1", at, at, style); err != nil {
			t.Fatal(err)
		}
	}
}

// raw makes a workbook by hand. The sheet is what stands in sheetData and after it.
func raw(t testing.TB, sheet string, parts map[string]string) []byte {
	t.Helper()
	const head = `<?xml version="1.0" encoding="UTF-8"?>`
	all := map[string]string{
		"[Content_Types].xml": head + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/></Types>`,
		"_rels/.rels":         head + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/workbook.xml": head + `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships">` +
			`<sheets><sheet name="one" sheetId="1" r:id="r1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels": head + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
		"xl/worksheets/sheet1.xml":   head + `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">` + sheet + `</worksheet>`,
	}
	for name, text := range parts {
		all[name] = text
	}
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, name := range []string{"[Content_Types].xml", "_rels/.rels", "xl/workbook.xml", "xl/_rels/workbook.xml.rels",
		"xl/worksheets/sheet1.xml", "xl/worksheets/sheet2.xml", "xl/styles.xml", "xl/sharedStrings.xml", "xl/media/image1.png"} {
		if all[name] == "" {
			continue
		}
		out, err := w.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := out.Write([]byte(all[name])); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func readBook(data []byte, w Wanted) (Table, string) {
	var problems problem.List
	w.File, w.Problems = "log.xlsx", &problems
	t := Read(data, w)
	var named problem.List
	for _, p := range problems.Sorted() {
		named.Add(Named(p))
	}
	return t, said(&named)
}

// TestNumbers reads numbers, days and times under the formats that a spreadsheet
// gives them. The serials of days are those of ECMA-376 Part 1, 18.17.4.1: 1 January
// 1900 is 1, 1 March 1900 is 61.
func TestNumbers(t *testing.T) {
	at := time.Date(2026, 2, 14, 18, 3, 5, 0, time.UTC)
	tests := []struct {
		name  string
		value any
		code  string // "" for none
		id    int
		want  string
	}{
		{name: "whole", value: 40, want: "40"},
		{name: "decimal", value: 1.5, want: "1.5"},
		{name: "binary rest", value: 0.1 + 0.2, want: "0.3"},
		{name: "shown rounded", value: 1.25, code: "0", want: "1.25"},
		{name: "a quotient", value: 100.0 / 3, want: "33.333333333"},
		{name: "small", value: 1e-7, want: "0.0000001"},
		{name: "negative", value: -18.5, want: "-18.5"},
		{name: "money-like", value: 1234.5, code: `#,##0.00 [$€-407]`, want: "1234.5"},
		{name: "with a unit in its format", value: 83, code: `0 "grams, day"`, want: "83"},
		{name: "scientific", value: 1500, code: "0.00E+00", want: "1500"},
		{name: "percent", value: 0.5, id: 9, want: "50%"},
		{name: "percent with decimals", value: 0.125, code: "0.0%", want: "12.5%"},
		{name: "truth", value: true, want: "true"},
		{name: "text that is a number", value: "1,5", want: "1,5"},
		{name: "a time as minutes and seconds", value: 70.0 / 86400, id: 45, want: "1:10"},
		{name: "a time as hours, minutes and seconds", value: 70.0 / 86400, id: 21, want: "1:10"},
		{name: "a time with hours", value: 4270.0 / 86400, id: 21, want: "1:11:10"},
		{name: "a time with a fraction", value: 70.25 / 86400, code: "mm:ss.00", want: "1:10.25"},
		{name: "a time past 24 hours", value: 1.5, id: 46, want: "36:00:00"},
		{name: "a time of day of 12 hours", value: 0.75, id: 19, want: "18:00:00"},
		{name: "a day", value: at, id: 14, want: "2026-02-14 18:03:05"}, // it holds more than it shows
		{name: "a day alone", value: at.Truncate(24 * time.Hour), id: 14, want: "2026-02-14"},
		{name: "a day in words", value: at.Truncate(24 * time.Hour), code: `[$-407]d\. mmmm yyyy;@`, want: "2026-02-14"},
		{name: "a month", value: at.Truncate(24 * time.Hour), code: `mmm`, want: "2026-02-14"},
		{name: "a day and a time", value: at, id: 22, want: "2026-02-14 18:03:05"},
		{name: "a day shown as a time", value: at, id: 21, want: "2026-02-14 18:03:05"},
		{name: "the first day", value: 1, id: 14, want: "1900-01-01"},
		{name: "the first of March 1900", value: 61, id: 14, want: "1900-03-01"},
		{name: "no day", value: -1, id: 14, want: "-1"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			style := builtInStyle(t, "A2", tt.id)
			if tt.code != "" {
				style = styled(t, "A2", tt.code)
			}
			table, said := readBook(typed(t, map[string]any{"A1": "a", "A2": tt.value}, style), Wanted{})
			if said != "" || len(table.Rows()) != 1 {
				t.Fatalf("%d rows\n%s", len(table.Rows()), said)
			}
			if got := table.Rows()[0].Under("a").Text; got != tt.want {
				t.Errorf("%q, want %q", got, tt.want)
			}
		})
	}
}

// TestDoubt: a cell that shows hours and minutes may hold what was meant as minutes
// and seconds.
func TestDoubt(t *testing.T) {
	table, said := readBook(typed(t, map[string]any{"A1": "a", "A2": 4200.0 / 86400}, builtInStyle(t, "A2", 20)), Wanted{})
	c := table.Rows()[0].Under("a")
	if said != "" || c.Text != "1:10:00" || c.Doubt != "the cell shows 1:10 and holds 1 h 10 min" || !c.Number {
		t.Errorf("%+v\n%s", c, said)
	}
}

func TestReadWorkbook(t *testing.T) {
	grid := map[string]any{"A1": "sample", "B1": "piece", "C1": "note", "A2": "a", "B2": 1, "C2": "one\r\ntwo", "A4": "b", "B4": 2}
	second := func(name string) func(*excelize.File) {
		return func(f *excelize.File) {
			if _, err := f.NewSheet(name); err != nil {
				t.Fatal(err)
			}
			for at, value := range map[string]any{"A1": "sample", "A2": "of the second"} {
				if err := f.SetCellValue(name, at, value); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	try := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	rows := "sample|piece|note\na|1|one\ntwo\nb|2|\n"
	tests := []struct {
		name   string
		data   []byte
		wanted Wanted
		want   string
	}{
		{name: "the first sheet", data: typed(t, grid, second("more")), want: rows},
		{name: "the sheet of the log's name", data: typed(t, grid, second("Pieces")), wanted: Wanted{Sheet: "pieces"}, want: "sample\nof the second\n"},
		{name: "a hidden sheet", data: typed(t, grid, second("more"), func(f *excelize.File) {
			f.SetActiveSheet(1)
			try(f.SetSheetVisible("Sheet1", false))
		}), want: "sample\nof the second\n"},
		{name: "hidden rows and columns", data: typed(t, grid, func(f *excelize.File) {
			try(f.SetRowVisible("Sheet1", 2, false))
			try(f.SetColVisible("Sheet1", "B", false))
		}), want: rows},
		{name: "a title above", data: typed(t, map[string]any{"A1": "Model X-1", "A3": "time", "B3": "core", "A4": 0, "B4": 20.5}, func(f *excelize.File) {
			try(f.MergeCell("Sheet1", "A1", "B1"))
		}), wanted: Wanted{Heading: func(cells []string) bool { return cells[0] == "time" }}, want: "time|core\n0|20.5\n"},
		{name: "a formula with its result", data: raw(t, `<sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>a</t></is></c></row>`+
			`<row r="2"><c r="A2"><f>1+1</f><v>2</v></c></row><row r="3"><c r="A3" t="str"><f>"x"</f><v>x</v></c></row></sheetData>`, nil), want: "a\n2\nx\n"},
		{name: "texts with several looks", data: raw(t, `<sheetData><row><c t="s"><v>0</v></c></row><row><c t="s"><v>1</v></c></row></sheetData>`, map[string]string{
			"xl/sharedStrings.xml": `<sst><si><t>a</t></si><si><r><t>big </t></r><r><rPr><b/></rPr><t>pan</t></r><rPh><t>no</t></rPh></si></sst>`}), want: "a\nbig pan\n"},
		{name: "cells without names", data: raw(t, `<sheetData><row><c t="str"><v>a</v></c><c t="str"><v>b</v></c></row><row><c><v>1</v></c><c t="e"><v>#N/A</v></c></row></sheetData>`, nil),
			want: "a|b\n1|#N/A\n"},
		{name: "an absolute address of the sheet", data: raw(t, `<sheetData><row><c t="str"><v>a</v></c></row></sheetData>`, map[string]string{
			"xl/_rels/workbook.xml.rels": `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Target="/xl/worksheets/sheet1.xml"/></Relationships>`}), want: "a\n"},
		{name: "styles far to the right and below", data: raw(t, `<sheetData><row r="1"><c r="A1" t="str"><v>a</v></c><c r="XFD1" s="1"/></row><row r="1048576"><c r="XFD1048576" s="1"/></row></sheetData>`, nil), want: "a\n"},
		{name: "days since 1904", data: raw(t, `<sheetData><row><c t="str"><v>a</v></c></row><row><c s="1"><v>0</v></c></row></sheetData>`, map[string]string{
			"xl/styles.xml": `<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="14"/></cellXfs></styleSheet>`,
			"xl/workbook.xml": `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships">` +
				`<workbookPr date1904="1"/><sheets><sheet name="one" sheetId="1" r:id="r1"/></sheets></workbook>`}), want: "a\n1904-01-01\n"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, said := readBook(tt.data, tt.wanted)
			if diff := cmp.Diff(tt.want, shown(got)); diff != "" || said != "" {
				t.Errorf("%s\n%s", diff, said)
			}
			if got.Form != Workbook || got.AsIs {
				t.Errorf("form %s, as is %v", got.Form, got.AsIs)
			}
		})
	}
}

func TestWorkbookPlaces(t *testing.T) {
	table, _ := readBook(typed(t, map[string]any{"B2": "a", "C2": "b", "B5": 1}), Wanted{})
	if at := table.Rows()[0].Under("b").Place; at.String() != "log.xlsx:5:3" {
		t.Error(at)
	}
	if table.Heading()[0].Text != "" {
		t.Error("a table that begins in column B has a first column without a name")
	}
}

func TestReadWorkbookProblems(t *testing.T) {
	cells := func(inside string) []byte { return raw(t, "<sheetData>"+inside+"</sheetData>", nil) }
	sound := cells(`<row><c t="str"><v>a</v></c></row>`)
	rotten := bytes.Clone(sound)
	rotten[bytes.LastIndex(rotten, []byte("PK\x01\x02"))+16] ^= 0xff // the checksum of the sheet, in the archive's list
	sheets := strings.Repeat(`<sheet name="x" sheetId="1" r:id="r1"/>`, mostSheets+1)
	tests := []struct {
		name string
		data []byte
		want string
	}{
		{"nothing", nil, "log.xlsx: is no workbook"},
		{"a text", []byte("a,b\n"), "log.xlsx: is no workbook"},
		{"cut off", sound[:len(sound)/2], "log.xlsx: is no workbook"},
		{"a wrong checksum", rotten, "log.xlsx: is no workbook"},
		{"locked", []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 and so on"), "log.xlsx: is locked with a password"},
		{"another archive", func() []byte {
			var b bytes.Buffer
			w := zip.NewWriter(&b)
			if _, err := w.Create("a.txt"); err != nil {
				t.Fatal(err)
			}
			w.Close()
			return b.Bytes()
		}(), "log.xlsx: is no workbook"},
		{"a sheet that is not there", raw(t, "", map[string]string{"xl/_rels/workbook.xml.rels": `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"/>`}), "log.xlsx: has no sheet with cells"},
		{"it unpacks into very much", raw(t, "", map[string]string{"xl/media/image1.png": strings.Repeat("\x00", mostUnpacked)}), "log.xlsx: is larger than a log can be"},
		{"many styles", raw(t, "", map[string]string{"xl/styles.xml": strings.Repeat("<xf/>", mostStyles/5+1)}), "log.xlsx: is larger than a log can be"},
		{"many sheets", raw(t, "", map[string]string{"xl/workbook.xml": `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets>` + sheets + `</sheets></workbook>`}), "log.xlsx: has more than 50 sheets"},
		{"an empty sheet", cells(``), "log.xlsx: the sheet is empty"},
		{"a broken sheet", cells(`<row><c t="str"><v>a</v></c></row><row>`), "log.xlsx: is no workbook"},
		{"cells out of order", cells(`<row r="1"><c r="B1"><v>1</v></c><c r="A1"><v>1</v></c></row>`), "log.xlsx: is no workbook"},
		{"rows out of order", cells(`<row r="2"><c><v>1</v></c></row><row r="1"><c><v>1</v></c></row>`), "log.xlsx: is no workbook"},
		{"a text that is not there", cells(`<row><c t="str"><v>a</v></c></row><row><c t="s"><v>7</v></c></row>`), "log.xlsx:2:1: A2: the cell refers to a text"},
		{"a formula without its result", cells(`<row><c t="str"><v>a</v></c></row><row><c><f>1+1</f></c></row>`), "log.xlsx:2:1: A2: the formula has no result in the file"},
		{"a cell beside the table", cells(`<row><c t="str"><v>a</v></c></row><row><c r="A2"><v>1</v></c><c r="C2"><v>1</v></c></row>`), "log.xlsx:2:1: A2: the row has 3 cells, the heading 1 (a cell beside the table has no column)"},
		{"too many columns", cells(`<row><c t="str"><v>a</v></c><c r="XFD1" t="str"><v>b</v></c></row>`), "log.xlsx:1:16384: XFD1: more than 200 columns"},
		{"merged cells", typed(t, map[string]any{"A1": "a", "B1": "b", "A2": 1, "B2": 2, "A3": 3}, func(f *excelize.File) {
			if err := f.MergeCell("Sheet1", "B2", "B3"); err != nil {
				t.Fatal(err)
			}
		}), "log.xlsx:2:2: B2: cells are merged with B3"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, said := readBook(tt.data, Wanted{})
			if !strings.HasPrefix(said, tt.want) || strings.Count(said, "\n") != 1 {
				t.Errorf("said:\n%swant:\n%s", said, tt.want)
			}
		})
	}
}

// TestManyRows: more rows than may be are reported, and not kept.
func TestManyRows(t *testing.T) {
	var b strings.Builder
	b.WriteString(`<sheetData><row><c t="str"><v>a</v></c></row>`)
	for range mostRows + 2*preamble {
		b.WriteString(`<row><c><v>1</v></c></row>`)
	}
	table, said := readBook(raw(t, b.String()+`</sheetData>`, nil), Wanted{})
	if want := fmt.Sprintf("log.xlsx:%d:1: A%d: more than %d rows", mostRows+2, mostRows+2, mostRows); !strings.HasPrefix(said, want) || len(table.Rows()) != mostRows {
		t.Errorf("%d rows\n%s", len(table.Rows()), said)
	}
}
