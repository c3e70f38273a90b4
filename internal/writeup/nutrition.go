package writeup

import (
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
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
	say := phrasesOf(t)
	v := &page.Nutrition{Tables: []page.Table{say.nutritionTable(r, n)}}
	v.Missing = n.Batch.Dough.Of(food.Energy).Missing
	v.Notes = append(v.Notes, say.Say("added up raw"))
	v.Notes = append(v.Notes, say.beside(r, n)...)
	v.Notes = append(v.Notes, say.gaps(n)...)
	v.Notes = append(v.Notes, say.saturated(n)...)
	v.Notes = append(v.Notes, say.sources(n)...)
	return v
}

func (say phrases) nutritionTable(r recipe.Recipe, n recipe.Nutrition) page.Table {
	table := page.Table{Caption: say.Say("what it holds"), Head: []string{""}, Numeric: []bool{false}}
	var columns []recipe.Sums
	add := func(head string, sums recipe.Sums) {
		if sums == nil {
			return
		}
		table.Head = append(table.Head, head)
		table.Numeric = append(table.Numeric, true)
		columns = append(columns, sums)
	}
	add(say.Say("one of", "yield", yield(r.Makes)), n.Piece.Dough)
	add(say.Say("100 g, raw"), n.Hundred)
	add(say.Say("full batch"), n.Batch.Dough)
	table.Rows = say.nutrientRows(labelRows(), columns)
	return table
}

func (say phrases) nutrientRows(nutrients []food.Nutrient, columns []recipe.Sums) [][]string {
	var rows [][]string
	for _, nutrient := range nutrients {
		row := []string{say.nutrient(nutrient)}
		for _, sums := range columns {
			row = append(row, say.sum(sums, nutrient))
		}
		rows = append(rows, row)
	}
	return rows
}

// nutrient names a nutrient in the language; one that no table of a write-up shows
// keeps its own name.
func (say phrases) nutrient(n food.Nutrient) string {
	if key := "nutrient " + n.Name(); say.Has(key) {
		return say.Say(key)
	}
	return n.Name()
}

// sum writes how much there is of a nutrient, rounded as on a US-style label.
func (say phrases) sum(sums recipe.Sums, n food.Nutrient) string {
	if r, known := sums.Of(n).Rounded(n); known {
		return say.rounded(r)
	}
	return say.Say("not known")
}

// beside says how much more there is in what is used beside the dough.
func (say phrases) beside(r recipe.Recipe, n recipe.Nutrition) []string {
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
	return []string{say.Say("not counted", "foods", strings.Join(foods, ", "), "energy", say.sum(n.Batch.Beside, food.Energy))}
}

// gaps names the nutrients for which the table reports nothing, and of what.
func (say phrases) gaps(n recipe.Nutrition) []string {
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
		byRoles[roles] = append(byRoles[roles], say.nutrient(nutrient))
	}
	var all []string
	for _, roles := range order {
		all = append(all, say.Say("not reported", "nutrients", wording.Capital(strings.Join(byRoles[roles], ", ")), "roles", roles))
	}
	return all
}

// saturated holds the share of energy from saturated fat beside the share that
// the Dietary Guidelines speak of, which is one of a whole day.
func (say phrases) saturated(n recipe.Nutrition) []string {
	share, ok := n.Batch.Dough.SaturatedShare()
	if !ok {
		return nil
	}
	fill := []string{"share", say.decimal(share.Percent, 0), "limit", say.decimal(recipe.SaturatedPercent(), 0)}
	switch share.Bound {
	case recipe.AtLeast:
		return []string{say.Say("saturated share at least", fill...)}
	case recipe.AtMost:
		return []string{say.Say("saturated share at most", fill...)}
	case recipe.Unbounded:
		return []string{say.Say("saturated share unbounded", fill...)}
	}
	return []string{say.Say("saturated share", fill...)}
}

// sources says where figures come from that are not the food's own row.
func (say phrases) sources(n recipe.Nutrition) []string {
	var all []string
	for _, s := range n.StandIns {
		all = append(all, say.Say("stand-in row", "food", s.Food, "row", s.Row, "note", strings.TrimSuffix(wording.Capital(s.Note), ".")))
	}
	for _, d := range n.Dated {
		all = append(all, say.Say("dated fat", "food", d.Food))
	}
	for _, l := range n.Labels {
		if !l.Unserved {
			all = append(all, say.Say("from the label", "food", l.Food))
		}
	}
	return append(all, say.Say("source of figures", "table", food.Source().Name))
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
	say, v := phrasesOf(f.Trial), &page.Nutrition{}
	for _, swap := range Swaps(f) {
		if !worthATable(swap) {
			continue
		}
		v.Tables = append(v.Tables, SwapTable(f, swap))
		for _, o := range swap.Options {
			if o.StandIn != "" {
				v.Notes = append(v.Notes, say.Say("stand-in", "food", o.Line.Food, "note", strings.TrimSuffix(o.StandIn, ".")))
			}
			if o.Dated {
				v.Notes = append(v.Notes, say.Say("dated fat", "food", o.Line.Food))
			}
		}
	}
	if len(v.Tables) == 0 {
		return nil
	}
	v.Notes = append(v.Notes, say.Say("rounded as on a label"))
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
	say := phrasesOf(f.Trial)
	table := page.Table{Caption: say.Say("side by side", "role", wording.Capital(swap.Role)), Head: []string{""}, Numeric: []bool{false}}
	var columns []recipe.Sums
	for _, o := range swap.Options {
		name := SwapName(f, o)
		if o.Absent {
			continue
		}
		if o.Tablespoon.Of(food.Energy).Known() {
			table.Head = append(table.Head, say.Say("of a tablespoon", "food", name))
			columns = append(columns, o.Tablespoon)
		}
		if o.Piece != nil {
			table.Head = append(table.Head, say.Say("in one piece", "food", name))
			columns = append(columns, o.Piece)
		}
	}
	for range columns {
		table.Numeric = append(table.Numeric, true)
	}
	table.Rows = say.nutrientRows(recipe.SwapNutrients(), columns)
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
		name = phrasesOf(f.Trial).Say("none")
	}
	return strings.Join(letters, ", ") + " " + name
}

// bakerNotes are the figures of a baker's page beside the percentages.
func (say phrases) bakerNotes(r recipe.Recipe) []string {
	b, ok := r.Baker()
	if !ok {
		return nil
	}
	var all []string
	add := func(key string, s recipe.Shares) {
		if s.Total.Sign() > 0 {
			all = append(all, say.Say(key, "share", say.atLeast(say.percent(s.Total), len(s.Missing) > 0)))
		}
	}
	if b.Wet.Total.Cmp(b.Total.Hydration) > 0 {
		add("share of all water", b.Wet)
	}
	add("share of salt", b.Salt)
	add("share of yeast", b.Yeast)
	add("share of chemical leavening", b.Chemical)
	for _, p := range b.Preferments {
		all = append(all, say.Say("preferment", "name", wording.Capital(p.Name), "share", say.percent(p.OfFlour), "hydration", say.percent(p.Hydration)))
	}
	return all
}

// resolutions are the amounts that an instrument leaves known only roughly, in
// words, at the size that was tested.
func resolutions(t *trial.Trial) []string {
	var all []string
	for _, i := range t.Recipe.Scale(t.TestedAt).Ingredients {
		if r, ok := i.Resolution(t.Kitchen.Instruments); ok && r.Grade > recipe.Fine && i.Amount.Dimension() == quantity.Mass {
			all = append(all, wording.Capital(trial.ResolutionWords(phrasesOf(t).Language(), t.Kitchen.Instruments, i.Food, r))+".")
		}
	}
	return all
}
