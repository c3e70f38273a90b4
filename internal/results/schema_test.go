package results

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/testkit"
)

func resultsSchema(t testing.TB) map[string]any {
	t.Helper()
	data, err := ResultsSchema("https://two-griddles.example/schemas/results.json")
	if err != nil {
		t.Fatal(err)
	}
	return decode(t, data)
}

func TestResultsSchemaGolden(t *testing.T) {
	data, err := ResultsSchema("https://two-griddles.example/schemas/results.json")
	if err != nil {
		t.Fatal(err)
	}
	testkit.Golden(t, "testdata/schemas/results.json", data)
}

// TestFieldWords: every field of every type that is written has words, and no words
// are of a field that is gone.
func TestFieldWords(t *testing.T) {
	words := fieldWords()
	seen := map[string]bool{}
	var visit func(reflect.Type)
	done := map[reflect.Type]bool{}
	visit = func(of reflect.Type) {
		switch of.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Map:
			visit(of.Elem())
			return
		case reflect.Struct:
		default:
			return
		}
		if done[of] {
			return
		}
		done[of] = true
		for i := range of.NumField() {
			f := of.Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			if name != "" {
				full := of.Name() + "." + name
				seen[full] = true
				if w, known := words[full]; !known {
					t.Errorf("%s has no words (add a line to fieldWords, with its unit)", full)
				} else {
					checkWords(t, full, w.words)
				}
			}
			visit(f.Type)
		}
	}
	visit(reflect.TypeFor[Results]())
	for name := range words {
		if !seen[name] {
			t.Errorf("fieldWords has %s, which is no field", name)
		}
	}
}

// TestGoldenResults holds every golden results.json against the schema. No name may
// stand there that the schema does not know.
func TestGoldenResults(t *testing.T) {
	schema := resultsSchema(t)
	files, err := filepath.Glob("../site/testdata/results/*.json")
	if err != nil || len(files) < 5 {
		t.Fatalf("%d golden results, %v", len(files), err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, wrong := range check(schema, decode(t, data), true) {
			t.Errorf("%s: %s", filepath.Base(file), wrong)
		}
	}
}

// TestResultsFit does the same with results computed now, of every kitchen and of
// the trial with sensory tests.
func TestResultsFit(t *testing.T) {
	schema := resultsSchema(t)
	for _, read := range append(trials(t), kept{"hostile", readTea(hostile(), nil)}) {
		data, err := Of(findings.Of(read.Trial)).JSON()
		if err != nil {
			t.Fatal(err)
		}
		for _, wrong := range check(schema, decode(t, data), true) {
			t.Errorf("%s: %s", read.Slug, wrong)
		}
	}
}

// TestSchemaRefuses spoils one value at a time.
func TestSchemaRefuses(t *testing.T) {
	schema := resultsSchema(t)
	spoils := map[string]func(map[string]any){
		"no samples":        func(r map[string]any) { delete(r, "samples") },
		"a date in words":   func(r map[string]any) { r["published"] = "yesterday" },
		"a share of 12":     func(r map[string]any) { aMeasure(r)["rate"] = json.Number("12") },
		"half a count":      func(r map[string]any) { aMeasure(r)["n"] = json.Number("2.5") },
		"a kind of its own": func(r map[string]any) { aMeasure(r)["kind"] = "smell" },
		"words for a mass":  func(r map[string]any) { r["boilingPoint"] = "100 °C" },
	}
	for name, spoil := range spoils {
		data, err := Of(findings.Of(readTea(hostile(), nil))).JSON()
		if err != nil {
			t.Fatal(err)
		}
		r := decode(t, data)
		if wrong := check(schema, r, true); len(wrong) > 0 {
			t.Fatalf("before: %q", wrong)
		}
		spoil(r)
		if wrong := check(schema, r, true); len(wrong) == 0 {
			t.Errorf("%s is taken", name)
		}
	}
}

func aMeasure(r map[string]any) map[string]any {
	sample := r["samples"].([]any)[0].(map[string]any)
	return sample["measures"].(map[string]any)["clear"].(map[string]any)
}

// TestSchemaIsOne: what both schemas say of themselves, and that no reference leads
// nowhere.
func TestSchemaIsOne(t *testing.T) {
	for name, make := range map[string]func(string) ([]byte, error){"results": ResultsSchema, "note": NoteSchema} {
		for _, id := range []string{"", "https://two-griddles.example/schemas/" + name + ".json"} {
			data, err := make(id)
			if err != nil {
				t.Fatal(err)
			}
			again, _ := make(id)
			if string(data) != string(again) {
				t.Errorf("%s: other bytes the second time", name)
			}
			s := decode(t, data)
			if got, has := s["$id"]; s["$schema"] != dialect || has != (id != "") || (has && got != id) {
				t.Errorf("%s: $schema %v, $id %v", name, s["$schema"], s["$id"])
			}
			defs, _ := s["$defs"].(map[string]any)
			eachSchema(s, "", func(at string, one map[string]any) {
				to, refers := one["$ref"].(string)
				if refers && defs[strings.TrimPrefix(to, "#/$defs/")] == nil {
					t.Errorf("%s: %s leads nowhere: %s", name, at, to)
				}
			})
		}
	}
}
