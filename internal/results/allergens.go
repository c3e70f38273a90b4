package results

import (
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/food"
)

// Allergen is an entry of the US or the EU list of allergens that the name of an
// ingredient, or the note, points to. It is an aid only, next to the label of the
// product in hand; what is not listed is not known to be absent.
type Allergen struct {
	Allergen string           `json:"allergen"` // as the list has it: "tree nuts"
	List     string           `json:"list"`     // us: the nine of US law; eu: the fourteen of Regulation (EU) No 1169/2011
	Strength string           `json:"strength"` // contains, usually, check; none for a sample without it
	From     []string         `json:"from"`     // roles
	Stated   bool             `json:"stated,omitempty"`
	Samples  []SampleAllergen `json:"samples,omitempty"` // where samples differ
}

// SampleAllergen is an allergen in one sample.
type SampleAllergen struct {
	Sample   string   `json:"sample"`
	Strength string   `json:"strength"`
	From     []string `json:"from"`
}

func allergens(found []findings.Allergen) []Allergen {
	all := []Allergen{}
	for _, a := range found {
		entry := Allergen{Allergen: a.Name, List: a.List, Strength: strength(a.Strength), From: []string{}, Stated: a.Stated}
		seen := map[string]bool{}
		for _, s := range a.From {
			if !seen[s.Role] {
				entry.From = append(entry.From, s.Role)
			}
			seen[s.Role] = true
		}
		for _, s := range a.Samples {
			entry.Samples = append(entry.Samples, SampleAllergen{Sample: s.Sample, Strength: strength(s.Strength), From: list(s.Roles)})
		}
		all = append(all, entry)
	}
	return all
}

func strength(s food.Strength) string {
	switch s {
	case food.Contains:
		return "contains"
	case food.Usually:
		return "usually"
	case food.Check:
		return "check"
	}
	return "none"
}

// cautions lists them in the order of the findings.
func cautions(found []findings.Caution) []Caution {
	all := []Caution{}
	for _, c := range found {
		all = append(all, Caution{Code: c.Code, About: c.About, Words: c.Words, Source: c.Source})
	}
	return all
}
