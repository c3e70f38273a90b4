package tabular

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/problem"
)

func TestSettle(t *testing.T) {
	tests := []struct {
		name, in string
		note     Decimals
		want     string
		problems string // beginnings of what is said, one a line
	}{
		{name: "points between commas", in: "a,b\n1.5,1.500\n", want: "a|b\n1.5|1.500\n"},
		{name: "commas between semicolons", in: "a;b\n1,5;0,250\n", want: "a|b\n1.5|0.250\n"},
		{name: "commas between tabs, with units", in: "a\tb\n1,5 cm\t-18,25 °C\n", want: "a|b\n1.5 cm|-18.25 °C\n"},
		{name: "three digits beside others of the column", in: "a;b\n1,500;1\n12,5;2\n", want: "a|b\n1.500|1\n12.5|2\n"},
		{name: "points between semicolons", in: "a;b\n1.5;12.25\n", want: "a|b\n1.5|12.25\n"},
		{name: "other columns are left alone", in: "a;x\n1,5;2,500\n", want: "a|x\n1.5|2,500\n"},
		{name: "a time with a comma", in: "a,b\n\"1:10,5\",2\n", want: "a|b\n1:10.5|2\n"},
		{name: "two numbers in a cell", in: "a;b\n1 min 2,5 s;20,5–25,5\n", want: "a|b\n1 min 2.5 s|20.5–25.5\n"},
		{name: "three digits between semicolons", in: "a;b\n1,500;2\n", want: "a|b\n|2\n",
			problems: "log.csv:2:1: “1,500” can be 1.500 or 1500 (write 1500 if it is that, or say once in the note how the logs are written, like logs: {decimals: comma})"},
		{name: "three digits beside another column's comma", in: "a;b\n1,500;2,5\n", want: "a|b\n|2.5\n", problems: "log.csv:2:1: “1,500” can be 1.500 or 1500"},
		{name: "a comma between commas", in: "a,b\n\"1,5\",2\n", want: "a|b\n|2\n",
			problems: "log.csv:2:1: “1,5” can be 1.5 or two readings, 1 and 5 (write 1.5, or say once"},
		{name: "three digits between commas", in: "a,b\n\"1,500 g\",2\n", want: "a|b\n|2\n", problems: "log.csv:2:1: “1,500 g” can be 1.500 or 1500 (write 1.500 or 1500"},
		{name: "both in a table", in: "a;b\n1,5;2.5\n", want: "a|b\n|2.5\n", problems: "log.csv:2:1: “1,5” can be 1.5 or two readings, 1 and 5: the log has decimal points as well"},
		{name: "a point before three digits between semicolons", in: "a;b\n1.500;2,5\n", want: "a|b\n|2.5\n",
			problems: "log.csv:2:1: “1.500” can be 1.500 or 1500 (write 1500 if it is that, or say once in the note how the logs are written, like logs: {decimals: point})"},
		{name: "several signs", in: "a;b\n1.234,5;1,234,567\n", want: "a|b\n|\n",
			problems: "log.csv:2:1: “1.234,5” has more than one sign in a number (write it with a decimal point and no other sign)\nlog.csv:2:9: “1,234,567” has"},
		{name: "the note says comma", in: "a,b\n\"1,5\",\"1,500\"\n", note: DecimalComma, want: "a|b\n1.5|1.500\n"},
		{name: "the note says comma, groups", in: "a;b\n1.500;1.234.567,8\n", note: DecimalComma, want: "a|b\n1500|1234567.8\n"},
		{name: "the note says comma, a point", in: "a;b\n1.5;2\n", note: DecimalComma, want: "a|b\n|2\n",
			problems: "log.csv:2:1: “1.5” has a point, and the note says that the logs have decimal commas (write 1.5)"},
		{name: "the note says point", in: "a;b\n1.500;1,500\n", note: DecimalPoint, want: "a|b\n1.500|1500\n"},
		{name: "the note says point, groups", in: "a;b\n1,234,567.8;2\n", note: DecimalPoint, want: "a|b\n1234567.8|2\n"},
		{name: "the note says point, a comma", in: "a;b\n1,5;2\n", note: DecimalPoint, want: "a|b\n|2\n",
			problems: "log.csv:2:1: “1,5” has a comma, and the note says that the logs have decimal points (write 1.5)"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var problems problem.List
			read := Read([]byte(tt.in), Wanted{File: "log.csv", Problems: &problems})
			settled, changed := read.Settle([]string{"a", "b"}, tt.note, &problems)
			if diff := cmp.Diff(tt.want, shown(settled)); diff != "" {
				t.Error(diff)
			}
			if changed != (shown(read) != shown(settled)) {
				t.Errorf("changed is %v", changed)
			}
			got := strings.Split(strings.TrimSuffix(said(&problems), "\n"), "\n")
			for i, want := range strings.Split(tt.problems, "\n") {
				if i >= len(got) || !strings.HasPrefix(got[i], want) || len(got) != strings.Count(tt.problems, "\n")+1 {
					t.Errorf("said %q, want %q", got, tt.problems)
				}
			}
		})
	}
}
