package food

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"
)

// Strength says how surely a name points to an allergen.
type Strength uint8

// From the weakest to the strongest.
const (
	None     Strength = iota // the name looks like an allergen and is not one, or the thing is exempt
	Check                    // may hold it: read the label
	Usually                  // mostly made with it
	Contains                 // is it, or is made of it
)

// String says it in words.
func (s Strength) String() string {
	switch s {
	case Check:
		return "check the label"
	case Usually:
		return "usually contains"
	case Contains:
		return "contains"
	}
	return "does not count"
}

// An Allergen is what the name of an ingredient points to under US law, EU law
// or both.
type Allergen struct {
	US       string // one of the nine of FALCPA and the FASTER Act, or ""
	EU       string // one of the fourteen of Regulation (EU) No 1169/2011, Annex II, or ""
	Strength Strength
	Because  Reason
}

// Where says in what a rule found its words.
type Where string

// What rules look at. The words are the project's own.
const (
	InName    Where = "name"  // in the name of the ingredient
	InRow     Where = "words" // in the description of the row of the table
	RowStarts Where = "row"   // the description starts with them
	InGroup   Where = "group" // they are the row's food group
)

// Reason is what in the name or the table led to an allergen.
type Reason struct {
	Where Where
	Words string // the words that were found, the whole description, or the group
	Note  string // the rule's, in the words of the rules; may be empty
}

// Allergens reads what the name of an ingredient, and the row of the table that
// it stands for (nil when there is none), point to: the strongest finding for
// each allergen, surest first. An empty list means that no rule fired, not that
// the ingredient is free of anything: see [Notice], which belongs beside every
// list that is shown. For a stand-in ([EverydayAssumption]) hand in no row: it is
// another thing.
//
// Sources: Food Allergen Labeling and Consumer Protection Act of 2004 (Public Law
// 108-282); FASTER Act of 2021 (Public Law 117-11); FDA guidance on food
// allergens, Edition 5, January 2025; Regulation (EU) No 1169/2011, Annex II.
func Allergens(name string, f *Food) []Allergen {
	var found []Allergen
	for _, a := range hits(name, f) {
		if a.Strength > None {
			found = strongest(found, a)
		}
	}
	return settle(found)
}

// Exempt returns the rules that say why a name that looks like an allergen is
// none: coconut, which is no tree nut any more; highly refined soybean oil. Their
// reason is worth a footnote.
func Exempt(name string, f *Food) []Allergen {
	var found []Allergen
	for _, a := range hits(name, f) {
		if a.Strength == None && !slices.Contains(found, a) {
			found = append(found, a)
		}
	}
	return found
}

// Notice is the sentence that belongs beside every list of allergens.
func Notice() string {
	rules, err := openRules()
	if err != nil {
		return ""
	}
	return rules.notice
}

// strongest puts a among the found, one entry an allergen.
func strongest(found []Allergen, a Allergen) []Allergen {
	for i, other := range found {
		if other.US == a.US && other.EU == a.EU {
			if a.Strength > other.Strength {
				found[i] = a
			}
			return found
		}
	}
	return append(found, a)
}

// settle drops an EU-only finding that another one says at least as strongly,
// and sorts: surest first, then by name.
func settle(found []Allergen) []Allergen {
	kept := slices.DeleteFunc(slices.Clone(found), func(a Allergen) bool {
		return slices.ContainsFunc(found, func(b Allergen) bool {
			if a.US == "" {
				return b.US != "" && b.EU == a.EU && b.Strength >= a.Strength
			}
			return a.EU == "" && b.EU != "" && b.US == a.US && b.Strength >= a.Strength
		})
	})
	slices.SortStableFunc(kept, func(a, b Allergen) int {
		return cmp.Or(cmp.Compare(b.Strength, a.Strength), strings.Compare(a.US, b.US), strings.Compare(a.EU, b.EU))
	})
	return kept
}

// rule is a line of allergens.csv.
type rule struct {
	match    string
	allergen Allergen // Because holds the note alone
	unless   []string
}

// ruleBook holds the rules by kind.
type ruleBook struct {
	notice       string
	words        map[string][]rule // by folded phrase, its words joined by spaces
	longest      int               // words in the longest phrase
	descriptions []rule            // a description starts with match
	groups       []rule            // the food group is match
}

// hits returns everything that the rules say, in their order.
func hits(name string, f *Food) []Allergen {
	book, err := openRules()
	if err != nil {
		return nil
	}
	if f != nil && (strings.TrimSpace(name) == "" || strings.TrimSpace(name) == string(f.ID)) {
		name = spoken(f.Description)
	}
	found := book.inWords(name, InName)
	if f == nil {
		return found
	}
	if name != spoken(f.Description) && folded(name) != folded(f.Description) {
		found = append(found, book.inWords(spoken(f.Description), InRow)...)
	}
	for _, r := range book.descriptions {
		if hasPrefixFold(f.Description, r.match) && !r.excused(f.Description) {
			found = append(found, r.because(RowStarts, f.Description))
		}
	}
	for _, r := range book.groups {
		if f.Group == r.match && !r.excused(f.Description) {
			found = append(found, r.because(InGroup, f.Group))
		}
	}
	return found
}

// inWords tries the word rules on every run of words in a text.
func (b *ruleBook) inWords(text string, where Where) []Allergen {
	all := words(text)
	joined := " " + strings.Join(all, " ") + " "
	var found []Allergen
	for i := range all {
		for n := 1; n <= b.longest && i+n <= len(all); n++ {
			phrase := strings.Join(all[i:i+n], " ")
			for _, r := range b.words[phrase] {
				if !r.excusedBy(joined) {
					found = append(found, r.because(where, r.match))
				}
			}
		}
	}
	return found
}

// spoken puts the first two parts of a description in the order of speech, for
// the rules were written for that: "Oil, soybean, salad or cooking" is soybean oil.
func spoken(description string) string {
	first, rest, two := strings.Cut(description, ", ")
	if !two {
		return description
	}
	second, rest, _ := strings.Cut(rest, ", ")
	return second + " " + first + " " + rest
}

func (r rule) because(where Where, words string) Allergen {
	a := r.allergen
	a.Because.Where, a.Because.Words = where, words
	return a
}

// excusedBy looks for the words of unless among words joined by spaces.
func (r rule) excusedBy(joined string) bool {
	return slices.ContainsFunc(r.unless, func(u string) bool {
		return strings.Contains(joined, " "+strings.Join(words(u), " ")+" ")
	})
}

// excused looks for the words of unless in a description, punctuation and all:
// one of them is "corn, ".
func (r rule) excused(description string) bool {
	return slices.ContainsFunc(r.unless, func(u string) bool {
		for at := 0; ; {
			i := indexFold(description[at:], u)
			if i < 0 {
				return false
			}
			i += at
			if (i == 0 || !isLetter(description[i-1])) && startsWithWord(description[i:], u) {
				return true
			}
			at = i + 1
		}
	})
}

// startsWithWord tells whether text starts with a phrase that ends where a word
// ends; case does not count.
func startsWithWord(text, phrase string) bool {
	if !hasPrefixFold(text, phrase) {
		return false
	}
	n := len(phrase)
	return len(text) == n || !isLetter(phrase[n-1]) || !isLetter(text[n])
}

func hasPrefixFold(text, phrase string) bool {
	n := len(phrase)
	return n > 0 && len(text) >= n && strings.EqualFold(text[:n], phrase)
}

// indexFold is strings.Index without regard to the case of ASCII letters.
func indexFold(text, phrase string) int {
	for i := 0; i+len(phrase) <= len(text); i++ {
		if strings.EqualFold(text[i:i+len(phrase)], phrase) {
			return i
		}
	}
	return -1
}

// openRules reads allergens.csv.
var openRules = sync.OnceValues(func() (*ruleBook, error) {
	book := &ruleBook{words: make(map[string][]rule)}
	for _, line := range lines(allergensText) {
		var cells [7]string // kind, match, us_allergen, eu_allergen, strength, unless, note
		if !fields(line, cells[:]) {
			return nil, fmt.Errorf("food table %s: %q: wrong number of fields", allergensFile, line)
		}
		if cells[0] == "notice" {
			// The row's last sentence speaks to the program that loads it.
			book.notice, _, _ = strings.Cut(cells[6], " Skip this row")
			continue
		}
		if err := book.add(cells[0], cells); err != nil {
			return nil, fmt.Errorf("food table %s: %q: %w", allergensFile, cells[1], err)
		}
	}
	return book, nil
})

func (b *ruleBook) add(kind string, cells [7]string) error {
	r := rule{match: cells[1], allergen: Allergen{US: cells[2], EU: cells[3], Because: Reason{Note: cells[6]}}}
	if cells[5] != "" {
		r.unless = strings.Split(cells[5], ";")
	}
	switch cells[4] {
	case "contains":
		r.allergen.Strength = Contains
	case "usually":
		r.allergen.Strength = Usually
	case "check":
		r.allergen.Strength = Check
	case "none":
		r.allergen.Strength = None
	default:
		return fmt.Errorf("unknown strength %q", cells[4])
	}
	switch kind {
	case "word":
		phrase := words(r.match)
		key := strings.Join(phrase, " ")
		b.words[key] = append(b.words[key], r)
		b.longest = max(b.longest, len(phrase))
	case "description":
		b.descriptions = append(b.descriptions, r)
	case "group":
		b.groups = append(b.groups, r)
	default:
		return fmt.Errorf("unknown kind %q", kind)
	}
	return nil
}
