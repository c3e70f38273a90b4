package findings

import (
	"cmp"
	"slices"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
)

// Pantry is one food with every trial that used it.
type Pantry struct {
	Key     string     // as [FoodKey] has it
	Name    string     // as the oldest trial writes it
	Row     *food.Food // of the food table; nil where it does not have the food
	Written []string   // how else notes write it, as they come
	Uses    []FoodUse  // oldest first
}

// FoodUse is one trial that used a food.
type FoodUse struct {
	Findings *Findings
	// Lines are those of the recipe as it is written, at full size; none where only a
	// sample adds the food.
	Lines []string
	// Varied says that the samples were planned with different amounts of it, or some
	// without; Levels are then what each had, in the order of the samples, "" for
	// none. Factors are the roles in which they differ.
	Varied  bool
	Levels  []string
	Factors []design.Factor
}

// PantryOf lists every food that trials used, by its row of the food table or, where
// it has none, by its name. Foods come in the order in which they were first used.
func PantryOf(all []*Findings) []Pantry {
	byDate := slices.Clone(all)
	slices.SortStableFunc(byDate, func(a, b *Findings) int {
		return cmp.Or(a.Day().Compare(b.Day()), cmp.Compare(a.Trial.Slug, b.Trial.Slug))
	})
	var found []Pantry
	at := map[string]int{}
	for _, f := range byDate {
		for _, i := range foodsOf(f.Trial) {
			key := FoodKey(i)
			n, known := at[key]
			if !known {
				n = len(found)
				at[key] = n
				found = append(found, Pantry{Key: key, Name: i.Food})
				if i.Found {
					found[n].Row = i.Match.Food
				}
			}
			found[n].write(i.Food)
			if last := len(found[n].Uses) - 1; last < 0 || found[n].Uses[last].Findings != f {
				found[n].Uses = append(found[n].Uses, f.use(key))
			}
		}
	}
	return found
}

// FoodKey is alike for ingredients of the same food.
func FoodKey(i recipe.Ingredient) string {
	if i.Found {
		return "row " + string(i.Match.Food.ID)
	}
	return "name " + trial.AddressName(i.Food)
}

// FoodKeys are the keys of all foods of a trial, each once.
func FoodKeys(t *trial.Trial) []string {
	var keys []string
	for _, i := range foodsOf(t) {
		if key := FoodKey(i); !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	return keys
}

// IsFactor reports whether the food was varied as the factor with that key.
func (u FoodUse) IsFactor(key string) bool {
	return slices.ContainsFunc(u.Factors, func(f design.Factor) bool { return FactorKey(f) == key })
}

// foodsOf are the ingredients of the recipe and of every sample.
func foodsOf(t *trial.Trial) []recipe.Ingredient {
	all := slices.Clone(t.Recipe.Ingredients)
	for _, s := range t.Ordered() {
		all = append(all, s.Plan.Ingredients...)
	}
	return all
}

func (p *Pantry) write(name string) {
	if !sameWords(name, p.Name) && !slices.ContainsFunc(p.Written, func(w string) bool { return sameWords(w, name) }) {
		p.Written = append(p.Written, name)
	}
}

// use is what a trial did with a food.
func (f *Findings) use(key string) FoodUse {
	t := f.Trial
	u := FoodUse{Findings: f, Lines: linesOf(t, t.Recipe, key)}
	for i := range f.Samples {
		text := ""
		for n, line := range linesOf(t, f.Samples[i].Plan, key) {
			if n > 0 {
				text += "; "
			}
			text += line
		}
		u.Levels = append(u.Levels, text)
		u.Varied = u.Varied || text != u.Levels[0]
	}
	if !u.Varied {
		u.Levels = nil
		return u
	}
	for _, i := range foodsOf(t) {
		factor := design.Factor{Kind: design.Ingredient, Name: i.Role}
		if FoodKey(i) == key && f.varies(factor) && !slices.Contains(u.Factors, factor) {
			u.Factors = append(u.Factors, factor)
		}
	}
	return u
}

// varies reports whether a factor was planned to differ in any contrast.
func (f *Findings) varies(factor design.Factor) bool {
	return slices.ContainsFunc(f.Contrasts, func(c Contrast) bool {
		return slices.ContainsFunc(c.Planned, func(d design.Difference) bool { return d.Factor == factor })
	})
}

// linesOf are the lines of a recipe with a food.
func linesOf(t *trial.Trial, r recipe.Recipe, key string) []string {
	var lines []string
	for _, i := range r.Ingredients {
		if FoodKey(i) == key {
			lines = append(lines, i.Text(t.Kitchen.Instruments))
		}
	}
	return lines
}
