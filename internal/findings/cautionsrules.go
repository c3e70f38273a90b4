package findings

import (
	"math"
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
		{"home-canning",
			[]string{"USDA Complete Guide to Home Canning, Agriculture Information Bulletin No. 539"}, canningWords},
		{"garlic-in-oil",
			[]string{"US Centers for Disease Control and Prevention, advice on preventing botulism"}, garlicWords},
		{"honey-infants",
			[]string{"US Centers for Disease Control and Prevention, advice on preventing botulism", "Institut national de santé publique du Québec, From Tiny Tot to Toddler"},
			func(s scene) string {
				honey := foodRule{any: []string{"honey"}, not: []string{"honey melon", "honey mushroom", "honeydew melon", "honey tangerine"}}
				if !s.holds(honey) {
					return ""
				}
				return s.say.Say("honey")
			}},
		{"raw-milk",
			[]string{"US Food and Drug Administration, advice on raw milk"}, rawMilkWords},
	}
}

func canningWords(s scene) string {
	if !s.process("canning", "canner", "home canned", "pressure canned", "process the jars", "seal the jars", "sterilize the jars", "sterilise the jars",
		"sterilized jar", "sterilised jar", "canning jar", "boil the filled jars", "boil the sealed jars") {
		return ""
	}
	words := s.say.Say("canning")
	if s.altitude > canningMetres {
		words += " " + s.say.Say("canning altitude", "metres", s.say.Language().Integer(int(math.Round(s.altitude))))
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
	return s.say.Say("garlic in oil", "cold", s.fahrenheit(coldEnough))
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
	return s.say.Say("raw milk")
}

// tastingRules are about the people who taste.
func tastingRules() []cautionRule {
	return []cautionRule{{"tasters",
		[]string{"US Food Allergen Labeling and Consumer Protection Act of 2004 and FASTER Act of 2021", "Regulation (EU) No 1169/2011, Annex II"},
		func(s scene) string {
			if !s.tasters {
				return ""
			}
			return s.say.Say("tasting", "allergens", strings.Join(s.declared(), ", "))
		}}}
}

// declared are the names on the kitchen's list; for both lists the nine, and what
// the fourteen have beyond them.
func (s scene) declared() []string {
	var us, eu, beyond []string
	for _, l := range trial.ListedAllergens() {
		inUS, inEU := AllergenName(s.say.Language(), USList, l.US), AllergenName(s.say.Language(), EUList, l.EU)
		eu = append(eu, inEU)
		switch {
		case l.US == "":
			beyond = append(beyond, inEU)
		case l.US == "wheat":
			beyond = append(beyond, inEU) // the other gluten cereals
			us = append(us, inUS)
		default:
			us = append(us, inUS)
		}
	}
	switch s.lists {
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
