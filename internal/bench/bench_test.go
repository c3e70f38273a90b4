package bench

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/testkit"
	"sidebatch.example/sidebatch/internal/trial"
)

// crackers reads the trial of this room's tests, with logs beside it.
func crackers(t testing.TB, logs ...Log) *trial.Trial {
	t.Helper()
	note, err := os.ReadFile("testdata/trial.md")
	if err != nil {
		t.Fatal(err)
	}
	files := fstest.MapFS{"rye-crackers/trial.md": {Data: note}}
	for _, log := range logs {
		files["rye-crackers/"+log.Name] = &fstest.MapFile{Data: log.Data}
	}
	var problems problem.List
	read := trial.Read(trial.Folder{FS: files, Slug: "rye-crackers", Shown: "content"}, bothLists(), &problems)
	for _, p := range problems.Sorted() {
		t.Errorf("unexpected problem: %s", p)
	}
	if read == nil {
		t.Fatal("no trial")
	}
	return read
}

// bothLists is a kitchen that goes by both lists of allergens; rye stands on one.
func bothLists() kitchen.Kitchen {
	k := kitchen.Default()
	k.Allergens = kitchen.AllergensBoth
	return k
}

func panelOf(n int) Panel { return Panel{Assessors: n, Sets: 1, Seed: "7"} }

func lay(t testing.TB, p Panel) (*trial.Trial, *Tasting) {
	t.Helper()
	note := crackers(t)
	laid, err := Lay(note, p)
	if err != nil {
		t.Fatal(err)
	}
	return note, laid
}

// TestGolden holds everything that is printed, and the files, byte for byte.
func TestGolden(t *testing.T) {
	note, laid := lay(t, panelOf(3))
	f := findings.Of(note)
	renderer, err := page.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	testkit.Golden(t, "testdata/ballots.csv", laid.BallotsCSV(note))
	testkit.Golden(t, "testdata/key.csv", laid.KeyCSV())
	for _, log := range BlankLogs(note, Run{Batches: 2, Assessors: 2}) {
		testkit.Golden(t, "testdata/blank-"+log.Name, log.Data)
	}
	frame := page.Frame{Site: "A test kitchen", Language: "en", Invented: true}
	for name, render := range map[string]func() ([]byte, error){
		"sheet.html": func() ([]byte, error) {
			v := Sheet(f, Run{Batches: 2, Assessors: 2})
			v.Frame = frame
			return renderer.BenchSheet(v)
		},
		"ballots.html": func() ([]byte, error) {
			v := laid.Ballots(f)
			v.Frame = frame
			return renderer.Ballots(v)
		},
		"pouring-list.html": func() ([]byte, error) {
			v := laid.PouringList(f, panelOf(3))
			v.Frame = frame
			return renderer.PouringList(v)
		},
	} {
		html, err := render()
		if err != nil {
			t.Fatal(err)
		}
		testkit.Golden(t, "testdata/"+name, withoutStyle(t, html))
	}
}

// withoutStyle takes the style sheet out, which has golden files of its own.
func withoutStyle(t *testing.T, html []byte) []byte {
	t.Helper()
	before, rest, open := bytes.Cut(html, []byte("<style>"))
	_, after, closed := bytes.Cut(rest, []byte("</style>"))
	if !open || !closed || bytes.Contains(after, []byte("<style")) {
		t.Fatal("not one style element")
	}
	return slices.Concat(before, after)
}

// A ballot must not say what is compared: neither the title nor the question, nor any
// sample's name, key or change.
func TestBallotsAreBlind(t *testing.T) {
	note, laid := lay(t, panelOf(6))
	v := laid.Ballots(findings.Of(note))
	text := strings.ToLower(fmt.Sprintf("%+v", v))
	for _, secret := range []string{note.Title, note.Question, "mixed dry", "soaked", "more salt", "thinner", "8 h"} {
		if strings.Contains(text, strings.ToLower(secret)) {
			t.Errorf("a ballot says %q", secret)
		}
	}
	if len(v.Ballots) != 6 || len(v.Ballots[0].Parts) != 7 {
		t.Fatalf("%d ballots of %d parts", len(v.Ballots), len(v.Ballots[0].Parts))
	}
	if !strings.Contains(text, "wheat") && !strings.Contains(text, "gluten") {
		t.Errorf("a ballot names no allergen of rye: %s", text)
	}
}

// TestLaid: every assessor gets every sample once to score, and of each test the cups
// that it takes; no code stands twice, and none gives its sample away by its order.
func TestLaid(t *testing.T) {
	for _, p := range []Panel{panelOf(1), panelOf(5), {Assessors: 12, Sets: 1, Seed: "x", Constant: true}, {Assessors: 4, Sets: 3}} {
		_, laid := lay(t, p)
		want := map[string]int{"": 4, "odd one": 3, "same as": 3, "saltier": 2, "saltiest": 3, "pairs": 4, "better": 2}
		codes := map[string]bool{}
		for _, s := range laid.sittings() {
			if len(s.cups) != want[s.test] {
				t.Fatalf("%d cups of %q", len(s.cups), s.test)
			}
			for _, c := range s.cups {
				if codes[c.Code] && c.Code != Reference {
					t.Fatalf("the code %s stands twice", c.Code)
				}
				codes[c.Code] = true
				if c.Code == Reference && (c.Test != "same as" || c.Place != 1 || p.Constant && c.Sample != "dry") {
					t.Fatalf("the reference %+v", c)
				}
			}
			if kind := s.test; kind != "" && kind != "better" && !slices.Contains(s.choices(testKindOf(kind)), s.right()) {
				t.Fatalf("%q: the right one, %q, cannot be picked", kind, s.right())
			}
		}
		if got, want := len(laid.sittings()), p.Assessors*(1+6*p.Sets); got != want {
			t.Errorf("%d sittings, want %d", got, want)
		}
		if got := laid.Assessors(); len(got) != p.Assessors {
			t.Errorf("assessors %q", got)
		}
	}
}

func testKindOf(test string) trial.Kind {
	return map[string]trial.Kind{"odd one": trial.Triangle, "same as": trial.DuoTrio, "saltier": trial.TwoAFC,
		"saltiest": trial.ThreeAFC, "pairs": trial.Tetrad}[test]
}

func TestLayRefuses(t *testing.T) {
	note := crackers(t)
	tests := []struct {
		name  string
		panel Panel
		want  string
	}{
		{"nobody", panelOf(0), "0 assessors"},
		{"a slip", panelOf(5000), "5000 assessors"},
		{"no sets", Panel{Assessors: 3}, "0 sets"},
		{"more cups than codes", panelOf(60), "two sessions"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := Lay(note, tt.panel); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("%v, want %q", err, tt.want)
			}
		})
	}
	dry := *note
	dry.Measures = measuresOf(note, trial.OfPiece)
	if _, err := Lay(&dry, panelOf(3)); err == nil || !strings.Contains(err.Error(), "nothing to taste") {
		t.Errorf("nothing to taste: %v", err)
	}
	taken := *note
	taken.Measures = []trial.Measure{{Name: "code", Kind: trial.Score, Source: trial.OfTasting}}
	if _, err := Lay(&taken, panelOf(3)); err == nil || !strings.Contains(err.Error(), `"code"`) {
		t.Errorf("a measure called code: %v", err)
	}
}

// TestNeeds holds the numbers against ISO 4120:2004, table A.1 (a triangle of 12 needs
// 8 right ones at 5 %) and table A.3 (16 assessors for pd 50 %, β 0.20): from memory;
// the exact computation is held against tables in package stats. Seven assessors give
// three pairs a smallest p of 3/64, six give 3/32.
func TestNeeds(t *testing.T) {
	note := crackers(t)
	lines, err := Needs(note, panelOf(12))
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(lines, "\n")
	for _, want := range []string{
		"odd one (triangle): of 12 answers 8 or more right ones are beyond guessing at 5 %",
		"where 50 % of people can tell: 16 answers",
		"better (paired preference): of 12 answers 10 or more for one sample",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	for pairs, want := range map[int]int{1: 6, 3: 7, 6: 8} {
		if got := leastPaired(pairs); got != want {
			t.Errorf("%d pairs need %d assessors, want %d", pairs, got, want)
		}
	}
	few, err := Needs(note, panelOf(3))
	if err != nil || !strings.Contains(strings.Join(few, "\n"), "with 3 it cannot") {
		t.Errorf("three assessors: %v, %v", few, err)
	}
	_, laid := lay(t, panelOf(12))
	even := strings.Join(laid.Evenness(note, panelOf(12)), "\n")
	for _, want := range []string{"every sample stands in every place 3 times, and follows every other 3 times", "odd one: each of the 6 arrangements 2 times"} {
		if !strings.Contains(even, want) {
			t.Errorf("no %q in\n%s", want, even)
		}
	}
}

// TestSheet: what the bench sheet says of amounts, steps and conditions.
func TestSheet(t *testing.T) {
	v := Sheet(findings.Of(crackers(t)), Once())
	if v.Size != "half batch" || len(v.Doughs()) != 3 || len(v.Cook) != 1 {
		t.Errorf("size %q, %d doughs, cooked %q", v.Size, len(v.Doughs()), v.Cook)
	}
	salt := v.Lines[1]
	if len(salt.Amounts) != 3 || salt.Amounts[0].Changed || salt.Amounts[1].Changed || !salt.Amounts[2].Changed ||
		salt.Amounts[0].Or != "½ tsp" || salt.Amounts[2].Or != "1 tsp" {
		t.Errorf("salt %+v", salt)
	}
	soak := v.Steps[0]
	if soak.Text != "Stir everything together and let it stand for [soak]." || len(soak.Settings) != 1 || len(soak.Settings[0].Levels) != 2 ||
		soak.Settings[0].Levels[1].Text != "8 h" || len(soak.Settings[0].Levels[1].Samples) != 3 {
		t.Errorf("soak %+v", soak)
	}
	if v.Steps[1].Text != "Bake on a steel tray at 200 °C." || v.Steps[1].Settings != nil {
		t.Errorf("bake %+v", v.Steps[1])
	}
	if want := []string{"thickness rolled to 2 mm, Rolled thinner: rolled to 1 mm"}; !slices.Equal(v.Held, want) {
		t.Errorf("held %q, want %q", v.Held, want)
	}
	var units []string
	for _, m := range v.Measures {
		units = append(units, strings.Join(append([]string{m.Measure, m.Unit}, m.Choices...), "|"))
	}
	if want := []string{"snap||pass|fail", "bake|s or min:s", "core|°F"}; !slices.Equal(units, want) {
		t.Errorf("measures %q, want %q", units, want)
	}
	if len(v.Cautions) == 0 || v.Allergens == nil {
		t.Error("no cautions or allergens")
	}
}

// Blank logs are read without a word, and filled in they have a row for every piece.
func TestBlankLogsAreRead(t *testing.T) {
	blank := BlankLogs(crackers(t), Run{Batches: 2, Assessors: 3})
	read := crackers(t, blank...)
	if got, want := len(read.Pieces), 2*(4+4+3+1); got != want {
		t.Errorf("%d pieces, want %d", got, want)
	}
	if got, want := len(read.Tastings), 3*4; got != want {
		t.Errorf("%d tastings, want %d", got, want)
	}
	for _, bad := range []Run{{}, {Batches: 1, Pieces: -1, Assessors: 1}, {Batches: 99, Assessors: 1}, {Batches: 1}} {
		if bad.Check() == nil {
			t.Errorf("%+v passes", bad)
		}
	}
	if err := Once().Check(); err != nil {
		t.Error(err)
	}
}

// trialOf reads the trial with logs and returns what was wrong.
func trialOf(t testing.TB, logs []Log) *problem.List {
	t.Helper()
	note, err := os.ReadFile("testdata/trial.md")
	if err != nil {
		t.Fatal(err)
	}
	files := fstest.MapFS{"rye-crackers/trial.md": {Data: note}}
	for _, log := range logs {
		files["rye-crackers/"+log.Name] = &fstest.MapFile{Data: log.Data}
	}
	var problems problem.List
	trial.Read(trial.Folder{FS: files, Slug: "rye-crackers", Shown: "content"}, kitchen.Default(), &problems)
	return &problems
}
