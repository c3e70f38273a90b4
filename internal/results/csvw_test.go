package results

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/testkit"
	"sidebatch.example/sidebatch/internal/trial"
)

// kitchens are the folders of the demo and of the small kitchens.
func kitchens(t testing.TB) []string {
	t.Helper()
	found, err := filepath.Glob("../../testdata/kitchens/*/kitchen.yaml")
	if err != nil || len(found) == 0 {
		t.Fatalf("no kitchens: %v", err)
	}
	folders := []string{"../../content"}
	for _, file := range found {
		folders = append(folders, filepath.Dir(file))
	}
	return folders
}

// kept is a trial with the name of its kitchen.
type kept struct {
	kitchen string
	*trial.Trial
}

// trials reads every trial of every kitchen.
func trials(t testing.TB) []kept {
	t.Helper()
	var all []kept
	for _, folder := range kitchens(t) {
		content := os.DirFS(folder)
		data, err := fs.ReadFile(content, kitchen.File)
		if err != nil {
			t.Fatal(err)
		}
		k := kitchen.Read(kitchen.File, data, nil)
		notes, err := fs.Glob(content, "*/"+trial.NoteFile)
		if err != nil {
			t.Fatal(err)
		}
		for _, note := range notes {
			read := trial.Read(trial.Folder{FS: content, Slug: filepath.Dir(note), Shown: "content"}, k, nil)
			if read == nil {
				t.Fatalf("%s/%s: no trial", folder, note)
			}
			all = append(all, kept{filepath.Base(folder), read})
		}
	}
	if len(all) < 5 {
		t.Fatalf("only %d trials", len(all))
	}
	return all
}

// hostile is a trial whose log holds cells, and names, that a spreadsheet would
// take for formulas.
func hostile() fstest.MapFS {
	note := `---
title: "=1+1"
question: Which?
recipe: {name: Tea, ingredients: {water: 200 g water}}
samples:
  -cold: {control: true}
  "@hot": {name: "=HYPERLINK(1)"}
measures:
  drop: {kind: temperature, in: °C}
  "=gain": {kind: number, asks: more, not controlled: true}
  clear: {kind: yes or no}
  sweet: {kind: score, from: 1 flat, to: 5 sweet, of: tasting}
  order: {kind: rank}
  which one: {kind: triangle, compares: [-cold, "@hot"]}
  liked: {kind: paired preference, compares: [-cold, "@hot"]}
---
`
	return fstest.MapFS{
		"tea/trial.md": {Data: []byte(note)},
		"tea/pieces.csv": {Data: []byte("sample,batch,piece,drop,=gain,clear,set aside,note\n" +
			"-cold,1,+1,-18,-1/2,yes,,\"=cmd|' /C calc'!A0\"\n" +
			"@hot,,=2,-1.5 °C,3,Yes,\"drop: -\",'=quoted\n\n" +
			"'@hot,2,-3, .5 ,,no,@all,\"two\nlines, \"\"quoted\"\"\"\n")},
		"tea/tasting.csv":      {Data: []byte("assessor,sample,sweet,order,note\n=A,-cold,2,1,\n=A,@hot,4.5,2,-\n")},
		"tea/which-one.csv":    {Data: []byte("assessor,set,odd,picked\n+B,1,417,417\n+B,2,-52,417\n")},
		"tea/liked.csv":        {Data: []byte("assessor,set,picked,note\nC,1,-cold,\nC,2,@hot,=\n")},
		"tea/probe-pot.csv":    {Data: []byte("time,rim,@core,note\n0:00,-18,-17.5,\n0:30,0 °F,,+\n")},
		"tea/probe-frozen.csv": {Data: []byte("time,core\n0,-18\n30,-17\n")},
	}
}

func readTea(files fs.FS, problems *problem.List) *trial.Trial {
	return trial.Read(trial.Folder{FS: files, Slug: "tea", Shown: "content"}, kitchen.Default(), problems)
}

// publishLogs puts the published form of every log in the place of the log.
func publishLogs(t testing.TB, read *trial.Trial, files fstest.MapFS) fstest.MapFS {
	t.Helper()
	published := fstest.MapFS{}
	for name, f := range files {
		published[name] = f
	}
	for _, f := range read.Files {
		if f.Name == trial.NoteFile {
			continue
		}
		data, metadata, err := Table(read, f)
		if err != nil {
			if heading, _ := f.Sheet(); len(heading) == 0 {
				continue
			}
			t.Fatalf("%s: %v", f.Name, err)
		}
		if !json.Valid(metadata) {
			t.Fatalf("%s: the metadata is not JSON: %s", f.Name, metadata)
		}
		checkCSV(t, f.Name, data)
		published["tea/"+f.Name] = &fstest.MapFile{Data: data}
	}
	return published
}

// checkCSV holds a published log against RFC 4180 and against the signs that the
// OWASP page on CSV injection names: = + - @, tab, carriage return.
func checkCSV(t testing.TB, name string, data []byte) {
	t.Helper()
	if lines := bytes.Count(data, []byte("\n")); lines != bytes.Count(data, []byte("\r\n")) || !bytes.HasSuffix(data, []byte("\r\n")) {
		t.Fatalf("%s: not every line ends in CR LF: %q", name, data)
	}
	in := csv.NewReader(bytes.NewReader(data))
	rows, err := in.ReadAll() // as many cells in every row as in the first
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	for _, row := range rows {
		for _, cell := range row {
			var number json.Number
			plain := json.Unmarshal([]byte(strings.TrimPrefix(cell, "+")), &number) == nil
			if cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r") && !plain && !decimalPattern.MatchString(cell) {
				t.Fatalf("%s: a spreadsheet may run %q", name, cell)
			}
		}
	}
}

// sameReadings compares what was read, without the places.
func sameReadings(a, b *trial.Trial) string {
	type logs struct {
		Pieces   []trial.Piece
		Tastings []trial.Tasting
		Sets     []trial.Set
		Probes   []trial.Probe
	}
	return cmp.Diff(
		logs{a.Pieces, a.Tastings, a.Sets, a.Probes},
		logs{b.Pieces, b.Tastings, b.Sets, b.Probes},
		cmpopts.IgnoreTypes(problem.Pos{}), cmpopts.EquateEmpty(),
	)
}

// TestTableGolden holds the published logs of the small kitchens, and of the hostile
// trial, against golden files.
func TestTableGolden(t *testing.T) {
	for _, read := range append(trials(t), kept{"hostile", readTea(hostile(), nil)}) {
		for _, f := range read.Files {
			if f.Name == trial.NoteFile || read.kitchen == "content" {
				continue
			}
			t.Run(read.kitchen+"/"+read.Slug+"/"+f.Name, func(t *testing.T) {
				data, metadata, err := Table(read.Trial, f)
				if err != nil {
					t.Fatal(err)
				}
				golden := "testdata/csvw/" + read.kitchen + "-" + read.Slug + "-" + f.Name
				testkit.Golden(t, golden+MetadataSuffix, metadata)
				testkit.Golden(t, golden, data)
			})
		}
	}
}

// TestKitchensReadTheSame reads the published logs of every kitchen again.
func TestKitchensReadTheSame(t *testing.T) {
	for _, read := range trials(t) {
		t.Run(read.kitchen+"/"+read.Slug, func(t *testing.T) {
			files := fstest.MapFS{}
			for _, f := range read.Files {
				files["tea/"+f.Name] = &fstest.MapFile{Data: f.Data}
			}
			first := readTea(files, nil)
			if len(first.Pieces) != len(read.Pieces) || len(first.Sets) != len(read.Sets) {
				t.Fatalf("%d pieces and %d sets, of %d and %d", len(first.Pieces), len(first.Sets), len(read.Pieces), len(read.Sets))
			}
			if diff := sameReadings(first, readTea(publishLogs(t, first, files), nil)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// TestReadsTheSame reads the published logs of the hostile trial again.
func TestReadsTheSame(t *testing.T) {
	var problems problem.List
	first := readTea(hostile(), &problems)
	for _, p := range problems.Sorted() {
		if p.Weight == problem.Error {
			t.Errorf("the hostile trial is wrong itself: %s", p)
		}
	}
	if len(first.Pieces) != 3 || len(first.Tastings) != 2 || len(first.Sets) != 4 || len(first.Probes) != 2 {
		t.Fatalf("%d pieces, %d tastings, %d sets, %d probes", len(first.Pieces), len(first.Tastings), len(first.Sets), len(first.Probes))
	}
	again := readTea(publishLogs(t, first, hostile()), nil)
	if diff := sameReadings(first, again); diff != "" {
		t.Error(diff)
	}
}

// TestAnyCell publishes logs of any cells: what is read of them stays the same.
func TestAnyCell(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		cell := rapid.OneOf(
			rapid.StringMatching(`['=+\-@\t ,"\r\n]{0,4}[0-9.:/a-zé°]{0,5}`),
			rapid.SampledFrom([]string{"-18", "-18 °C", "+1", "=1+1", "'=1", "''-2", "1:10", "½", "-½", "yes", "fail", "\u00a0-3"}),
			rapid.String(),
		)
		var log bytes.Buffer
		w := csv.NewWriter(&log)
		rows := [][]string{{"sample", "piece", "drop", "=gain", "clear", "set aside", "note"}}
		for range rapid.IntRange(0, 4).Draw(rt, "rows") {
			row := []string{rapid.SampledFrom([]string{"-cold", "@hot", "'@hot"}).Draw(rt, "sample")}
			for range len(rows[0]) - 1 {
				row = append(row, cell.Draw(rt, "cell"))
			}
			rows = append(rows, row)
		}
		if err := w.WriteAll(rows); err != nil {
			rt.Fatal(err)
		}
		files := hostile()
		files["tea/pieces.csv"] = &fstest.MapFile{Data: log.Bytes()}
		first := readTea(files, nil)
		again := readTea(publishLogs(t, first, files), nil)
		if diff := sameReadings(first, again); diff != "" {
			rt.Fatal(diff)
		}
	})
}

// FuzzTable publishes any bytes as a log, and reads them again.
func FuzzTable(f *testing.F) {
	for name, file := range hostile() {
		if strings.HasSuffix(name, ".csv") {
			f.Add(file.Data)
		}
	}
	f.Add([]byte("sample,piece,drop\n'@hot,\"a\rb\",\"'\t=1\"\n"))
	f.Fuzz(func(t *testing.T, log []byte) {
		files := hostile()
		files["tea/pieces.csv"] = &fstest.MapFile{Data: log}
		first := readTea(files, nil)
		for _, file := range first.Files {
			// Headings that stand twice, or cells that are one blank line, are errors of
			// the log, and a site is not published with them.
			if heading, _ := file.Sheet(); hasTwice(heading) {
				return
			}
		}
		again := readTea(publishLogs(t, first, files), nil)
		if diff := sameReadings(first, again); diff != "" {
			t.Fatal(diff)
		}
	})
}

func hasTwice(names []string) bool {
	seen := map[string]bool{}
	for _, name := range names {
		if seen[name] || name == "" {
			return true
		}
		seen[name] = true
	}
	return false
}

func TestTableRefuses(t *testing.T) {
	read := readTea(hostile(), nil)
	for _, f := range []trial.File{
		{Name: "pieces.csv"},
		{Name: "other.csv", Data: []byte("a,b\n")},
		{Name: "drop.csv", Data: []byte("a,b\n")},
	} {
		if _, _, err := Table(read, f); err == nil || !strings.Contains(err.Error(), f.Name) {
			t.Errorf("%s: error %v", f.Name, err)
		}
	}
}
