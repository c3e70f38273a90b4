package problem

import (
	"fmt"
	"strings"
	"testing"
)

func TestVisible(t *testing.T) {
	for text, want := range map[string]string{
		"plain, with ü and “quotes”":       "plain, with ü and “quotes”",
		"\x1b[31mred\x07":                  `\x1b[31mred\x07`,
		"a\nb\r\tc\x00":                    `a\x0ab\x0d\x09c\x00`,
		"\u009b31m":                        `\u009b31m`,
		"\u202egnp.exe\u2066":              `\u202egnp.exe\u2066`,
		"one\u2028two":                     `one\u2028two`,
		"\xff\xfe":                         `\xff\xfe`,
		"\ufffd stays":                     "\ufffd stays",
		"\u200f says only where it stands": "\u200f says only where it stands",
		strings.Repeat("ü", 600):           strings.Repeat("ü", 250) + " … " + strings.Repeat("ü", 250),
	} {
		if got := Visible(text); got != want {
			t.Errorf("%q is shown as %q, want %q", text, got, want)
		}
	}
}

func FuzzVisible(f *testing.F) {
	f.Add("\x1b[31m\u202e\xff\n")
	f.Fuzz(func(t *testing.T, text string) {
		p := Problem{Pos: Pos{File: text, Line: 1}, What: text, Hint: text}
		for _, shown := range []string{Visible(text), p.String()} {
			if strings.ContainsFunc(shown, Acts) || len(shown) > 20*longestShown || strings.ToValidUTF8(shown, "") != shown {
				t.Errorf("%q is shown as %q", text, shown)
			}
		}
		if got := Visible(Visible(text)); len(text) < longestShown/8 && got != Visible(text) {
			t.Errorf("%q is shown as %q, and that as %q", text, Visible(text), got)
		}
	})
}

// TestListIsBounded: of one file so many problems are kept, questions and errors each, so
// that no flood of questions hides an error.
func TestListIsBounded(t *testing.T) {
	var part, all List
	for i := range 5000 {
		part.Ask(Pos{File: "a", Line: i + 1}, Design, "", "question %d", i)
	}
	part.Errorf(Pos{File: "a", Line: 6000}, Syntax, "an error")
	part.Errorf(Pos{File: "b", Line: 1}, Syntax, "another")
	all.Join(part)
	if all.Len() != mostOfFile+3 || all.Errors() != 2 {
		t.Errorf("%d problems, %d of them errors", all.Len(), all.Errors())
	}
	first := all.Sorted()[0]
	if want := fmt.Sprintf("a: question: there are more than %d of these, and the rest is not told", mostOfFile); first.String() != want {
		t.Errorf("got %s", first)
	}
}

// TestNearestIsBounded: words that nobody mistyped are not compared.
func TestNearestIsBounded(t *testing.T) {
	long := strings.Repeat("x", 100_000)
	if got := Nearest(long, []string{long + "y"}); got != "" {
		t.Errorf("got %.20q", got)
	}
	if got := Nearest("sampel", []string{long, "sample"}); got != "sample" {
		t.Errorf("got %.20q", got)
	}
}
