package stats

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// row is one case of a reference table. It remembers which of its cells a test
// has looked at, so that a column that nobody compares is noticed.
type row struct {
	t     *testing.T
	cells map[string]string
	seen  map[string]bool
}

// eachRow runs one named case for every row of a reference table, and fails for
// a row with a filled cell that its case did not use. words lists the columns
// that explain and are not compared.
func eachRow(t *testing.T, table string, rows int, check func(r row)) {
	t.Helper()
	f, err := os.Open("../../testdata/reference/" + table)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(records) != rows+1 {
		t.Fatalf("%s has %d rows, want %d", table, len(records)-1, rows)
	}
	words := []string{"case", "source", "from_memory", "note"}
	for _, record := range records[1:] {
		t.Run(record[0], func(t *testing.T) {
			r := row{t: t, cells: map[string]string{}, seen: map[string]bool{}}
			for i, name := range records[0] {
				r.cells[name] = record[i]
			}
			check(r)
			for _, name := range records[0] {
				if r.cells[name] != "" && !r.seen[name] && !slices.Contains(words, name) {
					t.Errorf("column %s (%s) was not used", name, r.cells[name])
				}
			}
		})
	}
}

// text is a cell; asking for a column that the table has not got is an error.
func (r row) text(name string) string {
	r.t.Helper()
	cell, ok := r.cells[name]
	if !ok {
		r.t.Fatalf("no column %q", name)
	}
	r.seen[name] = true
	return cell
}

func (r row) has(name string) bool { return r.text(name) != "" }

func (r row) num(name string) float64 {
	r.t.Helper()
	return parse(r.t, r.text(name))
}

func (r row) int(name string) int {
	r.t.Helper()
	n, err := strconv.Atoi(r.text(name))
	if err != nil {
		r.t.Fatalf("%s: %v", name, err)
	}
	return n
}

// list reads numbers separated by spaces.
func (r row) list(name string) []float64 {
	r.t.Helper()
	return parseList(r.t, r.text(name))
}

func (r row) sample(name string) Sample {
	r.t.Helper()
	return mustSample(r.t, r.list(name))
}

// matrix reads rows separated by semicolons.
func (r row) matrix(name string) [][]float64 {
	r.t.Helper()
	var m [][]float64
	for _, line := range strings.Split(r.text(name), ";") {
		m = append(m, parseList(r.t, line))
	}
	return m
}

// want compares a result with an expected column, at the row's tolerance; an
// empty cell is not part of the case.
func (r row) want(name string, got float64) {
	r.t.Helper()
	if !r.has(name) {
		return
	}
	expected := r.num(name)
	r.close(name, got, expected, r.num("tolerance")*max(1, math.Abs(expected)))
}

// published compares a result with what the source printed.
func (r row) published(name string, got float64) {
	r.t.Helper()
	if r.has(name) {
		r.close(name, got, r.num(name), r.num("published_tolerance"))
	}
}

// count compares a whole number, exactly.
func (r row) count(name string, got string) {
	r.t.Helper()
	if r.has(name) && r.text(name) != got {
		r.t.Errorf("%s: got %s, want %s", name, got, r.text(name))
	}
}

func (r row) close(name string, got, want, tolerance float64) {
	r.t.Helper()
	if !(math.Abs(got-want) <= tolerance) { // fails on NaN
		r.t.Errorf("%s: got %.14g, want %.14g (off by %.3g, allowed %.3g)", name, got, want, math.Abs(got-want), tolerance)
	}
}

func parse(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func parseList(t *testing.T, text string) []float64 {
	t.Helper()
	var xs []float64
	for _, field := range strings.Fields(text) {
		xs = append(xs, parse(t, field))
	}
	return xs
}

func mustSample(t testing.TB, xs []float64) Sample {
	t.Helper()
	s, err := NewSample(xs)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
