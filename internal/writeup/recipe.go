package writeup

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// card is the recipe in the write-up: full size, the tested size beside it.
func card(f *findings.Findings) *page.RecipeCard {
	t := f.Trial
	say := phrasesOf(t)
	c := &page.RecipeCard{
		Name:    t.Recipe.Name,
		Makes:   yield(t.Recipe.Makes),
		Systems: systems(t),
		Steps:   steps(f),
		Times:   say.times(t.Recipe.Times),
	}
	tested := t.Recipe.Scale(t.TestedAt)
	half := !t.TestedAt.Equal(quantity.Int(1))
	if half {
		c.TestedAt = SizeName(t.Kitchen.Words, t.TestedAt)
		c.TestedMass = mass(t, tested)
	}
	c.FullMass = mass(t, t.Recipe)
	shares := say.shares(t.Recipe)
	for _, i := range t.Recipe.Ingredients {
		line := page.RecipeLine{
			Food:        i.Food,
			Preparation: i.Preparation,
			Group:       i.Group(),
			Full:        amounts(t, i),
			Percent:     shares[i.Role],
			Varies:      varies(f, i),
		}
		if half {
			small, _ := tested.Ingredient(i.Role)
			line.Tested = amounts(t, small)
		}
		c.Lines = append(c.Lines, line)
	}
	return c
}

// varies lists the samples that took something else for a role than the recipe.
func varies(f *findings.Findings, i recipe.Ingredient) []page.SampleLevel {
	in := f.Trial.Kitchen.Instruments
	var all []page.SampleLevel
	for n := range f.Samples {
		s := &f.Samples[n]
		other, has := s.Plan.Ingredient(i.Role)
		switch {
		case !has:
			all = append(all, page.SampleLevel{SampleRef: Ref(s), Text: phrasesOf(f.Trial).Say("none")})
		case other.Text(in) != i.Text(in):
			all = append(all, page.SampleLevel{SampleRef: Ref(s), Text: other.Text(in)})
		}
	}
	return all
}

func yield(y recipe.Yield) string {
	if y.Count.Sign() == 0 {
		return ""
	}
	return y.Count.Fraction() + " " + y.What
}

// systems names the unit systems of the kitchen, in its order.
func systems(t *trial.Trial) []string {
	say := phrasesOf(t)
	var names []string
	for _, s := range t.Kitchen.Units {
		names = append(names, map[quantity.System]string{
			quantity.MetricSystem:   say.Say("metric system"),
			quantity.USSystem:       say.Say("US system"),
			quantity.ImperialSystem: say.Say("imperial system"),
		}[s])
	}
	return names
}

func amounts(t *trial.Trial, i recipe.Ingredient) []page.Amount {
	var all []page.Amount
	for _, s := range t.Kitchen.Units {
		shown := i.Show(t.Kitchen.Instruments, s)
		all = append(all, page.Amount{Text: shown.Text, About: shown.About})
	}
	return all
}

// mass is the mass of the whole batch, when all of it is known.
func mass(t *trial.Trial, r recipe.Recipe) []page.Amount {
	batch := r.Batch()
	if len(batch.Missing) > 0 || len(batch.Formula) == 0 {
		return nil
	}
	var all []page.Amount
	for _, s := range t.Kitchen.Units {
		shown := t.Kitchen.Instruments.Show(quantity.New(batch.Formula.Mass(), quantity.Gram), s)
		all = append(all, page.Amount{Text: shown.Text, About: shown.About || batch.About})
	}
	return all
}

// shares are the baker's percentages by role, in words.
func (say phrases) shares(r recipe.Recipe) map[string]string {
	words := map[string]string{}
	p, ok := r.Batch().Percentages()
	if !ok {
		return words
	}
	for _, part := range p.Parts {
		words[part.Role] = say.percent(part.Share)
	}
	return words
}

// SizeName names a batch size: "half batch", "2 batches". A nil language is English.
func SizeName(l *wording.Language, of quantity.Number) string {
	say := spoken(l)
	names := []struct {
		of   quantity.Number
		name string
	}{
		{quantity.Int(1), say.Say("full batch")}, {quantity.Ratio(1, 2), say.Say("half batch")},
		{quantity.Ratio(1, 3), say.Say("a third of a batch")}, {quantity.Ratio(1, 4), say.Say("quarter batch")},
		{quantity.Int(2), say.Say("double batch")},
	}
	for _, n := range names {
		if n.of.Equal(of) {
			return n.name
		}
	}
	return say.Say("another size", "times", of.Fraction())
}

// steps fills in the conditions of the recipe; a step in which samples differ says
// what was different.
func steps(f *findings.Findings) []page.Step {
	t := f.Trial
	plain := t.Steps(nil)
	var all []page.Step
	for n, text := range plain {
		step := page.Step{Text: text}
		for i := range f.Samples {
			s := &f.Samples[i]
			if t.Steps(s.Sample)[n] != text {
				step.Varies = append(step.Varies, page.SampleLevel{SampleRef: Ref(s), Text: placed(t, s.Sample, n)})
			}
		}
		all = append(all, step)
	}
	return all
}

var mark = regexp.MustCompile(`\{([^{}]*)\}`)

// placed lists what a sample has in the marks of a step, where it differs from the
// recipe.
func placed(t *trial.Trial, s *trial.Sample, step int) string {
	var words []string
	for _, m := range mark.FindAllStringSubmatch(t.Recipe.Steps[step], -1) {
		own, general := setting(s.Conditions, m[1]), setting(t.Conditions, m[1])
		if own != general {
			words = append(words, own)
		}
	}
	return strings.Join(words, ", ")
}

func setting(conditions []trial.Condition, name string) string {
	i := slices.IndexFunc(conditions, func(c trial.Condition) bool { return c.Name == name })
	if i < 0 {
		return ""
	}
	return conditions[i].Value
}

func (say phrases) times(r recipe.Times) []page.Time {
	var all []page.Time
	add := func(label string, a quantity.Amount) {
		if a.IsZero() {
			return
		}
		low, _ := a.Base()
		seconds, _ := low.Floor().Int64()
		all = append(all, page.Time{Label: label, Text: duration(seconds), ISO: iso(seconds)})
	}
	add(say.Say("prepare"), r.Prepare)
	add(say.Say("wait"), r.Wait)
	add(say.Say("cook"), r.Cook)
	return all
}

func duration(seconds int64) string {
	switch {
	case seconds < 60:
		return fmt.Sprintf("%d s", seconds)
	case seconds < 3600 && seconds%60 == 0:
		return fmt.Sprintf("%d min", seconds/60)
	case seconds < 3600:
		return fmt.Sprintf("%d min %d s", seconds/60, seconds%60)
	case seconds/60%60 == 0:
		return fmt.Sprintf("%d h", seconds/3600)
	}
	return fmt.Sprintf("%d h %d min", seconds/3600, seconds/60%60)
}

// iso writes a duration as ISO 8601 has it: PT1H30M.
func iso(seconds int64) string {
	text := "PT"
	for _, part := range []struct {
		n    int64
		unit string
	}{{seconds / 3600, "H"}, {seconds / 60 % 60, "M"}, {seconds % 60, "S"}} {
		if part.n > 0 {
			text += fmt.Sprintf("%d%s", part.n, part.unit)
		}
	}
	return text
}

// Recipe returns the view of the recipe alone, at every size of the kitchen. It is
// the version that the people prefer, or the control's where they prefer none.
func Recipe(f *findings.Findings) page.Recipe {
	t := f.Trial
	say, follows := phrasesOf(t), followed(f)
	r := t.Recipe
	v := page.Recipe{Systems: systems(t)}
	var sample *trial.Sample
	if follows != nil {
		r, sample = follows.Plan, follows.Sample
		ref := Ref(follows)
		v.Follows = &ref
		v.Intro = say.version(f, follows)
	}
	v.Name, v.Makes, v.Times, v.Notes = r.Name, yield(r.Makes), say.times(r.Times), say.scaling(t)
	for _, text := range t.Steps(sample) {
		v.Steps = append(v.Steps, page.Step{Text: text})
	}
	for _, size := range t.Kitchen.Sizes {
		v.Sizes = append(v.Sizes, sizeView(t, r, size.Of))
	}
	if !t.TestedAt.Equal(quantity.Int(1)) {
		v.TestedNote = say.Say("made at another size", "size", SizeName(t.Kitchen.Words, t.TestedAt))
	}
	say.percents(&v, r)
	v.BakerNotes = say.bakerNotes(r)
	careOf(f, follows, &v)
	v.Nutrition = nutrition(t, r)
	return v
}

// followed is the sample whose version readers cook from.
func followed(f *findings.Findings) *findings.Sample {
	if prefer := f.Trial.Verdict.Prefer; prefer != nil {
		return f.Sample(prefer.Key)
	}
	if control := f.Trial.Control(); control != nil {
		return f.Sample(control.Key)
	}
	return nil
}

// version says which version this is, and what it was held against.
func (say phrases) version(f *findings.Findings, s *findings.Sample) string {
	others := len(f.Samples) - 1
	if f.Trial.Verdict.Prefer != nil {
		return say.Count("version preferred", others, "letter", s.Letter, "name", s.Name)
	}
	return say.Count("version of the control", others, "letter", s.Letter, "name", s.Name)
}

// percents adds the baker's percentages.
func (say phrases) percents(v *page.Recipe, r recipe.Recipe) {
	p, ok := r.Batch().Percentages()
	if !ok {
		return
	}
	for _, part := range p.Parts {
		i, _ := r.Ingredient(part.Role)
		v.Percents = append(v.Percents, page.Percent{Food: i.Food, Percent: say.percent(part.Share), Flour: r.IsFlour(i)})
	}
	if p.Hydration.Sign() > 0 {
		v.Hydration = say.percent(p.Hydration)
	}
}

func sizeView(t *trial.Trial, r recipe.Recipe, of quantity.Number) page.Size {
	scaled := r.Scale(of)
	size := page.Size{
		Label:   wording.Capital(SizeName(t.Kitchen.Words, of)),
		Makes:   yield(scaled.Makes),
		Tested:  of.Equal(t.TestedAt),
		Default: of.Equal(quantity.Int(1)) || of.Equal(quantity.Ratio(1, 2)),
		Mass:    mass(t, scaled),
	}
	for _, i := range scaled.Ingredients {
		line := page.SizeLine{
			Food:        i.Food,
			Preparation: i.Preparation,
			Group:       i.Group(),
			Amounts:     amounts(t, i),
		}
		counterWords(t, i, &line)
		size.Lines = append(size.Lines, line)
	}
	return size
}

// counterWords say how to measure what an instrument does not give: a fraction of an
// egg by its mass, a mass in spoons and cups for a cook without a scale.
func counterWords(t *trial.Trial, i recipe.Ingredient, line *page.SizeLine) {
	in := t.Kitchen.Instruments
	if weigh, ok := i.ToWeigh(in); ok {
		line.Note = phrasesOf(t).Say("beat and take", "mass", weigh.Text)
	}
	for _, system := range t.Kitchen.Units {
		if system == quantity.MetricSystem {
			continue
		}
		if spooned, by, ok := i.Spooned(in, system); ok {
			line.Spooned, line.SpoonedBy = spooned.Text, phrasesOf(t).measure(in, by)
			return
		}
	}
}

// measure writes the household measure behind an amount, "1 cup = 125 g". The food
// table has it in English; in another language it is an amount like any other, unless
// words stand beside the unit ("1 cup, sifted").
func (say phrases) measure(in quantity.Instruments, by string) string {
	if strings.HasPrefix(say.Language().Name(), "en") {
		return by
	}
	household, mass, _ := strings.Cut(by, " = ")
	if amount, err := quantity.Parse(household, quantity.USCustomary); err == nil {
		household = in.Words(amount)
	}
	return household + " = " + say.Language().Decimal(mass)
}

// scaling says where a bigger batch is not only bigger.
func (say phrases) scaling(t *trial.Trial) []string {
	notes := []string{say.Say("what does not scale")}
	for _, i := range t.Recipe.Ingredients {
		if i.Leavens() || strings.Contains(i.Food, "baking powder") || strings.Contains(i.Food, "baking soda") || strings.Contains(i.Food, "yeast") {
			return append(notes, say.Say("leavening past a double batch"))
		}
	}
	return notes
}
