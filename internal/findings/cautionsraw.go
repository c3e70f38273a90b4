package findings

import (
	"fmt"
	"slices"
	"strings"
)

// rawRules are about what is raw: how it is known to be done, and that nobody
// tastes it before.
func rawRules() []cautionRule {
	return []cautionRule{
		{"poultry", "poultry", []string{doneChart()}, func(s scene) string {
			return s.meat(poultryDone, "Poultry, whole, in parts or ground, and its stuffing are done at "+celsius(poultryDone), func(f sceneFood) bool {
				return poultryFood().names(f)
			})
		}},
		{"ground-meat", "ground meat", []string{doneChart()}, func(s scene) string {
			return s.meat(groundDone, "Ground beef, pork, veal and lamb are done at "+celsius(groundDone), func(f sceneFood) bool {
				return meatCuts().names(f) && isGround(f)
			})
		}},
		{"meat", "meat", []string{doneChart()}, func(s scene) string {
			return s.meat(cutsDone, "Steaks, chops and roasts of beef, pork, veal and lamb, and fresh or smoked ham, are done at "+celsius(cutsDone)+fmt.Sprintf(", and then rest for at least %d minutes", cutsRest), func(f sceneFood) bool {
				return meatCuts().names(f) && !isGround(f)
			})
		}},
		{"fish", "fish and shellfish", []string{doneChart()}, func(s scene) string {
			return s.meat(fishDone, "Fish and shellfish are done at "+celsius(fishDone), func(f sceneFood) bool {
				return fishFood().names(f)
			})
		}},
		{"raw-egg", "raw or soft egg",
			[]string{doneChart(), "US Food and Drug Administration and Centers for Disease Control and Prevention, advice on raw dough"}, eggWords},
		{"beans", "beans", []string{"US Food and Drug Administration, Bad Bug Book, second edition"}, beanWords},
		{"raw-sprouts", "sprouts", []string{"US Food and Drug Administration, advice on sprouts"}, func(s scene) string {
			if !s.holds(sproutFood()) {
				return ""
			}
			return "Sprouts can carry Salmonella, E. coli and Listeria inside, where washing does not reach: cook them through. " +
				"People who are pregnant, old, very young or ill should not eat them raw."
		}},
		{"raw-flour", "raw flour",
			[]string{"US Food and Drug Administration, Flour Is a Raw Food and Other Safety Facts", "US Centers for Disease Control and Prevention, Say No to Raw Dough"},
			func(s scene) string {
				if !s.holds(flourFood()) {
					return ""
				}
				return "Flour is a raw food, not treated to kill germs, and has caused E. coli outbreaks: do not taste raw dough or batter. " +
					"Heating flour at home is not a proven way to make it safe to eat raw."
			}},
		{"hands", "hands and tools", []string{"USDA and US Centers for Disease Control and Prevention, advice on washing hands"}, handWords},
	}
}

// meat words a temperature at which something is done, where an ingredient is that
// and what was measured or set below it.
func (s scene) meat(done float64, words string, is func(sceneFood) bool) string {
	if !slices.ContainsFunc(s.foods, is) {
		return ""
	}
	words += ", measured with a thermometer in the thickest part, away from bone."
	if below := s.below(done, "inside", "core", "center", "centre", "middle", "internal", "thickest part", "meat", "thigh", "breast", "fillet", "patty"); below != "" {
		words += " " + below
	}
	return words
}

// eggWords is about raw egg, with a plainer warning where the trial leaves it soft.
func eggWords(s scene) string {
	if !s.holds(eggFood()) {
		return ""
	}
	words := "Raw and lightly cooked eggs may carry Salmonella"
	if s.holds(flourFood()) {
		words += ", in dough and batter too"
	}
	words += ". " + "Egg dishes are done at " + celsius(eggDone) + ", eggs when white and yolk are firm."
	below := s.below(eggDone, "yolk", "white", "egg", "custard", "curd", "inside", "core", "center", "centre", "middle", "internal", "batter", "sauce")
	if below == "" && s.softEgg() {
		below = "Here egg may stay raw or soft."
	}
	if below != "" {
		words += " " + below + " People who are pregnant, old, very young or ill should have eggs firm, or pasteurized ones."
	}
	return words
}

// softEgg reports whether the words of the recipe leave egg raw or soft.
func (s scene) softEgg() bool {
	soft := []string{"raw egg", "soft egg", "soft boiled", "soft boil", "soft yolk", "soft yolks", "soft cooked", "runny", "jammy", "sunny side", "over easy", "poached egg",
		"poach the egg", "coddled", "coddle", "mayonnaise", "aioli", "hollandaise", "carbonara", "mousse", "tiramisu", "eggnog", "zabaglione", "sabayon", "no bake", "onsen"}
	return s.process(soft...)
}

// below says which reading of a part of the food, or which temperature that it was
// to reach, lies under the one at which it is done.
func (s scene) below(done float64, parts ...string) string {
	limit := (done - 32) / 1.8
	for _, r := range s.readings {
		if r.lowest < limit-0.05 && r.words.has(parts...) {
			return "Here the lowest reading of " + r.measure + " was " + fromCelsius(r.lowest) + ", which is less."
		}
	}
	reaching := append([]string{"water bath", "sous vide", "cook to", "heat to", "warm to", "until it reads", "until it reaches", "until they reach", "pull at", "take out at", "done at", "doneness"}, parts...)
	for _, c := range s.settings {
		if t, ok := lowestOf(c.text); ok && t < limit-0.05 && (c.name.has(reaching...) || c.value.has(reaching...)) {
			return "Here it is set lower: " + c.text + "."
		}
	}
	for i, step := range s.steps {
		if t, ok := lowestOf(s.stepText[i]); ok && t < limit-0.05 && step.has(reaching...) {
			return "Here a step goes no higher than " + fromCelsius(t) + "."
		}
	}
	return ""
}

// lowestOf returns the lowest temperature of a text that food may be cooked to:
// what is under 45 °C is for yeast, rooms and refrigerators.
func lowestOf(text string) (float64, bool) {
	all := slices.DeleteFunc(temperatures(text), func(t float64) bool { return t < 45 })
	if len(all) == 0 {
		return 0, false
	}
	return slices.Min(all), true
}

func beanWords(s scene) string {
	switch {
	case s.holds(kidneyFood()):
		return "Raw or undercooked kidney beans make people violently ill. Soak dry ones for at least 5 hours, pour the water away, " +
			"and boil them in fresh water for at least 30 minutes: a slow cooker does not get hot enough."
	case s.holds(beanFood()):
		return "Dry beans hold a poison that only boiling takes away: soak them for at least 5 hours, pour the water away, " +
			"and boil them in fresh water for at least 30 minutes. A slow cooker does not get hot enough."
	}
	return ""
}

// handWords names what is raw in the trial.
func handWords(s scene) string {
	var raw []string
	for _, r := range []struct {
		name string
		rule foodRule
	}{{"poultry", poultryFood()}, {"meat", meatCuts()}, {"fish", fishFood()}, {"egg", eggFood()}, {"flour", flourFood()}} {
		if s.holds(r.rule) {
			raw = append(raw, r.name)
		}
	}
	if len(raw) == 0 {
		return ""
	}
	return "Wash hands with soap and water for 20 seconds before and after handling raw " + strings.Join(raw, ", ") + ", and wash what it touched."
}
