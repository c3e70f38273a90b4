package writeup

import (
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// phrases are the words that views are put into: the section "writeup" of the
// kitchen's words file.
type phrases struct{ wording.Phrases }

func phrasesOf(t *trial.Trial) phrases { return spoken(t.Kitchen.Words) }

// spoken returns the phrases of a language; what was made without a note speaks
// English.
func spoken(l *wording.Language) phrases {
	if l == nil {
		l = wording.English()
	}
	return phrases{l.Of("writeup")}
}

// allergens are the names and notices of allergens, the section of that name.
func (say phrases) allergens() wording.Phrases { return say.Language().Of("allergens") }

// decimal writes a number with so many decimals as the language does.
func (say phrases) decimal(n quantity.Number, places int) string {
	return say.Language().Decimal(n.Decimal(places))
}

// together joins a few names: a and b and c.
func (say phrases) together(names []string) string {
	text := ""
	for i, name := range names {
		if i == 0 {
			text = name
			continue
		}
		text = say.Language().List([]string{text, name})
	}
	return text
}

// percent writes a baker's percentage: whole from 10 up, one decimal below.
func (say phrases) percent(n quantity.Number) string {
	if n.Cmp(quantity.Int(10)) >= 0 {
		return say.decimal(n, 0) + " %"
	}
	return say.decimal(n, 1) + " %"
}

// about marks what leans on a density or a household measure.
func (say phrases) about(amount string, is bool) string {
	if !is {
		return amount
	}
	return say.Say("about", "amount", amount)
}

// atLeast marks a sum that leaves something out.
func (say phrases) atLeast(amount string, is bool) string {
	if !is {
		return amount
	}
	return say.Say("at least", "amount", amount)
}

// rounded writes an amount as a US-style label does.
func (say phrases) rounded(r recipe.Rounded) string {
	amount := say.Language().Decimal(r.Number.String()) + " " + r.Unit
	if r.LessThan {
		return say.Say("less than", "amount", amount)
	}
	return say.atLeast(amount, r.AtLeast)
}

// span writes two bounds of a difference.
func (say phrases) span(m trial.Measure, low, high float64) string {
	return say.Say("from to", "low", Change(m, low), "high", Change(m, high))
}

// units counts what a contrast rests on.
func (say phrases) units(n int, unit findings.Unit) string {
	switch unit {
	case findings.OfBatch:
		return say.Count("batch", n)
	case findings.OfAssessor:
		return say.Count("taster", n)
	case findings.OfSet:
		return say.Count("answer", n)
	}
	return say.Count("piece", n)
}
