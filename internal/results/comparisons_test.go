package results

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"testing"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/testkit"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// heat is a contrast of two oven heats; below says that the first is the lower one.
func heat(of, against string, below bool, effects ...findings.StudyEffect) findings.StudyContrast {
	return findings.StudyContrast{Of: "b", Against: "a", OfDough: "b", AgainstDough: "a", Planned: 1, Effects: effects,
		Differing: []findings.StudyDifference{{Factor: design.Factor{Kind: design.Condition, Name: "oven"},
			Of: findings.StudyLevel{Text: of, Key: of}, Against: findings.StudyLevel{Text: against, Key: against}, Below: below}}}
}

// ovens are two invented trials: one read the other way round, repeated by a household
// whose name looks like a formula; one with a preference, a contrast with nothing to
// compare, and levels that look like formulas.
func ovens() []*findings.Study {
	share := findings.StudyEffect{Measure: 0, Unit: findings.OfPiece, Of: findings.StudyGroup{Units: 6, Readings: 6}, Against: findings.StudyGroup{Units: 7, Readings: 7},
		Difference: -1.0 / 3, HasDifference: true, Interval: stats.Interval{Low: -0.7, High: 0.1}, HasInterval: true, Blocks: []stats.Block{{X1: 2, N1: 6, X2: 5, N2: 7}}}
	core := findings.StudyEffect{Measure: 1, Unit: findings.OfBatch, Paired: true, Of: findings.StudyGroup{Units: 3, Readings: 9}, Against: findings.StudyGroup{Units: 3, Readings: 8},
		Difference: 5, HasDifference: true}
	measures := []findings.StudyMeasure{{Name: "done", Kind: trial.PassOrFail, Primary: true}, {Name: "core", Kind: trial.Temperature, Unit: quantity.Fahrenheit},
		{Name: "liked", Kind: trial.PairedPreference, Source: trial.OfSets}}
	more := heat("+1 shelf", "-2+3", false, share)
	more.Differing = append(more.Differing, findings.StudyDifference{Factor: design.Factor{Name: "@fat"}})
	return []*findings.Study{
		{Slug: "first", Title: "First", Day: trial.Date{Year: 2026, Month: 1, Day: 2}, Recipe: "Bread", Measures: measures,
			Contrasts:  []findings.StudyContrast{heat("180 °C", "200 °C", true, share, core)},
			Households: []findings.StudyHousehold{{Name: "=HYPERLINK(1)", Contrasts: []findings.StudyContrast{heat("180 °C", "200 °C", true, share)}}}},
		{Slug: "second", Title: "Second", Day: trial.Date{Year: 2026, Month: 3, Day: 4}, Recipe: "Bread", Measures: measures,
			Contrasts: []findings.StudyContrast{heat("200 °C", "180 °C", false, findings.StudyEffect{Measure: 0}), more},
			Answers:   []findings.StudyAnswers{{Measure: 2, Contrast: 0, Of: "Pale, \"soft\"", Unit: findings.OfSet, Right: 7, N: 9, Assessors: 9, P: 0.1796875, HasP: true}}},
	}
}

// TestComparisons: the file and its metadata, as they are published, and that they go
// together: every row has every column, and what looks like a formula is guarded.
func TestComparisons(t *testing.T) {
	e := findings.EvidenceOf(ovens())[0]
	data := ComparisonsHead()
	for i := range e.Measures {
		data = append(data, ComparisonsOn(&e.Measures[i])...)
	}
	testkit.Golden(t, "testdata/csvw/comparisons.csv", data)
	metadata, err := ComparisonsMetadata(e.Factor.Name, wording.English(), "en")
	if err != nil {
		t.Fatal(err)
	}
	testkit.Golden(t, "testdata/csvw/comparisons.csv-metadata.json", metadata)
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll() // fails where rows are of several lengths
	if err != nil {
		t.Fatal(err)
	}
	var described struct {
		TableSchema struct {
			Columns []struct{ Titles []string }
		}
	}
	if err := json.Unmarshal(metadata, &described); err != nil {
		t.Fatal(err)
	}
	columns := described.TableSchema.Columns
	if len(rows) != 7 || len(columns) != len(rows[0]) {
		t.Fatalf("%d rows of %d columns, %d described", len(rows), len(rows[0]), len(columns))
	}
	for i, c := range columns {
		if c.Titles[0] != rows[0][i] {
			t.Errorf("column %d is %q, described as %q", i+1, rows[0][i], c.Titles[0])
		}
	}
	for _, unguarded := range []string{",=", ",@", ",-2+3", ",+1 shelf", "\"="} {
		if bytes.Contains(data, []byte(unguarded)) {
			t.Errorf("a spreadsheet would take a cell for a formula: %s", unguarded)
		}
	}
}
