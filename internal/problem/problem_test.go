package problem

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestString(t *testing.T) {
	at := Pos{File: "cool/trial.md", Line: 4, Column: 7}
	tests := []struct {
		name string
		in   Problem
		want string
	}{
		{"whole place", Problem{Pos: at, What: "unknown key titel", Hint: "did you mean title?"}, "cool/trial.md:4:7: unknown key titel (did you mean title?)"},
		{"line", Problem{Pos: Pos{File: "a", Line: 4}, What: "x"}, "a:4: x"},
		{"file", Problem{Pos: Pos{File: "a"}, What: "x"}, "a: x"},
		{"question", Problem{Pos: at, Weight: Question, What: "mass or volume", Hint: "write fl oz"}, "cool/trial.md:4:7: question: mass or volume (write fl oz)"},
	}
	for _, test := range tests {
		if got := test.in.String(); got != test.want {
			t.Errorf("%s: got %q, want %q", test.name, got, test.want)
		}
	}
}

func TestListSortsAndCounts(t *testing.T) {
	var l, other List
	l.Errorf(Pos{"b", 1, 1}, Syntax, "last")
	l.Ask(Pos{"a", 10, 1}, OunceLiquid, "hint", "third")
	l.Errorf(Pos{"a", 2, 9}, Syntax, "second")
	l.Errorf(Pos{"a", 2, 9}, Syntax, "second") // reported twice
	other.Hinted(Pos{"a", 2, 3}, BadWord, "hint", "%s", "first")
	l.Join(other)
	var got []string
	for _, p := range l.Sorted() {
		got = append(got, p.What)
	}
	if want := []string{"first", "second", "third", "last"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if l.Len() != 5 || l.Errors() != 4 {
		t.Errorf("%d problems, %d errors, want 5 and 4", l.Len(), l.Errors())
	}
}

func TestCodesAreDistinct(t *testing.T) {
	shape := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	seen := map[Code]bool{}
	for _, code := range Codes() {
		if seen[code] || !shape.MatchString(string(code)) {
			t.Errorf("the code %q is there twice or misshapen", code)
		}
		seen[code] = true
	}
}

func TestNearest(t *testing.T) {
	keys := []string{"title", "question", "amounts for", "water temperature", "by"}
	tests := []struct{ in, want string }{
		{"title", "title"}, {"titel", "title"}, {"Title", "title"}, {"tittle", "title"}, {"tite", "title"},
		{"amount for", "amounts for"}, {"amounts_for", "amounts for"}, {"water-temprature", "water temperature"},
		{"glaze", ""}, {"", ""}, {"x", ""}, {"yb", ""},
	}
	for _, test := range tests {
		if got := Nearest(test.in, keys); got != test.want {
			t.Errorf("Nearest(%q) = %q, want %q", test.in, got, test.want)
		}
	}
	if got := DidYouMean("titel", keys); got != "did you mean title?" {
		t.Errorf("DidYouMean: %q", got)
	}
	if got := DidYouMean("glaze", keys); got != "" {
		t.Errorf("DidYouMean of nothing near: %q", got)
	}
}

// TestDistance: values of the restricted distance. The first three are the
// usual examples; "ca" and "abc" are 3 apart in it and 2 in the unrestricted
// one (common practice, from memory).
func TestDistance(t *testing.T) {
	tests := []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3}, {"ab", "ba", 1}, {"", "abc", 3}, {"ca", "abc", 3}, {"brûlée", "brulee", 2}, {"same", "same", 0},
	}
	for _, test := range tests {
		if got := distance([]rune(test.a), []rune(test.b)); got != test.want {
			t.Errorf("distance(%q, %q) = %d, want %d", test.a, test.b, got, test.want)
		}
	}
}

func TestDistanceLaws(t *testing.T) {
	word := rapid.StringMatching(`[abé]{0,7}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := []rune(word.Draw(t, "a")), []rune(word.Draw(t, "b"))
		d := distance(a, b)
		switch {
		case d != distance(b, a):
			t.Fatal("not the same both ways")
		case (d == 0) != slices.Equal(a, b):
			t.Fatal("0 is for equal words, and for them alone")
		case d > max(len(a), len(b)) || d < max(len(a), len(b))-min(len(a), len(b)):
			t.Fatalf("%d is beyond the bounds", d)
		}
	})
}

func TestPosString(t *testing.T) {
	a, b := Pos{"a", 2, 1}, Pos{"a", 10, 1}
	if a.Compare(b) >= 0 || b.Compare(a) <= 0 || a.Compare(a) != 0 {
		t.Error("lines are compared as numbers")
	}
	if !strings.HasPrefix(b.String(), "a:10:1") {
		t.Error(b.String())
	}
}
