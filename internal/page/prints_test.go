package page

import (
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
)

func fakeBenchSheet() BenchSheet {
	a, b, _ := fakeRefs()
	return BenchSheet{
		Frame:    fakeFrame("Repeat it", "../../", Link{"Does a night in the cold hold oat biscuits together?", "../"}),
		Sheets:   Sheets{WriteUp: "../", Recipe: "../recipe/", Repeat: "./", Data: "../data/"},
		Title:    "Does a night in the cold hold oat biscuits together?",
		Question: "If the dough rests overnight in the fridge, do more biscuits lift off the sheet in one piece?",
		Size:     "half batch",
		Cook:     []string{"B → A"},
		Samples:  []BenchSample{{SampleRef: a, Control: true, Dough: true, Made: "2 pieces, 40 g each"}, {SampleRef: b, Dough: true, Made: "2 pieces, 40 g each"}},
		Lines: []BenchLine{
			{Food: "quick oats", Amounts: []BenchAmount{{Text: "120 g"}, {Text: "120 g"}}},
			{Food: "table salt", Group: "for the top", Amounts: []BenchAmount{{Text: "about 3 g", Or: "½ tsp"}, {Changed: true}}},
		},
		Steps: []BenchStep{{Text: "Let the dough rest for [rest].", Settings: []BenchSetting{{"rest", []BenchLevel{{[]SampleRef{a}, "0 min"}, {[]SampleRef{b}, "14 h at 4 °C"}}}}}, {Text: "Bake."}},
		Held:  []string{"oven 180 °C"},
		Measures: []BenchColumn{
			{Measure: "spread", Unit: "mm"}, {Measure: "lift", Asks: "lift: lifts off the sheet in one piece", Choices: []string{"pass", "fail"}},
		},
		Grids:     []BenchGrid{{a, "2 pieces, 40 g each", []string{"1", "2"}}, {b, "2 pieces, 40 g each", []string{"1", "2"}}},
		Cautions:  []Caution{{About: "Hot ovens", Words: "Use dry cloths.", Sources: []Link{{Text: "common practice, no source"}}}},
		Downloads: []Download{{Name: "pieces.csv", Href: "pieces.csv", Format: "CSV", What: "an empty log"}},
	}
}

func fakeBallots() Ballots {
	return Ballots{
		Frame:    fakeFrame("Ballots", ""),
		Title:    "Oat biscuits",
		Contains: []BallotAllergens{{"Contains", "milk, wheat"}},
		Ballots: []Ballot{{Assessor: "A1", Parts: []BallotPart{
			{Kind: TestTriangle, Label: "Part 1 of 6", Codes: []string{"413", "862", "907"}, Choices: []string{"413", "862", "907"}},
			{Kind: TestDuoTrio, Label: "Part 2 of 6", Codes: []string{"R", "274", "691"}, Choices: []string{"274", "691"}},
			{Kind: TestMore, Label: "Part 3 of 6", Codes: []string{"537", "182"}, Choices: []string{"537", "182"}, Asks: "Which is saltier?"},
			{Kind: TestTetrad, Label: "Part 4 of 6", Codes: []string{"418", "926", "731", "584"}, First: "418", Choices: []string{"926", "731", "584"}},
			{Kind: TestPreference, Label: "Part 5 of 6", Codes: []string{"716", "249"}, Choices: []string{"716", "249"}},
			{Label: "Part 6 of 6", Codes: []string{"384", "627"}, Scales: []BallotScale{
				{Measure: "crunch", Boxes: []string{"1", "2", "3"}, Low: "1 soft", High: "3 crisp"},
				{Measure: "liking", Boxes: []string{"1", "2"}, Rank: true},
				{Measure: "sweet", Low: "0", High: "100"},
			}},
		}}, {Assessor: "A2"}},
	}
}

func fakePouringList() PouringList {
	a, b, _ := fakeRefs()
	return PouringList{
		Frame:     fakeFrame("Pouring list", ""),
		Title:     "Oat biscuits",
		Seed:      "7",
		Samples:   []PouringSample{{a, "2 cups", []string{"384", "413"}}, {b, "1 cup", []string{"627"}}},
		Assessors: []PouringAssessor{{"A1", []PouringPart{{"odd one", []PouringCup{{"413", a}}}, {"scores", []PouringCup{{"384", a}, {"627", b}}}}}},
		Evenness:  []string{"scores: every sample stands in every place once"},
		Cautions:  []Caution{{About: "Those who taste", Words: "Ask before."}},
	}
}

// prints renders everything that is printed from a view filled by fill.
func prints(t *testing.T, r *Renderer, sheet BenchSheet, ballots Ballots, list PouringList) []rendered {
	t.Helper()
	var all []rendered
	for _, p := range []struct {
		name   string
		render func() ([]byte, error)
	}{
		{"repeat.html", func() ([]byte, error) { return r.Repeat(sheet) }},
		{"bench-sheet.html", func() ([]byte, error) { return r.BenchSheet(sheet) }},
		{"ballots.html", func() ([]byte, error) { return r.Ballots(ballots) }},
		{"pouring-list.html", func() ([]byte, error) { return r.PouringList(list) }},
	} {
		html, err := p.render()
		if err != nil {
			t.Fatalf("%s: %v", p.name, err)
		}
		all = append(all, rendered{p.name, html})
	}
	return all
}

var ownStyle = regexp.MustCompile(`(?s)<style>.*?</style>`)

// TestPrints compares what is printed with what was looked at last. The style sheet
// inside has golden files of its own.
func TestPrints(t *testing.T) {
	r := mustNew(t)
	for _, p := range prints(t, r, fakeBenchSheet(), fakeBallots(), fakePouringList()) {
		alone := p.name != "repeat.html"
		if styles := strings.Count(string(p.html), "<style"); alone != (styles == 1) || styles > 1 {
			t.Errorf("%s: %d style elements", p.name, styles)
		}
		if alone && regexp.MustCompile(`(?:href|src)="[^#]`).Match(p.html) {
			t.Errorf("%s loads or links to something beside it", p.name)
		}
		html := ownStyle.ReplaceAllString(string(p.html), "")
		if found := append(unsafe(html), structure(html)...); len(found) > 0 {
			t.Errorf("%s: %q", p.name, found)
		}
		file := filepath.Join("testdata", "prints", p.name)
		if *update {
			if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(file, []byte(html), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(want), html); diff != "" {
			t.Errorf("%s (-want +got):\n%s", p.name, diff)
		}
	}
}

// Hostile text stays text on paper too, and twelve or none of everything still renders.
func TestPrintsAreSafe(t *testing.T) {
	r := mustNew(t)
	for _, text := range []string{"<script>alert(1)</script>", "</style><img src=x onerror=alert(1)>", `" onclick="x`, "javascript:alert(1)", ""} {
		for _, n := range []int{0, 1, 3} {
			for _, p := range prints(t, r,
				stuffed(reflect.TypeFor[BenchSheet](), text, n).Interface().(BenchSheet),
				stuffed(reflect.TypeFor[Ballots](), text, n).Interface().(Ballots),
				stuffed(reflect.TypeFor[PouringList](), text, n).Interface().(PouringList)) {
				if strings.Count(string(p.html), "</style>") > 1 {
					t.Errorf("%q ends the style sheet of %s", text, p.name)
				}
				html := ownStyle.ReplaceAllString(string(p.html), "")
				if found := unsafe(html); found != nil {
					t.Errorf("%q in %s: %q", text, p.name, found)
				}
			}
		}
	}
}

// A theme whose style sheet would end the style element is refused.
func TestStyleThatEndsItself(t *testing.T) {
	r, err := New(fstest.MapFS{"prints/9-mine.css": {Data: []byte("p::after { content: '</style>' }")}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := r.Ballots(fakeBallots()); err == nil || !strings.Contains(err.Error(), "</") {
		t.Errorf("%v", err)
	}
}
