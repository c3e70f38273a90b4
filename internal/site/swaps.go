package site

import (
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/chart"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/writeup"
)

// swapFigure is the name of the figure of swapped fats.
func swapFigure(s recipe.Swap) string { return "fats of " + s.Role }

// fatSwaps are the swaps in which fat is worth a picture: some food of it holds a
// gram of fat or more in a tablespoon.
func fatSwaps(f *findings.Findings) []recipe.Swap {
	return slices.DeleteFunc(writeup.Swaps(f), func(s recipe.Swap) bool {
		return !slices.ContainsFunc(s.Options, func(o recipe.Option) bool {
			return o.Tablespoon.Of(food.Fat).Amount.Cmp(quantity.Int(1)) >= 0
		})
	})
}

// fats are the kinds of fat that the figure holds side by side. Trans fat lies
// inside the two unsaturated kinds and is shown in the table.
func fats() []food.Nutrient {
	return []food.Nutrient{food.Saturated, food.Monounsaturated, food.Polyunsaturated}
}

// drawSwap draws the fats in a tablespoon of each food.
func drawSwap(f *findings.Findings, s recipe.Swap, caption, id string) (page.Figure, error) {
	title := titled(caption, "fat in a tablespoon, "+s.Role)
	c := chart.Grouped{Quantity: "fat in 1 tbsp", Unit: "g"}
	var words []string
	for _, o := range s.Options {
		if o.Absent || o.Tablespoon == nil {
			continue
		}
		first := f.Sample(o.Versions[0])
		c.Series = append(c.Series, chart.Label{Letter: first.Letter, Name: o.Line.Food, Index: first.Index % most})
		words = append(words, writeup.SwapName(f, o))
	}
	for _, fat := range fats() {
		c.Groups = append(c.Groups, strings.TrimSuffix(fat.Name(), " fat"))
		var bars []chart.Bar
		for _, o := range s.Options {
			if o.Absent || o.Tablespoon == nil {
				continue
			}
			sum := o.Tablespoon.Of(fat)
			bars = append(bars, chart.Bar{
				Value:   sum.Amount.Float64(),
				Written: sum.Amount.Decimal(1) + " g",
				Missing: !sum.Complete,
			})
		}
		c.Bars = append(c.Bars, bars)
	}
	c.Head = chart.Head{ID: id, Title: title, Description: "Saturated, monounsaturated and polyunsaturated fat in a tablespoon of " + strings.Join(words, " and ") + "."}
	svg, err := c.Draw()
	return figure(id, title, svg, writeup.SwapTable(f, s)), err
}
