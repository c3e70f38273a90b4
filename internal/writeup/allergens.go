package writeup

import (
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
)

// allergens is what the ingredients of all samples point to, or, for one sample,
// of that one alone; nil where nothing does.
func allergens(f *findings.Findings, only *findings.Sample) *page.Allergens {
	v := &page.Allergens{Notice: notice()}
	found := f.Allergens.Found
	if only != nil {
		found = inSample(found, only.Key)
	}
	for _, strength := range []food.Strength{food.Contains, food.Usually, food.Check} {
		group := page.AllergenGroup{Strength: capital(strength.String())}
		for _, a := range onOneLine(found) {
			if a.Strength == strength {
				group.Lines = append(group.Lines, allergenLine(f, a, only == nil))
			}
		}
		if len(group.Lines) > 0 {
			v.Groups = append(v.Groups, group)
		}
	}
	taken := f.Allergens.TakenAway
	if only != nil {
		taken = inSample(taken, only.Key)
	}
	for _, a := range onOneLine(taken) {
		v.Taken = append(v.Taken, takenWords(a.Allergen))
	}
	for _, e := range f.Allergens.Exempt {
		if only == nil || has(only, e.Food) {
			v.Notes = append(v.Notes, e.Food+": "+e.Because+".")
		}
	}
	if len(v.Groups) == 0 && len(v.Taken) == 0 && len(v.Notes) == 0 {
		return nil
	}
	return v
}

// notice is the food table's, in the voice of a page.
func notice() string {
	return strings.Replace(food.Notice(), "AID ONLY: ", "An aid only: ", 1)
}

// inSample keeps what a sample has, as surely as it is known there.
func inSample(all []findings.Allergen, key string) []findings.Allergen {
	var kept []findings.Allergen
	for _, a := range all {
		a.Strength, a.From = a.In(key)
		if a.Strength > food.None {
			kept = append(kept, a)
		}
	}
	return kept
}

func has(s *findings.Sample, name string) bool {
	for _, i := range s.Plan.Ingredients {
		if i.Food == name {
			return true
		}
	}
	return false
}

// listedAllergen is an entry with the other list's name for it.
type listedAllergen struct {
	findings.Allergen
	also string // what the EU list calls it, where the words differ
	both bool   // the two lists have it alike
}

// onOneLine puts together what the two lists say of the same ingredients.
func onOneLine(all []findings.Allergen) []listedAllergen {
	var lines []listedAllergen
	for _, a := range all {
		at := slices.IndexFunc(lines, func(l listedAllergen) bool { return sameThing(l.Allergen, a) })
		if at < 0 {
			lines = append(lines, listedAllergen{Allergen: a})
			continue
		}
		lines[at].both = true
		if lines[at].Name != a.Name {
			lines[at].also = a.Name
		}
	}
	return lines
}

// sameThing reports whether an entry of the US list and one of the EU list are one
// allergen from the same ingredients.
func sameThing(us, eu findings.Allergen) bool {
	if us.List != findings.USList || eu.List != findings.EUList || us.Strength != eu.Strength || us.Stated != eu.Stated {
		return false
	}
	paired := slices.Contains(trial.ListedAllergens(), trial.ListedAllergen{US: us.Name, EU: eu.Name})
	return paired && slices.EqualFunc(us.From, eu.From, func(a, b findings.AllergenSource) bool {
		return a.Role == b.Role && a.Food == b.Food && a.Strength == b.Strength && slices.Equal(a.Samples, b.Samples)
	})
}

func allergenLine(f *findings.Findings, a listedAllergen, marked bool) page.AllergenLine {
	line := page.AllergenLine{Name: a.Name}
	switch {
	case a.also != "":
		line.Name += " (EU: " + a.also + ")"
	case f.Trial.Kitchen.Allergens == "both" && !a.both, a.List == findings.EUList && f.Trial.Kitchen.Allergens == "us":
		line.List = strings.ToUpper(a.List) + " list"
	}
	if a.Stated {
		line.Note = "The note says so."
	}
	for _, s := range a.From {
		from := page.AllergenFrom{Food: s.Food}
		if s.Strength < a.Strength {
			from.Strength = s.Strength.String()
		}
		at := slices.IndexFunc(line.From, func(o page.AllergenFrom) bool { return o.Food == s.Food })
		if at >= 0 {
			continue // the same food in another role
		}
		if marked && len(s.Samples) < len(f.Samples) {
			for _, key := range s.Samples {
				from.Samples = append(from.Samples, Ref(f.Sample(key)))
			}
		}
		line.From = append(line.From, from)
	}
	return line
}

// takenWords says what the note takes away, and on whose word.
func takenWords(a findings.Allergen) string {
	var foods []string
	for _, s := range a.From {
		if !slices.Contains(foods, s.Food) {
			foods = append(foods, s.Food)
		}
	}
	return "Not listed: " + a.Name + ", which " + strings.Join(foods, " and ") + " would point to; the label of what was used says so. Yours may say otherwise."
}
