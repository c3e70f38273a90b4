package page

import (
	"html/template"
	"strconv"
)

// An invented trial of oat biscuits. Wilson intervals are those of the reference
// table for 3, 7 and 8 of 8; everything else is made up to look like a kitchen's
// numbers.

func fakeRefs() (a, b, c SampleRef) {
	return SampleRef{"A", "Baked at once"}, SampleRef{"B", "Rested overnight"}, SampleRef{"C", "Rested, coarse oats"}
}

func fakeFrame(title, root string, crumbs ...Link) Frame {
	return Frame{
		Site:        "Two Timers",
		About:       "Side-by-side trials from a small invented kitchen.",
		Language:    "en",
		Root:        root,
		Title:       title,
		Description: "Three doughs, eight biscuits each, one question: does a night in the cold hold them together?",
		Canonical:   "https://two-timers.example/oat-biscuits/",
		Image: SharedImage{
			Address: "https://two-timers.example/oat-biscuits/share.png?0123456789", Type: "image/png",
			Alt: `Rest or "no rest"? How many held.`, Width: 1200, Height: 630,
		},
		Kind:     "article",
		Crumbs:   crumbs,
		JSONLD:   []byte(`{"@context":"https://schema.org","@type":"Recipe","name":"Oat biscuits </script>"}`),
		Styles:   "styles.css",
		Icon:     "icon.svg",
		Note:     "Data: CC BY 4.0.",
		Invented: true,
	}
}

func fakeWriteUp() WriteUp {
	a, b, c := fakeRefs()
	return WriteUp{
		Frame:     fakeFrame("Does a night in the cold hold oat biscuits together?", "../", Link{"Newest", "../"}, Link{"Archive", "../archive/"}),
		Sheets:    Sheets{WriteUp: "./", Recipe: "recipe/", Data: "data/"},
		Title:     "Does a night in the cold hold oat biscuits together?",
		Question:  "If the dough rests overnight in the fridge, do more biscuits lift off the sheet in one piece?",
		By:        []string{"Ines", "Rafi"},
		Cooked:    Date{"14 February 2026", "2026-02-14"},
		Published: Date{"20 February 2026", "2026-02-20"},
		Size:      "3 samples, 26 biscuits",
		Answer: Answer{
			Words:   "Yes: rest it. Seven of eight rested biscuits came off whole, and only three of those baked at once.",
			Prefer:  &b,
			Because: []string{"lifts off in one piece"},
			Support: PartCarry,
			Finding: "The rested dough did better in this trial, by 50 points (95 % interval 3 to 77). With one dough of each, that speaks of these doughs before it speaks of the recipe.",
		},
		Samples: []Sample{
			{SampleRef: a, Control: true, Made: "10 biscuits, 40 g each", Photo: &Photo{
				Src: "photos/flat-1-800.jpg", Srcset: "photos/flat-1-400.jpg 400w, photos/flat-1-800.jpg 800w",
				Alt: "Ten flat biscuits, seven of them torn", Width: 800, Height: 600}},
			{SampleRef: b, Made: "8 biscuits, 40 g each"},
			{SampleRef: c, Origin: "starts from B", Made: "8 biscuits, 40 g each"},
		},
		Differs: []FactorRow{
			{"rest", "../factors/rest/", true, []Level{{"none", false}, {"14 h at 4 °C", true}, {"14 h at 4 °C", true}}},
			{"oats", "../factors/oats/", true, []Level{{"quick oats", false}, {"quick oats", false}, {"jumbo oats", true}}},
			{"dough temperature", "", false, []Level{{"21 °C", false}, {"6 °C", true}, {"7 °C", true}}},
			{"glaze", "", true, []Level{{"", false}, {"", false}, {"5 g milk", true}}},
		},
		Same:      []string{"oven 175 °C, middle shelf", "13 min", "the same steel sheet, turned once", "cooled 10 min before lifting"},
		Contrasts: fakeContrasts(a, b, c),
		Tray:      fakeTray(a, b, c),
		Outcomes:  fakeOutcomes(a, b, c),
		Prose: `<p>We made three doughs on one afternoon and baked the first at once. The other two went into the fridge, pressed flat in a bag, and were baked the next morning from cold.</p>
<h2 id="the-first-sheet">The first sheet</h2>
<p>The oven was not quite there yet: the first two biscuits of A went in at 168&nbsp;°C. We kept them in view and out of the sums.</p>
<blockquote><p>Cold dough is stiff. Weigh it before it goes into the fridge.</p></blockquote>
<ul><li>Turn the sheet after 7&nbsp;min.</li><li>Lift with a thin slice, never by hand.</li></ul>`,
		Figures: []Figure{{
			ID: "figure-width", Title: "Width after baking", Caption: "Each mark is one biscuit; the long mark is the mean.",
			SVG: fakeSVG,
			Table: Table{Caption: "Width after baking, mm", Head: []string{"Sample", "n", "Mean", "SD", "Median"}, Numeric: []bool{false, true, true, true, true},
				Rows: [][]string{{"A", "6", "92.1", "3.2", "92"}, {"B", "8", "84.4", "2.1", "84"}, {"C", "8", "81.0", "2.6", "81"}}},
		}},
		Trust: []Sentence{
			{Text: "One dough of each kind was made, so what happened to a dough by chance happened to all of its biscuits."},
			{Text: "With eight biscuits a side, this trial had a fair chance to show a difference of 70 points or more, and little chance to show a smaller one.", More: Link{"How this is worked out", "../methods/#power"}},
			{Text: "Nobody was blind: whoever lifted the biscuits knew which dough they came from."},
		},
		AtHome:    fakeAtHome(),
		Recipe:    fakeRecipeCard(a, b, c),
		Balance:   []BalanceRow{{a, "326 g", "322 g", "1.2 %", ""}, {b, "326 g", "320 g", "1.8 %", "weighed after the rest"}, {c, "331 g", "", "", "not weighed"}},
		Nutrition: fakeNutrition(), Allergens: fakeAllergens(),
		Cautions: fakeCautions(),
		Video: &Video{Title: "Oat biscuits, three ways", Address: "https://video.example/oats",
			Chapters: []Chapter{{"0:00", "The question", "https://video.example/oats?t=0"}, {"1:10", "Three doughs", "https://video.example/oats?t=70"}, {"6:45", "Lifting them off", "https://video.example/oats?t=405"}}},
	}
}

func fakeContrasts(a, b, c SampleRef) []Contrast {
	return []Contrast{
		{Sample: b, Against: a, Single: true, Planned: []Difference{{Factor: "rest", Sample: "14 h at 4 °C", Against: "none"}},
			Findings: []Finding{
				{"lifts off in one piece", true, "+50 points", "+3 to +77 points", "0.12", "0.24", "Fisher’s exact test", "+38 points, p 0.28", "Of the rested biscuits 7 of 8 lifted off whole, of those baked at once 3 of 8; a gap this wide turns up by luck alone about one time in eight.", false},
				{"width", false, "−7.7 mm", "−11.0 to −4.4 mm", "0.0007", "0.0021", "exact permutation test", "−7.1 mm, p 0.0009", "The rested biscuits came out about 8 mm narrower, and luck alone hardly ever does that.", true},
			}},
		{Sample: c, Against: a, Confounded: true, Planned: []Difference{{Factor: "rest", Sample: "14 h at 4 °C", Against: "none"}, {Factor: "oats", Sample: "jumbo oats", Against: "quick oats"}, {Factor: "glaze", Sample: "5 g milk"}}},
		{Sample: c, Against: b, Confounded: true, Planned: []Difference{{Factor: "oats", Sample: "jumbo oats", Against: "quick oats"}}, Unplanned: []Difference{{Factor: "oven", Sentence: "3 °C hotter for C"}},
			Findings: []Finding{{"width", false, "−3.4 mm", "−5.9 to −0.9 mm", "0.014", "0.028", "exact permutation test", "", "C came out about 3 mm narrower than B, but the oven differed too.", true}}},
	}
}

func fakeTray(a, b, c SampleRef) *Tray {
	row := func(ref SampleRef, sum, lifts, domes string) TraySample {
		states := map[byte]State{'1': Pass, '0': Fail, 'y': Yes, 'n': No, '-': Unread}
		s := TraySample{SampleRef: ref, Summary: sum}
		for i := range len(lifts) {
			s.Pieces = append(s.Pieces, Piece{Label: strconv.Itoa(i + 1), Marks: []Mark{
				{Letter: "L", Measure: "lift", State: states[lifts[i]]},
				{Letter: "D", Measure: "dome", State: states[domes[i]]},
			}})
		}
		return s
	}
	t := &Tray{
		Tests:   []TrayTest{{"L", "lift", "lifts off the sheet in one piece"}, {"D", "dome", "still domed when cold"}},
		Samples: []TraySample{row(a, "3 of 8 lifted off whole", "0011010000", "nnnnynnnnn"), row(b, "7 of 8 lifted off whole", "11101111", "yynyyyny"), row(c, "8 of 8 lifted off whole", "11111111", "yyyyyy-y")},
	}
	t.Samples[0].Pieces[0].SetAside = "oven not up to heat"
	t.Samples[0].Pieces[1].SetAside = "oven not up to heat"
	t.Samples[1].Pieces[6].Marks[1].SetAside = "pressed with a thumb"
	return t
}

func fakeOutcomes(a, b, c SampleRef) *Outcomes {
	return &Outcomes{
		Samples: []SampleRef{a, b, c},
		Rows: []OutcomeRow{
			{"lift", "lifts off the sheet in one piece", true, []OutcomeCell{{Value: "3 of 8", Interval: "14–69 %", SetAside: 2}, {Value: "7 of 8", Interval: "53–98 %"}, {Value: "8 of 8", Interval: "68–100 %"}}},
			{"dome", "still domed when cold", false, []OutcomeCell{{Value: "1 of 8", Interval: "2–47 %", SetAside: 2}, {Value: "6 of 7", Interval: "49–97 %", SetAside: 1}, {Value: "7 of 7", Interval: "65–100 %"}}},
			{"width", "across the widest part", false, []OutcomeCell{{Value: "92.1 ± 3.2 mm", Median: "92 mm", Range: "88–97 mm", N: "6", SetAside: 2}, {Value: "84.4 ± 2.1 mm", Median: "84 mm", Range: "81–88 mm", N: "8"}, {Value: "81.0 ± 2.6 mm", Median: "81 mm", Range: "77–85 mm", N: "8"}}},
			{"chew", "1 tender to 9 tough, two tasters", false, []OutcomeCell{{Value: "3.5", N: "2"}, {Value: "4", N: "2"}, {}}},
		},
	}
}

func fakeRecipeCard(a, b, c SampleRef) *RecipeCard {
	am := func(texts ...string) []Amount {
		var all []Amount
		for _, t := range texts {
			about := t[0] == '~'
			if about {
				t = t[1:]
			}
			all = append(all, Amount{t, about})
		}
		return all
	}
	return &RecipeCard{
		Name: "Oat biscuits", Makes: "16 biscuits", TestedAt: "half batch", Systems: []string{"Metric", "US"},
		Times: []Time{{"Prepare", "20 min", "PT20M"}, {"Wait", "14 h", "PT14H"}, {"Bake", "13 min", "PT13M"}},
		Lines: []RecipeLine{
			{Food: "plain flour", Full: am("150 g", "~1¼ cups"), Tested: am("75 g", "~½ cup + 2 tbsp"), Percent: "100 %"},
			{Food: "quick oats", Full: am("160 g", "~1¾ cups"), Tested: am("80 g", "~¾ cup + 2 tbsp"), Percent: "106.7 %", Varies: []SampleLevel{{c, "jumbo oats"}}},
			{Food: "butter", Preparation: "soft", Full: am("140 g", "~10 tbsp"), Tested: am("70 g", "~5 tbsp"), Percent: "93.3 %"},
			{Food: "brown sugar", Full: am("150 g", "~¾ cup"), Tested: am("75 g", "~6 tbsp"), Percent: "100 %"},
			{Food: "egg", Preparation: "beaten", Full: am("50 g", "1 egg"), Tested: am("25 g", "~½ egg"), Percent: "33.3 %"},
			{Food: "baking soda", Full: am("~3 g", "½ tsp"), Tested: am("~1.5 g", "¼ tsp"), Percent: "2 %"},
			{Food: "table salt", Full: am("~3 g", "½ tsp"), Tested: am("~1.5 g", "¼ tsp"), Percent: "2 %"},
			{Food: "milk", Group: "For the glaze", Full: am("10 g", "~2 tsp"), Tested: am("5 g", "~1 tsp"), Varies: []SampleLevel{{a, "without"}, {b, "without"}}},
		},
		FullMass: am("656 g", "1 lb 7.1 oz"), TestedMass: am("328 g", "11.6 oz"),
		Notes: []string{"A scale that reads in 1 g knows 1.5 g of salt only to a third of itself: use the spoon."},
		Steps: []Step{
			{Text: "Beat the butter and sugar until pale, then beat in the egg."},
			{Text: "Stir flour, baking soda, salt and oats together and fold them in."},
			{Text: "Press the dough flat, wrap it, and let it rest.", Varies: []SampleLevel{{a, "none"}, {b, "14 h at 4 °C"}, {c, "14 h at 4 °C"}}},
			{Text: "Roll balls of 40 g, set them 8 cm apart and bake at 175 °C for 13 min, turning the sheet once."},
		},
	}
}

func fakeNutrition() *Nutrition {
	return &Nutrition{
		Tables: []Table{{Caption: "Nutrients", Head: []string{"", "Full batch", "One biscuit", "100 g"}, Numeric: []bool{false, true, true, true},
			Rows: [][]string{{"Energy", "2,960 kcal", "185 kcal", "451 kcal"}, {"Saturated fat", "76 g", "4.7 g", "11.6 g"}, {"Salt", "3.9 g", "0.25 g", "0.6 g"}}}},
		Missing: []string{"baking soda"},
		Notes:   []string{"Oats may carry traces of wheat; the label of the package decides."},
	}
}

func fakeAllergens() *Allergens {
	_, b, c := fakeRefs()
	return &Allergens{
		Groups: []AllergenGroup{
			{"Contains", []AllergenLine{
				{Name: "milk", From: []AllergenFrom{{Food: "butter"}, {Food: "milk"}}},
				{Name: "wheat", List: "US list", From: []AllergenFrom{{Food: "plain flour", Samples: []SampleRef{b, c}}, {Food: "quick oats", Strength: "check the label"}}},
				{Name: "sesame", Note: "The note says so."},
			}},
			{"Check the label", []AllergenLine{{Name: "soybeans", From: []AllergenFrom{{Food: "chocolate chips"}}}}},
		},
		Taken:  []string{"Not listed: eggs, which the egg wash would point to; the label of what was used says so. Yours may say otherwise."},
		Notes:  []string{"coconut: a fruit in law."},
		Notice: "Names only: read the label of the product in hand.",
	}
}

func fakeCautions() []Caution {
	return []Caution{
		{"raw flour and raw egg", "Do not taste the dough: flour and eggs are safe to eat only when cooked through.", []Link{{"FDA, Handling Flour Safely", "https://food-safety.example/flour"}}},
		{"hot sheet", "Steel stays hot for a long time. Lift biscuits with a slice and keep small hands away.", nil},
	}
}

func fakeRecipe() Recipe {
	a, b, c := fakeRefs()
	card := fakeRecipeCard(a, b, c)
	size := func(label, makes string, tested, usual bool, pick func(RecipeLine) []Amount, mass []Amount) Size {
		s := Size{Label: label, Makes: makes, Tested: tested, Default: usual, Mass: mass}
		for _, l := range card.Lines {
			s.Lines = append(s.Lines, SizeLine{Food: l.Food, Preparation: l.Preparation, Group: l.Group, Amounts: pick(l)})
		}
		return s
	}
	full := func(l RecipeLine) []Amount { return l.Full }
	half := func(l RecipeLine) []Amount { return l.Tested }
	doubled := map[string]string{
		"plain flour": "300 g", "quick oats": "320 g", "butter": "280 g", "brown sugar": "300 g",
		"egg": "100 g", "baking soda": "6 g", "table salt": "6 g", "milk": "20 g",
	}
	doubledUS := map[string]string{
		"plain flour": "2½ cups", "quick oats": "3½ cups", "butter": "1¼ cups", "brown sugar": "1½ cups",
		"egg": "2 eggs", "baking soda": "1 tsp", "table salt": "1 tsp", "milk": "1 tbsp + 1 tsp",
	}
	twice := func(l RecipeLine) []Amount {
		return []Amount{{doubled[l.Food], l.Full[0].About}, {doubledUS[l.Food], l.Full[1].About}}
	}
	v := Recipe{
		Frame:  fakeFrame("Oat biscuits", "../../", Link{"Newest", "../../"}, Link{"Does a night in the cold hold oat biscuits together?", "../"}),
		Sheets: Sheets{WriteUp: "../", Recipe: "./", Data: "../data/"},
		Name:   "Oat biscuits", Makes: "16 biscuits", Follows: &b,
		Question: Link{"Does a night in the cold hold oat biscuits together?", "../"},
		Times:    card.Times, Systems: card.Systems,
		Sizes: []Size{
			size("Full batch", "16 biscuits", false, true, full, card.FullMass),
			size("Half batch", "8 biscuits", true, true, half, card.TestedMass),
			size("Double batch", "32 biscuits", false, false, twice, nil),
		},
		Hydration: "14.7 %", Notes: []string{"A double batch needs two sheets; bake them one after the other.", "Every sample was made at half batch."},
		Cautions: fakeCautions(), Nutrition: fakeNutrition(), Allergens: fakeAllergens(),
	}
	v.Sizes[1].Lines[4].Note = "beat the egg, take 25 g"
	for _, l := range card.Lines {
		if l.Percent != "" {
			v.Percents = append(v.Percents, Percent{l.Food, l.Percent, l.Food == "plain flour"})
		}
	}
	for _, s := range card.Steps {
		v.Steps = append(v.Steps, Step{Text: s.Text})
	}
	return v
}

func fakeData() Data {
	return Data{
		Frame:  fakeFrame("Data: oat biscuits", "../../", Link{"Newest", "../../"}, Link{"Does a night in the cold hold oat biscuits together?", "../"}),
		Sheets: Sheets{WriteUp: "../", Recipe: "../recipe/", Data: "./"},
		Title:  "Data: does a night in the cold hold oat biscuits together?",
		Intro:  "Every reading as it was logged, with what was set aside and why.",
		Downloads: []Download{
			{"pieces.csv", "pieces.csv", "CSV", "1 kB", "One row a biscuit."},
			{"pieces.csv-metadata.json", "pieces.csv-metadata.json", "CSVW", "2 kB", "What each column of pieces.csv means."},
			{"trial.md", "trial.md", "Markdown", "3 kB", "The note as it was written."},
		},
		Results: Download{"results.json", "results.json", "JSON", "9 kB", "Everything worked out on these pages, to be read by programs."},
		Pieces: &Table{Caption: "pieces.csv", Head: []string{"sample", "piece", "lift", "dome", "width", "set aside"}, Numeric: []bool{false, true, false, false, true},
			Rows: [][]string{{"at once", "1", "fail", "no", "96", "oven not up to heat"}, {"at once", "3", "pass", "no", "92", ""}, {"rested", "1", "pass", "yes", "84", ""}}},
		PiecesOf: "The first 3 of 26 rows.",
		Source:   "<pre class=\"code\" tabindex=\"0\"><code><span class=\"nt\">title</span><span class=\"p\">:</span> Does a night in the cold hold oat biscuits together?\n<span class=\"nt\">cooked</span><span class=\"p\">:</span> <span class=\"m\">2026-02-14</span>\n<span class=\"nt\">by</span><span class=\"p\">:</span> [Ines, Rafi] <span class=\"c\"># invented</span>\n</code></pre>",
		Licence:  Link{"CC BY 4.0", "https://licences.example/by/4.0/"},
		Cite:     "Two Timers (2026): Does a night in the cold hold oat biscuits together?",
	}
}

func fakeHome() Home {
	a, b, c := fakeRefs()
	f := fakeFrame("Two Timers", "")
	f.Canonical = "https://two-timers.example/"
	f.Invented = false
	return Home{
		Frame: f, About: "We cook one recipe several ways, change one thing at a time, and write down what happens.",
		Cards: []Card{
			{Href: "oat-biscuits/", Title: "Does a night in the cold hold oat biscuits together?", Question: "If the dough rests overnight, do more biscuits lift off in one piece?", Answer: "Yes: rest it. Seven of eight rested biscuits came off whole, and only three of those baked at once.", Support: PartCarry, By: []string{"Ines", "Rafi"}, Date: Date{"20 February 2026", "2026-02-20"}, Factors: []string{"rest", "oats"}, Samples: []SampleRef{a, b, c}, Evidence: "24 biscuits", Invented: true},
			{Href: "poached-pears/", Title: "Do pears poach more evenly under a paper lid?", Answer: "We could not see a difference, and would have seen a large one.", Support: NotCarried, Date: Date{"3 January 2026", "2026-01-03"}, Factors: []string{"lid"}, Samples: []SampleRef{a, b}, Evidence: "12 pears"},
			{Href: "lentils/", Title: "Is salted water the reason lentils split?", Question: "Do lentils cooked in salted water split more?", Answer: "No. They split less.", Support: Carried, Date: Date{"12 December 2025", "2025-12-12"}, Factors: []string{"salt in the water"}, Samples: []SampleRef{a, b}, Evidence: "120 lentils in 6 pots", Invented: true},
		},
		Archive: "archive/", More: "All 12 trials in the archive",
	}
}

func fakeArchive() Archive {
	f := fakeFrame("Archive", "../", Link{"Newest", "../"})
	v := Archive{Frame: f, Intro: "Every trial, with what was varied and how much stands behind the answer.", Count: "12 trials, 31 contrasts", Factors: []Link{{"rest", "../factors/rest/"}, {"oats", "../factors/oats/"}, {"salt in the water", "../factors/salt-in-the-water/"}}}
	for _, c := range fakeHome().Cards {
		row := ArchiveRow{Href: "../" + c.Href, Title: c.Title, Question: c.Question, Answer: c.Answer, Support: c.Support, Evidence: c.Evidence, Date: c.Date}
		for _, name := range c.Factors {
			row.Varied = append(row.Varied, Link{name, "../factors/" + name + "/"})
		}
		v.Rows = append(v.Rows, row)
	}
	v.Script = "archive.js"
	v.Names = []Link{{"All factors (4)", "../factors/"}}
	v.Filters = &Filters{
		Factors:     []Choice{{"oats", "oats", "1"}, {"rest", "rest", "1"}, {"salt-in-the-water", "salt in the water", "1"}},
		Ingredients: []Choice{{"lentils", "lentils", "1"}, {"quick-oats", "quick oats", "1"}}, Measures: []Choice{{"pass-or-fail", "pass or fail", "2"}},
		Years: []Choice{{"2026", "2026", "2"}, {"2025", "2025", "2"}}, Words: "search.json", Trials: len(v.Rows) + 1,
	}
	v.Rows[0].Facets = Facets{Slug: "oat-biscuits", Factors: "rest oats", Ingredients: "quick-oats", Measures: "pass-or-fail", Years: "2026"}
	v.Rows = append(v.Rows, ArchiveRow{Href: "../toast/", Question: "Which side of the toast falls first?", Evidence: "2 slices", Date: Date{"1 December 2025", "2025-12-01"}})
	return v
}

// fakeYear is a year of an archive that is divided.
func fakeYear() Archive {
	all := fakeArchive()
	return Archive{
		Frame: fakeFrame("Archive, 2026", "../../", Link{"Archive", "../../archive/"}), Title: "Archive, 2026", Count: "451 trials, 900 contrasts",
		Months: []ArchivePart{{Page: Link{"March", "03/"}, Count: "1 trial", Year: "2026", Trials: 1}, {Page: Link{"February", "02/"}, Count: "450 trials", Year: "2026", Trials: 450}},
		All:    "../../archive/", Newest: 1, Older: Link{"2025", "../../archive/2025/"},
		Rows: []ArchiveRow{{Href: "../../toast/", Title: all.Rows[0].Title, Question: all.Rows[0].Question, Evidence: "2 slices", Facets: all.Rows[0].Facets, Varied: []Link{{"rest", "../../factors/rest/"}}}},
	}
}

func fakeMethods() Methods {
	return Methods{
		Frame: fakeFrame("How amounts, counts and claims are made", "../", Link{"Newest", "../"}),
		Intro: "Every number on these pages is worked out from the note and its logs, in the ways written down here.",
		Sections: []MethodSection{
			{"counts", "Counts out of a number", `<p>For <i>x</i> passes in <i>n</i> pieces we give the Wilson score interval.</p><p>Source: Wilson, E. B. (1927), <cite>Journal of the American Statistical Association</cite> 22:209–212.</p>`},
			{"power", "What a trial could have seen", `<p>The smallest difference that a trial of this size finds in four of five tries.</p>`},
		},
	}
}

func fakeNotFound() NotFound {
	f := fakeFrame("Nothing on this card", "/")
	f.Canonical, f.JSONLD, f.Invented = "", nil, false
	return NotFound{Frame: f, Newest: []Link{{"Does a night in the cold hold oat biscuits together?", "/oat-biscuits/"}}}
}

const fakeSVG template.HTML = `<svg class="chart" role="img" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 360 190" fill="currentColor" aria-labelledby="fw-t fw-d"><title id="fw-t">Width after baking</title><desc id="fw-d">A 88 to 97 mm, B 81 to 88 mm, C 77 to 85 mm.</desc><g class="figure-rule"><path class="line" d="M50 20V155M140 20V155M230 20V155M320 20V155"/></g><g class="ink-a"><path d="M252 36h8v8h-8zM290 36h8v8h-8zM336 36h8v8h-8z"/><path class="line" stroke-width="3" d="M298 28v24"/></g><g class="ink-b"><path d="M174 81h8v8h-8zM206 81h8v8h-8zM248 81h8v8h-8z"/><path class="line" stroke-width="3" d="M212 73v24"/></g><g class="ink-c"><path d="M126 126h8v8h-8zM190 126h8v8h-8z"/><path class="line" stroke-width="3" d="M173 118v24"/></g><g><text x="12" y="44">A</text><text x="12" y="89">B</text><text x="12" y="134">C</text><text class="mid" x="50" y="175">70 mm</text><text class="mid" x="140" y="175">78 mm</text><text class="mid" x="230" y="175">86 mm</text><text class="mid" x="320" y="175">94 mm</text></g></svg>`
