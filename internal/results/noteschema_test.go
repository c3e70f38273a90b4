package results

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/testkit"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

func noteSchema(t testing.TB) map[string]any {
	t.Helper()
	data, err := NoteSchema("https://two-griddles.example/schemas/note.json")
	if err != nil {
		t.Fatal(err)
	}
	return decode(t, data)
}

func TestNoteSchemaGolden(t *testing.T) {
	data, err := NoteSchema("https://two-griddles.example/schemas/note.json")
	if err != nil {
		t.Fatal(err)
	}
	testkit.Golden(t, "testdata/schemas/note.json", data)
}

// front returns a note's front matter as an editor sees it.
func front(t testing.TB, note []byte) any {
	t.Helper()
	_, rest, opened := bytes.Cut(note, []byte("---\n"))
	yaml, _, closed := bytes.Cut(rest, []byte("\n---"))
	if !opened || !closed {
		return nil
	}
	return plain(yamldoc.Parse("trial.md", 2, yaml, nil))
}

var wholeNumber = regexp.MustCompile(`^-?(0|[1-9][0-9]*)(\.[0-9]+)?$`)

// plain turns positioned YAML into values. Scalars are told apart as the core
// schema of YAML 1.2.2 (10.3.2) does, but for quotes, which are gone here.
func plain(f *yamldoc.Field) any {
	switch f.Kind() {
	case yamldoc.Mapping:
		all := map[string]any{}
		for _, e := range f.Entries(nil) {
			all[e.Key] = plain(e.Value)
		}
		return all
	case yamldoc.List:
		all := []any{}
		for _, item := range f.Items(nil) {
			all = append(all, plain(item))
		}
		return all
	case yamldoc.Text:
		text, _ := f.Text(nil)
		switch {
		case text == "true" || text == "false":
			return text == "true"
		case wholeNumber.MatchString(text):
			return json.Number(text)
		}
		return text
	}
	return nil
}

// TestNotes holds the notes of every kitchen against the schema.
func TestNotes(t *testing.T) {
	schema := noteSchema(t)
	files, _ := filepath.Glob("../../testdata/kitchens/*/*/" + trial.NoteFile)
	demo, _ := filepath.Glob("../../content/*/" + trial.NoteFile)
	if len(files) < 3 || len(demo) < 3 {
		t.Fatalf("%d and %d notes", len(files), len(demo))
	}
	for _, file := range append(files, demo...) {
		note, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		note = bytes.ReplaceAll(note, []byte("\r\n"), []byte("\n"))
		for _, wrong := range check(schema, front(t, note), true) {
			t.Errorf("%s: %s", file, wrong)
		}
	}
}

// TestProblemNotes holds the notes of the archives of problems against the schema.
// Those whose problem is one of keys and shapes are refused. Of all others the
// schema says nothing, but for words that it lists.
func TestProblemNotes(t *testing.T) {
	schema := noteSchema(t)
	shapes := []string{"unknown-key", "wrong-type", "missing-key", "bad-date"}
	refused := map[string]int{}
	files, _ := filepath.Glob("../../testdata/problems/*.txtar")
	for _, file := range files {
		archive, err := txtar.ParseFile(file)
		if err != nil {
			t.Fatal(err)
		}
		want := ""
		var notes []txtar.File
		for _, f := range archive.Files {
			if f.Name == "want" {
				want = string(f.Data)
			}
			if strings.HasSuffix(f.Name, "/"+trial.NoteFile) {
				notes = append(notes, f)
			}
		}
		for _, note := range notes {
			value := front(t, note.Data)
			if _, is := value.(map[string]any); !is {
				continue
			}
			wrong := check(schema, value, true)
			for _, line := range strings.Split(want, "\n") {
				_, rest, ours := strings.Cut(line, note.Name+":")
				_, code, _ := strings.Cut(rest, ": ")
				code, _, _ = strings.Cut(code, ":")
				if !ours || !slices.Contains(shapes, code) {
					continue
				}
				if len(wrong) > 0 {
					refused[code]++
				} else if !onlyReaderKnows(filepath.Base(file)) {
					t.Errorf("%s: the schema takes what has the problem %s", file, line)
				}
			}
		}
	}
	for _, code := range shapes {
		if refused[code] == 0 {
			t.Errorf("no archive with the problem %s was refused", code)
		}
	}
}

// onlyReaderKnows lists problems of those codes that are none of shape.
func onlyReaderKnows(archive string) bool {
	return slices.Contains([]string{
		"bad-date.txtar",             // 30 February has the shape of a day
		"missing-key-compares.txtar", // needed by some kinds alone
		"wrong-type-sum.txtar",       // two measures that do not add up
	}, archive)
}

// TestEveryKey compares the keys of the schema with those that the reader asks for,
// read off its source.
func TestEveryKey(t *testing.T) {
	files, err := filepath.Glob("../trial/*.go")
	if err != nil || len(files) == 0 {
		t.Fatal("no source of the reader")
	}
	asks := regexp.MustCompile(`(?:\.(?:Get|Need|Has)\(|needed\(m, )"([^"]+)"\)`)
	read := map[string]bool{}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		source, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, match := range asks.FindAllSubmatch(source, -1) {
			read[string(match[1])] = true
		}
	}
	for _, line := range trial.LabelLines() {
		read[line[0]] = true
	}
	known := map[string]bool{}
	eachSchema(noteSchema(t), "", func(at string, s map[string]any) {
		properties, group := s["properties"].(map[string]any)
		if !group || s["type"] == nil {
			return
		}
		for key, property := range properties {
			known[key] = true
			words, _ := property.(map[string]any)["description"].(string)
			checkWords(t, at+"/"+key, words)
		}
	})
	for key := range read {
		if !known[key] {
			t.Errorf("the reader knows the key %q, the schema of notes does not", key)
		}
	}
	for key := range known {
		if !read[key] {
			t.Errorf("the schema of notes knows the key %q, the reader does not", key)
		}
	}
	if len(read) < 40 {
		t.Errorf("only %d keys were found in the reader", len(read))
	}
}

// TestUnits: every unit that the schema names is one, and the units of the standard
// kinds are among them.
func TestUnits(t *testing.T) {
	all := units()
	for _, word := range all {
		if _, known := quantity.UnitNamed(word.(string), quantity.USCustomary); !known {
			t.Errorf("%q is no unit", word)
		}
	}
	for _, word := range []string{"s", "min", "°C", "°F", "mm", "g", "mL"} {
		if !slices.Contains(all, any(word)) {
			t.Errorf("no unit %q among %v", word, all)
		}
	}
}

// TestEmptyValues: an optional key may stand without a value, a needed one not.
func TestEmptyValues(t *testing.T) {
	schema := noteSchema(t)
	note := func(extra string) any {
		return front(t, []byte("---\ntitle: a\nquestion: b?\nrecipe: {name: c, ingredients: {water: 1 g water}}\nsamples: {open: {}}\n"+extra+"---\n"))
	}
	for extra, right := range map[string]bool{
		"": true, "repeats: \"\"\n": false, "by:\nphotos:\nverdict:\nbatches:\n": true, "measures: {roll: {kind: }}\n": false, "video: {address: }\n": false,
	} {
		var problems problem.List
		if wrong := check(schema, note(extra), true); (len(wrong) == 0) != right {
			t.Errorf("%q: %q (%v)", extra, wrong, problems)
		}
	}
}
