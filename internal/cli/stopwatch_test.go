package cli

import (
	"errors"
	"strings"
	"testing"
	"time"

	"sidebatch.example/sidebatch/internal/press"
	"sidebatch.example/sidebatch/internal/site"
)

// clocked is a clock that tests move on, and an inspector that takes a second for all.
type clocked struct {
	press.Inspector
	at time.Time
}

func (c *clocked) now() time.Time       { return c.at }
func (c *clocked) pass(d time.Duration) { c.at = c.at.Add(d) }
func (c *clocked) See(string, []byte) []byte {
	c.pass(400 * time.Millisecond)
	return []byte("facts")
}

func (c *clocked) Broken(func(string) bool, func(string) []byte, func(string) bool, func(string) ([]byte, error)) ([]byte, error) {
	c.pass(200 * time.Millisecond)
	return nil, errors.New("x")
}

// TestStopwatch: steps, kinds and files, each with its time.
func TestStopwatch(t *testing.T) {
	clock := &clocked{}
	w := startWatchBy(clock.now)
	clock.pass(1500 * time.Millisecond)
	w.done(stepReading)
	var outputs []site.Output
	for i, name := range strings.Fields("a.html b.html c.svg d.jpg e.csv f.csv.gz g.xml h.json i.txt j.css k.js l.html") {
		outputs = append(outputs, site.Output{Path: name, Make: func() ([]byte, error) {
			clock.pass(time.Duration(i) * 10 * time.Millisecond)
			return []byte(name), nil
		}})
	}
	lots := w.timing(site.Lots(outputs))
	clock.pass(time.Millisecond)
	w.done(stepPlanning)
	by := w.inspecting(clock)
	for _, o := range site.All(lots) {
		if data, err := o.Make(); err != nil || string(data) != o.Path {
			t.Fatalf("%s: %q %v", o.Path, data, err)
		}
	}
	by.See("a.html", nil)
	by.See("b.html", nil)
	if _, err := by.Broken(nil, nil, nil, nil); err == nil {
		t.Error("what the inspector found is lost")
	}
	clock.pass(340 * time.Millisecond)
	w.done(stepWriting)
	clock.pass(time.Hour) // whatever comes afterwards is no part of it
	var told strings.Builder
	w.explain(&told)
	want := `
steps, one after another
     1.500 s  reading and computing
     0.001 s  planning
     2.000 s  making, writing and remembering

work while files are made and written, on all processors together
     1.000 s  links followed
     0.440 s  data and others (6 files)
     0.120 s  pages (3 files)
     0.050 s  compressed, with waiting for what is (1 file)
     0.030 s  pictures (1 file)
     0.020 s  figures (1 file)

files that took longest to make
     0.110 s  l.html
     0.100 s  k.js
     0.090 s  j.css
     0.080 s  i.txt
     0.070 s  h.json
     0.060 s  g.xml
     0.050 s  f.csv.gz
     0.040 s  e.csv
     0.030 s  d.jpg
     0.020 s  c.svg
`
	if told.String() != want {
		t.Errorf("told:%s\nwant:%s", told.String(), want)
	}
	if w.all() != 3501*time.Millisecond {
		t.Errorf("all together %v", w.all())
	}
}
