package bench

import (
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// cells parts a CSV file.
func cells(t testing.TB, data []byte) [][]string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// fill fills a blank ballots.csv in as a reader of the ballots would: scores and
// ranks by the sample, and of every test the cup that choose picks.
func fill(t testing.TB, note *trial.Trial, laid *Tasting, choose func(s sitting, choices []string) string) []byte {
	t.Helper()
	rows := cells(t, laid.BallotsCSV(note))
	column := func(name string) int { return slices.Index(rows[0], name) }
	rank := map[string]string{"dry": "1", "soaked": "2", "salted": "3", "thin": "4"}
	at := map[sittingID]sitting{}
	sample := map[string]string{}
	for _, s := range laid.sittings() {
		at[s.id()] = s
		for _, c := range s.cups {
			sample[c.Code] = c.Sample
		}
	}
	for _, row := range rows[1:] {
		if test := row[column("test")]; test != "" {
			set, err := strconv.Atoi(row[column("set")])
			if err != nil {
				t.Fatal(err)
			}
			s := at[sittingID{row[0], test, set}]
			row[column("picked")] = choose(s, s.choices(note.Measure(test).Kind))
			continue
		}
		row[column("crunch")] = rank[sample[row[column("code")]]]
		row[column("liking")] = rank[sample[row[column("code")]]]
	}
	return table(rows[0], rows[1:])
}

func right(s sitting, choices []string) string {
	if s.right() == "" {
		return choices[0]
	}
	return s.right()
}

// read reads ballots back by a key that was itself read back.
func read(t testing.TB, note *trial.Trial, laid *Tasting, data []byte) (Returned, *problem.List) {
	t.Helper()
	var problems problem.List
	key := ReadKey(note, "key.csv", laid.KeyCSV(), &problems)
	for _, p := range problems.Sorted() {
		t.Errorf("the key: %s", p)
	}
	return key.ReadBallots(note, "ballots.csv", data, &problems), &problems
}

// TestReadBack: what was filled in under codes comes back under the samples' names,
// whatever was picked, in logs that the trial reads without a word.
func TestReadBack(t *testing.T) {
	note := crackers(t)
	rapid.Check(t, func(rt *rapid.T) {
		p := Panel{Assessors: rapid.IntRange(1, 9).Draw(rt, "assessors"), Sets: rapid.IntRange(1, 2).Draw(rt, "sets"), Seed: rapid.String().Draw(rt, "seed"),
			Constant: rapid.Bool().Draw(rt, "constant")}
		laid, err := Lay(note, p)
		if err != nil {
			rt.Fatal(err)
		}
		wantRight := map[string]int{}
		data := fill(t, note, laid, func(s sitting, choices []string) string {
			picked := rapid.SampledFrom(choices).Draw(rt, "picked")
			if picked == s.right() {
				wantRight[s.test]++
			}
			return picked
		})
		returned, problems := read(t, note, laid, data)
		if problems.Len() > 0 {
			rt.Fatalf("%s", problems.Sorted()[0])
		}
		if len(returned.Logs) != 7 || len(returned.Absent) != 0 {
			rt.Fatalf("%d logs, %q absent", len(returned.Logs), returned.Absent)
		}
		back := crackers(t, returned.Logs...)
		if len(back.Tastings) != 4*p.Assessors || len(back.Sets) != 6*p.Assessors*p.Sets {
			rt.Fatalf("%d tastings, %d sets", len(back.Tastings), len(back.Sets))
		}
		ranks := map[string]float64{"dry": 1, "soaked": 2, "salted": 3, "thin": 4}
		for _, row := range back.Tastings {
			if row.Readings["crunch"].Value.Float64() != ranks[row.Sample] || row.Readings["liking"].Value.Float64() != ranks[row.Sample] {
				rt.Fatalf("%s scored %s as %v", row.Assessor, row.Sample, row.Readings)
			}
		}
		gotRight := map[string]int{}
		for _, set := range back.Sets {
			if set.Measure != "better" && set.Right() {
				gotRight[set.Measure]++
			}
		}
		if fmt.Sprint(gotRight) != fmt.Sprint(wantRight) {
			rt.Fatalf("right %v, want %v", gotRight, wantRight)
		}
	})
}

// A preference names the sample that was preferred.
func TestPreferenceNamesTheSample(t *testing.T) {
	note, laid := lay(t, panelOf(4))
	returned, problems := read(t, note, laid, fill(t, note, laid, func(s sitting, choices []string) string {
		for _, c := range s.cups {
			if s.test == "better" && c.Sample == "soaked" {
				return c.Code
			}
		}
		return right(s, choices)
	}))
	if problems.Len() > 0 {
		t.Fatal(problems.Sorted()[0])
	}
	for _, set := range crackers(t, returned.Logs...).Sets {
		if set.Measure == "better" && set.Picked != "soaked" {
			t.Errorf("%s prefers %q", set.Assessor, set.Picked)
		}
		if set.Measure != "better" && !set.Right() {
			t.Errorf("%s of %s: %q picked, %q right", set.Assessor, set.Measure, set.Picked, set.Odd)
		}
	}
}

// TestMistakes: every mistake is named with its place, and nothing comes back.
func TestMistakes(t *testing.T) {
	note, laid := lay(t, panelOf(2))
	good := cells(t, fill(t, note, laid, right))
	column := map[string]int{}
	for i, name := range good[0] {
		column[name] = i
	}
	// The lines of A1: six sets, then four cups; those of A2 follow.
	const triangle, tetrad, first, second, other = 1, 5, 7, 8, 17
	tests := []struct {
		name  string
		spoil func(rows [][]string) [][]string
		want  []string // place and words of each
	}{
		{"nothing", func(r [][]string) [][]string { return r }, nil},
		{"an unknown code", put(first, column["code"], "999"), []string{`8:6: no cup has the code "999"`, "there is no row of A1 for the cup"}},
		{"a cup of somebody else", func(r [][]string) [][]string {
			r[first][column["code"]], r[other][column["code"]] = r[other][column["code"]], r[first][column["code"]]
			return r
		}, []string{"8:6: the cup", "18:6: the cup", "no row of A1", "no row of A2"}},
		{"a doubled row", func(r [][]string) [][]string { return append(r, r[first]) }, []string{"22:6: the cup " + good[first][3] + " stands in line 8 already"}},
		{"a doubled set", func(r [][]string) [][]string { return append(r, r[triangle]) }, []string{"22:1: set 1 of odd one for A1 stands in line 2 already"}},
		{"a missing row", func(r [][]string) [][]string { return slices.Delete(r, first, first+1) }, []string{"there is no row of A1 for the cup " + good[first][3]}},
		{"a missing set", func(r [][]string) [][]string { return slices.Delete(r, triangle, triangle+1) }, []string{"there is no row of A1 for set 1 of odd one"}},
		{"off the scale", put(first, column["crunch"], "10"), []string{"crunch: “10” is off the scale (the scale runs from 1 to 9)"}},
		{"no number", put(first, column["crunch"], "very"), []string{"crunch: “very” is not a number"}},
		{"a rank too far", put(first, column["liking"], "5"), []string{`liking: "5" is off the scale (the ranks are 1 to 4, each once)`}},
		{"a rank twice", put(second, column["liking"], good[first][column["liking"]]), []string{"stands in line 8 already (the ranks are 1 to 4, each once)"}},
		{"an empty cell", put(first, column["crunch"], ""), []string{"nothing stands under crunch (what was left out on purpose has a word under note)"}},
		{"no choice", put(triangle, column["picked"], ""), []string{"nothing stands under picked"}},
		{"a cup of another set", put(triangle, column["picked"], good[first][3]), []string{"the set had no cup"}},
		{"the first of a tetrad", put(tetrad, column["picked"], strings.Fields(good[tetrad][3])[0]), []string{"was not to be picked"}},
		{"an unknown assessor", put(first, 0, "A7"), []string{`8:1: the key has no assessor "A7"`, "there is no row of A1"}},
		{"no assessor", put(first, 0, ""), []string{"the row names no assessor", "there is no row of A1"}},
		{"an unknown test", put(triangle, 1, "odd won"), []string{`the note has no sensory test "odd won" (did you mean odd one?)`, "there is no row"}},
		{"an unknown set", put(triangle, 2, "2"), []string{`A1 had no set "2" of odd one`, "there is no row"}},
		{"codes of another set", put(triangle, 3, "111 222 333"), []string{"set 1 of odd one for A1 had other codes"}},
		{"a column too few", func(r [][]string) [][]string {
			for i := range r {
				r[i] = slices.Delete(slices.Clone(r[i]), 4, 5)
			}
			return r
		}, []string{`1:1: there is no column "crunch"`}},
		{"a column too many", put(0, column["note"], "remarks"), []string{`a column "remarks" does not belong here`}},
		{"nothing filled in", func([][]string) [][]string { return cells(t, laid.BallotsCSV(note)) }, []string{"ballots.csv: nothing is filled in"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := make([][]string, len(good))
			for i := range good {
				rows[i] = slices.Clone(good[i])
			}
			rows = tt.spoil(rows)
			returned, problems := read(t, note, laid, table(rows[0], rows[1:]))
			var got []string
			for _, p := range problems.Sorted() {
				got = append(got, p.String())
			}
			if len(got) != len(tt.want) || (len(returned.Logs) > 0) != (len(tt.want) == 0) {
				t.Fatalf("%d logs and problems %q, want %q", len(returned.Logs), got, tt.want)
			}
			for _, want := range tt.want {
				if !slices.ContainsFunc(got, func(p string) bool { return strings.Contains(p, want) }) {
					t.Errorf("no %q in %q", want, got)
				}
			}
		})
	}
}

func put(row, column int, text string) func([][]string) [][]string {
	return func(rows [][]string) [][]string {
		rows[row][column] = text
		return rows
	}
}

// An assessor who handed in nothing is said to be absent; a cell left empty with a word
// under note is a reading that was not taken.
func TestAbsentAndEmpty(t *testing.T) {
	note, laid := lay(t, panelOf(2))
	rows := cells(t, fill(t, note, laid, right))
	last := len(rows[0]) - 1
	for _, row := range rows[1:] {
		if row[0] == "A2" {
			for i := 4; i <= last; i++ {
				row[i] = ""
			}
		}
	}
	rows[7][4], rows[7][last] = "", "dropped it"
	rows[1][last-1], rows[1][last] = "", "=had to leave"
	returned, problems := read(t, note, laid, table(rows[0], rows[1:]))
	if problems.Len() > 0 || !slices.Equal(returned.Absent, []string{"A2"}) {
		t.Fatalf("%v, absent %q", problems.Sorted(), returned.Absent)
	}
	if log := returned.Logs[0]; log.Rows != 4 || !strings.Contains(string(log.Data), "dropped it") {
		t.Errorf("the log\n%s", log.Data)
	}
	if !strings.Contains(string(returned.Logs[1].Data), "'=had to leave") {
		t.Errorf("a note that a spreadsheet would compute\n%s", returned.Logs[1].Data)
	}
}

// TestKeyMistakes: a key that was tampered with is not used.
func TestKeyMistakes(t *testing.T) {
	note, laid := lay(t, panelOf(2))
	good := cells(t, laid.KeyCSV())
	tests := []struct {
		name        string
		row, column int
		text, want  string
	}{
		{"another trial", 1, 0, "rye-bread", `this is the key of the trial "rye-bread"`},
		{"no assessor", 1, 1, "", "the row names no assessor"},
		{"an unknown test", 1, 2, "even one", `no sensory test "even one"`},
		{"a set without a number", 1, 3, "", `"" is not the number of a set`},
		{"a place without a number", 1, 4, "x", `"x" is not the number of a set or a place`},
		{"no code", 1, 5, "41", `"41" is no three-digit code`},
		{"a doubled code", 1, 5, good[2][5], "stands in line 2 already"},
		{"an unknown sample", 1, 6, "drie", "no sample is called"},
		{"another heading", 0, 6, "smaple", "did you mean sample?"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := make([][]string, len(good))
			for i := range good {
				rows[i] = slices.Clone(good[i])
			}
			rows[tt.row][tt.column] = tt.text
			var problems problem.List
			ReadKey(note, "key.csv", table(rows[0], rows[1:]), &problems)
			if problems.Errors() == 0 || !slices.ContainsFunc(problems.Sorted(), func(p problem.Problem) bool { return strings.Contains(p.String(), tt.want) }) {
				t.Errorf("%v, want %q", problems.Sorted(), tt.want)
			}
		})
	}
	var problems problem.List
	rows := slices.Clone(good[1:])
	for i := range rows {
		rows[i] = slices.Clone(rows[i])
		if rows[i][1] == "A1" && rows[i][2] == "odd one" {
			rows[i][7] = "yes"
		}
	}
	ReadKey(note, "key.csv", table(good[0], rows), &problems)
	if problems.Errors() == 0 || !strings.Contains(problems.Sorted()[0].String(), "has 3 right answers") {
		t.Errorf("three right answers: %v", problems.Sorted())
	}
}

func TestCompare(t *testing.T) {
	log := Log{Name: "tasting.csv", Data: []byte("assessor,sample,crunch,note\nA1,dry,4,\nA1,soaked,5,\n")}
	tests := []struct {
		name, existing string
		want           Held
	}{
		{"nothing", "", Blank},
		{"the heading alone", "assessor,sample,crunch\n", Blank},
		{"rows without readings", "assessor,sample,crunch\nA1,dry,\nA2,dry,\n", Blank},
		{"the same in another order", "\ufeffsample,assessor,crunch\r\nsoaked,A1,5\r\ndry,A1,4\r\n", Same},
		{"another reading", "assessor,sample,crunch\nA1,dry,4\nA1,soaked,6\n", Other},
		{"a remark", "assessor,sample,crunch,note\nA1,dry,,ill\n", Other},
		{"no log", "\x00\x01", Other},
		{"a torn log", "assessor,sample\n\"A1", Other},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := log.Compare([]byte(tt.existing)); got != tt.want {
				t.Errorf("%v, want %v", got, tt.want)
			}
		})
	}
}

// FuzzReadBallots: anything can be handed in. What comes back without an error is read
// by the trial without one.
func FuzzReadBallots(f *testing.F) {
	note, laid := lay(f, panelOf(1))
	f.Add(fill(f, note, laid, right))
	f.Add(laid.BallotsCSV(note))
	f.Add([]byte("assessor;test;set;code\n"))
	f.Add([]byte("assessor,test,set,code,crunch,liking,picked,note\nA1,odd one,-1,,,,,\n\"A1"))
	f.Fuzz(func(t *testing.T, data []byte) {
		var problems problem.List
		returned := laid.ReadBallots(note, "ballots.csv", data, &problems)
		if problems.Errors() > 0 {
			if len(returned.Logs) > 0 {
				t.Fatal("logs of ballots with errors")
			}
			return
		}
		if len(returned.Logs) == 0 {
			t.Fatal("no errors and no logs")
		}
		back := trialOf(t, returned.Logs)
		for _, p := range back.Sorted() {
			if p.Weight == problem.Error {
				t.Fatalf("the log: %s", p)
			}
		}
	})
}

// FuzzReadKey: a key may be anything.
func FuzzReadKey(f *testing.F) {
	note, laid := lay(f, panelOf(1))
	f.Add(laid.KeyCSV())
	f.Add([]byte("trial,assessor,test,set,place,code,sample,right\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		var problems problem.List
		key := ReadKey(note, "key.csv", data, &problems)
		if problems.Errors() > 0 {
			return
		}
		again := ReadKey(note, "key.csv", key.KeyCSV(), &problems)
		if problems.Errors() > 0 || !slices.Equal(again.Cups, key.Cups) {
			t.Fatalf("the key is read as another: %v", problems.Sorted())
		}
	})
}
