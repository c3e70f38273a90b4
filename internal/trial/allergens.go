package trial

import (
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

// Allergens is what a note says of allergens, over what the names of its
// ingredients point to. It speaks of every sample.
type Allergens struct {
	Contains []StatedAllergen // in there, whatever the names say
	FreeOf   []StatedAllergen // not in there, as the labels of what was used say
}

// StatedAllergen is an allergen that the note names.
type StatedAllergen struct {
	ListedAllergen
	Place problem.Pos
}

// ListedAllergen is an allergen under the names that the laws have for it. One of
// the two may be empty: US law has no mustard, and gluten is more than wheat.
type ListedAllergen struct {
	US string // one of the nine
	EU string // one of the fourteen
}

// Name is the name that readers of the US list, or else those of the EU list, know.
func (l ListedAllergen) Name() string {
	if l.US != "" {
		return l.US
	}
	return l.EU
}

// ListedAllergens are the nine major allergens of US law, each with its entry in
// the EU list, and then the five that only the EU list has.
//
// Sources: Food Allergen Labeling and Consumer Protection Act of 2004 and FASTER
// Act of 2021; Regulation (EU) No 1169/2011, Annex II.
func ListedAllergens() []ListedAllergen {
	return []ListedAllergen{
		{"milk", "milk"}, {"eggs", "eggs"}, {"fish", "fish"}, {"Crustacean shellfish", "crustaceans"},
		{"tree nuts", "nuts"}, {"peanuts", "peanuts"}, {"wheat", "cereals containing gluten"},
		{"soybeans", "soybeans"}, {"sesame", "sesame seeds"},
		{"", "celery"}, {"", "mustard"}, {"", "sulphur dioxide and sulphites"}, {"", "lupin"}, {"", "molluscs"},
	}
}

// Takes says which of the two names of a finding a "free of" takes away. Wheat is
// one of the gluten cereals: being free of it says nothing of barley, and being
// free of gluten nothing of wheat starch, so each takes away no more than it says.
func (l ListedAllergen) Takes(a food.Allergen) (us, eu bool) {
	us = a.US != "" && a.US == l.US
	eu = a.EU != "" && a.EU == l.EU && (us || l.US == "")
	return us, eu
}

// AllergensIn returns what an ingredient points to. A stand-in of the food table is
// another thing than what was used, so its row says nothing. What the preparation
// names ("rolled in sesame", "the size of a walnut") is to be checked, no more. Names
// in the kitchen's language are looked at in English.
func (t *Trial) AllergensIn(i recipe.Ingredient) []food.Allergen {
	found := food.Allergens(food.InEnglish(t.Kitchen.Language, i.Food), tableRow(i))
	for _, a := range food.Allergens(food.InEnglish(t.Kitchen.Language, i.Preparation), nil) {
		a.Strength = food.Check
		if !slices.ContainsFunc(found, func(b food.Allergen) bool { return a.US == b.US && a.EU == b.EU }) {
			found = append(found, a)
		}
	}
	return found
}

// ExemptIn returns why an ingredient that looks like an allergen is none.
func ExemptIn(i recipe.Ingredient) []food.Allergen {
	return food.Exempt(i.Food, tableRow(i))
}

func tableRow(i recipe.Ingredient) *food.Food {
	if !i.Found || i.Match.Via == food.EverydayAssumption {
		return nil
	}
	return i.Match.Food
}

// allergens reads {contains: [sesame], free of: [wheat]}.
func (r *reader) allergens(f *yamldoc.Field) Allergens {
	if f == nil {
		return Allergens{}
	}
	m := f.Map(r.problems)
	if m == nil {
		return Allergens{}
	}
	a := Allergens{
		Contains: r.stated(m.Get("contains"), nil),
	}
	a.FreeOf = r.stated(m.Get("free of"), a.Contains)
	m.Done()
	return a
}

// stated reads a list of allergens. One that is there already, or that the other
// list has, is reported.
func (r *reader) stated(f *yamldoc.Field, others []StatedAllergen) []StatedAllergen {
	if f == nil {
		return nil
	}
	var all []StatedAllergen
	for _, item := range r.items(f, mostNames, "allergens") {
		text, ok := item.Text(r.problems)
		if !ok {
			continue
		}
		listed, known := allergenNamed(text)
		if !known {
			r.problems.Hinted(item.Pos(), problem.UnknownName, nearAllergen(text),
				"neither the US nor the EU list of allergens has %q", text)
			continue
		}
		same := func(s StatedAllergen) bool { return s.ListedAllergen == listed }
		switch {
		case slices.ContainsFunc(others, same):
			r.problems.Hinted(item.Pos(), problem.DoubledName, "go by the label", "%q cannot be both in there and not", text)
		case slices.ContainsFunc(all, same):
			r.problems.Errorf(item.Pos(), problem.DoubledName, "%q is named already", text)
		default:
			all = append(all, StatedAllergen{listed, item.Pos()})
		}
	}
	return all
}

// allergenNamed finds an allergen by a name of either list, or by a short one.
func allergenNamed(text string) (ListedAllergen, bool) {
	name := strings.ToLower(strings.Join(strings.Fields(text), " "))
	const gluten = "cereals containing gluten"
	if name == gluten || name == "gluten" {
		return ListedAllergen{EU: gluten}, true
	}
	if full, short := shortAllergens()[name]; short {
		name = full
	}
	for _, l := range ListedAllergens() {
		if name != "" && (name == strings.ToLower(l.US) || name == l.EU) {
			return l, true
		}
	}
	return ListedAllergen{}, false
}

// shortAllergens are names in use for entries of the lists.
func shortAllergens() map[string]string {
	return map[string]string{
		"egg": "eggs", "peanut": "peanuts", "tree nut": "tree nuts", "nut": "nuts", "sesame seed": "sesame seeds",
		"soy": "soybeans", "soya": "soybeans", "soybean": "soybeans", "shellfish": "crustaceans", "crustacean": "crustaceans",
		"sulphites": "sulphur dioxide and sulphites", "sulfites": "sulphur dioxide and sulphites",
		"mollusc": "molluscs", "mollusks": "molluscs", "mollusk": "molluscs", "lupine": "lupin",
	}
}

// nearAllergen is the hint for a name that neither list has.
func nearAllergen(text string) string {
	names := []string{"gluten"}
	for _, l := range ListedAllergens() {
		for _, name := range []string{l.US, l.EU} {
			if name != "" && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	for short := range shortAllergens() {
		names = append(names, short)
	}
	slices.Sort(names)
	if hint := problem.DidYouMean(strings.ToLower(text), names); hint != "" {
		return hint
	}
	var listed []string
	for _, l := range ListedAllergens() {
		listed = append(listed, l.Name())
	}
	return "the names are " + strings.Join(listed, ", ") + " and gluten"
}

// allergens asks about each "free of" that the name of an ingredient speaks
// against, and about those that take nothing away.
func (c checker) allergens() {
	for _, stated := range c.Allergens.FreeOf {
		met, against := false, ""
		for _, i := range c.everyIngredient() {
			for _, a := range c.AllergensIn(i) {
				us, eu := stated.Takes(a)
				met = met || us || eu
				if (us || eu) && a.Strength == food.Contains && against == "" {
					against = i.Food
				}
			}
		}
		switch {
		case against != "":
			c.problems.Ask(stated.Place, problem.FreeOf, "keep it only if that label says so; the page will say that it rests on the label",
				"by its name, %q contains %s: does the label of what was used say otherwise?", against, stated.Name())
		case !met:
			c.problems.Ask(stated.Place, problem.FreeOf, "leave it out: a page never says that something is free of an allergen",
				"no ingredient points to %s, so there is nothing to take away", stated.Name())
		}
	}
}

// everyIngredient lists the ingredients of the recipe and of every sample, once
// each.
func (t *Trial) everyIngredient() []recipe.Ingredient {
	all := slices.Clone(t.Recipe.Ingredients)
	for _, s := range t.Samples {
		for _, i := range s.Plan.Ingredients {
			if !slices.ContainsFunc(all, func(o recipe.Ingredient) bool { return o.Food == i.Food && o.Preparation == i.Preparation }) {
				all = append(all, i)
			}
		}
	}
	return all
}
