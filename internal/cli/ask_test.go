package cli

import (
	"bufio"
	"errors"
	"os"
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/draft"
	"sidebatch.example/sidebatch/internal/kitchen"
)

func answering(answers ...string) (asker, *strings.Builder) {
	var out strings.Builder
	return asker{bufio.NewReader(strings.NewReader(strings.Join(answers, "\n"))), &out}, &out
}

func TestAsker(t *testing.T) {
	a, out := answering("  one  ", "", "x", "0", "7", "maybe", "n", "last")
	if text, err := a.line("First", ""); text != "one" || err != nil {
		t.Errorf("%q, %v", text, err)
	}
	if text, err := a.line("Second", "two"); text != "two" || err != nil {
		t.Errorf("an empty line takes what stands in brackets: %q, %v", text, err)
	}
	if n, err := a.number("Third", 3, 9); n != 7 || err != nil {
		t.Errorf("%d, %v", n, err)
	}
	if yes, err := a.yes("Fourth"); yes || err != nil {
		t.Errorf("%v, %v", yes, err)
	}
	if text, err := a.line("Fifth", ""); text != "last" || err != nil {
		t.Errorf("a last line without its end counts: %q, %v", text, err)
	}
	if _, err := a.line("Sixth", "otherwise"); !errors.Is(err, errStopped) {
		t.Errorf("the end of the answers: %v", err)
	}
	want := "First: Second [two]: Third [3]:   a whole number from 1 to 9 is needed\n" +
		"Third [3]:   a whole number from 1 to 9 is needed\nThird [3]: " +
		"Fourth [yes]:   yes or no is needed\nFourth [yes]: Fifth: Sixth [otherwise]: \n"
	if out.String() != want {
		t.Errorf("%q\nwant %q", out, want)
	}
}

// A pipe and a file are no terminal; nobody could answer.
func TestIsTerminal(t *testing.T) {
	read, write, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer read.Close()
	defer write.Close()
	if isTerminal(read) || isTerminal(strings.NewReader("")) {
		t.Error("a pipe is taken for a terminal")
	}
}

// Every answer that cannot be is told and asked for again, and the rest stays.
func TestTalk(t *testing.T) {
	a, out := answering("", "A title", "A question", "nobody", "", "Soup", "", "water: 1 kg", "water: 1 kg water", "", "boil: 10 min", "",
		"Boil for {biol}.", "Boil for {boil}.", "", "haf", "half batch",
		"", "boil: 20 min", "", "", "2", "boyl, done", "done, liking", "yes")
	w := draft.Wish{Slug: "soup"}
	talk := talk{asker: a, wish: &w, kitchen: kitchen.Default(), trials: []string{"stew"},
		earlier: func(name string) (*draft.Earlier, error) { return nil, errors.New("there is no trial " + name) }}
	if err := talk.all(); err != nil {
		t.Fatal(err, out)
	}
	for _, told := range []string{"this is needed", "there is no trial nobody (stew)", `"1 kg" says how much, but not of what`,
		`no condition is called "biol" (did you mean boil?)`, `"haf" is not a batch size`, "at least one is needed",
		`boyl: there is no ready-made measure "boyl" (did you mean boil?)`} {
		if !strings.Contains(out.String(), told) {
			t.Errorf("%s is not told in\n%s", told, out)
		}
	}
	d, mistakes := draft.Begin(w, kitchen.Default())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	got := d.Trial
	if len(got.Samples) != 2 || len(got.Measures) != 2 || len(got.Recipe.Ingredients) != 1 || len(got.Recipe.Steps) != 1 ||
		got.TestedAt.String() != "0.5" || w.Pieces != 6 || w.Batches != 2 {
		t.Errorf("%d samples, %d measures, tested at %s, %d pieces, %d batches", len(got.Samples), len(got.Measures), got.TestedAt, w.Pieces, w.Batches)
	}
}

// Wherever the answers end, so does everything.
func TestTalkStops(t *testing.T) {
	answers := []string{"A title", "A question", "Soup", "", "water: 1 kg water", "", "boil: 10 min", "", "", "", "boil: 20 min", "", "", "", "done", "no"}
	for n := range len(answers) + 1 {
		a, out := answering(answers[:n]...)
		if n > 0 && n < len(answers) && answers[n-1] == "" {
			continue // an end after an empty line is the end of the line before it
		}
		talk := talk{asker: a, wish: &draft.Wish{Slug: "soup"}, kitchen: kitchen.Default()}
		if err := talk.all(); !errors.Is(err, errStopped) {
			t.Errorf("after %d answers: %v\n%s", n, err, out)
		}
	}
}

func TestBadSlug(t *testing.T) {
	for in, want := range map[string]string{
		"Rye Bread": "did you mean rye-bread?", "crêpes": "did you mean cr-pes?", "archive": "use small letters", "--": "use small letters",
	} {
		if got := badSlug(in).Error(); !strings.Contains(got, want) {
			t.Errorf("%s: %s", in, got)
		}
	}
}
