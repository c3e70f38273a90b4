package site

import (
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"

	"sidebatch.example/sidebatch/internal/problem"
)

// TestProblems reads every kitchen under testdata/problems and holds what is
// reported against the archive's own list. Its README says how the list is written.
func TestProblems(t *testing.T) {
	files, err := filepath.Glob("../../testdata/problems/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("no archives: %v", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			content, want := archive(t, file)
			var problems problem.List
			Load(Content{FS: content}, &problems)
			compare(t, problems.Sorted(), want)
			var surveyed problem.List
			Surveyor{Content: Content{FS: content}, Kitchen: ReadKitchen(Content{FS: content}, &surveyed)}.Survey(&surveyed)
			compare(t, surveyed.Sorted(), want)
		})
	}
}

// archive unpacks a kitchen and its list of expected problems.
func archive(t *testing.T, file string) (fstest.MapFS, []string) {
	t.Helper()
	a, err := txtar.ParseFile(file)
	if err != nil {
		t.Fatal(err)
	}
	content := fstest.MapFS{}
	var want []string
	found := false
	for _, f := range a.Files {
		if f.Name == "want" {
			want, found = strings.FieldsFunc(string(f.Data), func(r rune) bool { return r == '\n' }), true
			continue
		}
		name, escaped := strings.CutSuffix(f.Name, ".escaped")
		if escaped {
			f.Data = unescape(t, f.Data)
		}
		content[name] = &fstest.MapFile{Data: f.Data}
	}
	if !found {
		t.Fatalf("%s has no file want", file)
	}
	return content, want
}

func unescape(t *testing.T, data []byte) []byte {
	t.Helper()
	var out strings.Builder
	for line := range strings.Lines(string(data)) {
		text, ended := strings.CutSuffix(line, "\n")
		plain, err := strconv.Unquote(`"` + text + `"`)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		out.WriteString(plain)
		if ended {
			out.WriteString("\n")
		}
	}
	return []byte(out.String())
}

// compare matches every expected line with one problem, and every problem with one
// line.
func compare(t *testing.T, got []problem.Problem, want []string) {
	t.Helper()
	left := slices.Clone(got)
	for _, line := range want {
		i := slices.IndexFunc(left, func(p problem.Problem) bool { return matches(p, line) })
		if i < 0 {
			t.Errorf("not reported: %s", line)
			continue
		}
		left = slices.Delete(left, i, i+1)
	}
	for _, p := range left {
		t.Errorf("not expected: [%s] %s", p.Code, p)
	}
}

func matches(p problem.Problem, line string) bool {
	place, rest, _ := strings.Cut(line, ": ")
	rest, question := strings.CutPrefix(rest, "question: ")
	code, words, _ := strings.Cut(rest, ":")
	if string(p.Code) != code || (p.Weight == problem.Question) != question {
		return false
	}
	if at := p.Pos.String(); at != place && !strings.HasPrefix(at, place+":") {
		return false
	}
	for _, word := range strings.Fields(words) {
		if !strings.Contains(p.What+" "+p.Hint, word) {
			return false
		}
	}
	return true
}
