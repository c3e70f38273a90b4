package page

import (
	"html/template"
	"strings"
)

// fakeFactor is a factor whose measures are rendered already.
func fakeFactor(measures ...template.HTML) Factor {
	oats := Link{"Does a night in the cold hold oat biscuits together?", "../../oat-biscuits/"}
	again := Link{"The cold night, once more", "../../again/"}
	return Factor{
		Frame: fakeFrame("rest", "../../", Link{"Factors", "../"}), Name: "rest", Count: "2 trials, 5 contrasts", Method: "../../methods/#counts", Measures: measures,
		Trials:      []TrialLine{{Trial: again, Date: Date{"3 March 2026", "2026-03-03"}, Words: "Yes, again."}, {Trial: oats, Words: "Yes: rest it."}},
		Cut:         "The newest 2 of 60 trials are shown.",
		Archive:     "../../archive/?factor=rest",
		Downloads:   []Download{{Name: "comparisons.csv", Href: "comparisons.csv", Format: "CSV", What: "every contrast"}},
		Ingredients: []Link{{"quick oats", "../../ingredients/quick-oats/"}},
	}
}

func fakeFactorMeasures() []FactorMeasure {
	oats := Link{"Does a night in the cold hold oat biscuits together?", "../../oat-biscuits/"}
	again := Link{"The cold night, once more", "../../again/"}
	const hour = "60 min"
	return []FactorMeasure{
		{ID: "measure-1", Measure: "lift", Asks: "comes off in one piece",
			Sums: []FactorSum{
				{Of: hour, Difference: "+45 points", Interval: "+20 to +70 points", P: "0.004", Trials: "2 trials", Readings: "36 pieces", AgreeP: "0.41", Recipes: "2 recipes"},
				{Of: "2 h", Against: hour, Difference: "+3 points", Interval: "−20 to +26 points", Trials: "2 trials", Readings: "32 pieces"},
				{Of: "14 h", Against: hour, Why: "the trials disagree", AgreeP: "0.012", Trials: "2 trials", Readings: "30 pieces"},
			},
			Figure: &Figure{ID: "figure-1", Title: "Lift over all trials", SVG: fakeSVG},
			Rows: []FactorContrast{
				{Number: "1", Date: Date{"14 February 2026", "2026-02-14"}, Trial: oats, Of: hour, Difference: "+50 points", Interval: "+3 to +77 points", Rests: "8 against 10 pieces"},
				{Number: "2", Date: Date{"3 March 2026", "2026-03-03"}, Trial: again, Of: hour, Difference: "+40 points", Interval: "+1 to +70 points", Rests: "9 against 9 pieces", Repeats: oats},
				{Number: "3", Trial: Link{"The cold night, once more · Household 1", "../../again/#at-home"}, AtHome: true, Of: hour, Difference: "+30 points", Interval: "−9 to +60 points", Rests: "6 against 6 pieces"},
				{Number: "3", Trial: again, Of: hour, Rests: "1 against 1 piece", Left: true},
				{Number: "4", Trial: oats, Of: "2 h", Also: []string{"oats", "glaze"}, Difference: "−10 points", Interval: "−40 to +20 points", Rests: "8 against 8 pieces"},
			}, Cut: "Of 30 contrasts in which this factor alone differs, the newest 4 are shown.", All: "comparisons.csv"},
		{ID: "measure-2", Measure: "width", Asks: "mm", Sums: []FactorSum{{Of: hour, Difference: "−1.2 mm", Interval: "−3.0 to +0.6 mm", Trials: "2 trials", Readings: "36 pieces", AgreeP: "0.03", Apart: true, Scatter: "71 %"}}},
		{ID: "measure-3", Measure: "chew", Unequal: true},
		{ID: "measure-4", Measure: "dome", Lone: true},
		{ID: "measure-5", Measure: "all the reasons", Sums: []FactorSum{
			{Of: hour, Why: "asks something else"}, {Of: hour, Why: "by tasters"}, {Of: hour, Why: "no scatter"},
			{Of: hour, Why: "loose batches"}, {Of: hour, Why: "all alike"}, {Of: hour, Why: "cannot be weighed up"},
		}},
	}
}

func fakeAtHome() *AtHome {
	return &AtHome{
		Count: "2 households, 31 biscuits", Method: "../methods/#adding-up",
		Households: []Household{
			{Name: "Household 1", Pieces: "16 biscuits", Log: Link{"replications-household-1.csv", "data/replications-household-1.csv"}},
			{Name: "Ada & Piet <Fenn>", Pieces: "15 biscuits"},
		},
		Measures: []HomeMeasure{
			{Measure: "lift", Words: []string{"“lift”: both households point the same way as the kitchen.", "They are not added up."},
				Figure: &Figure{ID: "at-home-1", Title: "Lift, repeated at home", SVG: HTML(strings.ReplaceAll(string(fakeSVG), "fw-", "at-home-")),
					Table: Table{Caption: "Lift, repeated at home", Head: []string{"Kitchen", "Difference"}, Numeric: []bool{false, true}, Rows: [][]string{{"Household 1", "+50 points"}}}}},
			{Measure: "width", Aside: true, Words: []string{"“width”: one household points the other way."}},
		},
	}
}

func fakeIngredient() Ingredient {
	a, b, c := fakeRefs()
	oats := Link{"Does a night in the cold hold oat biscuits together?", "../../oat-biscuits/"}
	return Ingredient{
		Frame: fakeFrame("quick oats", "../../", Link{"Ingredients", "../"}), Name: "quick oats", Row: "Cereals, oats, quick, dry", Written: []string{"instant oats"},
		Count: "2 trials, varied in 1",
		Varied: []TrialLine{{Trial: oats, Date: Date{"14 February 2026", "2026-02-14"}, Levels: []SampleLevel{{a, "160 g quick oats"}, {b, "160 g quick oats"}, {c, ""}},
			Also: []Link{{"oats", "../../factors/oats/"}}}},
		Used:    []TrialLine{{Trial: Link{"The cold night, once more", "../../again/"}, Lines: []string{"160 g quick oats", "20 g quick oats, toasted"}}},
		CutUsed: "The newest 1 of 51 trials is shown.", Archive: "../../archive/?ingredient=quick-oats",
	}
}

func fakeNames() Names {
	return Names{Frame: fakeFrame("Factors", "../"), Of: "factors", Entries: []NameEntry{{Link{"oats", "oats/"}, "1 trial"}, {Link{"rest", "rest/"}, "2 trials"}}}
}
