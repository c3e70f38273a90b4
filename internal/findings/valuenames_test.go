package findings

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/trial"
)

// TestCitable holds the list of values against the resolver both ways: what is listed
// resolves to the same words, and of all paths that names of the note and of
// statistics make, those that resolve are listed.
func TestCitable(t *testing.T) {
	answers := answered("triangle", 8, 12, 12)
	empty := answered("triangle", 0, 0, 1)
	for _, tt := range []struct {
		name string
		f    *Findings
		some []string // paths that must be among them
		none []string
	}{
		{"note", of(t, note, log),
			[]string{"boiling-point", "recipe/rice", "short/done", "short/done/share", "short/side-2/sd", "open/done/n"},
			[]string{"hydration", "open/done", "open/done/share", "short/done/mean"}},
		{"blind test", answers.of(t), []string{"blind", "blind/n"}, []string{"a/blind", "blind/share"}},
		{"blind test without an answer", empty.of(t), []string{"boiling-point"}, []string{"blind", "blind/n"}},
	} {
		t.Run(tt.name, func(t *testing.T) { checkCitable(t, tt.f, tt.some, tt.none) })
	}
}

func checkCitable(t *testing.T, f *Findings, some, none []string) {
	listed := map[string]string{}
	for _, c := range f.Citable() {
		v, err := f.Value(c.Path)
		if err != nil || v.Text != c.Text || !v.Agrees(c.Text) {
			t.Errorf("%s is listed as %q and resolves to %q, %v", c.Path, c.Text, v.Text, err)
		}
		if c.Text == "" || c.What == "" {
			t.Errorf("%s: words %q, which are %q", c.Path, c.Text, c.What)
		}
		if _, twice := listed[c.Path]; twice {
			t.Errorf("%s is listed twice", c.Path)
		}
		listed[c.Path] = c.Text
	}
	for _, path := range some {
		if listed[path] == "" {
			t.Errorf("%s is not listed", path)
		}
	}
	for _, path := range none {
		if _, is := listed[path]; is {
			t.Errorf("%s is listed", path)
		}
	}
	tried := 0
	for _, path := range allPaths(f) {
		if _, err := f.Value(path); err == nil {
			tried++
			if _, is := listed[path]; !is {
				t.Errorf("%s resolves and is not listed", path)
			}
		}
	}
	if tried < len(listed) {
		t.Errorf("%d values are listed and only %d of all paths resolve: the test leaves some out", len(listed), tried)
	}
}

// allPaths puts every name of the note before every other, and every statistic behind
// them: those of README.md, written out here again.
func allPaths(f *Findings) []string {
	statistics := []string{"", "/n", "/share", "/mean", "/median", "/min", "/max", "/sd"}
	names := []string{"recipe", "hydration", "boiling point"}
	for _, s := range f.Trial.Samples {
		names = append(names, s.Key)
	}
	for _, m := range f.Trial.Measures {
		names = append(names, m.Name)
	}
	for _, i := range f.Trial.Recipe.Ingredients {
		names = append(names, i.Role)
	}
	var paths []string
	for _, first := range names {
		for _, statistic := range statistics {
			paths = append(paths, first+statistic)
			for _, second := range names {
				paths = append(paths, first+"/"+second+statistic)
			}
		}
	}
	for i, path := range paths {
		paths[i] = strings.ReplaceAll(trial.AddressName(path), " ", "-")
	}
	slices.Sort(paths)
	return slices.Compact(paths)
}

// TestShadowedNames: of two names alike in an address the first is meant, and the list
// shows that one alone.
func TestShadowedNames(t *testing.T) {
	one := func() (Value, error) { return Value{Text: "one"}, nil }
	two := func() (Value, error) { return Value{Text: "two"}, nil }
	lacks := func(path string) error { return &UnknownValue{What: "no " + path} }
	these := func(names ...name) func() []name { return func() []name { return names } }
	root := name{lacks: lacks, next: these([]name{
		{said: "Side 1", what: "w", value: one, lacks: lacks},
		{said: "side-1", what: "w", value: two, lacks: lacks},
		{said: "recipe", lacks: lacks, next: these(name{said: "filling/oil", what: "w", value: two})},
		{said: "--", what: "w", value: one},
	}...)}
	var all []Citable
	root.list("", &all)
	var got []string
	for _, c := range all {
		v, err := root.find(c.Path)
		got = append(got, c.Path+" "+c.Text)
		if err != nil || v.Text != c.Text {
			t.Errorf("%s: %q, %v; listed as %q", c.Path, v.Text, err, c.Text)
		}
	}
	if diff := cmp.Diff([]string{"side-1 one", "recipe/filling/oil two"}, got); diff != "" {
		t.Error(diff)
	}
	for path, want := range map[string]string{"recipe": "no ", "recipe/filling": "no filling", "Side 1/n": "no n", "other": "no other"} {
		if _, err := root.find(path); err == nil || err.Error() != want {
			t.Errorf("%s: %v, want %q", path, err, want)
		}
	}
}
