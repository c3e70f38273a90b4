package writeup

import (
	"fmt"
	"math"
	"strings"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
)

func samples(f *findings.Findings) []page.Sample {
	var all []page.Sample
	for i := range f.Samples {
		s := &f.Samples[i]
		all = append(all, page.Sample{
			SampleRef: Ref(s),
			Control:   s.Control,
			Origin:    origin(f, s),
			Made:      made(f, s),
		})
	}
	return all
}

func origin(f *findings.Findings, s *findings.Sample) string {
	say := phrasesOf(f.Trial)
	switch {
	case s.TakenFrom != nil:
		return say.Say("from the batch of", "letter", f.Sample(s.TakenFrom.Key).Letter)
	case s.Like != nil:
		return say.Say("starts from", "letter", f.Sample(s.Like.Key).Letter)
	}
	return ""
}

// words writes an amount exactly, in the words of the kitchen.
func words(t *trial.Trial, a quantity.Amount) string {
	return t.Kitchen.Instruments.Words(a)
}

func made(f *findings.Findings, s *findings.Sample) string {
	say := phrasesOf(f.Trial)
	var parts []string
	if s.Batches > 1 {
		parts = append(parts, say.Count("batch", s.Batches))
	}
	if s.Pieces > 0 {
		parts = append(parts, say.Count("piece", s.Pieces))
	}
	if !s.Weighed.Each.IsZero() {
		parts = append(parts, say.Say("about each", "mass", words(f.Trial, s.Weighed.Each)))
	}
	return strings.Join(parts, ", ")
}

// differs lists the factors that differ between any two samples, with what each
// sample had: what was planned first, then what really went in. The address of a
// factor is its key, which the site completes.
func differs(f *findings.Findings) []page.FactorRow {
	var rows []page.FactorRow
	for _, factor := range factors(f, planned) {
		rows = append(rows, factorRow(f, factor))
	}
	for _, factor := range factors(f, unplanned) {
		rows = append(rows, usedRow(f, factor))
	}
	return rows
}

func planned(c findings.Contrast) []design.Difference   { return c.Planned }
func unplanned(c findings.Contrast) []design.Difference { return c.Unplanned }

// factors are those that differ in some contrast, each once, in order.
func factors(f *findings.Findings, of func(findings.Contrast) []design.Difference) []design.Factor {
	var all []design.Factor
	seen := map[design.Factor]bool{}
	for _, c := range f.Contrasts {
		for _, d := range of(c) {
			if !seen[d.Factor] {
				seen[d.Factor] = true
				all = append(all, d.Factor)
			}
		}
	}
	return all
}

func factorRow(f *findings.Findings, factor design.Factor) page.FactorRow {
	row := page.FactorRow{Factor: factor.Name, Href: findings.FactorKey(factor), Planned: true}
	for i := range f.Samples {
		row.Levels = append(row.Levels, page.Level{Text: level(f.Trial, f.Samples[i].Sample, factor)})
	}
	return marked(row)
}

func level(t *trial.Trial, s *trial.Sample, factor design.Factor) string {
	for _, l := range t.Version(s).Levels {
		if l.Factor == factor {
			return l.Text
		}
	}
	return ""
}

// usedRow shows what really went in, or what a measure nobody controlled came to.
func usedRow(f *findings.Findings, factor design.Factor) page.FactorRow {
	say := phrasesOf(f.Trial)
	row := page.FactorRow{Factor: say.Say("as it went in", "factor", factor.Name), Href: findings.FactorKey(factor)}
	if factor.Kind == design.Observed {
		row.Factor = say.Say("as it turned out", "factor", factor.Name)
	}
	for i := range f.Samples {
		s := &f.Samples[i]
		text := ""
		if factor.Kind == design.Observed {
			text = s.Measure(factor.Name).Text()
		} else if ingredient, ok := f.Trial.Made(s.Sample).Ingredient(factor.Name); ok {
			text = words(f.Trial, ingredient.Amount)
		}
		row.Levels = append(row.Levels, page.Level{Text: text})
	}
	return marked(row)
}

// marked marks the levels that differ from the first sample's, the control's.
func marked(row page.FactorRow) page.FactorRow {
	for i := range row.Levels {
		row.Levels[i].Changed = row.Levels[i].Text != row.Levels[0].Text
	}
	return row
}

// same lists the conditions that every sample shared.
func same(t *trial.Trial) []string {
	var shared []string
	for _, c := range t.Conditions {
		alike := true
		for _, s := range t.Samples {
			for _, other := range s.Conditions {
				alike = alike && (other.Name != c.Name || other.Value == c.Value)
			}
		}
		if alike {
			shared = append(shared, c.Name+" "+c.Value)
		}
	}
	return shared
}

func contrasts(f *findings.Findings) []page.Contrast {
	var all []page.Contrast
	for _, c := range f.Contrasts {
		all = append(all, page.Contrast{
			Sample:     Ref(c.Of),
			Against:    Ref(c.Against),
			Single:     c.Single(),
			Confounded: c.Confounded(),
			Within:     c.Within,
			Planned:    differences(f, c.Planned),
			Unplanned:  differences(f, c.Unplanned),
			Findings:   effects(f, c),
		})
	}
	return all
}

func differences(f *findings.Findings, ds []design.Difference) []page.Difference {
	var all []page.Difference
	for _, d := range ds {
		view := page.Difference{Factor: d.Factor.Name, Sample: d.Sample, Against: d.Against}
		if d.Factor.Kind == design.Observed {
			view.Sentence = phrasesOf(f.Trial).Say("turned out different", "measure", d.Factor.Name, "x", d.Sample, "y", d.Against)
		}
		all = append(all, view)
	}
	return all
}

// Varied lists the factors that a trial varied on purpose.
func Varied(f *findings.Findings) []string {
	var names []string
	for _, factor := range factors(f, planned) {
		names = append(names, factor.Name)
	}
	return names
}

func balance(f *findings.Findings) []page.BalanceRow {
	say := phrasesOf(f.Trial)
	var rows []page.BalanceRow
	for i := range f.Samples {
		s := &f.Samples[i]
		b := s.Balance
		if s.TakenFrom != nil || (b.Dough.Sign() == 0 && b.Pieces.Sign() == 0) {
			continue
		}
		row := page.BalanceRow{SampleRef: Ref(s), In: say.about(say.decimal(b.In, 0)+" g", b.About)}
		if b.Dough.Sign() > 0 {
			row.Weighed = say.decimal(b.Dough, 0) + " g"
		}
		if b.Known {
			row.Loss = say.loss(b.Percent.Float64(), b.About)
		}
		row.Note = balanceNote(f, s)
		rows = append(rows, row)
	}
	return rows
}

func (say phrases) loss(percent float64, about bool) string {
	size := say.Language().Decimal(fmt.Sprintf("%.1f %%", math.Abs(percent)))
	if percent < 0 {
		size = say.Say("more than went in", "percent", size)
	}
	return say.about(size, about)
}

func balanceNote(f *findings.Findings, s *findings.Sample) string {
	say := phrasesOf(f.Trial)
	var notes []string
	if len(s.Balance.Missing) > 0 {
		notes = append(notes, say.Say("without mass", "roles", strings.Join(s.Balance.Missing, ", ")))
	}
	if s.Balance.Pieces.Sign() > 0 {
		notes = append(notes, fmt.Sprintf("%d × %s = %s g", s.Weighed.Divided, words(f.Trial, s.Weighed.Each), say.decimal(s.Balance.Pieces, 0)))
	}
	return strings.Join(notes, "; ")
}
