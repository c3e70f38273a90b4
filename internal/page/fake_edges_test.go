package page

import (
	"fmt"
	"strings"
)

// fakeMany is a trial that strains the page: twelve samples, twelve pieces each,
// names that no line holds.
func fakeMany() WriteUp {
	v := WriteUp{
		Frame:    fakeFrame("Twelve waters", "../", Link{"Newest", "../"}),
		Sheets:   Sheets{WriteUp: "./", Recipe: "recipe/", Repeat: "repeat/", Data: "data/"},
		Title:    "Which of twelve waters makes the crispest crispbread, and does Dreikornvollkornknäckebrotteigherstellung care?",
		Question: "Does it matter?",
		Answer:   Answer{Words: "We could not tell.", Support: NotCarried},
		Tray:     &Tray{Tests: []TrayTest{{"S", "snap", "breaks in two with one sound"}, {"B", "blister", "has a blister wider than 5 mm"}, {"E", "edge", "edge stays whole"}}},
		Outcomes: &Outcomes{},
		Recipe:   &RecipeCard{Name: "Crispbread", Makes: "30 pieces", Systems: []string{"Metric", "US", "Imperial"}, TestedAt: "a third of a batch"},
	}
	v.Frame.JSONLD = nil
	wide := FactorRow{Factor: "water", Planned: true}
	row := OutcomeRow{Measure: "snap", Asks: "breaks in two with one sound", Primary: true}
	for i := range 12 {
		ref := SampleRef{string(rune('A' + i)), fmt.Sprintf("Mineralwasserflaschenwasser number %d, at room temperature", i+1)}
		v.Samples = append(v.Samples, Sample{SampleRef: ref, Control: i == 0, Made: "2 doughs, 6 pieces of each"})
		wide.Levels = append(wide.Levels, Level{fmt.Sprintf("spring %d, 2.5 l", i+1), i > 0})
		row.Cells = append(row.Cells, OutcomeCell{Value: fmt.Sprintf("%d of 12", 12-i), Interval: "50–99\u00a0%"})
		s := TraySample{SampleRef: ref, Summary: fmt.Sprintf("%d of 12 snapped", 12-i)}
		for n := range 12 {
			state := Pass
			if n < i {
				state = Fail
			}
			s.Pieces = append(s.Pieces, Piece{Label: fmt.Sprintf("%d.%d", n/6+1, n%6+1), Marks: []Mark{{"S", "snap", state, ""}, {"B", "blister", No, ""}, {"E", "edge", Unread, ""}}})
		}
		v.Tray.Samples = append(v.Tray.Samples, s)
		v.Balance = append(v.Balance, BalanceRow{SampleRef: ref, In: "1,204\u00a0g", Weighed: "1,199\u00a0g", Loss: "0.4\u00a0%"})
		if i > 0 {
			v.Contrasts = append(v.Contrasts, Contrast{Sample: ref, Against: v.Samples[0].SampleRef, Single: true,
				Planned:  []Difference{{Factor: "water", Sample: wide.Levels[i].Text, Against: wide.Levels[0].Text}},
				Findings: []Finding{{Measure: "snap", Difference: "−3 points", Interval: "−17 to +8 points", P: "1", PAdjusted: "1", Test: "Fisher’s exact test", Words: "No difference was seen."}}})
		}
		v.Outcomes.Samples = append(v.Outcomes.Samples, ref)
	}
	v.Differs = []FactorRow{wide}
	v.Outcomes.Rows = []OutcomeRow{row, row}
	long := strings.Repeat("rye", 12)
	amounts := []Amount{{"1,200\u00a0g", false}, {"8½\u00a0cups + 2½\u00a0tbsp", true}, {"2\u00a0lb 10.3\u00a0oz", false}}
	v.Recipe.Lines = []RecipeLine{
		{Food: long, Full: amounts, Tested: amounts, Percent: "100\u00a0%"},
		{Food: "water", Full: amounts, Tested: amounts, Percent: "110.25\u00a0%", Varies: []SampleLevel{{v.Samples[1].SampleRef, long}}},
	}
	return v
}

// fakeFew is the least that a trial can be: one sample, no words about it.
func fakeFew() WriteUp {
	ref := SampleRef{"A", "As ever"}
	v := WriteUp{
		Frame:   fakeFrame("Rice", "../"),
		Title:   "Rice",
		Samples: []Sample{{SampleRef: ref}},
		Recipe:  &RecipeCard{Systems: []string{"Metric"}, Lines: []RecipeLine{{Food: "rice", Full: []Amount{{"100\u00a0g", false}}}}},
	}
	v.Frame.JSONLD, v.Frame.Invented = nil, false
	return v
}
