package findings

import "strconv"

// keepingRules are about food that waits, cools, or is warmed up again.
func keepingRules() []cautionRule {
	const zone = "USDA Food Safety and Inspection Service, “Danger Zone” (40 °F – 140 °F)"
	return []cautionRule{
		{"holding", []string{zone, "US FDA Food Code, section 3-501.16"}, holdingWords},
		{"cooling", []string{"US Food and Drug Administration, Bad Bug Book, second edition", zone}, coolingWords},
		{"leftovers", []string{doneChart()}, leftoverWords},
	}
}

// holdingWords is for food that spoils and that waits: before, between or after.
func holdingWords(s scene) string {
	spoils := s.holds(eggFood(), poultryFood(), meatCuts(), fishFood(), dairyFood(), cookedFood())
	if !spoils || !(s.waits || s.waiting()) {
		return ""
	}
	words := s.say.Say("holding", "cold", s.fahrenheit(coldEnough), "hot", s.fahrenheit(hotEnough),
		"minutes", strconv.Itoa(doublingTime), "hours", strconv.Itoa(roomHours), "warm", s.fahrenheit(hotRoom), "hour", strconv.Itoa(hotRoomHours),
		"service cold", s.fahrenheit(serviceCold), "service hot", s.fahrenheit(serviceHot))
	if long := s.longWait(); long != "" {
		words += " " + s.say.Say("long wait", "setting", long)
	}
	return words
}

// cookedFood is what was cooked before, whatever it is.
func cookedFood() foodRule {
	return foodRule{any: []string{"cooked rice", "cooked bean", "cooked chicken", "cooked meat", "cooked potato", "boiled egg", "leftover", "tofu"}}
}

// waiting reports whether a step or condition makes food stand, rest or cool.
func (s scene) waiting() bool {
	not := []string{"the rest of", "the rest", "stand mixer", "cool water", "cold water", "cool place", "cool oven", "cool griddle", "cool pan", "rest of", "cake stand"}
	return s.processWithout(not, "rest", "resting", "rested", "stand", "standing", "let stand", "cool", "cooled", "cooling", "hold", "holding", "keep warm", "kept warm", "wait",
		"proof", "prove", "ferment", "overnight", "marinate", "thaw", "defrost", "room temperature", "leave")
}

// longWait returns the condition that makes something wait for longer than two
// hours, unless it says that it is kept cold.
func (s scene) longWait() string {
	cold := []string{"refrigerator", "refrigerated", "fridge", "chilled", "freezer", "frozen", "ice", "cold room"}
	for _, c := range s.settings {
		waits := c.name.has("rest", "stand", "hold", "wait", "proof", "marinate", "ferment", "cool", "soak", "chill") ||
			c.value.has("rest", "stand", "hold", "wait", "overnight", "room temperature")
		if waits && longestHours(c.text) > roomHours && !c.name.has(cold...) && !c.value.has(cold...) {
			return c.text
		}
	}
	return ""
}

func coolingWords(s scene) string {
	cools := s.process("cool", "cooled", "cooling", "leftover", "overnight", "reheat", "reheated", "day old", "keep warm", "kept warm", "room temperature", "chilled")
	if !s.holds(riceFood()) && !(cools && s.holds(starchFood(), beanFood())) {
		return ""
	}
	return s.say.Say("cooling", "hours", strconv.Itoa(roomHours))
}

func leftoverWords(s scene) string {
	left := foodRule{any: []string{"leftover", "cooked chicken", "cooked turkey", "rotisserie chicken", "cooked ham", "cooked meat", "cooked beef", "cooked pork"}}
	prepared := s.process("leftover", "reheat", "reheated", "reheating", "warm up again", "warmed up again", "casserole")
	if !s.holds(left) && !prepared {
		return ""
	}
	return s.say.Say("leftovers", "done", s.fahrenheit(reheated))
}
