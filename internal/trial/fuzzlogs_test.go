package trial

import (
	"bytes"
	"strings"
	"testing"
)

// tastedNote asks tasters for a score, a ranking and an odd one out.
const tastedNote = `---
title: How long for rice?
question: Is rice done after twelve minutes?
recipe: {name: Boiled rice, ingredients: {rice: 200 g white rice, water: 400 g water}}
conditions: {boil: 12 min}
samples:
  short: {control: true}
  long: {change: {boil: 18 min}}
measures:
  soft: {kind: score, from: 1 hard, to: 5 soft, primary: true}
  order: {kind: ranking}
  odd bowl: {kind: odd one out, of: [short, long]}
---
`

// FuzzTastings reads any bytes as the log of tasters of a note that is in order: no panic,
// every problem at a place in the file, and no mark of somebody unknown or for no measure.
func FuzzTastings(f *testing.F) {
	for _, log := range notes(f, TastingFile) {
		f.Add(log)
	}
	f.Add([]byte("assessor,sample,soft,order,note\nA1,short,3,1,\nA1,long,2,2,\n"))
	f.Add([]byte("assessor;sample;soft\nA1;short;\"3,5\"\nA1;short;4\n;long;9\n"))
	f.Fuzz(func(t *testing.T, log []byte) {
		if len(log) > 20_000 {
			return
		}
		files := map[string][]byte{NoteFile: []byte(tastedNote), TastingFile: log}
		trial, problems := read(files)
		checkPlaces(t, files, problems)
		for _, row := range trial.Tastings {
			if trial.Sample(row.Sample) == nil || strings.TrimSpace(row.Assessor) == "" {
				t.Fatalf("a mark that belongs to nobody: %+v", row)
			}
			for name, r := range row.Readings {
				if trial.Measure(name) == nil {
					t.Fatalf("a reading of no measure: %q", name)
				}
				if r.Missing && r.Value.Sign() != 0 {
					t.Fatalf("a missing reading with a value: %+v", r)
				}
			}
		}
	})
}

// FuzzSets reads any bytes as the log of an odd one out.
func FuzzSets(f *testing.F) {
	for _, log := range notes(f, "odd-cup.csv") {
		f.Add(log)
	}
	f.Add([]byte("assessor,set,odd,picked\nA1,1,short,long\nA1,2,long,long\n"))
	f.Fuzz(func(t *testing.T, log []byte) {
		if len(log) > 20_000 {
			return
		}
		files := map[string][]byte{NoteFile: []byte(tastedNote), "odd-bowl.csv": log}
		trial, problems := read(files)
		checkPlaces(t, files, problems)
		for _, s := range trial.Sets {
			if trial.Measure(s.Measure) == nil || trial.Sample(s.Odd) == nil || trial.Sample(s.Picked) == nil {
				t.Fatalf("a set of nothing: %+v", s)
			}
		}
	})
}

// FuzzPeople reads any bytes as the names of households: each that is named has a log, and
// a name that can be seen.
func FuzzPeople(f *testing.F) {
	f.Add([]byte("household-1: Ada Fenn\n"))
	f.Add([]byte("household-2: ''\nhousehold-9: x\nhousehold-1: [a]\n"))
	log := []byte("sample,piece,side 1\nshort,1,70\nlong,1,80\n")
	f.Fuzz(func(t *testing.T, people []byte) {
		if len(people) > 20_000 {
			return
		}
		named := ReplicationsFolder + "/" + PeopleFile
		files := map[string][]byte{NoteFile: []byte(plainNote), named: people, HouseholdFile("household-1"): log, HouseholdFile("household-2"): log}
		trial, problems := read(files)
		checkPlaces(t, files, problems)
		if len(trial.Replications) != 2 {
			t.Fatalf("%d households", len(trial.Replications))
		}
		for _, r := range trial.Replications {
			written := bytes.Contains(people, []byte(r.Key)) || bytes.Contains(people, []byte(`\`)) // or with escapes
			if r.Named && (strings.TrimSpace(r.Name) == "" || !written) {
				t.Fatalf("%+v named by %q", r, people)
			}
		}
	})
}
