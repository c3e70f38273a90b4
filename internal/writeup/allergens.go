package writeup

import (
	"slices"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// allergens is what the ingredients of all samples point to, or, for one sample,
// of that one alone; nil where nothing does.
func allergens(f *findings.Findings, only *findings.Sample) *page.Allergens {
	say := phrasesOf(f.Trial)
	v := &page.Allergens{Notice: say.allergens().Say("notice")}
	found := f.Allergens.Found
	if only != nil {
		found = inSample(found, only.Key)
	}
	for _, strength := range []food.Strength{food.Contains, food.Usually, food.Check} {
		group := page.AllergenGroup{Strength: wording.Capital(say.strength(strength))}
		for _, a := range say.onOneLine(found) {
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
	for _, a := range say.onOneLine(taken) {
		v.Taken = append(v.Taken, say.taken(a.Allergen))
	}
	for _, e := range f.Allergens.Exempt {
		if only == nil || has(only, e.Food) {
			v.Notes = append(v.Notes, say.exempt(e))
		}
	}
	if len(v.Groups) == 0 && len(v.Taken) == 0 && len(v.Notes) == 0 {
		return nil
	}
	return v
}

// strength says how surely a name points to an allergen.
func (say phrases) strength(s food.Strength) string {
	switch s {
	case food.Check:
		return say.allergens().Say("check the label")
	case food.Usually:
		return say.allergens().Say("usually contains")
	}
	return say.allergens().Say("contains")
}

// exempt says why a food that looks like an allergen is none. A note that the words
// file does not have is that of the rules.
func (say phrases) exempt(e findings.Exempt) string {
	note := e.Because.Note
	if key := "note " + note; say.allergens().Has(key) {
		note = say.allergens().Say(key)
	}
	fill := []string{"food", e.Food, "words", e.Because.Words, "note", note}
	switch e.Because.Where {
	case food.InRow:
		return say.allergens().Say("exempt by the row", fill...)
	case food.RowStarts:
		return say.allergens().Say("exempt as the row", fill...)
	case food.InGroup:
		return say.allergens().Say("exempt by the group", fill...)
	}
	return say.allergens().Say("exempt by name", fill...)
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
func (say phrases) onOneLine(all []findings.Allergen) []listedAllergen {
	var lines []listedAllergen
	for _, a := range all {
		at := slices.IndexFunc(lines, func(l listedAllergen) bool { return sameThing(l.Allergen, a) })
		if at < 0 {
			lines = append(lines, listedAllergen{Allergen: a})
			continue
		}
		lines[at].both = true
		if name := say.allergen(a); name != say.allergen(lines[at].Allergen) {
			lines[at].also = name
		}
	}
	return lines
}

// allergen is the name that the entry's list has for it.
func (say phrases) allergen(a findings.Allergen) string {
	return findings.AllergenName(say.Language(), a.List, a.Name)
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
	say := phrasesOf(f.Trial)
	line := page.AllergenLine{Name: say.allergen(a.Allergen)}
	switch {
	case a.also != "":
		line.Name = say.allergens().Say("name in the EU", "name", line.Name, "eu", a.also)
	case f.Trial.Kitchen.Allergens == "both" && !a.both, a.List == findings.EUList && f.Trial.Kitchen.Allergens == "us":
		line.List = say.allergens().Say("US list")
		if a.List == findings.EUList {
			line.List = say.allergens().Say("EU list")
		}
	}
	if a.Stated {
		line.Note = say.allergens().Say("the note says so")
	}
	for _, s := range a.From {
		from := page.AllergenFrom{Food: s.Food}
		if s.Strength < a.Strength {
			from.Strength = say.strength(s.Strength)
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

// taken says what the note takes away, and on whose word.
func (say phrases) taken(a findings.Allergen) string {
	var foods []string
	for _, s := range a.From {
		if !slices.Contains(foods, s.Food) {
			foods = append(foods, s.Food)
		}
	}
	return say.allergens().Say("taken away", "allergen", say.allergen(a), "foods", say.together(foods))
}
