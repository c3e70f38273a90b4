package findings

import (
	"cmp"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// The lists of allergens.
const (
	USList = "us" // the nine major allergens of US law
	EUList = "eu" // the fourteen of Regulation (EU) No 1169/2011, Annex II
)

// Allergens is what the names of the ingredients, and the note, point to. An
// allergen that is not there is not known to be absent: nothing here says that
// something is free of anything. [food.Notice] belongs beside whatever is shown.
type Allergens struct {
	Found     []Allergen // surest first, then in the order of the lists
	TakenAway []Allergen // by the note's "free of", on the word of a label
	Exempt    []Exempt   // what looks like an allergen and is none
}

// Allergen is an entry of one list, with what it comes from.
type Allergen struct {
	Name     string // as the list has it: "tree nuts", "cereals containing gluten"
	List     string // USList or EUList
	Strength food.Strength
	From     []AllergenSource // surest first, then as in the recipe
	Stated   bool             // the note says that it is in there, in every sample
	Samples  []SampleAllergen // by sample, in the order of the findings; nil where they are alike
}

// AllergenSource is an ingredient that points to an allergen.
type AllergenSource struct {
	Role, Food string
	Strength   food.Strength
	Because    food.Reason
	Samples    []string // keys of those that have it; empty: only the recipe as written
}

// SampleAllergen is an allergen in one sample; None says that nothing points to it.
type SampleAllergen struct {
	Sample   string
	Strength food.Strength
	Roles    []string
}

// Exempt is an ingredient that looks like an allergen, and why it is none.
type Exempt struct {
	Food    string
	Because food.Reason
}

// AllergenName is an allergen in the words of a language, by the list and the name
// that it has there; without words of the language's own it keeps that name.
func AllergenName(l *wording.Language, list, name string) string {
	say, key := allergenPhrases(l), "name "+list+" "+name
	if !say.Has(key) {
		return name
	}
	return say.Say(key)
}

// AllergenNotice is the sentence that belongs beside a list of allergens in a file,
// as [food.Notice] has it.
func AllergenNotice(l *wording.Language) string { return allergenPhrases(l).Say("notice in data") }

// allergenPhrases are the words of allergens; a kitchen without words speaks English.
func allergenPhrases(l *wording.Language) wording.Phrases {
	if l == nil {
		l = wording.English()
	}
	return l.Of("allergens")
}

// In returns what points to the allergen in one sample, and how surely.
func (a Allergen) In(sample string) (food.Strength, []AllergenSource) {
	strength := food.None
	if a.Stated {
		strength = food.Contains
	}
	var from []AllergenSource
	for _, s := range a.From {
		if slices.Contains(s.Samples, sample) {
			from = append(from, s)
			strength = max(strength, s.Strength)
		}
	}
	return strength, from
}

// allergens gathers, for every sample, what its ingredients point to, on the lists
// that the kitchen goes by. What the note says is in there counts on any list.
func allergens(t *trial.Trial) Allergens {
	g := &allergenGathering{trial: t}
	for _, i := range t.Recipe.Ingredients {
		g.ingredient(i, "")
	}
	for _, s := range t.Ordered() {
		for _, i := range s.Plan.Ingredients {
			g.ingredient(i, s.Key)
		}
	}
	for _, stated := range t.Allergens.Contains {
		g.stated(stated.ListedAllergen)
	}
	return Allergens{Found: g.settled(g.found), TakenAway: g.settled(g.taken), Exempt: g.exempt}
}

// allergenGathering is under way.
type allergenGathering struct {
	trial        *trial.Trial
	found, taken []Allergen
	exempt       []Exempt
}

// lists says whose names the kitchen wants.
func (g *allergenGathering) lists() (us, eu bool) {
	setting := string(g.trial.Kitchen.Allergens)
	return setting != EUList, setting == EUList || setting == "both"
}

// ingredient enters what an ingredient of a sample points to; without a sample,
// of the recipe.
func (g *allergenGathering) ingredient(i recipe.Ingredient, sample string) {
	us, eu := g.lists()
	for _, a := range g.trial.AllergensIn(i) {
		source := AllergenSource{Role: i.Role, Food: i.Food, Strength: a.Strength, Because: a.Because}
		takenUS, takenEU := g.takes(a)
		if us && a.US != "" {
			enter(g.side(takenUS), Allergen{Name: a.US, List: USList}, source, sample)
		}
		if eu && a.EU != "" {
			enter(g.side(takenEU), Allergen{Name: a.EU, List: EUList}, source, sample)
		}
	}
	for _, a := range trial.ExemptIn(i) {
		e := Exempt{Food: i.Food, Because: a.Because}
		if !slices.ContainsFunc(g.exempt, func(o Exempt) bool { return o.Food == e.Food }) {
			g.exempt = append(g.exempt, e)
		}
	}
}

func (g *allergenGathering) side(taken bool) *[]Allergen {
	if taken {
		return &g.taken
	}
	return &g.found
}

// takes says on which list the note takes a finding away.
func (g *allergenGathering) takes(a food.Allergen) (us, eu bool) {
	for _, stated := range g.trial.Allergens.FreeOf {
		u, e := stated.Takes(a)
		us, eu = us || u, eu || e
	}
	return us, eu
}

// enter puts a source under its allergen, once a role and food.
func enter(all *[]Allergen, a Allergen, source AllergenSource, sample string) {
	at := slices.IndexFunc(*all, func(o Allergen) bool { return o.Name == a.Name && o.List == a.List })
	if at < 0 {
		at = len(*all)
		*all = append(*all, a)
	}
	entry := &(*all)[at]
	entry.Strength = max(entry.Strength, source.Strength)
	from := slices.IndexFunc(entry.From, func(o AllergenSource) bool { return o.Role == source.Role && o.Food == source.Food })
	if from < 0 {
		from = len(entry.From)
		entry.From = append(entry.From, source)
	}
	known := &entry.From[from]
	known.Strength = max(known.Strength, source.Strength)
	if sample != "" && !slices.Contains(known.Samples, sample) {
		known.Samples = append(known.Samples, sample)
	}
}

// stated enters what the note says is in there. Where the kitchen's list does not
// have it, it stands under the name that the other list has.
func (g *allergenGathering) stated(l trial.ListedAllergen) {
	us, eu := g.lists()
	add := func(name, list string) {
		at := slices.IndexFunc(g.found, func(o Allergen) bool { return o.Name == name && o.List == list })
		if at < 0 {
			at = len(g.found)
			g.found = append(g.found, Allergen{Name: name, List: list})
		}
		g.found[at].Stated, g.found[at].Strength = true, food.Contains
	}
	if l.US != "" && us {
		add(l.US, USList)
	}
	if l.EU != "" && (eu || l.US == "") {
		add(l.EU, EUList)
	}
}

// settled sorts the entries and says where samples differ.
func (g *allergenGathering) settled(all []Allergen) []Allergen {
	slices.SortStableFunc(all, func(a, b Allergen) int {
		return cmp.Or(cmp.Compare(b.Strength, a.Strength), cmp.Compare(place(a), place(b)),
			-strings.Compare(a.List, b.List), strings.Compare(a.Name, b.Name))
	})
	for i := range all {
		slices.SortStableFunc(all[i].From, func(a, b AllergenSource) int { return cmp.Compare(b.Strength, a.Strength) })
		all[i].Samples = g.bySample(all[i])
	}
	return all
}

// place is the entry's place on the lists.
func place(a Allergen) int {
	return slices.IndexFunc(trial.ListedAllergens(), func(l trial.ListedAllergen) bool {
		return a.Name == l.US && a.List == USList || a.Name == l.EU && a.List == EUList
	})
}

// bySample returns nil where all samples have the allergen alike: as surely, and
// from the same ingredients.
func (g *allergenGathering) bySample(a Allergen) []SampleAllergen {
	var all []SampleAllergen
	alike := true
	for _, s := range g.trial.Ordered() {
		strength, from := a.In(s.Key)
		entry := SampleAllergen{Sample: s.Key, Strength: strength}
		for _, source := range from {
			entry.Roles = append(entry.Roles, source.Role)
		}
		all = append(all, entry)
		alike = alike && strength == a.Strength && slices.Equal(entry.Roles, all[0].Roles)
	}
	if alike {
		return nil
	}
	return all
}
