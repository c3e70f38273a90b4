package results

import (
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// TestSpellings reads one trial whose logs were saved in four ways: with commas, with
// semicolons and decimal commas behind an instrument's own lines, as UTF-16 with tabs,
// and as workbooks. Results, published logs and their metadata are the same bytes.
func TestSpellings(t *testing.T) {
	published := func(form string) map[string]string {
		content := os.DirFS("../../testdata/kitchens/spellings/" + form)
		var problems problem.List
		data, err := os.ReadFile("../../testdata/kitchens/spellings/" + form + "/kitchen.yaml")
		if err != nil {
			t.Fatal(err)
		}
		k := kitchen.Read("kitchen.yaml", data, &problems)
		read := trial.Read(trial.Folder{FS: content, Slug: "plums"}, k, &problems)
		read.Check(&problems)
		for _, p := range problems.Sorted() {
			t.Errorf("%s: %s", form, p)
		}
		all := map[string]string{}
		for _, f := range read.Files[1:] {
			log, metadata, err := Table(read, f)
			if err != nil {
				t.Fatal(err)
			}
			all[f.Name], all[f.Name+MetadataSuffix] = string(log), string(metadata)
		}
		results, err := Of(findings.Of(read)).JSON()
		if err != nil {
			t.Fatal(err)
		}
		all["results.json"] = string(results)
		return all
	}
	want := published("commas")
	if len(want) != 7 {
		t.Fatalf("%d files", len(want))
	}
	for _, form := range []string{"semicolons", "tabs", "workbook"} {
		t.Run(form, func(t *testing.T) {
			if diff := cmp.Diff(want, published(form)); diff != "" {
				t.Error(diff)
			}
		})
	}
}
