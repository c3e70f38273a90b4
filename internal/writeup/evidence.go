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
	v := page.Factor{Name: e.Factor.Name, Method: findings.EvidenceMethod}
	contrasts := map[*findings.Contrast]bool{}
	for i, m := range e.Measures {
		v.Measures = append(v.Measures, factorMeasure(m, i))
		for _, r := range m.Rows {
			contrasts[r.Contrast] = true
		}
	}
	v.Count = counted(len(e.Trials), "trial") + ", " + counted(len(contrasts), "contrast")
	for _, f := range slices.Backward(e.Trials) {
		v.Trials = append(v.Trials, page.TrialLine{Trial: link(f), Date: Day(f.Day()), Words: Short(f)})
	}
	return v
}

func link(f *findings.Findings) page.Link {
	return page.Link{Text: f.Trial.Title, Href: f.Trial.Slug}
}

func factorMeasure(m findings.MeasureEvidence, i int) page.FactorMeasure {
	v := page.FactorMeasure{ID: fmt.Sprintf("measure-%d", i+1), Measure: m.Measure.Name, Asks: asks(m.Measure)}
	for _, p := range m.Pooled {
		v.Sums = append(v.Sums, factorSum(m.Measure, p))
	}
	v.Unequal = len(m.Pooled) == 0 && m.Trials > 1 && !m.Measure.Kind.IsDiscrimination()
	v.Lone = m.Trials == 1
	for i, r := range m.Rows {
		v.Rows = append(v.Rows, factorContrast(r, i))
	}
	return v
}

func factorSum(m trial.Measure, p findings.PooledEffect) page.FactorSum {
	s := page.FactorSum{
		Of:       p.Of,
		Against:  p.Against,
		Why:      string(p.Why),
		Trials:   counted(p.Trials, "trial"),
		Readings: counted(p.Readings, "piece"),
	}
	if p.HasAgreeP {
		s.AgreeP = Probability(p.AgreeP)
		s.Apart = p.AgreeP < findings.DisagreeAlpha
	}
	if p.Why != findings.IsPooled {
		return s
	}
	s.Difference = Change(m, p.Difference)
	s.Interval = Change(m, p.Interval.Low) + " to " + Change(m, p.Interval.High)
	if p.HasP {
		s.P = Probability(p.P)
	}
	if p.ISquared > 0 {
		s.Scatter = fmt.Sprintf("%.0f %%", 100*p.ISquared)
	}
	if p.Recipes > 1 {
		s.Recipes = counted(p.Recipes, "recipe")
	}
	return s
}

func factorContrast(r findings.EvidenceRow, i int) page.FactorContrast {
	v := page.FactorContrast{
		Number:  strconv.Itoa(i + 1),
		Date:    Day(r.Findings.Day()),
		Trial:   link(r.Findings),
		Of:      r.Of,
		Against: r.Against,
		Also:    r.Also,
		Left:    r.Shared,
	}
	if d := r.Discrimination; d != nil {
		v.Difference, v.Rests = discriminated(*d)
		if d.HasP {
			v.Interval = "p " + Probability(d.P)
		}
		return v
	}
	m := r.Effect.Measure
	if r.HasDifference {
		v.Difference = Change(m, r.Difference)
		v.Rests = rests(r)
	}
	if r.HasInterval {
		v.Interval = Change(m, r.Interval.Low) + " to " + Change(m, r.Interval.High)
	}
	return v
}

// discriminated says how many answers of how many were right, or, of a preference,
// chose the first sample.
func discriminated(d findings.Discrimination) (difference, rests string) {
	what := "right"
	if d.Measure.Kind == trial.PairedPreference {
		what = "for " + d.Of.Name
	}
	return fmt.Sprintf("%d of %d %s", d.Right, d.N, what), counted(d.Assessors, "taster")
}

// rests says what was compared: 6 against 7 pieces, 3 pairs of batches.
func rests(r findings.EvidenceRow) string {
	of, against := r.Effect.Of, r.Effect.Against
	if r.Turned {
		of, against = against, of
	}
	switch {
	case r.Effect.Unit == findings.OfAssessor:
		return counted(of.Units, "taster")
	case r.Effect.Unit == findings.OfBatch && r.Effect.Paired:
		return fmt.Sprintf("%d pairs of batches", of.Units)
	}
	return fmt.Sprintf("%d against %s", of.Units, counted(against.Units, string(r.Effect.Unit)))
}

// Ingredient is every trial that used one food, with the same kind of addresses.
func Ingredient(p findings.Pantry) page.Ingredient {
	v := page.Ingredient{Name: p.Name, Written: p.Written}
	if p.Row != nil {
		v.Row = p.Row.Description
	}
	for _, u := range slices.Backward(p.Uses) {
		line := page.TrialLine{Trial: link(u.Findings), Date: Day(u.Findings.Day())}
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
	v.Count = counted(len(p.Uses), "trial")
	if n := len(v.Varied); n > 0 {
		v.Count += fmt.Sprintf(", varied in %d", n)
	}
	return v
}
