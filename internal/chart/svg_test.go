package chart

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// drawnText is a text of a figure as a reader's browser would place it.
type drawnText struct {
	words                    string
	left, right, top, bottom float64
}

// svgElement is what the checks need of one element.
type svgElement struct {
	name string
	attr map[string]string
}

// readSVG parses a figure strictly and returns its elements and placed texts.
func readSVG(t testing.TB, svg []byte) (elements []svgElement, texts []drawnText, words map[string]string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(string(svg)))
	words = map[string]string{}
	var open []svgElement
	for {
		token, err := d.Token()
		if err == io.EOF {
			return elements, texts, words
		}
		if err != nil {
			t.Fatalf("not well-formed: %v\n%s", err, svg)
		}
		switch token := token.(type) {
		case xml.StartElement:
			e := svgElement{token.Name.Local, map[string]string{}}
			for _, a := range token.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			elements, open = append(elements, e), append(open, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			e := open[len(open)-1]
			words[e.name] += string(token)
			if e.name == "text" {
				texts = append(texts, placeText(t, e, string(token)))
			}
		}
	}
}

// placeText measures a text with the metrics of the layout, without the slack.
func placeText(t testing.TB, e svgElement, words string) drawnText {
	t.Helper()
	x, errX := strconv.ParseFloat(e.attr["x"], 64)
	y, errY := strconv.ParseFloat(e.attr["y"], 64)
	if errX != nil || errY != nil {
		t.Fatalf("text %q stands at %q, %q", words, e.attr["x"], e.attr["y"])
	}
	size := nameSize
	classes := strings.Fields(e.attr["class"])
	for _, c := range classes {
		if c == "small" {
			size = smallSize
		}
	}
	w := width(words, size) / slack
	box := drawnText{words: words, left: x, right: x + w, top: y - .74*size, bottom: y + .22*size}
	for _, c := range classes {
		switch c {
		case "mid":
			box.left, box.right = x-w/2, x+w/2
		case "end":
			box.left, box.right = x-w, x
		}
	}
	return box
}

func (a drawnText) overlaps(b drawnText) bool {
	const touch = .3
	return a.left < b.right-touch && b.left < a.right-touch && a.top < b.bottom-touch && b.top < a.bottom-touch
}

// checkFigure holds everything that is true of every figure on a page, checkSVG that
// of every figure.
func checkFigure(t testing.TB, svg []byte) { t.Helper(); checkSVG(t, svg, wide) }

func checkSVG(t testing.TB, svg []byte, wide float64) {
	t.Helper()
	elements, texts, words := readSVG(t, svg)
	root := elements[0]
	id := strings.TrimSuffix(strings.Fields(root.attr["aria-labelledby"])[0], "-title")
	if root.name != "svg" || root.attr["role"] != "img" || root.attr["aria-labelledby"] != id+"-title "+id+"-desc" {
		t.Errorf("the root does not name its title and description: %v", root)
	}
	if words["title"] == "" {
		t.Error("no title")
	}
	box := strings.Fields(root.attr["viewBox"])
	if len(box) != 4 || box[2] != number(wide) {
		t.Fatalf("view box %q", root.attr["viewBox"])
	}
	height, err := strconv.ParseFloat(box[3], 64)
	if err != nil || height <= 0 {
		t.Errorf("height %q", box[3])
	}
	checkIDs(t, elements, id)
	checkNumbersInside(t, elements, wide, height)
	for i, a := range texts {
		if a.left < -.5 || a.right > wide+.5 || a.top < -1 || a.bottom > height+1 {
			t.Errorf("text %q runs out of the figure: %+v", a.words, a)
		}
		for _, b := range texts[i+1:] {
			if a.overlaps(b) {
				t.Errorf("texts overlap:\n%+v\n%+v", a, b)
			}
		}
	}
	for _, forbidden := range []string{"NaN", "Inf", "<script", "href", "http:", "style=", "<image", "on"} {
		for _, e := range elements {
			for name, value := range e.attr {
				if name == "xmlns" {
					continue
				}
				if strings.Contains(value, forbidden) && forbidden != "on" || forbidden == "on" && strings.HasPrefix(name, "on") {
					t.Errorf("%s has %s=%q", e.name, name, value)
				}
			}
		}
	}
}

var pointsTo = regexp.MustCompile(`url\(#([^)]*)\)`)

// checkIDs asks that ids are unique, begin with the figure's own and are all used,
// and that nothing points elsewhere.
func checkIDs(t testing.TB, elements []svgElement, prefix string) {
	t.Helper()
	known, used := map[string]bool{}, map[string]bool{prefix + "-title": true, prefix + "-desc": true}
	for _, e := range elements {
		if id, ok := e.attr["id"]; ok {
			if known[id] || !strings.HasPrefix(id, prefix+"-") {
				t.Errorf("id %q is there twice or does not begin with %q", id, prefix)
			}
			known[id] = true
		}
		for _, m := range pointsTo.FindAllStringSubmatch(e.attr["fill"], -1) {
			used[m[1]] = true
		}
	}
	for id := range used {
		if !known[id] {
			t.Errorf("%q is pointed to and not there", id)
		}
	}
	for id := range known {
		if !used[id] {
			t.Errorf("%q is there and not used", id)
		}
	}
}

var decimals = regexp.MustCompile(`-?[0-9]*\.?[0-9]+`)

// checkNumbersInside asks that every number has at most two decimals and that every
// subpath of the figure begins inside it.
func checkNumbersInside(t testing.TB, elements []svgElement, wide, height float64) {
	t.Helper()
	inPattern := 0
	for _, e := range elements {
		if e.name == "pattern" {
			inPattern = 3 // the pattern and its two paths
		}
		if inPattern > 0 {
			inPattern--
			continue
		}
		if e.name != "path" {
			continue
		}
		for _, n := range decimals.FindAllString(e.attr["d"], -1) {
			if _, rest, ok := strings.Cut(n, "."); ok && len(rest) > 2 {
				t.Errorf("%s has more than two decimals in %.60s", n, e.attr["d"])
			}
		}
		for _, sub := range strings.Split(e.attr["d"], "M")[1:] {
			at := decimals.FindAllString(sub, 2)
			x, _ := strconv.ParseFloat(at[0], 64)
			y, _ := strconv.ParseFloat(at[1], 64)
			if x < -1 || x > wide+1 || y < -1 || y > height+1 {
				t.Errorf("a path begins outside the figure: M%.30s (height %g)", sub, height)
			}
		}
	}
}

func TestEveryFigure(t *testing.T) {
	for _, tc := range cases() {
		t.Run(tc.name, func(t *testing.T) {
			first, err := tc.fig.Draw()
			if err != nil {
				t.Fatal(err)
			}
			checkFigure(t, first)
			again, err := tc.fig.Draw()
			if err != nil || string(again) != string(first) {
				t.Errorf("drawn twice, the bytes differ (%v)", err)
			}
		})
	}
}

// A usual trial has three samples and 18 pieces; its figures stay small.
func TestSize(t *testing.T) {
	const limit = 8000
	for _, f := range []drawer{stacked("t", 3, 6), marks("m", 3, 6, 97, 4), shares("s", 3), differences("d"),
		pairs("p", 3, 5), curves("c", 2, 180), grouped("g", 2)} {
		svg, err := f.Draw()
		if err != nil {
			t.Fatal(err)
		}
		if len(svg) > limit {
			t.Errorf("%T takes %d bytes (at most %d)", f, len(svg), limit)
		}
	}
}

func TestHostileLabels(t *testing.T) {
	const nasty = "<b a='1'>&amp;\"]]>\x00\x1b\u202e\ufffe" + "\xff" + "end"
	const shown = `<b a='1'>&amp;"]]>end`
	f := shares("s", 2)
	f.Title, f.Description, f.Asks, f.Samples[0].Name = nasty, nasty, nasty, nasty
	f.Samples[1].Letter = "<&"
	svg, err := f.Draw()
	if err != nil {
		t.Fatal(err)
	}
	checkFigure(t, svg)
	_, texts, words := readSVG(t, svg)
	if words["title"] != shown || words["desc"] != shown {
		t.Errorf("title %q, description %q, want %q", words["title"], words["desc"], shown)
	}
	found := 0
	for _, text := range texts {
		if text.words == shown {
			found++
		}
	}
	if found != 2 {
		t.Errorf("the label stands %d times as written, want 2 (caption and name)", found)
	}
}

func TestShortenedNamesStandInTheDescription(t *testing.T) {
	f := shares("s", 2)
	f.Samples[1].Name = longName
	svg, err := f.Draw()
	if err != nil {
		t.Fatal(err)
	}
	_, texts, words := readSVG(t, svg)
	if want := "What it shows, in a sentence. B " + longName + "."; words["desc"] != want {
		t.Errorf("description %q, want %q", words["desc"], want)
	}
	for _, text := range texts {
		if strings.HasSuffix(text.words, "…") {
			return
		}
	}
	t.Error("nothing was shortened")
}

func TestUnusableInput(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	change := func(change func(f *Marks)) Marks {
		f := marks("m", 2, 3, 5, 1)
		change(&f)
		return f
	}
	tests := []struct {
		name string
		in   drawer
		want error
	}{
		{"no samples", Marks{Head: head("m")}, ErrEmpty},
		{"no readings", change(func(f *Marks) { f.Samples = []MarkSample{{Label: labels(1)[0]}} }), ErrEmpty},
		{"NaN", change(func(f *Marks) { f.Samples[0].Marks[0].Value = nan }), ErrNumber},
		{"infinite mean", change(func(f *Marks) { f.Samples[0].Mean = &inf }), ErrNumber},
		{"interval turned around", change(func(f *Marks) { f.Samples[0].Interval = &Interval{2, 1} }), ErrNumber},
		{"infinite interval", change(func(f *Marks) { f.Samples[0].Interval = &Interval{-inf, 1} }), ErrNumber},
		{"line not finite", change(func(f *Marks) { f.Lines = []Line{{"x", nan}} }), ErrNumber},
		{"accuracy below zero", change(func(f *Marks) { f.Accuracy = -1 }), ErrNumber},
		{"too large", change(func(f *Marks) { f.Samples[0].Marks[0].Value = 1e300 }), ErrNumber},
		{"ink out of range", change(func(f *Marks) { f.Samples[0].Index = 12 }), ErrLabel},
		{"ink below zero", change(func(f *Marks) { f.Samples[0].Index = -1 }), ErrLabel},
		{"long letter", change(func(f *Marks) { f.Samples[0].Letter = "ABCD" }), ErrLabel},
		{"thirteen samples", change(func(f *Marks) { f.Samples = make([]MarkSample, 13); f.Samples[0].Mean = new(float64) }), ErrLabel},
		{"no id", change(func(f *Marks) { f.ID = "" }), ErrLabel},
		{"id with markup", change(func(f *Marks) { f.ID = `a"><script>` }), ErrLabel},
		{"id with a digit first", change(func(f *Marks) { f.ID = "1a" }), ErrLabel},
		{"no title", change(func(f *Marks) { f.Title = "\x00 " }), ErrLabel},
		{"no parts", StackedTimes{Head: head("t"), Samples: stacked("t", 1, 1).Samples}, ErrNumber},
		{"no pieces", StackedTimes{Head: head("t"), Parts: []string{"a"}, Samples: []TimeSample{{}}}, ErrEmpty},
		{"five parts", StackedTimes{Head: head("t"), Parts: make([]string, 5),
			Samples: []TimeSample{{Pieces: []TimePiece{{Seconds: make([]float64, 5)}}}}}, ErrLabel},
		{"too few times", StackedTimes{Head: head("t"), Parts: []string{"a", "b"},
			Samples: []TimeSample{{Pieces: []TimePiece{{Seconds: []float64{1}}}}}}, ErrNumber},
		{"time below zero", StackedTimes{Head: head("t"), Parts: []string{"a"},
			Samples: []TimeSample{{Pieces: []TimePiece{{Seconds: []float64{-1}}}}}}, ErrNumber},
		{"more than all", Shares{Head: head("s"), Samples: []ShareSample{{Count: 2, N: 1, High: 1}}}, ErrNumber},
		{"share above 1", Shares{Head: head("s"), Samples: []ShareSample{{Count: 1, N: 1, Rate: 1.5, High: 1}}}, ErrNumber},
		{"no shares", Shares{Head: head("s")}, ErrEmpty},
		{"no contrasts", Differences{Head: head("d")}, ErrEmpty},
		{"contrast NaN", Differences{Head: head("d"), Rows: []DifferenceRow{{Value: nan}}}, ErrNumber},
		{"no assessors", Pairs{Head: head("p"), To: ScaleEnd{Value: 9}, Samples: make([]PairSample, 1)}, ErrEmpty},
		{"no scale", Pairs{Head: head("p"), Samples: make([]PairSample, 1), Assessors: []Assessor{{Scores: make([]Score, 1)}}}, ErrNumber},
		{"score off the scale", Pairs{Head: head("p"), To: ScaleEnd{Value: 9}, Samples: make([]PairSample, 1),
			Assessors: []Assessor{{Scores: []Score{{Value: 10}}}}}, ErrNumber},
		{"too few scores", Pairs{Head: head("p"), To: ScaleEnd{Value: 9}, Samples: make([]PairSample, 2),
			Assessors: []Assessor{{Scores: make([]Score, 1)}}}, ErrNumber},
		{"no probes", Curves{Head: head("c")}, ErrEmpty},
		{"back in time", Curves{Head: head("c"), Probes: []Probe{{Readings: []Reading{{Seconds: 2}, {Seconds: 1}}}}}, ErrNumber},
		{"only gaps", Curves{Head: head("c"), Probes: []Probe{{Readings: []Reading{{Missing: true}}}}}, ErrEmpty},
		{"no groups", Grouped{Head: head("g"), Series: labels(1)}, ErrEmpty},
		{"ragged bars", Grouped{Head: head("g"), Series: labels(2), Groups: []string{"x"}, Bars: [][]Bar{{{}}}}, ErrNumber},
		{"bar not finite", Grouped{Head: head("g"), Series: labels(1), Groups: []string{"x"}, Bars: [][]Bar{{{Value: inf}}}}, ErrNumber},
	}
	for _, tc := range tests {
		t.Run(tc.name, func(t *testing.T) {
			svg, err := tc.in.Draw()
			if !errors.Is(err, tc.want) || svg != nil {
				t.Errorf("got %d bytes and %v, want %v", len(svg), err, tc.want)
			}
		})
	}
}

// Whatever can be drawn is drawn whole: no text over another, nothing outside.
func TestAnyNumbers(t *testing.T) {
	value := rapid.OneOf(rapid.Float64Range(-40, 240), rapid.Float64Range(-1e9, 1e9), rapid.Float64Range(-1e-3, 1e-3),
		rapid.Just(0.0), rapid.Map(rapid.IntRange(-5, 5), func(i int) float64 { return float64(i) }))
	name := rapid.StringOfN(rapid.RuneFrom([]rune("abc dé W…-煮<&\u00a0")), 0, 90, -1)
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(r, "samples")
		m := Marks{Head: head("m"), Quantity: name.Draw(r, "quantity"), Unit: "°C", Time: rapid.Bool().Draw(r, "time"),
			Accuracy: rapid.SampledFrom([]float64{0, 1.5, 1e6}).Draw(r, "accuracy")}
		st := StackedTimes{Head: head("t"), Parts: []string{name.Draw(r, "part"), "b"}}
		df := Differences{Head: head("d"), Time: m.Time}
		for _, l := range labels(n) {
			l.Name = name.Draw(r, "name")
			a, b, c := value.Draw(r, "a"), value.Draw(r, "b"), value.Draw(r, "c")
			low, high := min(a, b), max(a, b)
			note := name.Draw(r, "note")
			m.Samples = append(m.Samples, MarkSample{Label: l, Note: note, Mean: &c, Interval: &Interval{low, high},
				Marks: []Mark{{Value: a}, {Value: b, SetAside: true}}})
			st.Samples = append(st.Samples, TimeSample{Label: l, Note: note, Pieces: []TimePiece{
				{Name: note, Seconds: []float64{math.Abs(a), math.Abs(b)}, SetAside: b < 0, Missing: []bool{c < 0, a < 0}}}})
			df.Rows = append(df.Rows, DifferenceRow{Name: l.Name, Note: note, Value: c, Low: low, High: high, Filled: a < 0})
		}
		m.Lines = []Line{{name.Draw(r, "line"), value.Draw(r, "at")}, {"b", value.Draw(r, "at")}}
		for _, f := range []drawer{m, st, df} {
			svg, err := f.Draw()
			if err != nil {
				r.Fatalf("%T: %v", f, err)
			}
			checkFigure(failer{TB: t, r: r}, svg)
		}
	})
}

// failer reports a check's failure to rapid, so that the case is made small.
type failer struct {
	testing.TB
	r *rapid.T
}

func (f failer) Errorf(format string, args ...any) { f.r.Fatalf("%s", fmt.Sprintf(format, args...)) }
func (f failer) Fatalf(format string, args ...any) { f.r.Fatalf("%s", fmt.Sprintf(format, args...)) }
func (f failer) Error(args ...any)                 { f.r.Fatal(args...) }

func BenchmarkUsualTrial(b *testing.B) {
	f := stacked("t", 3, 6)
	for b.Loop() {
		if _, err := f.Draw(); err != nil {
			b.Fatal(err)
		}
	}
}
