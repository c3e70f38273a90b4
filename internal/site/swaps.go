package site

import (
	"slices"

	"sidebatch.example/sidebatch/internal/chart"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/wording"
	"sidebatch.example/sidebatch/internal/writeup"
)

// swapFigure is the name of the figure of swapped fats.
func swapFigure(s recipe.Swap) string { return "fats of " + s.Role }

// fatSwaps are the swaps in which fat is worth a picture: some food of it holds a
// gram of fat or more in a tablespoon.
func fatSwaps(all []recipe.Swap) []recipe.Swap {
	return slices.DeleteFunc(all, func(s recipe.Swap) bool {
		return !slices.ContainsFunc(s.Options, func(o recipe.Option) bool {
			return o.Tablespoon.Of(food.Fat).Amount.Cmp(quantity.Int(1)) >= 0
		})
	})
}

// kindOfFat is one that the figure holds beside the others.
type kindOfFat struct {
	nutrient food.Nutrient
	name     string
}

// fats are the kinds of fat that the figure holds side by side. Trans fat lies
// inside the two unsaturated kinds and is shown in the table.
func fats(say wording.Phrases) []kindOfFat {
	return []kindOfFat{
		{food.Saturated, say.Say("saturated")},
		{food.Monounsaturated, say.Say("monounsaturated")},
		{food.Polyunsaturated, say.Say("polyunsaturated")},
	}
}

// drawSwap draws the fats in a tablespoon of each food.
func drawSwap(f *findings.Findings, s recipe.Swap, caption, id string) (drawing, error) {
	say := phrasesFor(f.Trial)
	title := titled(caption, say.Say("fats of", "role", s.Role))
	c := chart.Grouped{Quantity: say.Say("fat in a tablespoon"), Unit: "g"}
	var words []string
	for _, o := range s.Options {
		if o.Absent || o.Tablespoon == nil {
			continue
		}
		first := f.Sample(o.Versions[0])
		c.Series = append(c.Series, chart.Label{Letter: first.Letter, Name: o.Line.Food, Index: first.Index % most})
		words = append(words, writeup.SwapName(f, o))
	}
	for _, fat := range fats(say) {
		c.Groups = append(c.Groups, fat.name)
		var bars []chart.Bar
		for _, o := range s.Options {
			if o.Absent || o.Tablespoon == nil {
				continue
			}
			sum := o.Tablespoon.Of(fat.nutrient)
			bars = append(bars, chart.Bar{
				Value:   sum.Amount.Float64(),
				Written: say.Language().Decimal(sum.Amount.Decimal(1)) + " g",
				Missing: !sum.Complete,
			})
		}
		c.Bars = append(c.Bars, bars)
	}
	c.Head = chart.Head{ID: id, Title: title, Words: chartWords(say),
		Description: say.Say("fats about", "foods", say.Language().List(words))}
	return drawing{c, id, title, writeup.SwapTable(f, s)}, nil
}
