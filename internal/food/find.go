package food

import (
	"fmt"
	"slices"
	"strings"
	"sync"
)

// Via says how a name led to its food.
type Via uint8

// From the surest to the weakest.
const (
	ByID               Via = iota // the publisher's number was written
	ExactDescription              // the publisher's description was written
	EverydayExact                 // an everyday name: the row is that thing
	EverydayClose                 // an everyday name: the row is near and differs in a known way, which Note says
	EverydayAssumption            // an everyday name: the row is a stand-in, which must be shown to the reader
)

// String says it in words.
func (v Via) String() string {
	switch v {
	case ByID:
		return "by number"
	case ExactDescription:
		return "by description"
	case EverydayExact:
		return "exact"
	case EverydayClose:
		return "close"
	case EverydayAssumption:
		return "assumption"
	}
	return "unknown"
}

// A Match is a food found for a name.
type Match struct {
	Food *Food
	Name string // the name in the tables that was met: an everyday name or a description
	Via  Via
	Note string // what the reader should know about the choice; may be empty
}

// longestName bounds, in bytes, what can be the name of a food.
const longestName = 200

// Find returns the food that words name: by the publisher's number, an everyday
// name or the publisher's description, as a whole, without regard to case,
// accents, hyphens and apostrophes. An everyday name may stand in the singular
// or plural, and may be preceded by
//
//   - a size or how a measure was filled: "large eggs", "packed brown sugar";
//   - a temperature or state that leaves it the same food: "cold butter", "melted lard";
//   - a piece that the food's own measures know: "cloves of garlic", "stick butter";
//   - a cut that they know: "chopped walnuts", "diced cheddar". Such a match is at
//     best close, and its note says so.
//
// Anything else is not found: Find never guesses from parts. Preparations after
// a comma ("egg, beaten") are for the caller to cut off. Where an everyday name
// and a description are the same words, the everyday name wins: "oats" are the
// rolled ones.
func Find(name string) (Match, bool) {
	if len(name) > longestName {
		return Match{}, false
	}
	t, err := openTable()
	if err != nil {
		return Match{}, false
	}
	if id := strings.TrimSpace(name); len(id) == 5 && id[0] >= '0' && id[0] <= '9' {
		if i, ok := t.find(id); ok {
			return t.match(entry{food: i, name: t.rows[i].description, via: ByID})
		}
	}
	names, err := openNames()
	if err != nil {
		return Match{}, false
	}
	var room [96]byte
	key := fold(room[:0], name)
	if e, ok := names[string(key)]; ok {
		return t.match(e)
	}
	i, ok := openDescriptions()[string(key)]
	if ok && i < 0 {
		i, ok = openDescriptions()[name]
	}
	if ok && i >= 0 {
		return t.match(entry{food: i, name: t.rows[i].description, via: ExactDescription})
	}
	return t.findBehind(names, string(key))
}

// entry is a name of a food before the food is read.
type entry struct {
	food int // row of the table
	name string
	via  Via
	note string
}

func (t *table) match(e entry) (Match, bool) {
	f, err := t.food(e.food)
	if err != nil {
		return Match{}, false
	}
	return Match{Food: f, Name: e.name, Via: e.via, Note: e.note}, true
}

// findBehind looks for an everyday name behind words that leave a food the same
// and words that its measures must know.
func (t *table) findBehind(names map[string]entry, key string) (Match, bool) {
	whole := key
	var cuts, pieces []string
	for {
		first, rest, more := strings.Cut(key, " ")
		if !more {
			return Match{}, false
		}
		switch {
		case leavesSame(first), first == "of" && len(pieces) > 0:
		case isCut(first):
			cuts = append(cuts, first)
		case isPart(singular(first)):
			pieces = append(pieces, first)
		default:
			return Match{}, false
		}
		key = rest
		e, ok := names[key]
		if !ok {
			continue
		}
		m, ok := t.match(e)
		if !ok || len(cuts)+len(pieces) == 0 {
			return m, ok
		}
		if isProduct(names, whole) || !m.Food.weighs(cuts) || !m.Food.weighs(pieces) {
			return Match{}, false
		}
		return m.cutAs(cuts), true
	}
}

// weighs says whether the table weighs the food in these cuts or pieces: then the
// row is the food that they are of.
func (f *Food) weighs(forms []string) bool {
	for _, form := range forms {
		known := slices.ContainsFunc(f.Measures, func(one Measure) bool {
			return slices.ContainsFunc(one.words, func(w string) bool { return sameCut(w, singular(form)) })
		})
		if !known {
			return false
		}
	}
	return true
}

// isProduct says whether some everyday name goes on to say what is sold under
// these words: shredded coconut is sweetened and dried, not coconut cut by the
// cook, as "sweetened shredded coconut" tells.
func isProduct(names map[string]entry, key string) bool {
	for name := range names {
		if strings.HasSuffix(name, " "+key) {
			return true
		}
	}
	return false
}

// cutAs notes that words before the name were taken as the way it is cut.
func (m Match) cutAs(cuts []string) Match {
	if len(cuts) == 0 {
		return m
	}
	m.Via = max(m.Via, EverydayClose)
	note := fmt.Sprintf("%s is taken as the cut of %s", strings.Join(cuts, " "), m.Name)
	if m.Note != "" {
		note = m.Note + "; " + note
	}
	m.Note = note
	return m
}

// leavesSame says whether a word before a food's name leaves it the same food.
func leavesSame(word string) bool {
	switch word {
	case "extra", "large", "medium", "small", "jumbo",
		"packed", "unpacked", "lightly", "firmly", "loosely", "tightly", "sifted", "unsifted",
		"level", "heaped", "heaping", "rounded", "scant",
		"cold", "chilled", "cool", "warm", "lukewarm", "melted", "softened",
		"finely", "coarsely", "roughly", "thinly", "thickly", "freshly":
		return true
	}
	return false
}

// isCut says whether a word before a food's name is a way of cutting it.
func isCut(word string) bool {
	switch word {
	case "chopped", "sliced", "diced", "cubed", "grated", "shredded", "slivered", "crumbled", "halved", "quartered":
		return true
	}
	return false
}

// sameCut compares two words of cutting, which the table writes in several ways:
// "cup slices", "cup, sliced".
func sameCut(a, b string) bool {
	return cutStem(a) == cutStem(b)
}

func cutStem(word string) string {
	switch word {
	case "slice", "sliced", "flaked":
		return "slice"
	case "dice", "diced", "cube", "cubed":
		return "dice"
	case "half", "halve", "halved":
		return "half"
	case "grated", "shredded":
		return "grated"
	case "quarter", "quartered":
		return "quarter"
	case "meal":
		return "ground"
	case "breadcrumb":
		return "crumb"
	case "macaroni":
		return "elbow" // the shape that the word means alone
	}
	return word
}

var openNames = sync.OnceValues(func() (map[string]entry, error) {
	t, err := openTable()
	if err != nil {
		return nil, err
	}
	return readNames(t)
})

// readNames reads everyday-names.csv into a map by folded name, singular and
// plural. A number of a name that is also a name of its own, or that two foods
// would share, is left out.
func readNames(t *table) (map[string]entry, error) {
	cut := lines(everydayText)
	names := make(map[string]entry, 3*len(cut))
	order := make([]string, 0, len(cut))
	for _, line := range cut {
		key, e, err := t.readName(line)
		if err != nil {
			return nil, fmt.Errorf("food table %s: %w", everydayFile, err)
		}
		if other, taken := names[key]; taken && other.food != e.food {
			return nil, fmt.Errorf("food table %s: %q means two foods", everydayFile, key)
		}
		names[key] = e
		order = append(order, key)
	}
	addNumbers(names, order)
	return names, nil
}

// readName reads a line of everyday-names.csv.
func (t *table) readName(line string) (key string, e entry, err error) {
	var cells [5]string // name, id, via, note, food
	if !fields(line, cells[:]) {
		return "", entry{}, fmt.Errorf("%q: wrong number of fields", line)
	}
	e = entry{name: cells[0], note: cells[3]}
	switch cells[2] {
	case "exact":
		e.via = EverydayExact
	case "close":
		e.via = EverydayClose
	case "assumption":
		e.via = EverydayAssumption
	default:
		return "", entry{}, fmt.Errorf("%q: unknown via %q", cells[0], cells[2])
	}
	i, ok := t.find(cells[1])
	if !ok || t.rows[i].description != cells[4] {
		return "", entry{}, fmt.Errorf("%q: food %s is another one", cells[0], cells[1])
	}
	e.food = i
	return folded(cells[0]), e, nil
}

func addNumbers(names map[string]entry, order []string) {
	made := make(map[string]entry, 2*len(order))
	shared := make(map[string]bool)
	for _, key := range order {
		e := names[key]
		for _, other := range numbers(key) {
			if _, taken := names[other]; taken {
				continue
			}
			if before, twice := made[other]; twice && before.food != e.food {
				shared[other] = true
			}
			made[other] = e
		}
	}
	for key, e := range made {
		if !shared[key] {
			names[key] = e
		}
	}
}

// openDescriptions maps descriptions to rows: folded, or as published where two
// rows differ in a hyphen only.
var openDescriptions = sync.OnceValue(func() map[string]int {
	t, err := openTable()
	if err != nil {
		return nil
	}
	byDescription := make(map[string]int, len(t.rows))
	for i, r := range t.rows {
		key := folded(r.description)
		other, shared := byDescription[key]
		if !shared {
			byDescription[key] = i
			continue
		}
		byDescription[key] = -1
		byDescription[r.description] = i
		if other >= 0 {
			byDescription[t.rows[other].description] = other
		}
	}
	return byDescription
})
