package writeup

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// Factor is all that trials showed about one factor, in the words of a language, but for
// what they showed on each measure, which need not be settled. The address of a trial is its
// slug, which the site completes, as it does the frame, the figures, the answers of trials and
// the links to ingredients; where a trial repeats another one, that is the slug of the other.
func Factor(e findings.Evidence, l *wording.Language) page.Factor {
	say := spoken(l)
	v := page.Factor{Name: e.Factor.Name, Method: findings.EvidenceMethod}
	contrasts, households := map[*findings.StudyContrast]bool{}, map[*findings.StudyHousehold]bool{}
	for _, m := range e.Measures {
		for _, r := range m.Rows {
			if r.Household != nil {
				households[r.Household] = true
				continue
			}
			contrasts[r.Contrast] = true
		}
	}
	v.Count = say.Count("trial", len(e.Trials)) + ", " + say.Count("contrast", len(contrasts))
	if n := len(households); n > 0 {
		v.Count += ", " + say.Count("household", n)
	}
	newest := e.Trials[max(0, len(e.Trials)-MostTrials):]
	v.Cut = say.newest(len(newest), len(e.Trials))
	for _, s := range slices.Backward(newest) {
		v.Trials = append(v.Trials, page.TrialLine{Trial: link(s), Date: Day(l, s.Day)})
	}
	return v
}

// Shown are the trials that the page of a factor names, by slug: those that Factor lists, and
// those in the rows of FactorMeasure, each once and in order.
func Shown(e findings.Evidence) (listed, named []string) {
	for _, s := range e.Trials[max(0, len(e.Trials)-MostTrials):] {
		listed = append(listed, s.Slug)
	}
	all := map[string]bool{}
	for _, m := range e.Measures {
		for _, i := range Newest(m) {
			all[m.Rows[i].Study.Slug] = true
		}
	}
	return listed, slices.Sorted(maps.Keys(all))
}

func link(s *findings.Study) page.Link { return page.Link{Text: s.Title, Href: s.Slug} }

// FactorMeasure is what they showed on one measure, which is that of the given number from 0,
// and settled.
func FactorMeasure(m findings.MeasureEvidence, i int, l *wording.Language) page.FactorMeasure {
	say := spoken(l)
	measure := m.Measure.Measure(say.Language())
	v := page.FactorMeasure{ID: fmt.Sprintf("measure-%d", i+1), Measure: measure.Name, Asks: asks(measure)}
	sums := Widest(m)
	for _, i := range sums {
		v.Sums = append(v.Sums, factorSum(measure, m.Pooled[i]))
	}
	if len(sums) < len(m.Pooled) {
		v.CutSums = say.Count("widest sums", len(m.Pooled), "shown", say.Language().Integer(len(sums)))
	}
	v.Unequal = len(m.Pooled) == 0 && m.Trials > 1 && !measure.Kind.IsDiscrimination()
	v.Lone = m.Trials == 1 && len(m.Pooled) == 0
	shown := Newest(m)
	for _, i := range shown {
		v.Rows = append(v.Rows, say.factorContrast(m.Rows[i], i))
	}
	v.Cut = say.leftOut(m, shown)
	return v
}

// What a page shows of long lists: nobody reads thousands of lines, and a page that holds
// them changes with every trial. The whole list is in a file, and in the archive.
const (
	mostRows       = 24 // contrasts of a measure in which the factor alone differs
	mostConfounded = 8  // and in which others differ too, where not all are shown
	mostSums       = 12 // sums of a measure: each is of other levels
	MostTrials     = 50
)

// Newest are the numbers, from 0, of the rows that a page shows of a measure, and its
// figure with it: all where they are few, or the newest.
func Newest(m findings.MeasureEvidence) []int {
	alone := singles(m)
	var shown []int
	for i := range m.Rows {
		long := len(m.Rows) > mostRows
		if long && (i < alone-mostRows || i >= alone && i < len(m.Rows)-mostConfounded) {
			continue
		}
		shown = append(shown, i)
	}
	return shown
}

// Widest are the numbers, from 0, of the sums that a page shows of a measure, and its figure
// with it, in their order: all where they are few, or those that most kitchens are behind.
// What a sum comes to has no part in that.
func Widest(m findings.MeasureEvidence) []int {
	shown := make([]int, len(m.Pooled))
	for i := range shown {
		shown[i] = i
	}
	kitchens := func(i int) int { return m.Pooled[i].Trials + m.Pooled[i].Households }
	slices.SortStableFunc(shown, func(a, b int) int { return cmp.Compare(kitchens(b), kitchens(a)) })
	shown = shown[:min(len(shown), mostSums)]
	slices.Sort(shown)
	return shown
}

// singles counts the rows in which the factor alone differs; they come first.
func singles(m findings.MeasureEvidence) int {
	if n := slices.IndexFunc(m.Rows, func(r *findings.EvidenceRow) bool { return !r.Single }); n >= 0 {
		return n
	}
	return len(m.Rows)
}

// leftOut says how many rows there are, where not all are shown.
func (say phrases) leftOut(m findings.MeasureEvidence, shown []int) string {
	if len(shown) == len(m.Rows) {
		return ""
	}
	all := singles(m)
	alone, confounded := 0, 0
	for _, i := range shown {
		if i < all {
			alone++
		} else {
			confounded++
		}
	}
	var sentences []string
	if alone < all {
		sentences = append(sentences, say.Count("newest alone", all, "shown", say.Language().Integer(alone)))
	}
	if n := len(m.Rows) - all; confounded < n {
		sentences = append(sentences, say.Count("newest confounded", n, "shown", say.Language().Integer(confounded)))
	}
	return strings.Join(append(sentences, say.Say("sums over all")), " ")
}

// newest says how many trials there are, where not all are shown.
func (say phrases) newest(shown, all int) string {
	if shown == all {
		return ""
	}
	return say.Count("newest trials", all, "shown", say.Language().Integer(shown))
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
	if exact, ok := p.Exact(); ok {
		s.P = say.probability(exact)
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

func (say phrases) factorContrast(r *findings.EvidenceRow, i int) page.FactorContrast {
	v := page.FactorContrast{
		Number:  strconv.Itoa(i + 1),
		Date:    Day(say.Language(), r.Study.Day),
		Trial:   link(r.Study),
		Of:      r.Of,
		Against: r.Against,
		Also:    r.Also,
		Left:    r.Shared,
	}
	if h := r.Household; h != nil {
		v.Trial.Text = say.Say("trial at home", "trial", v.Trial.Text, "household", h.Name)
		v.Date, v.AtHome = page.Date{}, true
	} else {
		v.Repeats.Href = r.Study.Repeats
	}
	m := r.Measure().Measure(say.Language())
	if a := r.Answers; a != nil {
		v.Difference, v.Rests = say.discriminated(m, a), say.Count("taster", a.Assessors)
		if a.HasP {
			v.Interval = "p " + say.probability(a.P)
		}
		return v
	}
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
func (say phrases) discriminated(m trial.Measure, a *findings.StudyAnswers) string {
	right, n := strconv.Itoa(a.Right), strconv.Itoa(a.N)
	if m.Kind == trial.PairedPreference {
		return say.Say("of them for", "right", right, "n", n, "sample", a.Of)
	}
	return say.Say("of them right", "right", right, "n", n)
}

// rests says what was compared: 6 against 7 pieces, 3 pairs of batches.
func (say phrases) rests(r *findings.EvidenceRow) string {
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

// Ingredient is every trial that used one food, in the words of a language and with the
// same kind of addresses.
func Ingredient(p findings.Pantry, l *wording.Language) page.Ingredient {
	say := spoken(l)
	v := page.Ingredient{Name: p.Name, Written: p.Written, Row: p.Row}
	for _, u := range slices.Backward(p.Uses) {
		if u.Varied && len(v.Varied) == MostTrials || !u.Varied && len(v.Used) == MostTrials {
			continue
		}
		line := page.TrialLine{Trial: link(u.Study), Date: Day(l, u.Study.Day)}
		if !u.Varied {
			line.Lines = u.Lines
			v.Used = append(v.Used, line)
			continue
		}
		for _, level := range u.Levels {
			line.Levels = append(line.Levels, page.SampleLevel{SampleRef: page.SampleRef{Letter: level.Letter, Name: level.Name}, Text: level.Text})
		}
		for _, f := range u.Factors {
			line.Also = append(line.Also, page.Link{Text: f.Name, Href: findings.FactorKey(f)})
		}
		v.Varied = append(v.Varied, line)
	}
	v.Count = say.Count("trial", p.Trials)
	if p.VariedIn > 0 {
		v.Count = say.Say("and varied in", "trials", v.Count, "n", strconv.Itoa(p.VariedIn))
	}
	v.CutVaried, v.CutUsed = say.newest(len(v.Varied), p.VariedIn), say.newest(len(v.Used), p.Trials-p.VariedIn)
	return v
}
