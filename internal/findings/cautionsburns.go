package findings

import "slices"

// burnRules are about heat.
func burnRules() []cautionRule {
	const burns = "hospital and fire-service advice on preventing burns"
	return []cautionRule{
		{"hot-fat", "hot pans and fat", []string{commonPractice}, func(s scene) string {
			if !s.frying() {
				return ""
			}
			return "Hot pans burn at a touch. Hot fat spits when anything wet meets it, and can catch fire: dry the food, stay with it, keep children away. " +
				"Never pour water on burning fat: turn off the heat and put the lid on."
		}},
		{"boiling-syrup", "boiling syrup", []string{commonPractice}, func(s scene) string {
			if !s.syrup() {
				return ""
			}
			return "Boiling syrup foams up, is hotter than boiling water, and sticks to skin: use a deep pan and a long spoon."
		}},
		{"steam", "boiling water and steam", []string{burns, commonPractice}, func(s scene) string {
			if !s.boiling() {
				return ""
			}
			return "Steam can burn worse than boiling water. Lift lids away from you, so that it escapes on the far side, lower food in with a spoon, and turn handles in."
		}},
		{"hot-pans", "hot pans", []string{commonPractice}, func(s scene) string {
			if !s.pans() || s.frying() {
				return "" // hot fat says it
			}
			return "A griddle or pan burns at a touch, and stays hot long after the heat is off."
		}},
		{"hot-ovens", "hot ovens", []string{commonPractice}, func(s scene) string {
			if !s.oven() {
				return ""
			}
			return "Oven walls, trays and the air that comes out at the door burn: use dry cloths or gloves."
		}},
		{"first-aid", "if you burn yourself", []string{"fire-service and medical first-aid advice"}, func(s scene) string {
			if !s.frying() && !s.syrup() && !s.boiling() && !s.pans() && !s.oven() {
				return ""
			}
			return "Cool a burn at once under cool, not iced, running water; authorities differ on how long (3–5 minutes to 20 minutes). A severe burn needs medical help."
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
