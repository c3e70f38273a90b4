package findings

import (
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/problem"
)

type supportCase struct {
	name string
	bench
	want Degree
}

func supportCases() []supportCase {
	verdict := func(prefer string, because ...string) string {
		return "verdict: {prefer: " + prefer + ", because of: [" + strings.Join(because, ", ") + "]}"
	}
	apart := shareHead + passed("b", 6, 6) + passed("a", 1, 6)
	leaning := shareHead + passed("b", 6, 6) + passed("a", 3, 7)
	both := "a: {control: true}\nb: {name: Both, change: {boil: 18 min, lid: \"off\"}}"
	two := done + "\nhot: {kind: yes or no}"
	split := "sample,batch,piece,done,hot\n" + rows("b", "pass,yes", "pass,no", "pass,yes", "pass,no", "pass,yes") +
		rows("a", "fail,no", "fail,yes", "fail,no", "fail,yes", "fail,no")
	three := shareHead + passed("a", 8, 8) + passed("b", 0, 8) + passed("c", 8, 8)
	prefers := preferences("b", "b", "b", "b", "b", "b", "b", "b", "a")
	blind := answered("triangle", 3, 12, 12)
	return []supportCase{
		{"carried", bench{measures: done, pieces: apart, more: verdict("b", "done")}, Carried},
		{"carried for the control", bench{measures: done, pieces: shareHead + passed("b", 1, 6) + passed("a", 6, 6), more: verdict("a", "done")}, Carried},
		{"the other way", bench{measures: done, pieces: apart, more: verdict("a", "done")}, NotCarried},
		{"a leaning", bench{measures: done, pieces: leaning, more: verdict("b", "done")}, InPart},
		{"none seen", bench{measures: done, pieces: shareHead + passed("b", 3, 6) + passed("a", 2, 6), more: verdict("b", "done")}, NotCarried},
		{"nothing to compare", bench{measures: done, pieces: shareHead + passed("b", 3, 6), more: verdict("b", "done")}, NotCarried},
		{"confounded", bench{samples: both, measures: done, pieces: apart, more: verdict("b", "done")}, InPart},
		{"one of two", bench{measures: two, pieces: split, more: verdict("b", "done", "hot")}, InPart},
		{"the control against some", bench{samples: threeSamples, measures: done, pieces: three, more: verdict("a", "done")}, InPart},
		{"only the control counts", bench{samples: threeSamples, measures: done, more: verdict("b", "done"),
			pieces: shareHead + passed("a", 0, 8) + passed("b", 8, 8) + passed("c", 8, 8)}, Carried},
		{"a blind preference", prefers.with(verdict("b", "blind")), Carried},
		{"a blind preference for the other", prefers.with(verdict("a", "blind")), NotCarried},
		{"a blind test that nobody passed", blind.with(verdict("b", "blind")), NotCarried},
		{"a blind test that was passed", answered("triangle", 8, 12, 12).with(verdict("b", "blind")), InPart},
		{"no reasons", bench{measures: done, pieces: apart, more: "verdict: {prefer: b}"}, Unstated},
		{"no preference", bench{measures: done, pieces: apart, more: "verdict: {because of: [done]}"}, Unstated},
		{"no verdict", bench{measures: done, pieces: apart}, Unstated},
	}
}

func (b bench) with(more string) bench {
	b.more = more
	return b
}

// TestSupport: how far the findings go with a verdict, and that the author is asked
// about each reason that they do not carry, at its place in the note.
func TestSupport(t *testing.T) {
	for _, tt := range supportCases() {
		f := tt.of(t)
		if f.Support.Degree != tt.want {
			t.Errorf("%s: %q (%s), want %q", tt.name, f.Support.Degree, f.Support.Words, tt.want)
		}
		var problems problem.List
		f.Questions(&problems)
		asked := 0
		for _, m := range f.Support.Measures {
			if m.Degree == NotCarried {
				asked++
			}
		}
		if problems.Len() != asked || problems.Errors() != 0 {
			t.Errorf("%s: asks %v", tt.name, problems.Sorted())
		}
		for _, p := range problems.Sorted() {
			if p.Code != problem.Design || p.Pos.Line == 0 || p.Pos.Column == 0 {
				t.Errorf("%s: %v", tt.name, p)
			}
		}
	}
}

func verdictSentences(t *testing.T) string {
	out := ""
	for _, c := range supportCases() {
		if s := c.of(t).Support; s.Degree != Unstated {
			out += "# verdict: " + c.name + " (" + string(s.Degree) + ")\n" + s.Words + "\n\n"
		}
	}
	return strings.TrimSuffix(out, "\n")
}
