package linkeddata

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/testkit"
)

func maker() Maker {
	return Maker{People: []string{"Noor Haddad", "Teo Lindqvist"}, Kitchen: "Two Griddles"}
}

func recipe() Recipe {
	return Recipe{
		ID:          "#recipe",
		Address:     "https://two-griddles.example/water/recipe/",
		Name:        "Scallion pancakes",
		Description: "Scallion pancakes at every size.",
		By:          maker(),
		Published:   "2026-02-20",
		Images:      []string{"https://two-griddles.example/water/photos/cool.jpg"},
		Yield:       "12 pancakes",
		Ingredients: []string{"600 g all-purpose flour", "2 tsp table salt"},
		Steps:       []Step{{Text: "Stir the salt into the flour."}, {Text: "Knead for 5 min.", Address: "#step-2"}},
		PrepTime:    "PT20M",
		CookTime:    "PT25M",
		TotalTime:   "PT1H15M",
		Keywords:    []string{"flatbread", "griddle"},
		Language:    "en",
		Nutrition:   &Nutrition{ServingSize: "1 pancake", Calories: "190 kcal", Saturated: "0.5 g", Notes: "Without the scallions."},
		BasedOn:     "https://two-griddles.example/water/",
	}
}

func dataset() Dataset {
	return Dataset{
		ID:          "#data",
		Address:     "https://two-griddles.example/water/data/",
		Name:        "Readings: boiling or cool water?",
		Description: "One row a piece: 13 pancakes in 3 samples, timed, measured and rolled up.",
		By:          Maker{Kitchen: "Two Griddles"},
		Published:   "2026-02-20",
		Covers:      "2026-02-14",
		Language:    "en",
		Technique:   []string{"rolls up without a crack: pass or fail"},
		Measured:    []Variable{{Name: "side 1", Unit: "s", Description: "time"}, {Name: "roll"}},
		Distribution: []Download{
			{Name: "pieces.csv", Address: "pieces.csv", Format: "text/csv", Words: "one row a piece", Bytes: "2.1 kB"},
			{Name: "results.json", Address: "results.json", Format: "application/json"},
		},
	}
}

func video() Video {
	return Video{
		ID: "#video", Name: "Boiling or cool water?", Description: "Two doughs, one griddle.",
		Address: "https://video.example/abc", Language: "en",
		Clips: []Clip{{Name: "The question", Start: 0, End: 70}, {Name: "The doughs", Start: 70}},
	}
}

func article() Article {
	return Article{
		ID: "#write-up", Address: "https://two-griddles.example/water/", Headline: "Boiling or cool water?",
		Description: "It rolled without a crack every time.", By: maker(), Publisher: "Two Griddles",
		Published: "2026-02-20", Language: "en", Keywords: []string{"griddle"},
		Video: "#video", About: []string{"water temperature"}, Data: "https://two-griddles.example/water/data/#data",
	}
}

func crumbs() Breadcrumbs {
	return Breadcrumbs{
		{Name: "Two Griddles", Address: "https://two-griddles.example/"},
		{Name: "Boiling or cool water?", Address: "https://two-griddles.example/water/"},
	}
}

func TestPages(t *testing.T) {
	tests := []struct {
		name   string
		things []Thing
	}{
		{"recipe", []Thing{recipe(), crumbs()}},
		{"dataset", []Thing{dataset()}},
		{"writeup", []Thing{article(), video(), crumbs()}},
		{"least", []Thing{
			Recipe{Name: "Tea"},
			Dataset{Name: "Tea", Description: "Two cups"},
			Video{Name: "Tea", Address: "https://video.example/tea#t=5", Clips: []Clip{{Name: "Steep"}}},
			Article{Headline: "Tea"},
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := Page(tt.things...)
			if err != nil {
				t.Fatal(err)
			}
			var shown bytes.Buffer
			if err := json.Indent(&shown, append(got, '\n'), "", "  "); err != nil {
				t.Fatal(err)
			}
			testkit.Golden(t, "testdata/"+tt.name+".json", shown.Bytes())
		})
	}
	if got, err := Page(); err != nil || got != nil {
		t.Errorf("no things give %q, %v", got, err)
	}
}

func TestRefuses(t *testing.T) {
	tests := []struct {
		name string
		in   Thing
		want string
	}{
		{"nameless recipe", Recipe{Name: " "}, "without name"},
		{"empty step", Recipe{Name: "Tea", Steps: []Step{{}}}, "without text"},
		{"no duration", Recipe{Name: "Tea", PrepTime: "20 min"}, "no ISO 8601 duration"},
		{"empty duration", Recipe{Name: "Tea", CookTime: "PT"}, "no ISO 8601 duration"},
		{"too short", Recipe{Name: "Tea", PrepTime: "PT20M", TotalTime: "PT10M"}, "PT10M in all"},
		{"no calories", Recipe{Name: "Tea", Nutrition: &Nutrition{Fat: "1 g"}}, "without calories"},
		{"dataset without words", Dataset{Name: "Tea"}, "without description"},
		{"nowhere", Dataset{Name: "Tea", Description: "Two cups", Distribution: []Download{{Format: "text/csv"}}}, "without contentUrl"},
		{"formless", Dataset{Name: "Tea", Description: "Two cups", Distribution: []Download{{Address: "a.csv"}}}, "without encodingFormat"},
		{"nameless variable", Dataset{Name: "Tea", Description: "Two cups", Measured: []Variable{{Unit: "s"}}}, "without name"},
		{"no way", Breadcrumbs{}, "without pages"},
		{"nameless page", Breadcrumbs{{Address: "/"}}, "without name"},
		{"video nowhere", Video{Name: "Tea"}, "without url"},
		{"backward clip", Video{Name: "Tea", Address: "https://video.example/", Clips: []Clip{{Name: "a", Start: 9, End: 9}}}, "from 9 s to 9 s"},
		{"article", Article{}, "without headline"},
	}
	for _, tt := range tests {
		if _, err := Page(tt.in); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: error %v, want %q", tt.name, err, tt.want)
		}
	}
}

// TestDuration: ISO 8601-1:2019, 5.5.2.2, durations with designators.
func TestDuration(t *testing.T) {
	tests := []struct {
		in   int64
		want string
	}{
		{-1, ""}, {0, ""}, {45, "PT45S"}, {60, "PT1M"}, {3600, "PT1H"}, {5400, "PT1H30M"}, {3661, "PT1H1M1S"}, {90_000, "PT25H"},
	}
	for _, tt := range tests {
		got := Duration(tt.in)
		if got != tt.want {
			t.Errorf("Duration(%d) = %q, want %q", tt.in, got, tt.want)
		}
		if seconds, given, err := duration(got); err != nil || given != (got != "") || int64(seconds) != max(tt.in, 0) {
			t.Errorf("%q is read as %d s, %v, %v", got, seconds, given, err)
		}
	}
}

// TestHostileWords puts any text into the places that hold words: what comes out is
// JSON that gives the text back, and holds nothing that could end a script element
// or a line of one.
func TestHostileWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{
			"</script><script>alert(1)</script>", "<!--<script>", "]]>", "a\u2028b\u2029c", "\"", "\\u003c", "\x00", "&lt;",
		}))
		name := "x" + words.Draw(t, "name")
		r, d := recipe(), dataset()
		r.Name, r.Ingredients = name, []string{name}
		r.Steps = []Step{{Text: name}}
		d.Name, d.Description = name, name
		data, err := Page(r, d, Breadcrumbs{{Name: name}}, Video{Name: name, Address: "https://video.example/" + words.Draw(t, "address")})
		if err != nil {
			t.Fatal(err)
		}
		if i := bytes.IndexAny(data, "<>&\u2028\u2029"); i >= 0 {
			t.Fatalf("%q", data[i:])
		}
		var got struct {
			Graph []struct {
				Name string `json:"name"`
			} `json:"@graph"`
		}
		if err := json.Unmarshal(data, &got); err != nil {
			t.Fatal(err)
		}
		if want := strings.ToValidUTF8(name, "\ufffd"); got.Graph[0].Name != want || got.Graph[1].Name != want {
			t.Fatalf("%q became %q", want, got.Graph[0].Name)
		}
	})
}

// TestLongDescription: search engines read 5000 characters of a data set.
func TestLongDescription(t *testing.T) {
	d := dataset()
	d.Description = strings.Repeat("é", 6000)
	n, err := d.node()
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Repeat("é", 4999)+"…", n["description"]); diff != "" {
		t.Error(diff)
	}
}
