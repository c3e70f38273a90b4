package writeup

import (
	"fmt"
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
	switch {
	case s.TakenFrom != nil:
		return "from the batch of " + f.Sample(s.TakenFrom.Key).Letter
	case s.Like != nil:
		return "starts from " + f.Sample(s.Like.Key).Letter
	}
	return ""
}

// words writes an amount exactly, in the words of the kitchen.
func words(t *trial.Trial, a quantity.Amount) string {
	return a.Words(t.Kitchen.Instruments.Volumes)
}

func made(f *findings.Findings, s *findings.Sample) string {
	var parts []string
	if s.Batches > 1 {
		parts = append(parts, counted(s.Batches, "batch"))
	}
	if s.Pieces > 0 {
		parts = append(parts, counted(s.Pieces, "piece"))
	}
	if !s.Weighed.Each.IsZero() {
		parts = append(parts, "about "+words(f.Trial, s.Weighed.Each)+" each")
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
	row := page.FactorRow{Factor: factor.Name + ", as it went in", Href: findings.FactorKey(factor)}
	if factor.Kind == design.Observed {
		row.Factor = factor.Name + ", as it turned out"
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
			Planned:    differences(c.Planned),
			Unplanned:  differences(c.Unplanned),
			Findings:   effects(f, c),
		})
	}
	return all
}

func differences(ds []design.Difference) []page.Difference {
	var all []page.Difference
	for _, d := range ds {
		all = append(all, page.Difference{
			Factor:   d.Factor.Name,
			Sample:   d.Sample,
			Against:  d.Against,
			Sentence: d.Sentence,
		})
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
	var rows []page.BalanceRow
	for i := range f.Samples {
		s := &f.Samples[i]
		b := s.Balance
		if s.TakenFrom != nil || (b.Dough.Sign() == 0 && b.Pieces.Sign() == 0) {
			continue
		}
		row := page.BalanceRow{SampleRef: Ref(s), In: b.In.Decimal(0) + " g"}
		if b.About {
			row.In = "about " + row.In
		}
		if b.Dough.Sign() > 0 {
			row.Weighed = b.Dough.Decimal(0) + " g"
		}
		if b.Known {
			row.Loss = lossWords(b.Percent.Float64(), b.About)
		}
		row.Note = balanceNote(f, s)
		rows = append(rows, row)
	}
	return rows
}

func lossWords(percent float64, about bool) string {
	words := fmt.Sprintf("%.1f %%", percent)
	if percent < 0 {
		words = fmt.Sprintf("%.1f %% more than went in", -percent)
	}
	if about {
		words = "about " + words
	}
	return words
}

func balanceNote(f *findings.Findings, s *findings.Sample) string {
	var notes []string
	if len(s.Balance.Missing) > 0 {
		notes = append(notes, "without "+strings.Join(s.Balance.Missing, ", ")+", whose mass is not known")
	}
	if s.Balance.Pieces.Sign() > 0 {
		notes = append(notes, fmt.Sprintf("%d × %s = %s g", s.Weighed.Divided, words(f.Trial, s.Weighed.Each), s.Balance.Pieces.Decimal(0)))
	}
	return strings.Join(notes, "; ")
}
