package findings

import (
	"slices"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
)

// Pantry is one food with every trial that used it.
type Pantry struct {
	Key     string      // as [FoodKey] has it
	Name    string      // as the oldest trial writes it
	Row     string      // what the food table calls it; empty where it does not have the food
	Written []string    // how else notes write it, as they come
	Uses    []PantryUse // oldest first; of many, perhaps no more than the newest
	// Trials is how many used the food, and VariedIn in how many of them it was varied.
	Trials, VariedIn int
}

// PantryUse is one trial that used the food.
type PantryUse struct {
	Study *Study
	*FoodUse
}

// FoodUse is what a trial did with a food, in plain values as a [Study] holds them.
type FoodUse struct {
	Key     string   // as [FoodKey] has it
	Written []string // how the note writes the food, as it comes; at least one
	Row     string   // what the food table calls it; empty where it does not have the food
	// Lines are those of the recipe as it is written, at full size; none where only a
	// sample adds the food.
	Lines []string
	// Varied says that the samples were planned with different amounts of it, or some
	// without; Levels are then what each had, in the order of the samples. Factors are
	// the roles in which they differ.
	Varied  bool
	Levels  []FoodLevel
	Factors []design.Factor
}

// FoodLevel is what one sample had of a food: its lines, "" for none.
type FoodLevel struct{ Letter, Name, Text string }

// PantryOf lists every food that trials used, by its row of the food table or, where
// it has none, by its name. Foods come in the order in which they were first used.
func PantryOf(all []*Study) []Pantry {
	var found []Pantry
	at := map[string]int{}
	for _, s := range byDate(all) {
		for i := range s.Foods {
			u := &s.Foods[i]
			n, known := at[u.Key]
			if !known {
				n = len(found)
				at[u.Key] = n
				found = append(found, Pantry{Key: u.Key, Name: u.Written[0], Row: u.Row})
			}
			p := &found[n]
			for _, name := range u.Written {
				if !SameWords(name, p.Name) {
					p.Written = AddWords(p.Written, name)
				}
			}
			p.Uses = append(p.Uses, PantryUse{Study: s, FoodUse: u})
			p.Trials++
			if u.Varied {
				p.VariedIn++
			}
		}
	}
	return found
}

// Factors are the roles in which the food was varied, each once.
func (p *Pantry) Factors() []design.Factor {
	var factors []design.Factor
	seen := map[design.Factor]bool{}
	for _, u := range p.Uses {
		for _, f := range u.Factors {
			if !seen[f] {
				seen[f] = true
				factors = append(factors, f)
			}
		}
	}
	return factors
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

// foodsOf are the ingredients of the recipe and of every sample.
func foodsOf(t *trial.Trial) []recipe.Ingredient {
	all := slices.Clone(t.Recipe.Ingredients)
	for _, s := range t.Ordered() {
		all = append(all, s.Plan.Ingredients...)
	}
	return all
}

// AddWords adds a name unless it is there already, in whatever letters.
func AddWords(names []string, name string) []string {
	if slices.ContainsFunc(names, func(w string) bool { return SameWords(w, name) }) {
		return names
	}
	return append(names, name)
}

// foodUses is what the trial did with each of its foods, in the order in which the recipe
// and then the samples name them.
func (f *Findings) foodUses() []FoodUse {
	var uses []FoodUse
	at := map[string]int{}
	for _, i := range foodsOf(f.Trial) {
		key := FoodKey(i)
		n, known := at[key]
		if !known {
			n = len(uses)
			at[key] = n
			uses = append(uses, f.use(key))
			if i.Found {
				uses[n].Row = i.Match.Food.Description
			}
		}
		uses[n].Written = AddWords(uses[n].Written, i.Food)
	}
	return uses
}

// use is what a trial did with a food.
func (f *Findings) use(key string) FoodUse {
	t := f.Trial
	u := FoodUse{Key: key, Lines: linesOf(t, t.Recipe, key)}
	for i := range f.Samples {
		s := &f.Samples[i]
		text := ""
		for n, line := range linesOf(t, s.Plan, key) {
			if n > 0 {
				text += "; "
			}
			text += line
		}
		u.Levels = append(u.Levels, FoodLevel{Letter: s.Letter, Name: s.Name, Text: text})
		u.Varied = u.Varied || text != u.Levels[0].Text
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

// Use is what the study did with the food of a key; empty where it did not use it.
func (s *Study) Use(key string) []PantryUse {
	for i := range s.Foods {
		if s.Foods[i].Key == key {
			return []PantryUse{{Study: s, FoodUse: &s.Foods[i]}}
		}
	}
	return nil
}
