package findings

import (
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// of reads a trial and computes its findings.
func of(t testing.TB, note, log string) *Findings {
	t.Helper()
	content := fstest.MapFS{
		"rice/trial.md":   {Data: []byte(note)},
		"rice/pieces.csv": {Data: []byte(log)},
	}
	k := kitchen.Default()
	k.Altitude = 1609.344
	var problems problem.List
	read := trial.Read(trial.Folder{FS: content, Slug: "rice"}, k, &problems)
	if read == nil || problems.Errors() > 0 {
		t.Fatal(problems.Sorted())
	}
	return Of(read)
}

const note = `---
title: T
question: Q?
recipe:
  name: R
  ingredients: {rice: 200 g white rice, salt: 5 g table salt, water: 400 g water}
conditions: {boil: 12 min, lid: "on"}
samples:
  long: {change: {boil: 18 min}}
  short: {control: true, used: {water: 420 g}, dough: 600 g}
  open: {like: long, change: {lid: "off"}, used: {water: 420.5 g}}
  piece: {taken from: short, change: {lid: "off"}}
measures:
  side 1: {kind: time, part of: cook time}
  side 2: {kind: time, part of: cook time}
  width: {kind: length, in: mm, not controlled: true}
  done: {kind: pass or fail, primary: true}
---
`

const log = `sample,piece,side 1,side 2,width,done,set aside
short,1,30,31,50,pass,
short,2,32,35,51,pass,
short,3,1:10,40,49,fail,side 1: pan cold
short,4,,36,50,pass,
short,5,31,33,50,fail,dropped
long,1,40,41,60,pass,
long,2,42,45,61,pass,
long,3,41,44,59,pass,
open,1,40,41,60,,
`

func TestOutcomes(t *testing.T) {
	f := of(t, note, log)
	if f.Samples[0].Key != "short" || f.Samples[0].Letter != "A" || f.Samples[1].Key != "long" {
		t.Fatalf("the control does not come first: %s, %s", f.Samples[0].Key, f.Samples[1].Key)
	}
	tests := []struct {
		sample, measure      string
		n, setAside, missing int
		text                 string
	}{
		{"short", "side 1", 2, 2, 1, "31.0 s"},
		{"short", "side 2", 4, 1, 0, "35.5 s"},
		{"short", "cook time", 2, 2, 1, "1 min 4 s"},
		{"short", "width", 4, 1, 0, "50.0 mm"},
		{"short", "done", 4, 1, 0, "3 of 4"},
		{"long", "done", 3, 0, 0, "3 of 3"},
		{"open", "side 1", 1, 0, 0, "40 s"},
		{"open", "done", 0, 0, 1, "–"},
		{"piece", "done", 0, 0, 0, "–"},
	}
	for _, tt := range tests {
		s := f.Sample(tt.sample).Measure(tt.measure)
		if s.N != tt.n || s.SetAside != tt.setAside || s.Missing != tt.missing || s.Text() != tt.text {
			t.Errorf("%s of %s: n %d, set aside %d, missing %d, %q; want %d, %d, %d, %q", tt.measure, tt.sample,
				s.N, s.SetAside, s.Missing, s.Text(), tt.n, tt.setAside, tt.missing, tt.text)
		}
	}
}

// TestIntervals checks the intervals that the tables show against figures from
// outside: Wilson for 5 of 6 and for 6 of 6 (Wilson 1927; the reference table
// proportion_intervals.csv has both), Student's t for 30, 32, 31 (t = 4.302653 for
// two degrees of freedom, Student 1908's table).
func TestIntervals(t *testing.T) {
	near := func(what string, got, want float64) {
		if math.Abs(got-want) > 5e-5 {
			t.Errorf("%s is %.5f, want %.5f", what, got, want)
		}
	}
	five := share(5, 6)
	near("low of 5 of 6", five.Low, 0.43650)
	near("high of 5 of 6", five.High, 0.96995)
	six := share(6, 6)
	near("low of 6 of 6", six.Low, 0.60967)
	if six.High != 1 {
		t.Errorf("the upper end of 6 of 6 is %v, not 1", six.High)
	}
	mean := numbers([]float64{30, 32, 31})
	near("low of the mean", mean.Interval.Low, 31-4.302653/math.Sqrt(3))
	near("high of the mean", mean.Interval.High, 31+4.302653/math.Sqrt(3))
	if one := numbers([]float64{30}); one.HasInterval || one.HasSD {
		t.Error("one reading has a spread")
	}
}

func TestContrasts(t *testing.T) {
	f := of(t, note, log)
	tests := []struct {
		pair               string
		planned, unplanned string
		single, within     bool
	}{
		{"long against short", "boil", "water, width", false, false},
		{"open against short", "boil, lid", "", false, false}, // one piece has no spread; 0.5 g is below the scale's step
		{"piece against short", "lid", "", true, true},
		{"open against long", "lid", "water", false, false},
		{"piece against long", "boil, lid", "water", false, false},
		{"piece against open", "boil", "", true, false},
	}
	if len(f.Contrasts) != len(tests) {
		t.Fatalf("%d contrasts, want %d", len(f.Contrasts), len(tests))
	}
	for i, tt := range tests {
		c := f.Contrasts[i]
		var planned, unplanned []string
		for _, d := range c.Planned {
			planned = append(planned, d.Factor.Name)
		}
		for _, d := range c.Unplanned {
			unplanned = append(unplanned, d.Factor.Name)
		}
		if got := c.Of.Key + " against " + c.Against.Key; got != tt.pair {
			t.Errorf("contrast %d is %s, want %s", i, got, tt.pair)
		}
		if got := strings.Join(planned, ", "); got != tt.planned {
			t.Errorf("%s: planned %q, want %q", tt.pair, got, tt.planned)
		}
		if got := strings.Join(unplanned, ", "); got != tt.unplanned {
			t.Errorf("%s: unplanned %q, want %q", tt.pair, got, tt.unplanned)
		}
		if c.Single() != tt.single || c.Within != tt.within || c.Confounded() == tt.single {
			t.Errorf("%s: single %v, within one dough %v", tt.pair, c.Single(), c.Within)
		}
	}
}

func TestValues(t *testing.T) {
	f := of(t, note, log)
	tests := []struct{ path, want, wrong, hint string }{
		{"short/done", "3 of 4", "", ""},
		{"short/done/share", "75 %", "", ""},
		{"short/done/n", "4", "", ""},
		{"short/side-2", "35.5 s", "", ""},
		{"short/side 2/median", "36 s", "", ""},
		{"short/side-2/max", "40 s", "", ""},
		{"short/width/sd", "0.8 mm", "", ""},
		{"boiling-point", "94.6 °C", "", ""}, // a mile up: the rows of testdata/reference/physics.csv around it are checked in boiling
		{"recipe/rice", "200 g", "", ""},
		{"shrt/done", "", "no sample", "did you mean short?"},
		{"short/don", "", "no measure", "did you mean done?"},
		{"short/done/mean", "", "has no", "it has n, share"},
		{"open/done", "", "no reading", ""},
		{"recipe/rise", "", "no role", "did you mean rice?"},
		{"hydration", "", "no hydration", "flours"},
	}
	for _, tt := range tests {
		v, err := f.Value(tt.path)
		if tt.wrong == "" {
			if err != nil || v.Text != tt.want {
				t.Errorf("%s is %q, %v; want %q", tt.path, v.Text, err, tt.want)
			}
			continue
		}
		unknown, ok := err.(*UnknownValue)
		if !ok || !strings.Contains(unknown.What, tt.wrong) || !strings.Contains(unknown.Hint, tt.hint) {
			t.Errorf("%s: %v; want %q with the hint %q", tt.path, err, tt.wrong, tt.hint)
		}
	}
}

// TestBalance: 420 g of water really went in, 600 g were weighed.
func TestBalance(t *testing.T) {
	f := of(t, note, log)
	b := f.Sample("short").Balance
	if b.In.String() != "625" || b.Loss.String() != "25" || b.Percent.Decimal(1) != "4.0" || !b.Known {
		t.Errorf("in %s, loss %s, %s %%", b.In, b.Loss, b.Percent.Decimal(1))
	}
}
