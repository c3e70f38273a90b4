package bench

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
	"sidebatch.example/sidebatch/internal/writeup"
)

// Sheet is the bench sheet of a trial: the view without its frame.
func Sheet(f *findings.Findings, r Run) page.BenchSheet {
	t := f.Trial
	account := writeup.Of(f)
	return page.BenchSheet{
		Title:     t.Title,
		Question:  t.Question,
		Size:      writeup.SizeName(t.Kitchen.Words, t.TestedAt),
		Cook:      cook(f, r),
		Samples:   samples(f, r),
		Lines:     lines(f),
		Steps:     steps(f),
		Held:      held(t),
		Measures:  gridColumns(t),
		Grids:     grids(f, r),
		Tasting:   tasting(t),
		Cautions:  account.Cautions,
		Allergens: account.Allergens,
	}
}

// cook is the order in which the samples are cooked, drawn for every batch, so that
// the first on a cold griddle is not always the same one.
func cook(f *findings.Findings, r Run) []string {
	if len(f.Samples) < 2 {
		return nil
	}
	orders := design.CookingOrders(len(f.Samples), r.Batches, design.SeedOf("cooking", f.Trial.Slug, r.Seed))
	var all []string
	for batch, order := range orders {
		var letters []string
		for _, i := range order {
			letters = append(letters, f.Samples[i].Letter)
		}
		text := strings.Join(letters, " → ")
		if r.Batches > 1 {
			text = phrases(f.Trial).Say("batch order", "n", strconv.Itoa(batch+1), "order", text)
		}
		all = append(all, text)
	}
	return all
}

func samples(f *findings.Findings, r Run) []page.BenchSample {
	var all []page.BenchSample
	for i := range f.Samples {
		s := &f.Samples[i]
		b := page.BenchSample{SampleRef: writeup.Ref(s), Control: s.Control, Dough: s.TakenFrom == nil, Made: made(f.Trial, s.Sample, r)}
		if s.TakenFrom != nil {
			b.Origin = phrases(f.Trial).Say("of the dough of", "sample", f.Sample(s.TakenFrom.Key).Letter)
		}
		all = append(all, b)
	}
	return all
}

// made is what a sample is divided into: "2 batches of 6 pieces, about 51 g each".
func made(t *trial.Trial, s *trial.Sample, r Run) string {
	say := phrases(t)
	text := say.Count("piece", r.pieces(t, s))
	if r.Batches > 1 {
		text = say.Say("batches of pieces", "batches", say.Count("batch", r.Batches), "pieces", text)
	}
	if !s.Weighed.Each.IsZero() {
		each := shown(t, t.Kitchen.Instruments.Show(s.Weighed.Each, t.Kitchen.Units[0]))
		text = say.Say("about each", "pieces", text, "each", each)
	}
	return text
}

// lines are the ingredients of all samples that are weighed out, the recipe's first.
func lines(f *findings.Findings) []page.BenchLine {
	t := f.Trial
	roles := t.Recipe.Ingredients
	for i := range f.Samples {
		for _, extra := range f.Samples[i].Plan.Ingredients {
			if !slices.ContainsFunc(roles, func(known recipe.Ingredient) bool { return known.Role == extra.Role }) {
				roles = append(slices.Clone(roles), extra)
			}
		}
	}
	var all []page.BenchLine
	for _, role := range roles {
		line := page.BenchLine{Food: foodText(role), Group: role.Group()}
		var control page.BenchAmount
		for i := range f.Samples {
			s := &f.Samples[i]
			if s.TakenFrom != nil {
				continue
			}
			planned, has := t.Planned(s.Sample).Ingredient(role.Role)
			amount := page.BenchAmount{}
			if has {
				amount = portion(t, planned, role)
			}
			if len(line.Amounts) == 0 {
				control = amount
			}
			amount.Changed = amount != control
			line.Amounts = append(line.Amounts, amount)
		}
		all = append(all, line)
	}
	return all
}

func foodText(i recipe.Ingredient) string {
	if i.Preparation != "" {
		return i.Food + ", " + i.Preparation
	}
	return i.Food
}

// portion is what to measure for one sample: in the kitchen's first unit system, and
// where that goes by a density, also in the spoons and cups that the note wrote.
func portion(t *trial.Trial, i, role recipe.Ingredient) page.BenchAmount {
	in := t.Kitchen.Instruments
	first := i.Show(in, t.Kitchen.Units[0])
	a := page.BenchAmount{Text: shown(t, first)}
	if first.About && i.Amount.Dimension() == quantity.Volume {
		a.Or = in.Show(i.Amount, systemOf(in.Volumes)).Text
	}
	if weigh, fraction := i.ToWeigh(in); fraction {
		a.Or = phrases(t).Say("beaten", "amount", weigh.Text)
	}
	if foodText(i) != foodText(role) {
		a.Food = foodText(i)
	}
	return a
}

func systemOf(v quantity.Volumes) quantity.System {
	for _, s := range []quantity.System{quantity.USSystem, quantity.ImperialSystem} {
		if s.Volumes() == v {
			return s
		}
	}
	return quantity.MetricSystem
}

func shown(t *trial.Trial, s quantity.Shown) string {
	if s.About {
		return phrases(t).Say("about", "amount", s.Text)
	}
	return s.Text
}

var settingMark = regexp.MustCompile(`\{([^{}]*)\}`)

// steps fills in the conditions. One in which the samples differ keeps its name in
// the step, in brackets, and its values stand below, so that nobody at the griddle
// goes by the control's alone.
func steps(f *findings.Findings) []page.BenchStep {
	t := f.Trial
	var all []page.BenchStep
	for _, text := range t.Recipe.Steps {
		var step page.BenchStep
		step.Text = settingMark.ReplaceAllStringFunc(text, func(mark string) string {
			name := mark[1 : len(mark)-1]
			levels := levels(f, name)
			switch len(levels) {
			case 0:
				return mark
			case 1:
				return levels[0].Text
			}
			if !slices.ContainsFunc(step.Settings, func(s page.BenchSetting) bool { return s.Condition == name }) {
				step.Settings = append(step.Settings, page.BenchSetting{Condition: name, Levels: levels})
			}
			return "[" + name + "]"
		})
		all = append(all, step)
	}
	return all
}

// levels are the values that a condition has, each with its samples.
func levels(f *findings.Findings, condition string) []page.BenchLevel {
	var all []page.BenchLevel
	for i := range f.Samples {
		s := &f.Samples[i]
		value, has := setting(s.Conditions, condition)
		if !has {
			continue
		}
		n := slices.IndexFunc(all, func(l page.BenchLevel) bool { return l.Text == value })
		if n < 0 {
			all, n = append(all, page.BenchLevel{Text: value}), len(all)
		}
		all[n].Samples = append(all[n].Samples, writeup.Ref(s))
	}
	return all
}

func setting(conditions []trial.Condition, name string) (string, bool) {
	for _, c := range conditions {
		if c.Name == name {
			return c.Value, true
		}
	}
	return "", false
}

// held are the conditions that no step names, with the samples' own values where
// they differ.
func held(t *trial.Trial) []string {
	var all []string
	seen := map[string]bool{}
	for _, text := range t.Recipe.Steps {
		for _, mark := range settingMark.FindAllStringSubmatch(text, -1) {
			seen[mark[1]] = true
		}
	}
	for _, s := range t.Ordered() {
		for _, c := range s.Conditions {
			if seen[c.Name] {
				continue
			}
			seen[c.Name] = true
			text := c.Name + " " + c.Value
			for _, other := range t.Ordered() {
				if value, _ := setting(other.Conditions, c.Name); value != c.Value {
					text += ", " + other.Name + ": " + cmp.Or(value, phrases(t).Say("none"))
				}
			}
			all = append(all, text)
		}
	}
	return all
}

// grids are the readings to take, a grid a sample.
func grids(f *findings.Findings, r Run) []page.BenchGrid {
	t := f.Trial
	if len(measuresOf(t, trial.OfPiece)) == 0 {
		return nil
	}
	var all []page.BenchGrid
	for i := range f.Samples {
		s := &f.Samples[i]
		g := page.BenchGrid{SampleRef: writeup.Ref(s), Made: made(t, s.Sample, r)}
		for batch := range r.Batches {
			for piece := range r.pieces(t, s.Sample) {
				label := fmt.Sprint(piece + 1)
				if r.Batches > 1 {
					label = fmt.Sprintf("%d.%d", batch+1, piece+1)
				}
				g.Rows = append(g.Rows, label)
			}
		}
		all = append(all, g)
	}
	return all
}

func gridColumns(t *trial.Trial) []page.BenchColumn {
	var columns []page.BenchColumn
	for _, m := range measuresOf(t, trial.OfPiece) {
		c := page.BenchColumn{Measure: m.Name, Choices: choices(phrases(t), m), Unit: unit(phrases(t), m)}
		if m.Asks != "" {
			c.Asks = m.Name + ": " + m.Asks
		}
		columns = append(columns, c)
	}
	return columns
}

func choices(say wording.Phrases, m trial.Measure) []string {
	switch m.Kind {
	case trial.PassOrFail:
		return []string{say.Say("pass"), say.Say("fail")}
	case trial.YesOrNo:
		return []string{say.Say("yes"), say.Say("no")}
	}
	return nil
}

// unit is what a reading is written in.
func unit(say wording.Phrases, m trial.Measure) string {
	switch m.Kind {
	case trial.Time:
		return say.Say("time unit", "unit", m.Symbol())
	case trial.Temperature, trial.Length, trial.Mass, trial.Volume:
		return m.Symbol()
	case trial.Score:
		low, high := ends(m)
		return say.Say("from to", "low", low, "high", high)
	}
	return ""
}

// tasting says how what is tasted is noted.
func tasting(t *trial.Trial) string {
	if len(scoredMeasures(t))+len(testMeasures(t)) == 0 {
		return ""
	}
	return phrases(t).Say("what is tasted")
}
