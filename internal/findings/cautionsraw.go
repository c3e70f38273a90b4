package findings

import (
	"slices"
	"strconv"
	"strings"
)

// rawRules are about what is raw: how it is known to be done, and that nobody
// tastes it before.
func rawRules() []cautionRule {
	return []cautionRule{
		{"poultry", []string{doneChart()}, func(s scene) string {
			return s.meat(poultryDone, s.say.Say("poultry", "done", s.fahrenheit(poultryDone)), func(f sceneFood) bool {
				return poultryFood().names(f)
			})
		}},
		{"ground-meat", []string{doneChart()}, func(s scene) string {
			return s.meat(groundDone, s.say.Say("ground meat", "done", s.fahrenheit(groundDone)), func(f sceneFood) bool {
				return meatCuts().names(f) && isGround(f)
			})
		}},
		{"meat", []string{doneChart()}, func(s scene) string {
			return s.meat(cutsDone, s.say.Say("meat cuts", "done", s.fahrenheit(cutsDone), "rest", strconv.Itoa(cutsRest)), func(f sceneFood) bool {
				return meatCuts().names(f) && !isGround(f)
			})
		}},
		{"fish", []string{doneChart()}, func(s scene) string {
			return s.meat(fishDone, s.say.Say("fish", "done", s.fahrenheit(fishDone)), func(f sceneFood) bool {
				return fishFood().names(f)
			})
		}},
		{"raw-egg",
			[]string{doneChart(), "US Food and Drug Administration and Centers for Disease Control and Prevention, advice on raw dough"}, eggWords},
		{"beans", []string{"US Food and Drug Administration, Bad Bug Book, second edition"}, beanWords},
		{"raw-sprouts", []string{"US Food and Drug Administration, advice on sprouts"}, func(s scene) string {
			if !s.holds(sproutFood()) {
				return ""
			}
			return s.say.Say("sprouts")
		}},
		{"raw-flour",
			[]string{"US Food and Drug Administration, Flour Is a Raw Food and Other Safety Facts", "US Centers for Disease Control and Prevention, Say No to Raw Dough"},
			func(s scene) string {
				if !s.holds(flourFood()) {
					return ""
				}
				return s.say.Say("raw flour")
			}},
		{"hands", []string{"USDA and US Centers for Disease Control and Prevention, advice on washing hands"}, handWords},
	}
}

// meat words a temperature at which something is done, where an ingredient is that
// and what was measured or set below it.
func (s scene) meat(done float64, words string, is func(sceneFood) bool) string {
	if !slices.ContainsFunc(s.foods, is) {
		return ""
	}
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
	key := "eggs"
	if s.holds(flourFood()) {
		key = "eggs in dough"
	}
	words := s.say.Say(key) + " " + s.say.Say("eggs done", "done", s.fahrenheit(eggDone))
	below := s.below(eggDone, "yolk", "white", "egg", "custard", "curd", "inside", "core", "center", "centre", "middle", "internal", "batter", "sauce")
	if below == "" && s.softEgg() {
		below = s.say.Say("soft egg")
	}
	if below != "" {
		words += " " + below + " " + s.say.Say("firm eggs")
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
			return s.say.Say("read lower", "measure", r.measure, "reading", s.celsius(r.lowest))
		}
	}
	reaching := append([]string{"water bath", "sous vide", "cook to", "heat to", "warm to", "until it reads", "until it reaches", "until they reach", "pull at", "take out at", "done at", "doneness"}, parts...)
	for _, c := range s.settings {
		if t, ok := lowestOf(c.text); ok && t < limit-0.05 && (c.name.has(reaching...) || c.value.has(reaching...)) {
			return s.say.Say("set lower", "setting", c.text)
		}
	}
	for i, step := range s.steps {
		if t, ok := lowestOf(s.stepText[i]); ok && t < limit-0.05 && step.has(reaching...) {
			return s.say.Say("step lower", "temperature", s.celsius(t))
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
		return s.say.Say("kidney beans")
	case s.holds(beanFood()):
		return s.say.Say("dry beans")
	}
	return ""
}

// handWords names what is raw in the trial.
func handWords(s scene) string {
	var raw []string
	for _, r := range []struct {
		name string
		rule foodRule
	}{{"poultry", poultryFood()}, {"meat", meatCuts()}, {"fish", fishFood()}, {"egg", eggFood()}, {"flour food", flourFood()}} {
		if s.holds(r.rule) {
			raw = append(raw, s.say.Say("raw "+r.name))
		}
	}
	if len(raw) == 0 {
		return ""
	}
	return s.say.Say("hands", "raw", strings.Join(raw, ", "))
}
