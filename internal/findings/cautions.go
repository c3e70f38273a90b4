package findings

import (
	"strings"

	"sidebatch.example/sidebatch/internal/trial"
)

// Caution is something that can hurt a cook, with who says so.
type Caution struct {
	About  string
	Words  string
	Source string
}

// cautions finds what the trial calls for from its ingredients, steps, conditions
// and measures. They are the usual ones and defer to labels and local guidance.
func cautions(t *trial.Trial) []Caution {
	foods, process := foodWords(t), processWords(t)
	var found []Caution
	for _, rule := range cautionRules() {
		if (rule.foods != nil && mentions(foods, rule.foods)) || (rule.process != nil && mentions(process, rule.process)) {
			found = append(found, rule.Caution)
		}
	}
	return found
}

// cautionRule fires when a word stands in the name of a food, or in the process.
type cautionRule struct {
	Caution
	foods, process []string
}

func cautionRules() []cautionRule {
	const defers = " Follow the label and your local food safety authority."
	return []cautionRule{
		{Caution{"raw flour", "Flour is a raw food: do not taste raw dough or batter, and wash hands, bowls and surfaces that it touched." + defers,
			"US Food and Drug Administration, advice on handling flour safely"},
			[]string{"flour", "semolina", "cornmeal", "oats", "oatmeal"}, nil},
		{Caution{"raw or soft egg", "Raw and lightly cooked eggs can carry Salmonella. Egg dishes are done at 71 °C (160 °F); people who are pregnant, old, very young or ill should have yolk and white firm, or pasteurized eggs." + defers,
			"USDA Food Safety and Inspection Service, Safe Minimum Internal Temperature Chart"},
			[]string{"egg", "eggs", "egg yolk", "egg white"}, nil},
		{Caution{"poultry", "Poultry is done at 74 °C (165 °F) inside, measured with a thermometer." + defers,
			"USDA Food Safety and Inspection Service, Safe Minimum Internal Temperature Chart"},
			[]string{"chicken", "turkey", "duck", "poultry"}, nil},
		{Caution{"ground meat", "Ground beef, pork, veal and lamb are done at 71 °C (160 °F) inside, measured with a thermometer." + defers,
			"USDA Food Safety and Inspection Service, Safe Minimum Internal Temperature Chart"},
			[]string{"ground beef", "minced beef", "ground pork", "mince"}, nil},
		{Caution{"hot pans and fat", "A griddle or pan at cooking heat burns at a touch, and hot fat spits when anything wet meets it: dry the food, keep children away, and never pour water on burning fat.",
			"common practice, no source"},
			nil, []string{"griddle", "skillet", "frying", "fry", "pan", "sear"}},
		{Caution{"boiling water and steam", "Steam burns worse than it looks: open lids away from you, lower food in with a spoon, and keep handles turned in.",
			"common practice, no source"},
			nil, []string{"boil", "boiling", "simmer", "poach", "steam", "pot"}},
		{Caution{"hot ovens", "Oven walls, trays and the air that comes out at the door burn: use dry cloths or gloves.",
			"common practice, no source"},
			nil, []string{"oven", "bake", "roast"}},
	}
}

func foodWords(t *trial.Trial) string {
	var words []string
	for _, s := range t.Samples {
		for _, i := range s.Plan.Ingredients {
			words = append(words, i.Food)
		}
	}
	for _, i := range t.Recipe.Ingredients {
		words = append(words, i.Food)
	}
	return strings.Join(words, " ; ")
}

func processWords(t *trial.Trial) string {
	words := append([]string(nil), t.Recipe.Steps...)
	for _, s := range t.Samples {
		for _, c := range s.Conditions {
			words = append(words, c.Name, c.Value)
		}
	}
	return strings.Join(words, " ; ")
}

// mentions reports whether the text has one of the words as a whole word.
func mentions(text string, words []string) bool {
	folded := " " + strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return !(r == ';' || r >= 'a' && r <= 'z' || r > 127)
	}), " ") + " "
	for _, word := range words {
		if strings.Contains(folded, " "+word+" ") {
			return true
		}
	}
	return false
}
