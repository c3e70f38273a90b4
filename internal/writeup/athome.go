package writeup

import (
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
)

// AtHome is what viewers found who repeated a trial, or nil where nobody has. The figures
// are the site's, as are the addresses of logs and of the methods page; a log's address is
// the name of its file.
func AtHome(f *findings.Findings) *page.AtHome {
	if len(f.Households) == 0 {
		return nil
	}
	say := phrasesOf(f.Trial)
	v := &page.AtHome{Method: findings.EvidenceMethod}
	pieces := 0
	for _, at := range f.Households {
		n := len(at.Trial.Pieces)
		pieces += n
		v.Households = append(v.Households, page.Household{
			Name: at.Household.Name, Pieces: say.Count("piece", n),
			Log: page.Link{Text: at.Household.File.Name, Href: at.Household.File.Name},
		})
	}
	v.Count = say.Count("household", len(f.Households)) + ", " + say.Count("piece", pieces)
	for _, m := range RepeatedMeasures(f) {
		shown := page.HomeMeasure{Measure: m.Name, Aside: !turnsOn(f, m)}
		for _, x := range f.Repeats {
			if x.Measure.Name == m.Name {
				shown.Words = append(shown.Words, x.Words)
			}
		}
		v.Measures = append(v.Measures, shown)
	}
	if len(v.Measures) > 0 && len(v.Asides()) == len(v.Measures) {
		v.Measures[0].Aside = false
	}
	return v
}

// RepeatedMeasures are the measures that some household has a difference in, first what
// the trial turns on. A part of a sum is left to its sum.
func RepeatedMeasures(f *findings.Findings) []trial.Measure {
	var first, others []trial.Measure
	for _, m := range f.Trial.Measures {
		repeated := slices.ContainsFunc(f.Repeats, func(x findings.Repeat) bool { return x.Measure.Name == m.Name })
		switch {
		case !repeated || m.PartOf != "":
		case turnsOn(f, m):
			first = append(first, m)
		default:
			others = append(others, m)
		}
	}
	return append(first, others...)
}

// turnsOn reports whether a measure is the primary one, or one that the verdict rests on.
func turnsOn(f *findings.Findings, m trial.Measure) bool {
	return m.Primary || slices.Contains(f.Trial.Verdict.BecauseOf, m.Name)
}

// KitchenName is who a row of a repeat is of: the kitchen, or a household.
func KitchenName(f *findings.Findings) string {
	if f.Household != nil {
		return f.Household.Name
	}
	return f.Trial.Kitchen.Name
}

// Pair names the samples of a contrast by their letters.
func Pair(f *findings.Findings, c *findings.Contrast) string { return phrasesOf(f.Trial).pair(c) }

func (say phrases) pair(c *findings.Contrast) string {
	return say.Say("letter against letter", "of", c.Of.Letter, "against", c.Against.Letter)
}

// RepeatTable is the numbers of kitchen and households on one measure.
func RepeatTable(f *findings.Findings, m trial.Measure, caption string) page.Table {
	say := phrasesOf(f.Trial)
	t := page.Table{
		Caption: caption,
		Head:    []string{say.Say("head kitchen"), say.Say("head pair"), say.Say("head difference"), say.Say("head interval"), say.Say("head rests on")},
		Numeric: []bool{false, false, true, true, false},
	}
	for _, x := range f.Repeats {
		if x.Measure.Name != m.Name {
			continue
		}
		pair := say.pair(x.Contrast)
		for _, r := range x.Rows {
			row := []string{KitchenName(r.Findings), pair, Change(m, r.Difference), "", say.rests(&r.EvidenceRow)}
			if r.HasInterval {
				row[3] = say.span(m, r.Interval.Low, r.Interval.High)
			}
			if !r.Single {
				row[4] = say.Say("more differs", "rests", row[4], "factors", strings.Join(r.Found.Factors, ", "))
			}
			t.Rows = append(t.Rows, row)
		}
		if x.Added() {
			p := x.Pooled
			t.Rows = append(t.Rows, []string{say.Say("all together"), pair, Change(m, p.Difference), say.span(m, p.Interval.Low, p.Interval.High),
				say.Count("kitchen", x.Strata)})
		}
	}
	return t
}
