package blurb

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/site"
	"sidebatch.example/sidebatch/internal/testkit"
	"sidebatch.example/sidebatch/internal/trial"
)

// kitchens are the demo and the small kitchens.
func kitchens(t testing.TB) []string {
	t.Helper()
	folders, err := filepath.Glob("../../testdata/kitchens/*/kitchen.yaml")
	if err != nil || len(folders) < 3 {
		t.Fatalf("%v, %v", folders, err)
	}
	for i := range folders {
		folders[i] = filepath.Dir(folders[i])
	}
	return append(folders, "../../content")
}

// read computes the findings of a trial.
func read(t testing.TB, folder, slug string) *findings.Findings {
	t.Helper()
	var problems problem.List
	k := site.ReadKitchen(site.Content{FS: os.DirFS(folder), Shown: folder}, &problems)
	read := trial.Read(trial.Folder{FS: os.DirFS(folder), Slug: slug}, k, &problems)
	if read == nil || problems.Errors() > 0 {
		t.Fatal(problems.Sorted())
	}
	return findings.Of(read)
}

// each calls a function for every trial of every kitchen.
func each(t *testing.T, do func(t *testing.T, f *findings.Findings)) {
	t.Helper()
	for _, folder := range kitchens(t) {
		notes, err := filepath.Glob(filepath.Join(folder, "*", trial.NoteFile))
		if err != nil || len(notes) == 0 {
			t.Fatalf("no notes in %s: %v", folder, err)
		}
		for _, note := range notes {
			slug := filepath.Base(filepath.Dir(note))
			t.Run(filepath.Base(folder)+"/"+slug, func(t *testing.T) { do(t, read(t, folder, slug)) })
		}
	}
}

// TestBlurbs holds some whole texts, to be read.
func TestBlurbs(t *testing.T) {
	for _, in := range []struct{ folder, slug string }{
		{"../../content", "eggs-into-boiling-water"},
		{"../../content", "rested-oat-batter"},
		{"../../content", "oat-biscuits-chilled"},
		{"../../testdata/kitchens/pancake", "boiling-or-cool"},
		{"../../testdata/kitchens/cocina", "galletas-de-maiz"}, // in Spanish
	} {
		text, err := Of(read(t, in.folder, in.slug), 0)
		if err != nil || len(text.LeftOut) > 0 {
			t.Errorf("%s: left out %v, %v", in.slug, text.LeftOut, err)
		}
		testkit.Golden(t, "testdata/"+in.slug+".txt", []byte(text.Words))
	}
}

// TestEveryBlurb: what no text may hold, and what every one must.
func TestEveryBlurb(t *testing.T) {
	each(t, func(t *testing.T, f *findings.Findings) {
		text, err := Of(f, 0)
		if err != nil {
			t.Fatal(err)
		}
		if i := strings.IndexFunc(text.Words, func(r rune) bool { return r == '<' || r == '>' || r != '\n' && unicode.IsControl(r) }); i >= 0 {
			t.Errorf("%q", text.Words[i:])
		}
		if text.Characters() != len([]rune(text.Words)) || text.Bytes() != len(text.Words) || !utf8.ValidString(text.Words) {
			t.Errorf("%d characters, %d bytes", text.Characters(), text.Bytes())
		}
		if strings.Contains(text.Words, "[") || strings.Contains(text.Words, "\n\n\n") || strings.Contains(text.Words, "  ") {
			t.Errorf("a phrase that is missing, or gaps:\n%s", text.Words)
		}
		must := []string{f.Trial.Question, f.Trial.Verdict.InWords, f.Trial.Kitchen.Address}
		plan := f.Trial.Recipe
		if follows := f.Trial.Control(); follows != nil {
			plan = follows.Plan
		}
		if f.Trial.Verdict.Prefer != nil {
			plan = f.Trial.Verdict.Prefer.Plan
		}
		for _, i := range plan.Ingredients {
			must = append(must, "- "+i.Food)
		}
		if strings.Contains(text.Words, f.Trial.Kitchen.Words.Of("blurb").Say("cautions")+"\n") {
			must = append(must, findings.Deference(f.Trial.Kitchen.Words))
		}
		for _, words := range must {
			if !strings.Contains(text.Words, plain(words)) {
				t.Errorf("%q is not there", words)
			}
		}
	})
}

// TestTrimming goes through every limit: no text is longer by either count, parts go in
// their order and as a whole, and what must stay stays.
func TestTrimming(t *testing.T) {
	f := read(t, "../../content", "eggs-into-boiling-water")
	parts := partsOf(f)
	whole, err := fit(parts, 0)
	if err != nil {
		t.Fatal(err)
	}
	order := []string{"the times", "the steps", "the chapters", "the ingredients"}
	most := 0
	for limit := whole.Bytes() + 1; limit > 0; limit-- {
		got, err := fit(parts, limit)
		var long *TooLong
		if errors.As(err, &long) {
			if most != len(order) || long.Needs <= limit || long.Limit != limit || got.Words != "" {
				t.Fatalf("%d: %v after leaving out %d parts", limit, err, most)
			}
			continue
		}
		if err != nil || got.Bytes() > limit || got.Characters() > limit {
			t.Fatalf("%d: %d bytes, %d characters, %v", limit, got.Bytes(), got.Characters(), err)
		}
		if n := len(got.LeftOut); n < most || !slices.Equal(got.LeftOut, order[:n]) {
			t.Fatalf("%d: left out %v", limit, got.LeftOut)
		}
		most = len(got.LeftOut)
		for block := range strings.SplitSeq(strings.TrimSpace(got.Words), "\n\n") {
			if !strings.Contains(whole.Words, block) {
				t.Fatalf("%d: a part was cut: %q", limit, block)
			}
		}
		for _, words := range []string{f.Trial.Question, findings.Deference(f.Trial.Kitchen.Words),
			"https://larch-lane.example/eggs-into-boiling-water/", "Allergens", "invented"} {
			if !strings.Contains(got.Words, words) {
				t.Fatalf("%d: %q is gone", limit, words)
			}
		}
	}
	if most != len(order) {
		t.Errorf("only %d parts ever went", most)
	}
	if fits, err := Of(f, whole.Bytes()); err != nil || fits.Words != whole.Words {
		t.Error("a text of exactly the limit was trimmed")
	}
}

// TestChapters: each line a time and a title, the first at 0:00.
func TestChapters(t *testing.T) {
	at := func(seconds int64, title string) trial.Chapter {
		return trial.Chapter{At: quantity.New(quantity.Int(seconds), quantity.Second), Title: title}
	}
	f := read(t, "../../content", "eggs-into-boiling-water")
	say := f.Trial.Kitchen.Words.Of("blurb")
	for _, tt := range []struct {
		name string
		in   []trial.Chapter
		want []string
	}{
		{"none", nil, nil},
		{"from the start", []trial.Chapter{at(0, "Question"), at(48, "Two pots"), at(3600, "Later"), at(3725, "End")},
			[]string{"Chapters", "0:00 Question", "0:48 Two pots", "1:00:00 Later", "1:02:05 End"}},
		{"not from the start", []trial.Chapter{at(70, "Doughs")}, []string{"Chapters", "0:00 The beginning", "1:10 Doughs"}},
	} {
		if diff := cmp.Diff(tt.want, chapters(say, &trial.Trial{Video: trial.Video{Chapters: tt.in}})); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

// TestBothSystems: metric and US whatever the kitchen shows, its own first.
func TestBothSystems(t *testing.T) {
	for _, tt := range []struct {
		name string
		in   []quantity.System
		want string // the line of the salt
	}{
		{"metric first", []quantity.System{quantity.MetricSystem, quantity.USSystem}, "about 6 g / 1 tsp"},
		{"us alone", []quantity.System{quantity.USSystem}, "1 tsp / about 6 g"},
		{"metric alone", []quantity.System{quantity.MetricSystem}, "about 6 g / 1 tsp"},
	} {
		f := read(t, "../../testdata/kitchens/pancake", "boiling-or-cool")
		f.Trial.Kitchen.Units = tt.in
		text, err := Of(f, 0)
		if err != nil {
			t.Fatal(err)
		}
		at := strings.Index(text.Words, "- table salt: ")
		line, _, _ := strings.Cut(text.Words[max(at, 0):], "\n")
		// The full batch is twice the note's half batch, which has 1 tsp.
		want := strings.NewReplacer("1 tsp", "2 tsp", "6 g", "12 g").Replace(tt.want)
		if line != "- table salt: "+want {
			t.Errorf("%s: %q, want %q", tt.name, line, want)
		}
		if !slices.Equal(f.Trial.Kitchen.Units, tt.in) {
			t.Error("the kitchen was changed")
		}
	}
}

func TestPlain(t *testing.T) {
	for in, want := range map[string]string{
		"a <b> & \u00a0c\u202f%":  "a ‹b› & c %",
		"one\ntwo\tthree\r\n":     "one two three",
		"bell\a, esc\x1b[31m\x7f": "bell, esc[31m",
		"half \xff":               "half",
	} {
		if got := plain(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}

// FuzzPlain: nothing that a description may not hold comes through.
func FuzzPlain(f *testing.F) {
	f.Add("a <b>\x00")
	f.Fuzz(func(t *testing.T, in string) {
		got := plain(in)
		if strings.ContainsAny(got, "<>\n") || strings.ContainsFunc(got, unicode.IsControl) || !utf8.ValidString(got) || plain(got) != got {
			t.Errorf("%q became %q", in, got)
		}
	})
}
