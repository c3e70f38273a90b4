package findings

import (
	"fmt"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/trial"
)

// The published figures, in °F as their publishers give them.
//
// Sources: USDA Food Safety and Inspection Service, Safe Minimum Internal
// Temperature Chart, and “Danger Zone” (40 °F – 140 °F); the figures of the US Food
// Code, section 3-501.16, from memory.
const (
	cutsDone      = 145 // whole cuts of meat, fresh ham; then a rest
	cutsRest      = 3   // minutes
	groundDone    = 160
	poultryDone   = 165
	eggDone       = 160
	fishDone      = 145
	reheated      = 165
	coldEnough    = 40
	hotEnough     = 140
	roomHours     = 2 // out of the refrigerator, in total
	hotRoom       = 90
	hotRoomHours  = 1
	doublingTime  = 20 // minutes
	serviceCold   = 41
	serviceHot    = 135
	canningMetres = 305 // 1,000 ft
)

func doneChart() string {
	return "USDA Food Safety and Inspection Service, Safe Minimum Internal Temperature Chart"
}

// poisonRules are about botulism, infant botulism and what raw milk carries.
func poisonRules() []cautionRule {
	return []cautionRule{
		{"home-canning", "home canning",
			[]string{"USDA Complete Guide to Home Canning, Agriculture Information Bulletin No. 539"}, canningWords},
		{"garlic-in-oil", "garlic and herbs in oil",
			[]string{"US Centers for Disease Control and Prevention, advice on preventing botulism"}, garlicWords},
		{"honey-infants", "honey and infants",
			[]string{"US Centers for Disease Control and Prevention, advice on preventing botulism", "Institut national de santé publique du Québec, From Tiny Tot to Toddler"},
			func(s scene) string {
				honey := foodRule{any: []string{"honey"}, not: []string{"honey melon", "honey mushroom", "honeydew melon", "honey tangerine"}}
				if !s.holds(honey) {
					return ""
				}
				return "Honey is not for infants under one year (12 months), pasteurized or not, and not cooked or baked into other food either: it can give them botulism."
			}},
		{"raw-milk", "raw milk",
			[]string{"US Food and Drug Administration, advice on raw milk"}, rawMilkWords},
	}
}

func canningWords(s scene) string {
	if !s.process("canning", "canner", "home canned", "pressure canned", "process the jars", "seal the jars", "sterilize the jars", "sterilise the jars",
		"sterilized jar", "sterilised jar", "canning jar", "boil the filled jars", "boil the sealed jars") {
		return ""
	}
	words := "Nothing here is a canning recipe: use a tested one as it stands, and never work out or scale processing times, jar sizes or acidity. " +
		"Low-acid food is canned under pressure only, never in a boiling-water canner: botulism survives that. " +
		"Above 305 m (1,000 ft) time or pressure must be adjusted."
	if s.altitude > canningMetres {
		words += fmt.Sprintf(" This kitchen stands at %.0f m.", s.altitude)
	}
	return words
}

func garlicWords(s scene) string {
	bulb := foodRule{any: []string{"garlic", "shallot", "basil", "rosemary", "thyme", "herb", "sage", "oregano", "chilli", "chili pepper"},
		not: []string{"garlic powder", "dried", "garlic salt", "garlic granule"}, excuse: []string{"dried", "powder"}}
	oil := foodRule{any: []string{"oil"}}
	made := foodRule{any: []string{"garlic oil", "garlic infused oil", "garlic infused olive oil", "garlic confit", "garlic in oil", "herb oil", "infused oil"}}
	kept := s.process("infuse", "infused", "infusing", "steep", "steeped", "confit", "under oil", "in oil", "cover with oil", "covered with oil", "with the oil and store", "submerge", "submerged")
	if !s.holds(made) && !(s.holds(bulb) && s.holds(oil) && kept) {
		return ""
	}
	return "Garlic and fresh herbs that stand in oil can grow the poison of botulism, which nobody sees, smells or tastes. " +
		"Make little, keep it refrigerated at " + celsius(coldEnough) + " or below, and throw away what is left after 4 days."
}

func rawMilkWords(s scene) string {
	raw := false
	for _, f := range s.foods {
		milk := dairyFood()
		milk.any = append(milk.any, "cheese")
		named := f.name.without("non pasteurized").has("raw milk", "raw cream", "raw buttermilk", "raw cow milk", "raw cows milk", "raw goat milk", "raw goats milk", "raw sheep milk", "raw milk cheese") ||
			f.name.has("unpasteurized", "unpasteurised") || f.preparation.has("raw", "unpasteurized", "unpasteurised")
		raw = raw || milk.names(f) && named
	}
	if !raw {
		return ""
	}
	return "Raw milk, and what is made of it, can carry Salmonella, E. coli, Listeria and Campylobacter. " +
		"It is most dangerous to people who are pregnant, old, very young or ill: pasteurized milk is the safe choice."
}

// tastingRules are about the people who taste.
func tastingRules() []cautionRule {
	return []cautionRule{{"tasters", "people who taste",
		[]string{"US Food Allergen Labeling and Consumer Protection Act of 2004 and FASTER Act of 2021", "Regulation (EU) No 1169/2011, Annex II"},
		func(s scene) string {
			if !s.tasters {
				return ""
			}
			return "Before a tasting, tell every taster which of these are in the samples or may be, and ask what they must avoid: " +
				strings.Join(declared(s.lists), ", ") + "."
		}}}
}

// declared are the names on the kitchen's list; for both lists the nine, and what
// the fourteen have beyond them.
func declared(lists string) []string {
	var us, eu, beyond []string
	for _, l := range trial.ListedAllergens() {
		eu = append(eu, l.EU)
		switch {
		case l.US == "":
			beyond = append(beyond, l.EU)
		case l.US == "wheat":
			beyond = append(beyond, l.EU) // the other gluten cereals
			us = append(us, l.US)
		default:
			us = append(us, l.US)
		}
	}
	switch lists {
	case EUList:
		return eu
	case "both":
		return append(us, beyond...)
	}
	return us
}

// process reports whether a phrase stands in a step, a condition, or the name of
// the recipe or a sample.
func (s scene) process(phrases ...string) bool { return s.processWithout(nil, phrases...) }

// processWithout is process after some phrases were cut out.
func (s scene) processWithout(not []string, phrases ...string) bool {
	for _, text := range slices.Concat(s.names, s.steps) {
		if text.without(not...).has(phrases...) {
			return true
		}
	}
	for _, c := range s.settings {
		if c.name.without(not...).has(phrases...) || c.value.without(not...).has(phrases...) {
			return true
		}
	}
	return false
}
