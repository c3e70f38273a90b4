package trial

import (
	"errors"
	"regexp"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

// recipe reads the recipe block. The amounts are kept for the full batch.
func (r *reader) recipe(f *yamldoc.Field) {
	t := r.trial
	t.WrittenFor, t.TestedAt = quantity.Int(1), quantity.Int(1)
	if f == nil {
		return
	}
	m := f.Map(r.problems)
	if m == nil {
		return
	}
	t.Recipe.Name = r.needed(m, "name")
	t.Recipe.Makes = r.yield(m.Get("makes"))
	if size, ok := r.size(m.Get("amounts for")); ok {
		t.WrittenFor, t.TestedAt = size, size
	}
	if size, ok := r.size(m.Get("tested at")); ok {
		t.TestedAt = size
	}
	for _, e := range m.Need("ingredients").Entries(r.problems) {
		r.ingredients(e)
	}
	t.Recipe.Steps = r.texts(m.Get("steps"), mostSteps, "steps")
	r.placeholders(m.Get("steps"))
	t.Recipe.Times = r.times(m.Get("times"))
	// Flours and what stands beside may be roles that only a sample adds, so they
	// are checked once the samples are read.
	t.Recipe.Flours = r.texts(m.Get("flours"), mostIngredients, "flours")
	t.Recipe.Beside = r.texts(m.Get("beside"), mostIngredients, "ingredients")
	t.roleLists = []*yamldoc.Field{m.Get("flours"), m.Get("beside")}
	m.Done()
}

// ingredients reads a role, or a group of roles, into the recipe.
func (r *reader) ingredients(e yamldoc.Entry) {
	if e.Value.Kind() != yamldoc.Mapping {
		r.addIngredient(e.Key, e.Value)
		return
	}
	for _, member := range e.Value.Entries(r.problems) {
		r.addIngredient(e.Key+"/"+member.Key, member.Value)
	}
}

func (r *reader) addIngredient(role string, f *yamldoc.Field) {
	if r.isFull(r.trial.Recipe, f.KeyPos()) {
		return
	}
	i, ok := r.ingredient(role, f, nil)
	if !ok {
		return
	}
	t := r.trial
	t.Recipe = t.Recipe.With(i)
	if t.ingredientPlaces == nil {
		t.ingredientPlaces = map[string]problem.Pos{}
	}
	t.ingredientPlaces[role] = f.Pos()
}

// ingredient reads one line: amount, unit, food[, preparation]. Where it takes the
// place of an earlier one, an amount alone keeps that one's food. The result is
// for the full batch.
func (r *reader) ingredient(role string, f *yamldoc.Field, earlier *recipe.Ingredient) (recipe.Ingredient, bool) {
	text, ok := f.Text(r.problems)
	if !ok {
		return recipe.Ingredient{}, false
	}
	amount, rest, err := quantity.ParseLeading(text, r.kitchen.Instruments.Volumes)
	if err != nil {
		r.badAmount(f, err)
		return recipe.Ingredient{}, false
	}
	i := recipe.Ingredient{Role: role, Amount: r.full(amount)}
	switch {
	case rest == "" && earlier == nil:
		r.problems.Hinted(f.Pos(), problem.BadAmount, "write it like 300 g all-purpose flour",
			"%q says how much, but not of what", text)
		return recipe.Ingredient{}, false
	case rest == "":
		i.Food, i.Preparation, i.Match, i.Found = earlier.Food, earlier.Preparation, earlier.Match, earlier.Found
	default:
		i.Food, i.Preparation = cutPreparation(rest)
		i.Match, i.Found = r.find(role, i.Food)
	}
	if !r.isIngredient(f, text, amount, i) {
		return recipe.Ingredient{}, false
	}
	return i, true
}

// isIngredient reports what an ingredient's amount cannot be, or leaves open.
func (r *reader) isIngredient(f *yamldoc.Field, text string, amount quantity.Amount, i recipe.Ingredient) bool {
	switch amount.Dimension() {
	case quantity.Mass, quantity.Volume, quantity.Count, quantity.Length:
	default:
		r.problems.Hinted(f.Pos(), problem.WrongUnit, "an ingredient has a mass, a volume or a number",
			"%q is no amount of an ingredient", text)
		return false
	}
	if amount.Dimension() == quantity.Count && !amount.IsToTaste() && !i.Found {
		word, _, _ := strings.Cut(i.Food, " ")
		if near, ok := quantity.LooksLikeUnit(word); ok {
			r.problems.Hinted(f.PosAt(runesBefore(text, i.Food)), problem.UnknownUnit, "did you mean "+near+"?",
				"%q is not a unit", word)
			return false
		}
	}
	if !i.Found && i.Food != "" {
		r.unknownFood(f.PosAt(runesBefore(text, i.Food)), i.Food)
	}
	if amount.Unit() == quantity.Ounce && i.Found && food.IsLiquid(i.Match.Food) {
		r.problems.Ask(f.Pos(), problem.OunceLiquid, "write fl oz for the volume; oz is read as mass",
			"is %q of a liquid weighed or measured?", text)
	}
	return true
}

// find returns the food of a role: the row that the note names, or the one that the
// table has under the name.
func (r *reader) find(role, name string) (food.Match, bool) {
	if match, named := r.foods[role]; named {
		match.Name = name
		return match, true
	}
	return food.Find(name)
}

// foodRows reads foods:, which names rows of the food table by role, for a food
// whose everyday name the table does not have, or has for another food.
func (r *reader) foodRows(f *yamldoc.Field) map[string]food.Match {
	rows := map[string]food.Match{}
	for _, e := range f.Entries(r.problems) {
		id, ok := e.Value.Text(r.problems)
		if !ok {
			continue
		}
		row, found := food.Get(food.ID(id))
		if !found {
			r.problems.Hinted(e.Value.Pos(), problem.UnknownFood, "sidebatch foods WORDS prints the numbers", "the food table has no row %q", id)
			continue
		}
		rows[e.Key] = food.Match{Food: row, Via: food.ByID}
		r.trial.foodPlaces = append(r.trial.foodPlaces, e)
	}
	return rows
}

// unknownFood asks about a food that the table does not have: its density and its
// nutrients will be missing.
func (r *reader) unknownFood(at problem.Pos, name string) {
	var near []string
	for _, match := range food.Nearest(name, 3) {
		near = append(near, match.Name)
	}
	hint := "its nutrients and density will be missing"
	if len(near) > 0 {
		hint += "; near it are " + strings.Join(near, "; ")
	}
	r.problems.Ask(at, problem.UnknownFood, hint, "the food table has no %q", name)
}

func runesBefore(text, part string) int {
	at := strings.Index(text, part)
	return len([]rune(text[:max(at, 0)]))
}

// cutPreparation parts "scallions, thinly sliced". A name that the food table has
// with its comma stays whole.
func cutPreparation(words string) (name, preparation string) {
	name, preparation, cut := strings.Cut(words, ", ")
	if cut {
		if _, whole := food.Find(words); whole {
			return words, ""
		}
	}
	return strings.TrimSpace(name), strings.TrimSpace(preparation)
}

// full brings an amount from the size that the note is written for to the full
// batch.
func (r *reader) full(a quantity.Amount) quantity.Amount {
	by, ok := quantity.Int(1).Quo(r.trial.WrittenFor)
	if !ok {
		return a
	}
	return a.Scale(by)
}

func (r *reader) badAmount(f *yamldoc.Field, err error) {
	var syntax *quantity.SyntaxError
	if !errors.As(err, &syntax) {
		r.problems.Errorf(f.Pos(), problem.BadAmount, "%v", err)
		return
	}
	code := problem.BadAmount
	if syntax.Word != "" {
		code = problem.UnknownUnit
	}
	r.problems.Hinted(f.PosAt(syntax.Offset), code, syntax.Hint, "%s", syntax.What)
}

func (r *reader) yield(f *yamldoc.Field) recipe.Yield {
	text, ok := f.Text(r.problems)
	if !ok {
		return recipe.Yield{}
	}
	amount, what, err := quantity.ParseLeading(text, r.kitchen.Instruments.Volumes)
	if err != nil || amount.IsRange() || amount.IsToTaste() || amount.Low().Sign() <= 0 {
		r.problems.Hinted(f.Pos(), problem.BadAmount, "write it like 12 pancakes",
			"%q does not say how many pieces a full batch makes", text)
		return recipe.Yield{}
	}
	// Soup makes 4 cups: then the cups are what is counted.
	if unit := amount.Unit(); unit != quantity.Each {
		volumes := r.kitchen.Instruments.Volumes
		what = strings.TrimSpace(unit.SymbolIn(volumes, amount.Low().Cmp(quantity.Int(1)) > 0) + " " + what)
	}
	return recipe.Yield{Count: amount.Low(), What: what}
}

// sizeWords are the batch sizes that have a name.
func sizeWords() map[string]quantity.Number {
	return map[string]quantity.Number{
		"full": quantity.Int(1), "half": quantity.Ratio(1, 2), "third": quantity.Ratio(1, 3),
		"quarter": quantity.Ratio(1, 4), "double": quantity.Int(2),
	}
}

// size reads "half batch", "a third", "1/3 batch".
func (r *reader) size(f *yamldoc.Field) (quantity.Number, bool) {
	text, ok := f.Text(r.problems)
	if !ok {
		return quantity.Number{}, false
	}
	word := strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(text, "a "), "batch"))
	if size, named := sizeWords()[word]; named {
		return size, true
	}
	size, err := quantity.ParseNumber(word)
	if err != nil || size.Sign() <= 0 || size.Cmp(quantity.Int(100)) > 0 {
		r.problems.Hinted(f.Pos(), problem.BadWord, "write it like half batch, full batch or 1/3 batch",
			"%q is not a batch size", text)
		return quantity.Number{}, false
	}
	return size, true
}

func (r *reader) times(f *yamldoc.Field) recipe.Times {
	var times recipe.Times
	if f == nil {
		return times
	}
	m := f.Map(r.problems)
	if m == nil {
		return times
	}
	times.Prepare = r.duration(m.Get("prepare"))
	times.Wait = r.duration(m.Get("wait"))
	times.Cook = r.duration(m.Get("cook"))
	m.Done()
	return times
}

func (r *reader) duration(f *yamldoc.Field) quantity.Amount {
	text, ok := f.Text(r.problems)
	if !ok {
		return quantity.Amount{}
	}
	amount, err := quantity.ParseTime(text)
	if err != nil {
		r.badAmount(f, err)
		return quantity.Amount{}
	}
	return amount
}

var placeholder = regexp.MustCompile(`\{([^{}]*)\}`)

// placeholders checks that every {name} in a step is a condition.
func (r *reader) placeholders(f *yamldoc.Field) {
	if f == nil || f.Kind() != yamldoc.List {
		return
	}
	var known []string
	for _, c := range r.trial.Conditions {
		known = append(known, c.Name)
	}
	for _, step := range f.Items(r.problems) {
		text, ok := step.Text(nil)
		if !ok {
			continue
		}
		for _, at := range placeholder.FindAllStringSubmatchIndex(text, -1) {
			name := text[at[2]:at[3]]
			if !slices.Contains(known, name) {
				r.problems.Hinted(step.PosAt(len([]rune(text[:at[2]]))), problem.UnknownName,
					problem.DidYouMean(name, known), "no condition is called %q", name)
			}
		}
	}
}

// Steps returns the recipe's steps with a sample's conditions filled in, or with
// the recipe's own for nil.
func (t *Trial) Steps(s *Sample) []string {
	conditions := t.Conditions
	if s != nil {
		conditions = s.Conditions
	}
	steps := make([]string, len(t.Recipe.Steps))
	for i, step := range t.Recipe.Steps {
		steps[i] = placeholder.ReplaceAllStringFunc(step, func(mark string) string {
			for _, c := range conditions {
				if c.Name == mark[1:len(mark)-1] {
					return c.Value
				}
			}
			return mark
		})
	}
	return steps
}
