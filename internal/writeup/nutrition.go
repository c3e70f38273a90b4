package writeup

import (
	"fmt"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
)

// labelRows are the nutrients of a recipe's table, in the order of a US label.
func labelRows() []food.Nutrient {
	return []food.Nutrient{
		food.Energy, food.Fat, food.Saturated, food.Trans, food.Monounsaturated, food.Polyunsaturated,
		food.Cholesterol, food.Sodium, food.Carbohydrate, food.Fibre, food.Sugars, food.Protein,
	}
}

// nutrition is what a recipe holds, or nil where nothing is known of it.
func nutrition(t *trial.Trial, r recipe.Recipe) *page.Nutrition {
	n := r.Nutrition(t.RecipeLabels())
	if len(r.Ingredients) == 0 || !n.Batch.Dough.Of(food.Energy).Known() {
		return nil
	}
	v := &page.Nutrition{Tables: []page.Table{nutritionTable(r, n)}}
	v.Missing = n.Batch.Dough.Of(food.Energy).Missing
	v.Notes = append(v.Notes, capital(n.Basis)+".")
	v.Notes = append(v.Notes, besideWords(r, n)...)
	v.Notes = append(v.Notes, gapWords(n)...)
	v.Notes = append(v.Notes, saturatedWords(n)...)
	v.Notes = append(v.Notes, sourceWords(n)...)
	return v
}

func nutritionTable(r recipe.Recipe, n recipe.Nutrition) page.Table {
	table := page.Table{Caption: "What it holds, rounded as on a US-style label", Head: []string{""}, Numeric: []bool{false}}
	var columns []recipe.Sums
	add := func(head string, sums recipe.Sums) {
		if sums == nil {
			return
		}
		table.Head = append(table.Head, head)
		table.Numeric = append(table.Numeric, true)
		columns = append(columns, sums)
	}
	add("one of "+yield(r.Makes), n.Piece.Dough)
	add("100 g, raw", n.Hundred)
	add("full batch", n.Batch.Dough)
	for _, nutrient := range labelRows() {
		row := []string{nutrient.Name()}
		for _, sums := range columns {
			row = append(row, sums.Of(nutrient).Text(nutrient))
		}
		table.Rows = append(table.Rows, row)
	}
	return table
}

// besideWords say how much more there is in what is used beside the dough.
func besideWords(r recipe.Recipe, n recipe.Nutrition) []string {
	beside := n.Batch.Beside.Of(food.Energy)
	if !beside.Known() || beside.Amount.Sign() == 0 {
		return nil
	}
	var foods []string
	for _, i := range r.Ingredients {
		if r.IsBeside(i) {
			foods = append(foods, i.Food)
		}
	}
	return []string{fmt.Sprintf("Not counted above: %s, used beside it. If all of it were eaten, the full batch would hold %s more.",
		strings.Join(foods, ", "), beside.Text(food.Energy))}
}

// gapWords name the nutrients for which the table reports nothing, and of what.
func gapWords(n recipe.Nutrition) []string {
	byRoles := map[string][]string{}
	var order []string
	for _, nutrient := range labelRows() {
		sum := n.Batch.Dough.Of(nutrient)
		if sum.Complete || nutrient == food.Energy {
			continue
		}
		roles := strings.Join(sum.Missing, ", ")
		if byRoles[roles] == nil {
			order = append(order, roles)
		}
		byRoles[roles] = append(byRoles[roles], nutrient.Name())
	}
	var all []string
	for _, roles := range order {
		all = append(all, capital(strings.Join(byRoles[roles], ", "))+": not reported for "+roles+", and not counted as 0.")
	}
	return all
}

// saturatedWords hold the share of energy from saturated fat beside the share that
// the Dietary Guidelines speak of, which is one of a whole day.
func saturatedWords(n recipe.Nutrition) []string {
	share, ok := n.Batch.Dough.SaturatedShare()
	if !ok {
		return nil
	}
	bound := share.Bound.String()
	if bound != "" {
		bound += " "
	}
	return []string{fmt.Sprintf("Saturated fat gives %s%s %% of the energy. The Dietary Guidelines for Americans 2020–2025 speak of less than %s %% over a whole day, not in one dish.",
		bound, share.Percent.Decimal(0), recipe.SaturatedPercent().Decimal(0))}
}

// sourceWords say where figures come from that are not the food's own row.
func sourceWords(n recipe.Nutrition) []string {
	var all []string
	for _, s := range n.StandIns {
		all = append(all, fmt.Sprintf("For %s the table has only %s. %s.", s.Food, s.Row, strings.TrimSuffix(capital(s.Note), ".")))
	}
	for _, d := range n.Dated {
		all = append(all, fmt.Sprintf("The table's figures for %s are older than the ban on partly hydrogenated fat: read the package.", d.Food))
	}
	for _, l := range n.Labels {
		if !l.Unserved {
			all = append(all, fmt.Sprintf("Figures for %s are from the label of the package.", l.Food))
		}
	}
	return append(all, "Figures are otherwise those of the "+food.Source().Name+". A label on your own package goes before any table.")
}

// Swaps are the ingredients in which samples differ in food, with what a
// tablespoon and a piece of each hold.
func Swaps(f *findings.Findings) []recipe.Swap {
	var versions []recipe.Version
	labels := f.Trial.RecipeLabels()
	for i := range f.Samples {
		versions = append(versions, recipe.Version{Name: f.Samples[i].Key, Recipe: f.Samples[i].Plan, Labels: labels})
	}
	return recipe.Swaps(versions)
}

// swapped is the nutrition of swapped ingredients side by side, or nil where no
// food was swapped.
func swapped(f *findings.Findings) *page.Nutrition {
	v := &page.Nutrition{}
	for _, swap := range Swaps(f) {
		if !worthATable(swap) {
			continue
		}
		v.Tables = append(v.Tables, SwapTable(f, swap))
		for _, o := range swap.Options {
			if o.StandIn != "" {
				v.Notes = append(v.Notes, fmt.Sprintf("For %s the table has a stand-in: %s.", o.Line.Food, strings.TrimSuffix(o.StandIn, ".")))
			}
			if o.Dated {
				v.Notes = append(v.Notes, fmt.Sprintf("The table's figures for %s are older than the ban on partly hydrogenated fat: read the package.", o.Line.Food))
			}
		}
	}
	if len(v.Tables) == 0 {
		return nil
	}
	v.Notes = append(v.Notes, "Rounded as on a US-style label; what cooking drives off, or leaves in the pan, is not modelled.")
	return v
}

// worthATable reports whether two foods or more can be held side by side, and one
// of them has energy: an addition of salt is no swap to look at.
func worthATable(swap recipe.Swap) bool {
	foods, energy := 0, false
	for _, o := range swap.Options {
		if !o.Absent {
			foods++
			energy = energy || o.Tablespoon.Of(food.Energy).Amount.Sign() > 0
		}
	}
	return foods > 1 && energy
}

// SwapTable is one swap as a table: a column for a tablespoon and a piece of each
// food.
func SwapTable(f *findings.Findings, swap recipe.Swap) page.Table {
	table := page.Table{Caption: capital(swap.Role) + ", side by side", Head: []string{""}, Numeric: []bool{false}}
	var columns []recipe.Sums
	for _, o := range swap.Options {
		name := SwapName(f, o)
		if o.Absent {
			continue
		}
		if o.Tablespoon.Of(food.Energy).Known() {
			table.Head = append(table.Head, name+", 1 tbsp")
			columns = append(columns, o.Tablespoon)
		}
		if o.Piece != nil {
			table.Head = append(table.Head, name+", in one piece")
			columns = append(columns, o.Piece)
		}
	}
	for range columns {
		table.Numeric = append(table.Numeric, true)
	}
	for _, nutrient := range recipe.SwapNutrients() {
		row := []string{nutrient.Name()}
		for _, sums := range columns {
			row = append(row, sums.Of(nutrient).Text(nutrient))
		}
		table.Rows = append(table.Rows, row)
	}
	return table
}

// SwapName names one side of a swap with the letters of its samples: "A, C butter".
func SwapName(f *findings.Findings, o recipe.Option) string {
	var letters []string
	for _, key := range o.Versions {
		letters = append(letters, f.Sample(key).Letter)
	}
	name := o.Line.Food
	if o.Absent {
		name = "none"
	}
	return strings.Join(letters, ", ") + " " + name
}

// bakerNotes are the figures of a baker's page beside the percentages.
func bakerNotes(r recipe.Recipe) []string {
	b, ok := r.Baker()
	if !ok {
		return nil
	}
	var all []string
	say := func(name string, s recipe.Shares, why string) {
		if s.Total.Sign() <= 0 {
			return
		}
		least := ""
		if len(s.Missing) > 0 {
			least = "at least "
		}
		all = append(all, fmt.Sprintf("%s %s%s of the flour%s.", name, least, percent(s.Total), why))
	}
	if b.Wet.Total.Cmp(b.Total.Hydration) > 0 {
		say("Counting the water in milk, egg and other wet foods too:", b.Wet, "")
	}
	say("Salt:", b.Salt, "")
	say("Yeast:", b.Yeast, "")
	say("Chemical leavening:", b.Chemical, "")
	for _, p := range b.Preferments {
		all = append(all, fmt.Sprintf("%s: %s of the flour, at a hydration of %s of its own.", capital(p.Name), percent(p.OfFlour), percent(p.Hydration)))
	}
	return all
}

// resolutions are the amounts that an instrument leaves known only roughly, in
// words, at the size that was tested.
func resolutions(t *trial.Trial) []string {
	var all []string
	for _, i := range t.Recipe.Scale(t.TestedAt).Ingredients {
		if r, ok := i.Resolution(t.Kitchen.Instruments); ok && r.Grade > recipe.Fine && i.Amount.Dimension() == quantity.Mass {
			all = append(all, capital(r.Words)+".")
		}
	}
	return all
}
