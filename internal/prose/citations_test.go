package prose

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/problem"
)

func TestCitations(t *testing.T) {
	source := `We saw [3 of
7](value:fresh/flips-clean) and *[](<value:fresh/side 1>)*, see
[the times](figure:cook-time) and ` + "`[no](value:code)`" + `.

![What *became* of them](table:outcomes)

| a | b |
|---|---|
| é [x](VALUE:a%20b) | [log](pieces.csv) |

One note.[^n]

[^n]: Here too: [1](value:n).
`
	got := Citations(Doc{File: "rice/trial.md", FirstLine: 10, Source: []byte(source)})
	at := func(line, column int) problem.Pos {
		return problem.Pos{File: "rice/trial.md", Line: line, Column: column}
	}
	want := []Citation{
		{"value", "fresh/flips-clean", "3 of 7", at(10, 8)},
		{"value", "fresh/side 1", "", at(11, 34)},
		{"figure", "cook-time", "the times", at(12, 1)},
		{"table", "outcomes", "What became of them", at(14, 1)},
		{"value", "a b", "x", at(18, 5)},
		{"value", "n", "1", at(22, 17)},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if got := Citations(Doc{Source: []byte("[a](value:b)")}); len(got) != 1 || got[0].Pos.Line != 1 {
		t.Errorf("without a first line: %v", got)
	}
}
