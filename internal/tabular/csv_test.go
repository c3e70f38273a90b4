package tabular

import (
	"encoding/binary"
	"fmt"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/problem"
)

// shown writes a table down: a line for the heading and for every row, cells between
// bars.
func shown(t Table) string {
	heading, rows := t.Texts()
	var b strings.Builder
	for _, cells := range append([][]string{heading}, rows...) {
		b.WriteString(strings.Join(cells, "|") + "\n")
	}
	return b.String()
}

// said writes problems down, one a line.
func said(problems *problem.List) string {
	var b strings.Builder
	for _, p := range problems.Sorted() {
		fmt.Fprintf(&b, "%s [%s]\n", p, p.Code)
	}
	return b.String()
}

// in16 writes a text as UTF-16 with its byte-order mark.
func in16(order binary.AppendByteOrder, text string) string {
	var b []byte
	for _, unit := range utf16.Encode([]rune("\ufeff" + text)) {
		b = order.AppendUint16(b, unit)
	}
	return string(b)
}

func TestReadCSV(t *testing.T) {
	logger := func(cells []string) bool { return len(cells) > 1 && cells[0] == "time" }
	tests := []struct {
		name, in string
		heading  func([]string) bool
		form     Form
		want     string
	}{
		{name: "commas", in: "sample,piece\na,1\n", want: "sample|piece\na|1\n"},
		{name: "semicolons", in: "sample;piece\na;1,5\n", form: Semicolon, want: "sample|piece\na|1,5\n"},
		{name: "tabs", in: "sample\tpiece\na\t1;2,3\n", form: Tab, want: "sample|piece\na|1;2,3\n"},
		{name: "commas in names between semicolons", in: "sample;piece;width, height, depth\na;1;2\n", form: Semicolon,
			want: "sample|piece|width, height, depth\na|1|2\n"},
		{name: "semicolons in a name between commas", in: "sample,piece,a;b;c;d\na,1,2\n", want: "sample|piece|a;b;c;d\na|1|2\n"},
		{name: "a separator in quotes", in: "\"sample;x\",piece\na,1\n", want: "sample;x|piece\na|1\n"},
		{name: "the separator said", in: "sep=;\nsample;piece\na;1\n", form: Semicolon, want: "sample|piece\na|1\n"},
		{name: "the separator said in quotes", in: "\"sep=,\"\r\nsample,piece\r\na,1\r\n", want: "sample|piece\na|1\n"},
		{name: "a separator that is a tab", in: "sep=\t\nsample\tpiece\na\t1\n", form: Tab, want: "sample|piece\na|1\n"},
		{name: "one column", in: "sample\na\n", want: "sample\na\n"},
		{name: "UTF-8 with two marks, and one in the middle", in: "\ufeff\ufeffsample;\ufeffpiece\nä;1\n", form: Semicolon, want: "sample|piece\nä|1\n"},
		{name: "UTF-8 with its mark", in: "\ufeffsample;piece\nä;1\n", form: Semicolon, want: "sample|piece\nä|1\n"},
		{name: "UTF-16, little end first", in: in16(binary.LittleEndian, "sample\tpiece\r\n½ 😀\t1\r\n"), form: Tab, want: "sample|piece\n½ 😀|1\n"},
		{name: "UTF-16, big end first", in: in16(binary.BigEndian, "sample,piece\nä,1\n"), want: "sample|piece\nä|1\n"},
		{name: "CR LF", in: "sample;piece\r\na;1\r\n", form: Semicolon, want: "sample|piece\na|1\n"},
		{name: "CR alone", in: "sample,piece\ra,1\r", want: "sample|piece\na|1\n"},
		{name: "a line end in quotes", in: "sample;piece\na;\"one\r\ntwo\"\nb;2\n", form: Semicolon, want: "sample|piece\na|one\ntwo\nb|2\n"},
		{name: "empty columns and rows at the end", in: "sample;piece;;\na;1;;\n;;;\n  ; ;;\n", form: Semicolon, want: "sample|piece\na|1\n"},
		{name: "space around cells", in: " sample , piece\u00a0\n a ,\t1\n", want: "sample|piece\na|1\n"},
		{name: "a guarded formula", in: "sample,piece\n'=a,'b\n", want: "sample|piece\n=a|'b\n"},
		{name: "lines of an instrument", in: "Model: X-1, 4 \"channels\nSerial;0042\n\ntime,core\n0,20\n", heading: logger, want: "time|core\n0|20\n"},
		{name: "lines of an instrument between semicolons", in: "Modell;X-1\nStart;14.02.2026\ntime;core\n0;20,5\n", heading: logger, form: Semicolon,
			want: "time|core\n0|20,5\n"},
		{name: "a heading in the 31st line", in: strings.Repeat("x\n", 30) + "time,core\n0,20\n", heading: logger, want: "time|core\n0|20\n"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var problems problem.List
			got := Read([]byte(tt.in), Wanted{File: "log.csv", Columns: []string{"sample", "piece", "time"}, Heading: tt.heading, Problems: &problems})
			if diff := cmp.Diff(tt.want, shown(got)); diff != "" || problems.Len() > 0 {
				t.Errorf("%s\n%s", diff, said(&problems))
			}
			if got.Form != tt.form {
				t.Errorf("it has %s, want %s", got.Form, tt.form)
			}
		})
	}
}

func TestReadCSVProblems(t *testing.T) {
	logger := func(cells []string) bool { return len(cells) > 1 && cells[0] == "time" }
	wide := strings.Repeat("x", mostRunes+1)
	tests := []struct {
		name, in string
		heading  func([]string) bool
		want     string // beginnings of the lines
	}{
		{name: "empty", in: " \n", want: "log.csv: the file is empty"},
		{name: "only separators", in: ";;\n;;\n", want: "log.csv: there is no heading line"},
		{name: "no heading", in: "a,b\n1,2\n", heading: logger, want: "log.csv: there is no heading line among the first 30"},
		{name: "a heading too late", in: strings.Repeat("x\n", 31) + "time,core\n0,20\n", heading: logger, want: "log.csv: there is no heading line among the first 30"},
		{name: "no UTF-8", in: "a,b\n\xe4,1\n", want: "log.csv:2:1: a byte that is not UTF-8"},
		{name: "UTF-16 cut off", in: in16(binary.LittleEndian, "a,b\n")[:7], want: "log.csv:1:1: a byte that is not UTF-8"},
		{name: "NUL", in: "a,b\n1,\x00\n", want: "log.csv:2:3: a NUL byte"},
		{name: "a short row", in: "a;b;c\n1;2\n", want: "log.csv:2:1: the row has 2 cells, the heading 3, parted by semicolons (an empty cell still has its semicolon)"},
		{name: "a long row with nothing at its end", in: "a,b\n1,,\n", want: "log.csv:2:1: the row has 3 cells, the heading 2"},
		{name: "after a line end in quotes", in: "a,b\n\"1\n2\",3\n4\n", want: "log.csv:4:1: the row has 1 cell, the heading 2"},
		{name: "columns in runes", in: "a,b\nä,\"x\"y\n", want: "log.csv:2:5: a quoted cell that does not end where it should"},
		{name: "a quote out of place", in: "sep=,\na,b\n1,x\"y\n", want: "log.csv:3:4: a quote inside a cell"},
		{name: "a name twice", in: "a,a\n1,2\n", want: "log.csv:1:3: the column \"a\" stands twice"},
		{name: "no name", in: "a,,b\n1,2,3\n", want: "log.csv:1:3: column 2 has no name"},
		{name: "no name at the end, but a cell", in: "a,b,\n1,2,3\n", want: "log.csv:1:5: column 3 has no name"},
		{name: "a long cell", in: "a,b\n1," + wide + "\n", want: "log.csv:2:3: the cell has more than 10000 characters"},
		{name: "columns", in: strings.Repeat("a,", mostColumns) + "b\n", want: "log.csv:1:401: more than 200 columns"},
		{name: "rows", in: "a,b\n" + strings.Repeat("1,2\n", mostRows+1), want: "log.csv:100002:1: more than 100000 rows"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var problems problem.List
			got := Read([]byte(tt.in), Wanted{File: "log.csv", Heading: tt.heading, Problems: &problems})
			if said := said(&problems); !strings.HasPrefix(said, tt.want) || strings.Count(said, "\n") != 1 {
				t.Errorf("said:\n%swant:\n%s", said, tt.want)
			}
			if len(got.Rows()) > mostRows {
				t.Errorf("%d rows", len(got.Rows()))
			}
		})
	}
}

// TestLarge: a file beyond the limit is not looked at.
func TestLarge(t *testing.T) {
	var problems problem.List
	Read(make([]byte, MostBytes+1), Wanted{File: "log.csv", Problems: &problems})
	if got := said(&problems); got != "log.csv: is larger than 16 MB [unreadable]\n" {
		t.Error(got)
	}
}

// TestPlain: what is known to have commas is not searched for other separators.
func TestPlain(t *testing.T) {
	got := Read([]byte("a;b;c,d\n1,2\n"), Wanted{File: "log.csv", Plain: true})
	if want := "a;b;c|d\n1|2\n"; shown(got) != want {
		t.Errorf("%q, want %q", shown(got), want)
	}
}

// TestWriteReads: what Write writes is read as it was.
func TestWriteReads(t *testing.T) {
	heading := []string{"a", "=b", "c;d"}
	rows := [][]string{{"1", "-18 °C", "x,\"y\"\nz"}, {"@", "", "=1"}}
	for _, end := range []LineEnd{LF, CRLF} {
		data := Write(heading, rows, end)
		h, r := Read(data, Wanted{File: "log.csv", Plain: true}).Texts()
		if diff := cmp.Diff(append([][]string{heading}, rows...), append([][]string{h}, r...)); diff != "" {
			t.Error(diff)
		}
		if CRs := strings.Count(string(data), "\r\n"); (CRs > 0) != bool(end) {
			t.Errorf("%d line ends with CR", CRs)
		}
	}
}
