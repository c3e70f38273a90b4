package findings

import (
	"slices"

	"sidebatch.example/sidebatch/internal/wording"
)

// burnRules are about heat.
func burnRules(say wording.Phrases) []cautionRule {
	burns, common := say.Say("burns advice"), say.Say(commonPractice)
	return []cautionRule{
		{"hot-fat", []string{common}, func(s scene) string {
			if !s.frying() {
				return ""
			}
			return s.say.Say("hot fat")
		}},
		{"boiling-syrup", []string{common}, func(s scene) string {
			if !s.syrup() {
				return ""
			}
			return s.say.Say("syrup")
		}},
		{"steam", []string{burns, common}, func(s scene) string {
			if !s.boiling() {
				return ""
			}
			return s.say.Say("steam")
		}},
		{"hot-pans", []string{common}, func(s scene) string {
			if !s.pans() || s.frying() {
				return "" // hot fat says it
			}
			return s.say.Say("hot pans")
		}},
		{"hot-ovens", []string{common}, func(s scene) string {
			if !s.oven() {
				return ""
			}
			return s.say.Say("hot ovens")
		}},
		{"first-aid", []string{say.Say("first aid advice")}, func(s scene) string {
			if !s.frying() && !s.syrup() && !s.boiling() && !s.pans() && !s.oven() {
				return ""
			}
			return s.say.Say("first aid")
		}},
	}
}

// frying reports whether something is fried, or a fat is in a hot pan.
func (s scene) frying() bool {
	not := []string{"air fryer", "air fry", "air fried", "french fries", "fries"}
	if s.processWithout(not, "fry", "frying", "fried", "deep fry", "stir fry", "sear", "saute", "sauteed", "shallow fry") {
		return true
	}
	return s.holds(fatFood()) && s.pans()
}

// syrup reports whether one step boils something sweet.
func (s scene) syrup() bool {
	return slices.ContainsFunc(s.steps, func(step plainText) bool {
		rest := step.without("boiling water", "boiled water")
		if rest.has("caramelize the sugar", "caramelise the sugar", "caramel", "soft ball", "hard crack", "hard ball") {
			return true
		}
		return rest.has("boil", "boiling", "simmer") && sugarFood().names(sceneFood{name: rest})
	})
}

// boiling reports whether water is boiled or steam is made, or hot water is used.
func (s scene) boiling() bool {
	not := []string{"boiling point", "steam oven off", "soft boiled", "hard boiled", "off the boil", "boiled sweet", "steam rollers"}
	if s.processWithout(not, "boil", "boiling", "boiled", "simmer", "simmering", "poach", "poaching", "steam", "steaming", "steamed", "steamer", "pressure cooker", "kettle", "blanch", "scald") {
		return true
	}
	const scalding = 60 // °C; water of that heat burns in seconds (common practice, no source)
	return slices.ContainsFunc(s.settings, func(c sceneSetting) bool {
		hot := slices.ContainsFunc(temperatures(c.text), func(t float64) bool { return t >= scalding })
		return hot && (c.name.has("water", "milk", "stock", "tea", "brine") || c.value.has("water"))
	})
}

func (s scene) pans() bool {
	not := []string{"loaf pan", "cake pan", "sheet pan", "baking pan", "tart pan", "roasting pan", "muffin pan", "springform pan", "bundt pan", "tube pan", "pie pan", "deep pan",
		"saucepan", "pan of water", "stock pan"}
	return s.processWithout(not, "griddle", "skillet", "frying pan", "pan", "wok", "grill", "comal", "tawa", "plancha", "waffle iron", "flat top")
}

func (s scene) oven() bool {
	not := []string{"no bake", "baking soda", "baking powder", "baking sheet", "baking paper", "roast beef", "dutch oven", "oven mitt",
		"roasted peanut", "roasted nut", "roasted sesame", "roasted garlic", "roasted red pepper", "roasted pepper", "roasted coffee"}
	return s.processWithout(not, "oven", "bake", "baked", "baking", "roast", "roasting", "roasted", "broil", "broiler")
}
