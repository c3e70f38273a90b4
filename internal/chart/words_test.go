package chart

import (
	"encoding/xml"
	"io"
	"reflect"
	"regexp"
	"strings"
	"testing"
)

// TestWords draws one figure of every sort with words of its own: none of the English
// ones may be left in it, and no number may have a point.
func TestWords(t *testing.T) {
	var other Words
	english := map[string]bool{}
	value := reflect.ValueOf(&other).Elem()
	for i := range value.NumField() {
		name := value.Type().Field(i).Name
		value.Field(i).SetString("W" + name)
		english[reflect.ValueOf(Words{}.orEnglish()).Field(i).String()] = true
	}
	other.Decimal = ","
	mean := 1.25
	in := Head{ID: "f", Title: "T", Description: "D", Words: other}
	sample := Label{Letter: "A", Name: "Uno"}
	figures := map[string]drawer{
		"differences": Differences{Head: in, Rows: []DifferenceRow{
			{Name: "A", Value: 0.25, Low: -0.5, High: 0.5, Filled: true}, {Name: "B", Value: 0.1, Low: 0, High: 0.2}}},
		"points": Differences{Head: in, Share: true, Rows: []DifferenceRow{{Name: "A", Value: 0.25, Low: -0.5, High: 0.5}}},
		"marks": Marks{Head: in, Accuracy: 0.1, Written: "±0,1", Samples: []MarkSample{
			{Label: sample, Marks: []Mark{{1, false}, {1.5, true}}, Mean: &mean, Interval: &Interval{1, 1.5}}, {Label: sample}}},
		"seconds": Marks{Head: in, Time: true, Samples: []MarkSample{{Label: sample, Marks: []Mark{{1, false}, {1.5, true}}}}},
		"late":    Marks{Head: in, Time: true, Samples: []MarkSample{{Label: sample, Marks: []Mark{{7200, false}, {7205, false}}}}},
		"shares":  Shares{Head: in, Samples: []ShareSample{{Label: sample, Note: "4 de 6", Count: 4, N: 6, Rate: 0.67, Low: 0.3, High: 0.9}, {Label: sample}}},
		"times": StackedTimes{Head: in, Parts: []string{"p"}, Samples: []TimeSample{
			{Label: sample, Pieces: []TimePiece{{Name: "1", Seconds: []float64{61.5}, SetAside: true}}}, {Label: sample}}},
		"pairs": Pairs{Head: in, From: ScaleEnd{Value: 0.5}, To: ScaleEnd{Value: 1.5}, Samples: []PairSample{{sample, &mean}, {sample, &mean}},
			Assessors: []Assessor{{Scores: []Score{{Value: 1}, {Value: 1.5}}}}},
		"curves": Curves{Head: in, Probes: []Probe{{sample, []Reading{{Seconds: 0, Value: 1.1}, {Seconds: 7200, Value: 1.3}}}}},
		"grouped": Grouped{Head: in, Groups: []string{"g"}, Series: []Label{sample},
			Bars: [][]Bar{{{Value: 0.5, Written: "0,5 g"}}}},
	}
	point := regexp.MustCompile(`[0-9]\.[0-9]`)
	said := ""
	for name, figure := range figures {
		svg, err := figure.Draw()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for _, text := range textsIn(t, svg) {
			said += text + "\n"
			if english[text] {
				t.Errorf("%s says %q of its own accord", name, text)
			}
			if point.MatchString(text) {
				t.Errorf("%s writes %q with a point", name, text)
			}
		}
	}
	for i := range value.NumField() {
		if word := value.Field(i).String(); !strings.Contains(said, word) {
			t.Errorf("no figure says %q", word)
		}
	}
}

// textsIn lists the character data of an SVG element.
func textsIn(t *testing.T, svg []byte) []string {
	t.Helper()
	var texts []string
	read := xml.NewDecoder(strings.NewReader(string(svg)))
	for {
		token, err := read.Token()
		if err == io.EOF {
			return texts
		}
		if err != nil {
			t.Fatal(err)
		}
		if data, is := token.(xml.CharData); is {
			texts = append(texts, string(data))
		}
	}
}
