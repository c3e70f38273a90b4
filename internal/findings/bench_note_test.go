package findings

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// bench is a small trial written down in a few lines. Samples, if empty, are a, the
// control, and b, which was boiled longer.
type bench struct {
	samples  string
	measures string // one a line
	more     string // other keys of the note
	pieces   string // the log's rows, under the heading
	tasting  string
	sets     map[string]string // logs of discrimination tests by measure
	homes    []string          // logs of households that repeated the trial
}

const twoSamples = `a: {name: Short boil, control: true}
b: {name: Long boil, change: {boil: 18 min}}`

const threeSamples = twoSamples + `
c: {name: Open pot, like: b, change: {lid: "off"}}`

// of reads the trial and computes its findings.
func (b bench) of(t testing.TB) *Findings {
	t.Helper()
	samples := b.samples
	if samples == "" {
		samples = twoSamples
	}
	note := `---
title: T
question: Q?
recipe: {name: R, ingredients: {rice: 200 g white rice, salt: 5 g table salt, water: 400 g water}}
conditions: {boil: 12 min, lid: "on"}
samples:
` + indent(samples) + "measures:\n" + indent(b.measures) + b.more + "\n---\n"
	folder := fstest.MapFS{"rice/trial.md": {Data: []byte(note)}}
	if b.pieces != "" {
		folder["rice/pieces.csv"] = &fstest.MapFile{Data: []byte(b.pieces)}
	}
	if b.tasting != "" {
		folder["rice/tasting.csv"] = &fstest.MapFile{Data: []byte(b.tasting)}
	}
	for measure, log := range b.sets {
		folder["rice/"+trial.LogName(measure)] = &fstest.MapFile{Data: []byte(log)}
	}
	for i, log := range b.homes {
		folder["rice/"+trial.HouseholdFile(trial.HouseholdKey(i+1))] = &fstest.MapFile{Data: []byte(log)}
	}
	var problems problem.List
	read := trial.Read(trial.Folder{FS: folder, Slug: "rice"}, kitchen.Default(), &problems)
	if read == nil || problems.Errors() > 0 {
		t.Fatalf("%v\n%s", problems.Sorted(), note)
	}
	return Of(read)
}

func indent(lines string) string {
	out := ""
	for line := range strings.Lines(lines) {
		out += "  " + strings.TrimRight(line, "\n") + "\n"
	}
	return out
}

// log writes rows of a sample, a piece a reading: "a.1" is batch 1 of a.
func rows(sampleAndBatch string, readings ...string) string {
	sample, batch, ok := strings.Cut(sampleAndBatch, ".")
	if !ok {
		batch = "1"
	}
	out := ""
	for i, r := range readings {
		out += fmt.Sprintf("%s,%s,%d,%s\n", sample, batch, i+1, r)
	}
	return out
}

// passed writes so many passes of so many pieces.
func passed(sampleAndBatch string, passes, n int) string {
	readings := make([]string, n)
	for i := range readings {
		readings[i] = "fail"
		if i < passes {
			readings[i] = "pass"
		}
	}
	return rows(sampleAndBatch, readings...)
}

const (
	shareHead  = "sample,batch,piece,done\n"
	numberHead = "sample,batch,piece,size\n"
	done       = "done: {kind: pass or fail, primary: true}"
	size       = "size: {kind: number, primary: true}"
	tasteHead  = "assessor,sample,taste\n"
	taste      = "taste: {kind: number, of: tasting, primary: true}"
)

// tasted writes what assessors t1, t2 … said of two samples.
func tasted(samples string, columns ...[]string) string {
	out := tasteHead
	for i := range columns[0] {
		for j, sample := range strings.Fields(samples) {
			if columns[j][i] != "" {
				out += fmt.Sprintf("t%02d,%s,%s\n", i+1, sample, columns[j][i])
			}
		}
	}
	return out
}

// effect is what the first contrast showed on its first measure.
func (f *Findings) first() Effect { return f.Contrasts[0].Measures[0] }
