package blurb

import (
	"fmt"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
	"sidebatch.example/sidebatch/internal/writeup"
)

// partsOf are all parts, in the order in which they stand.
func partsOf(f *findings.Findings) []part {
	t := f.Trial
	say := t.Kitchen.Words.Of("blurb")
	r := writeup.Recipe(inBothSystems(f))
	return []part{
		{name: "the question", lines: []string{t.Question}},
		{name: "the answer", lines: answer(f, say)},
		{name: "the ingredients", lines: ingredients(say, r, fullSize(t, r)), goes: ingredientsGo},
		{name: "the times", lines: times(say, r), goes: timesGo},
		{name: "the steps", lines: steps(say, r), goes: stepsGo},
		{name: "the chapters", lines: chapters(say, t), goes: chaptersGo},
		{name: "the cautions", lines: cautions(f, say, r)},
		{name: "the allergens", lines: allergens(say, r)},
		{name: "that the data are invented", lines: invented(say, t)},
		{name: "the address", lines: address(say, t)},
	}
}

// inBothSystems are the findings with amounts in metric and US units whatever the
// kitchen's pages show: its own systems first, in its order.
func inBothSystems(f *findings.Findings) *findings.Findings {
	t, both := *f.Trial, *f
	t.Kitchen.Units = slices.Clone(t.Kitchen.Units)
	for _, system := range []quantity.System{quantity.MetricSystem, quantity.USSystem} {
		if !slices.Contains(t.Kitchen.Units, system) {
			t.Kitchen.Units = append(t.Kitchen.Units, system)
		}
	}
	both.Trial = &t
	return &both
}

// answer is the verdict, what was seen and whether it carries the verdict, and how far
// to trust it.
func answer(f *findings.Findings, say wording.Phrases) []string {
	a := writeup.Of(f).Answer
	return []string{a.Words, a.Finding, trust(f, say)}
}

// trust is one sentence.
func trust(f *findings.Findings, say wording.Phrases) string {
	evidence, most := writeup.Evidence(f), 0
	for _, s := range f.Samples {
		most = max(most, s.Batches)
	}
	switch {
	case most == 0:
		return say.Say("trust", "evidence", evidence)
	case most == 1:
		return say.Say("trust, made once", "evidence", evidence)
	}
	return say.Count("trust, several batches", most, "evidence", evidence)
}

// fullSize is the full batch, which is among the sizes of every kitchen.
func fullSize(t *trial.Trial, r page.Recipe) page.Size {
	one := quantity.Int(1)
	for i, size := range t.Kitchen.Sizes {
		if size.Of.Equal(one) && i < len(r.Sizes) {
			return r.Sizes[i]
		}
	}
	return page.Size{}
}

func ingredients(say wording.Phrases, r page.Recipe, full page.Size) []string {
	lines := []string{say.Say("recipe", "name", r.Name)}
	if full.Makes != "" {
		lines[0] = say.Say("recipe that makes", "name", r.Name, "makes", full.Makes)
	}
	lines = append(lines, r.Intro)
	group := ""
	for _, l := range full.Lines {
		if l.Group != group {
			group = l.Group
			lines = append(lines, say.Say("group", "name", group))
		}
		lines = append(lines, "- "+ingredient(say, l))
	}
	if together := amounts(say, full.Mass); together != "" {
		lines = append(lines, say.Say("together", "amounts", together))
	}
	return lines
}

func ingredient(say wording.Phrases, l page.SizeLine) string {
	name, all := l.Food, amounts(say, l.Amounts)
	if l.Preparation != "" {
		name += ", " + l.Preparation
	}
	if l.Spooned != "" {
		all += " / " + say.Say("about", "amount", l.Spooned)
	}
	if l.Note != "" {
		all += " (" + l.Note + ")"
	}
	return say.Say("ingredient", "food", name, "amounts", all)
}

// amounts are those of every system, one that two systems share only once.
func amounts(say wording.Phrases, all []page.Amount) string {
	var texts []string
	for _, a := range all {
		text := a.Text
		if a.About {
			text = say.Say("about", "amount", text)
		}
		if !slices.Contains(texts, text) {
			texts = append(texts, text)
		}
	}
	return strings.Join(texts, " / ")
}

func times(say wording.Phrases, r page.Recipe) []string {
	var all []string
	for _, t := range r.Times {
		all = append(all, t.Label+" "+t.Text)
	}
	if len(all) == 0 {
		return nil
	}
	return []string{say.Say("times", "times", strings.Join(all, ", "))}
}

func steps(say wording.Phrases, r page.Recipe) []string {
	if len(r.Steps) == 0 {
		return nil
	}
	lines := []string{say.Say("steps")}
	for i, step := range r.Steps {
		lines = append(lines, fmt.Sprintf("%d. %s", i+1, step.Text))
	}
	return lines
}

// chapters stand as sites that show videos read them: a line each, the time and then
// the title, the first at 0:00 (common practice, no source).
func chapters(say wording.Phrases, t *trial.Trial) []string {
	if len(t.Video.Chapters) == 0 {
		return nil
	}
	lines := []string{say.Say("chapters")}
	if writeup.Timestamp(t.Video.Chapters[0].At) != writeup.Timestamp(quantity.New(quantity.Int(0), quantity.Second)) {
		lines = append(lines, writeup.Timestamp(quantity.New(quantity.Int(0), quantity.Second))+" "+say.Say("opening"))
	}
	for _, c := range t.Video.Chapters {
		lines = append(lines, writeup.Timestamp(c.At)+" "+c.Title)
	}
	return lines
}

// cautions end in the sentence that local codes and labels go first.
func cautions(f *findings.Findings, say wording.Phrases, r page.Recipe) []string {
	if len(r.Cautions) == 0 {
		return nil
	}
	lines := []string{say.Say("cautions")}
	for _, c := range r.Cautions {
		lines = append(lines, "- "+c.Words)
	}
	return append(lines, findings.Deference(f.Trial.Kitchen.Words))
}

func allergens(say wording.Phrases, r page.Recipe) []string {
	if r.Allergens == nil {
		return nil
	}
	lines := []string{say.Say("allergens")}
	for _, g := range r.Allergens.Groups {
		var names []string
		for _, l := range g.Lines {
			names = append(names, allergen(l))
		}
		lines = append(lines, say.Say("group of allergens", "strength", g.Strength, "names", strings.Join(names, "; ")))
	}
	lines = append(lines, r.Allergens.Taken...)
	lines = append(lines, r.Allergens.Notes...)
	return append(lines, r.Allergens.Notice)
}

// allergen is a name with the foods it comes from.
func allergen(l page.AllergenLine) string {
	var from []string
	for _, f := range l.From {
		food := f.Food
		if f.Strength != "" {
			food += ": " + f.Strength
		}
		from = append(from, food)
	}
	name := l.Name
	if l.List != "" {
		name += ", " + l.List
	}
	if len(from) > 0 {
		name += " (" + strings.Join(from, ", ") + ")"
	}
	return name
}

func invented(say wording.Phrases, t *trial.Trial) []string {
	if !t.Kitchen.Invented {
		return nil
	}
	return []string{say.Say("invented")}
}

// address is where the write-up stands; nothing where the kitchen has no address.
func address(say wording.Phrases, t *trial.Trial) []string {
	if t.Kitchen.Address == "" {
		return nil
	}
	return []string{say.Say("address", "address", t.Kitchen.Address+t.Slug+"/")}
}
