package writeup

import (
	"fmt"
	"slices"
	"strconv"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
)

// Factor is all that trials showed about one factor. The address of a trial is its
// slug, which the site completes, as it does the frame, the figures and the links to
// ingredients.
func Factor(e findings.Evidence) page.Factor {
	say := phrasesOf(e.Trials[0].Trial)
	v := page.Factor{Name: e.Factor.Name, Method: findings.EvidenceMethod}
	contrasts, households := map[*findings.Contrast]bool{}, map[*findings.Findings]bool{}
	for i, m := range e.Measures {
		v.Measures = append(v.Measures, factorMeasure(m, i))
		for _, r := range m.Rows {
			if r.Findings.Household != nil {
				households[r.Findings] = true
				continue
			}
			contrasts[r.Contrast] = true
		}
	}
	v.Count = say.Count("trial", len(e.Trials)) + ", " + say.Count("contrast", len(contrasts))
	if n := len(households); n > 0 {
		v.Count += ", " + say.Count("household", n)
	}
	for _, f := range slices.Backward(e.Trials) {
		v.Trials = append(v.Trials, page.TrialLine{Trial: link(f), Date: day(f), Words: Short(f)})
	}
	return v
}

func day(f *findings.Findings) page.Date { return Day(f.Trial.Kitchen.Words, f.Day()) }

func link(f *findings.Findings) page.Link {
	return page.Link{Text: f.Trial.Title, Href: f.Trial.Slug}
}

func factorMeasure(m findings.MeasureEvidence, i int) page.FactorMeasure {
	v := page.FactorMeasure{ID: fmt.Sprintf("measure-%d", i+1), Measure: m.Measure.Name, Asks: asks(m.Measure)}
	for _, p := range m.Pooled {
		v.Sums = append(v.Sums, factorSum(m.Measure, p))
	}
	v.Unequal = len(m.Pooled) == 0 && m.Trials > 1 && !m.Measure.Kind.IsDiscrimination()
	v.Lone = m.Trials == 1 && len(m.Pooled) == 0
	for i, r := range m.Rows {
		v.Rows = append(v.Rows, factorContrast(r, i))
	}
	return v
}

func factorSum(m trial.Measure, p findings.PooledEffect) page.FactorSum {
	say := spoken(m.Language)
	s := page.FactorSum{
		Of:       p.Of,
		Against:  p.Against,
		Why:      string(p.Why),
		Trials:   say.trialsAnd(p.Trials, p.Households),
		Readings: say.Count("piece", p.Readings),
	}
	if p.HasAgreeP {
		s.AgreeP = say.probability(p.AgreeP)
		s.Apart = p.AgreeP < findings.DisagreeAlpha
	}
	if p.Why != findings.IsPooled {
		return s
	}
	s.Difference = Change(m, p.Difference)
	s.Interval = say.span(m, p.Interval.Low, p.Interval.High)
	if p.HasP {
		s.P = say.probability(p.P)
	}
	if p.ISquared > 0 {
		s.Scatter = fmt.Sprintf("%.0f %%", 100*p.ISquared)
	}
	if p.Recipes > 1 {
		s.Recipes = say.Count("recipe", p.Recipes)
	}
	return s
}

// trialsAnd counts trials, and households that repeated them.
func (say phrases) trialsAnd(trials, households int) string {
	if households == 0 {
		return say.Count("trial", trials)
	}
	return say.Language().List([]string{say.Count("trial", trials), say.Count("household", households)})
}

func factorContrast(r findings.EvidenceRow, i int) page.FactorContrast {
	v := page.FactorContrast{
		Number:  strconv.Itoa(i + 1),
		Date:    day(r.Findings),
		Trial:   link(r.Findings),
		Of:      r.Of,
		Against: r.Against,
		Also:    r.Also,
		Left:    r.Shared,
	}
	say := phrasesOf(r.Findings.Trial)
	if at := r.Findings.Household; at != nil {
		v.Trial.Text = say.Say("trial at home", "trial", v.Trial.Text, "household", at.Name)
		v.Date, v.AtHome = page.Date{}, true
	}
	if d := r.Discrimination; d != nil {
		v.Difference, v.Rests = say.discriminated(*d), say.Count("taster", d.Assessors)
		if d.HasP {
			v.Interval = "p " + say.probability(d.P)
		}
		return v
	}
	m := r.Effect.Measure
	if r.HasDifference {
		v.Difference = Change(m, r.Difference)
		v.Rests = say.rests(r)
	}
	if r.HasInterval {
		v.Interval = say.span(m, r.Interval.Low, r.Interval.High)
	}
	return v
}

// discriminated says how many answers of how many were right, or, of a preference,
// chose the first sample.
func (say phrases) discriminated(d findings.Discrimination) string {
	right, n := strconv.Itoa(d.Right), strconv.Itoa(d.N)
	if d.Measure.Kind == trial.PairedPreference {
		return say.Say("of them for", "right", right, "n", n, "sample", d.Of.Name)
	}
	return say.Say("of them right", "right", right, "n", n)
}

// rests says what was compared: 6 against 7 pieces, 3 pairs of batches.
func (say phrases) rests(r findings.EvidenceRow) string {
	of, against := r.Effect.Of, r.Effect.Against
	if r.Turned {
		of, against = against, of
	}
	switch {
	case r.Effect.Unit == findings.OfAssessor:
		return say.Count("taster", of.Units)
	case r.Effect.Unit == findings.OfBatch && r.Effect.Paired:
		return say.Count("pair of batches", of.Units)
	}
	return say.Say("units against", "of", strconv.Itoa(of.Units), "against", say.units(against.Units, r.Effect.Unit))
}

// Ingredient is every trial that used one food, with the same kind of addresses.
func Ingredient(p findings.Pantry) page.Ingredient {
	say := phrasesOf(p.Uses[0].Findings.Trial)
	v := page.Ingredient{Name: p.Name, Written: p.Written}
	if p.Row != nil {
		v.Row = p.Row.Description
	}
	for _, u := range slices.Backward(p.Uses) {
		line := page.TrialLine{Trial: link(u.Findings), Date: day(u.Findings)}
		if !u.Varied {
			line.Lines = u.Lines
			v.Used = append(v.Used, line)
			continue
		}
		for i, text := range u.Levels {
			line.Levels = append(line.Levels, page.SampleLevel{SampleRef: Ref(&u.Findings.Samples[i]), Text: text})
		}
		for _, f := range u.Factors {
			line.Also = append(line.Also, page.Link{Text: f.Name, Href: findings.FactorKey(f)})
		}
		v.Varied = append(v.Varied, line)
	}
	v.Count = say.Count("trial", len(p.Uses))
	if n := len(v.Varied); n > 0 {
		v.Count = say.Say("and varied in", "trials", v.Count, "n", strconv.Itoa(n))
	}
	return v
}
