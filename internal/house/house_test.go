package house

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/problem"
)

type check struct {
	name string
	run  func(*tree) []string
}

func checks(codes []problem.Code) []check {
	return []check{
		{"plan", checkPlan},
		{"imports", checkImports},
		{"libraries", checkLibraries},
		{"bans", checkBans},
		{"forms", checkForms},
		{"variables", checkVariables},
		{"words", checkWords},
		{"phrases", checkPhrases},
		{"ceilings", checkCeilings},
		{"top", checkTop},
		{"docs", checkDocs},
		{"problems", checkProblems(codes)},
	}
}

// TestHouse holds the project against its plan. What fails here is mended in the
// code, in the table in DEVELOPERS.md where the code is right, or, with a reason,
// by an exception in rules_test.go.
func TestHouse(t *testing.T) {
	parsed, err := readTree(os.DirFS("../.."))
	if err != nil {
		t.Fatal(err)
	}
	if len(parsed.sources) < 20 {
		t.Fatalf("only %d Go files: this is not the project", len(parsed.sources))
	}
	used := make(map[exception]bool)
	for _, c := range checks(problem.Codes()) {
		t.Run(c.name, func(t *testing.T) {
			for _, w := range c.run(parsed) {
				if e, ok := excused(w, exceptions()); ok {
					used[e] = true
					continue
				}
				t.Error(w)
			}
		})
	}
	for _, e := range exceptions() {
		if !used[e] && !strings.Contains(fmt.Sprint(os.Args), "-test.run") {
			t.Errorf("the exception for %s (%s) is no longer needed", e.place, e.rule)
		}
	}
}

// excused finds the exception for a failure. A hard limit has none.
func excused(failure string, all []exception) (exception, bool) {
	for _, e := range all {
		file, fn, inFunc := strings.Cut(e.place, ":")
		place, rest, _ := strings.Cut(failure, ": ")
		failedFile, _, _ := strings.Cut(place, ":")
		named := !inFunc || strings.HasSuffix(rest, in(fn)) || strings.HasPrefix(rest, "function "+fn+" ")
		if failedFile == file && named && strings.HasPrefix(rest, e.rule) && !strings.Contains(rest, "(never more than") {
			return e, true
		}
	}
	return exception{}, false
}

func TestExcused(t *testing.T) {
	all := []exception{{"writes files", "internal/a/b.go:Save", "x"}, {"function Long of", "internal/a/b.go:Long", "x"}, {"file of", "internal/a/c.go", "x"}}
	cases := []struct {
		failure string
		want    bool
	}{
		{"internal/a/b.go:7: writes files: os.Create (in Save)", true},
		{"internal/a/b.go:7: writes files: os.Create (in Other)", false},
		{"internal/a/b2.go:7: writes files: os.Create (in Save)", false},
		{"internal/a/b.go:7: reads the clock: time.Now (in Save)", false},
		{"internal/a/b.go:9: function Long of 70 lines (more than 60 needs an exception with a reason)", true},
		{"internal/a/b.go:9: function Long of 90 lines (never more than 80)", false},
		{"internal/a/b.go:9: function Longer of 70 lines (more than 60 needs an exception with a reason)", false},
		{"internal/a/c.go:1: file of 500 lines (more than 400 needs an exception with a reason)", true},
	}
	for _, c := range cases {
		if _, got := excused(c.failure, all); got != c.want {
			t.Errorf("%s: excused is %v", c.failure, got)
		}
	}
	for _, e := range exceptions() {
		if len(strings.Fields(e.why)) < 3 {
			t.Errorf("the exception for %s has no reason", e.place)
		}
	}
}

// TestBadTrees runs each check on a small tree that breaks its rule, and on what
// it must not mistake for a breach. The head of the file names the check; each
// failure it must give is a line that begins with "want ".
func TestBadTrees(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	all := checks([]problem.Code{"syntax", "syntax-error", "bad-date"})
	var tried []string
	for _, f := range files {
		comment, parsed := archiveTree(t, f)
		name, _, _ := strings.Cut(filepath.Base(f), ".")
		name, _, _ = strings.Cut(name, "-")
		at := slices.IndexFunc(all, func(c check) bool { return c.name == name })
		if at < 0 {
			t.Errorf("%s: there is no check %s", f, name)
			continue
		}
		tried = append(tried, name)
		var want []string
		for line := range strings.Lines(comment) {
			if w, ok := strings.CutPrefix(strings.TrimSpace(line), "want "); ok {
				want = append(want, w)
			}
		}
		if len(want) == 0 {
			t.Errorf("%s wants no failure", f)
		}
		got := all[at].run(parsed)
		slices.Sort(want)
		slices.Sort(got)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", f, diff)
		}
	}
	for _, c := range all {
		if !slices.Contains(tried, c.name) {
			t.Errorf("check %s has no bad tree", c.name)
		}
	}
}
