package findings

import (
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// Caution is something that can hurt a cook, a guest or a taster, with who says
// so. [Deference] belongs below every list of them.
type Caution struct {
	Code    string // a name that stays: "raw-egg"
	About   string // "raw or soft egg"
	Words   string
	Source  string   // the sources in one line
	Sources []string // the same, one by one
}

// Deference is the sentence that belongs below every list of cautions, once.
func Deference(l *wording.Language) string {
	return cautionPhrases(l).Say("deference")
}

// commonPractice marks what has no source.
const commonPractice = "common practice"

// cautionPhrases are the words of cautions; a kitchen without words speaks English.
func cautionPhrases(l *wording.Language) wording.Phrases {
	if l == nil {
		l = wording.English()
	}
	return l.Of("cautions")
}

// cautions finds what the trial calls for, from the ingredients, steps and
// conditions of all its samples and from what was measured: the most harmful
// first. Words are looked for, and nothing is understood, so that no caution is no
// promise that nothing can go wrong.
func cautions(t *trial.Trial) []Caution {
	all := []*trial.Sample{nil} // the recipe as written
	return cautionsIn(sceneOf(t, append(all, t.Ordered()...)...))
}

// CautionsOf finds what one sample calls for, as a recipe to cook from: without
// what a tasting calls for.
func (f *Findings) CautionsOf(s *trial.Sample) []Caution {
	alone := sceneOf(f.Trial, s)
	alone.tasters = false
	return cautionsIn(alone)
}

func cautionsIn(s scene) []Caution {
	var found []Caution
	for _, rule := range cautionRules(s.say) {
		words := rule.words(s)
		if words == "" {
			continue
		}
		found = append(found, Caution{
			Code:    rule.code,
			About:   s.say.Say("about " + rule.code),
			Words:   words,
			Source:  strings.Join(rule.sources, "; "),
			Sources: rule.sources,
		})
	}
	return found
}

// cautionRule is one caution; words returns "" where it is not called for.
type cautionRule struct {
	code    string
	sources []string
	words   func(s scene) string
}

// cautionRules are all of them, the most harmful first: what can kill a healthy
// person, then what carries germs or poisons, then how food is kept, then burns.
// The order is a judgement (common practice, no source).
func cautionRules(say wording.Phrases) []cautionRule {
	return slices.Concat(poisonRules(), tastingRules(), rawRules(), keepingRules(), burnRules(say))
}

// scene is what the rules look at: a sample, or several together.
type scene struct {
	say      wording.Phrases
	foods    []sceneFood
	names    []plainText // of the recipe and its samples
	steps    []plainText
	stepText []string // the same as written
	settings []sceneSetting
	readings []sceneReading
	waits    bool // the recipe plans time to wait
	tasters  bool // people taste and judge
	lists    string
	altitude float64 // metres
	language string  // that the notes are written in
}

// sceneFood is an ingredient.
type sceneFood struct {
	name, preparation plainText
}

// sceneSetting is a condition with its value.
type sceneSetting struct {
	name, value plainText
	text        string // "rest: 30 min", as written
}

// sceneReading is the lowest reading that counts of a temperature.
type sceneReading struct {
	measure string
	words   plainText // of its name and what it asks
	lowest  float64   // °C
}

// sceneOf gathers what samples are made of and what was done to them; nil stands
// for the recipe as written.
func sceneOf(t *trial.Trial, samples ...*trial.Sample) scene {
	s := scene{
		say:      cautionPhrases(t.Kitchen.Words),
		tasters:  len(t.Tastings) > 0 || len(t.Sets) > 0,
		lists:    string(t.Kitchen.Allergens),
		altitude: t.Kitchen.Altitude,
		language: t.Kitchen.Language,
		waits:    !t.Recipe.Times.Wait.IsZero(),
	}
	for _, m := range t.Measures {
		s.tasters = s.tasters || m.Source == trial.OfTasting || m.Kind.IsDiscrimination()
	}
	s.names = append(s.names, s.folded(t.Recipe.Name))
	for _, sample := range samples {
		r, conditions := t.Recipe, t.Conditions
		if sample != nil {
			r, conditions = sample.Plan, sample.Conditions
			s.names = append(s.names, s.folded(sample.Name))
		}
		for _, i := range r.Ingredients {
			s.food(sceneFood{s.folded(i.Food), s.folded(i.Preparation)})
		}
		for _, text := range t.Steps(sample) {
			s.step(text)
		}
		for _, c := range conditions {
			s.setting(sceneSetting{s.folded(c.Name), s.folded(c.Value), c.Name + ": " + c.Value})
		}
	}
	s.readings = lowestReadings(t, samples)
	return s
}

// food adds an ingredient that is not there yet.
// folded folds text of the note, kitchen words of its language put into English.
func (s *scene) folded(text string) plainText { return folded(food.InEnglish(s.language, text)) }

func (s *scene) food(f sceneFood) {
	same := func(o sceneFood) bool {
		return slices.Equal(o.name, f.name) && slices.Equal(o.preparation, f.preparation)
	}
	if !slices.ContainsFunc(s.foods, same) {
		s.foods = append(s.foods, f)
	}
}

func (s *scene) step(text string) {
	if !slices.Contains(s.stepText, text) {
		s.stepText = append(s.stepText, text)
		s.steps = append(s.steps, s.folded(text))
	}
}

func (s *scene) setting(c sceneSetting) {
	if !slices.ContainsFunc(s.settings, func(o sceneSetting) bool { return o.text == c.text }) {
		s.settings = append(s.settings, c)
	}
}
