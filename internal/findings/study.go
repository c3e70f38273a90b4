package findings

import (
	"slices"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// Study is what one trial showed, as far as pages say it that go over trials. It holds
// plain values and nothing of the trial itself, so that it can be written to a file and
// read back, and takes little room where there are thousands. It must not change once
// evidence was made of it.
type Study struct {
	Slug, Title string
	Day         trial.Date // when it was cooked, or else published
	Recipe      string     // the recipe's name
	Repeats     string     // the slug of the trial that it repeats, as its note says
	Measures    []StudyMeasure
	Contrasts   []StudyContrast // in the order of the trial
	Answers     []StudyAnswers  // of discrimination tests, in the order of the note
	Households  []StudyHousehold
	Foods       []FoodUse // in the order in which the recipe and the samples name them
}

// StudyMeasure is what must be known of a measure to hold it against that of another
// trial, and to write its differences.
type StudyMeasure struct {
	Name     string
	Kind     trial.Kind
	Unit     quantity.Unit // that pages show
	Decimals int
	PartOf   string
	Parts    []string
	Asks     string
	From, To int // the ends of a scale
	FromIs   string
	ToIs     string
	Source   trial.Source
	Primary  bool
}

// Measure gives the measure back, with the language that its differences are written in.
func (m StudyMeasure) Measure(l *wording.Language) trial.Measure {
	return trial.Measure{Name: m.Name, Kind: m.Kind, In: m.Unit, Decimals: m.Decimals, PartOf: m.PartOf,
		Parts: m.Parts, Asks: m.Asks, From: m.From, FromIs: m.FromIs, To: m.To, ToIs: m.ToIs,
		Source: m.Source, Primary: m.Primary, Language: l}
}

// StudyContrast is one sample held against another.
type StudyContrast struct {
	Of, Against           string // the keys of the samples
	OfDough, AgainstDough string // the samples whose doughs they are of
	// Differing are the factors that differ: the Planned first ones by plan, the others
	// as measured.
	Differing []StudyDifference
	Planned   int
	Effects   []StudyEffect // in the order of the measures
}

// StudyDifference is one factor that differs in a contrast.
type StudyDifference struct {
	Factor      design.Factor
	Of, Against StudyLevel
	Below       bool // the levels have an order, and the first is the lower one
}

// StudyLevel is a factor's value in a sample: as the note has it, "" without the factor,
// and a key that is alike for values that are the same.
type StudyLevel struct{ Text, Key string }

// StudyEffect is what a contrast showed on one measure. Numbers are as in [Outcome];
// those whose Has is false mean nothing.
type StudyEffect struct {
	Measure          int // in Study.Measures
	Unit             Unit
	Paired           bool
	Of, Against      StudyGroup
	Difference       float64
	HasDifference    bool
	Interval         stats.Interval
	HasInterval      bool
	StandardError    float64 // of a difference of means
	HasStandardError bool
	// Blocks are counts of passes: one block for the pieces, or one for each pair of
	// batches that belong together. There are none where pieces stand in batches that do
	// not, or where assessors judged.
	Blocks []StudyBlock
}

// StudyBlock are the counts of passes of both sides.
type StudyBlock = stats.Block

// StudyGroup is how much one side of a contrast rests on.
type StudyGroup struct{ Units, Readings int }

// StudyAnswers is what a discrimination test or a paired preference showed of a contrast.
type StudyAnswers struct {
	Measure   int    // in Study.Measures
	Contrast  int    // in Study.Contrasts
	Of        string // the name of the sample that Right prefer
	Unit      Unit   // what N counts: sets, or assessors who answered more than once
	Right, N  int
	Assessors int
	P         float64
	HasP      bool
}

// StudyHousehold is what a viewer found who repeated the trial. Of the contrasts it has
// those on which there is a difference.
type StudyHousehold struct {
	Name      string
	Contrasts []StudyContrast
}

// Study puts together what the trial, and those who repeated it, say to pages that go
// over trials.
func (f *Findings) Study() Study {
	t := f.Trial
	s := Study{Slug: t.Slug, Title: t.Title, Day: f.Day(), Recipe: t.Recipe.Name, Repeats: t.Repeats.Slug, Foods: f.foodUses()}
	at := map[string]int{} // of measures, by name
	for i, m := range t.Measures {
		at[m.Name] = i
		s.Measures = append(s.Measures, studyMeasure(m))
	}
	for i := range f.Contrasts {
		c := f.studyContrast(&f.Contrasts[i])
		for j := range f.Contrasts[i].Measures {
			e := &f.Contrasts[i].Measures[j]
			c.Effects = append(c.Effects, f.studyEffect(&f.Contrasts[i], e, at[e.Measure.Name]))
		}
		s.Contrasts = append(s.Contrasts, c)
	}
	for i := range f.Discriminations {
		d := &f.Discriminations[i]
		if c := f.contrastAt(d.Of, d.Against); c >= 0 {
			s.Answers = append(s.Answers, StudyAnswers{Measure: at[d.Measure.Name], Contrast: c, Of: d.Of.Name,
				Unit: d.Unit, Right: d.Right, N: d.N, Assessors: d.Assessors, P: d.P, HasP: d.HasP})
		}
	}
	for _, home := range f.Households {
		s.Households = append(s.Households, home.studyHousehold(at))
	}
	return s
}

func studyMeasure(m trial.Measure) StudyMeasure {
	return StudyMeasure{Name: m.Name, Kind: m.Kind, Unit: m.In, Decimals: m.Decimals, PartOf: m.PartOf,
		Parts: m.Parts, Asks: m.Asks, From: m.From, FromIs: m.FromIs, To: m.To, ToIs: m.ToIs,
		Source: m.Source, Primary: m.Primary}
}

func (f *Findings) studyHousehold(at map[string]int) StudyHousehold {
	h := StudyHousehold{Name: f.Household.Name}
	for i := range f.Contrasts {
		c := f.studyContrast(&f.Contrasts[i])
		for j := range f.Contrasts[i].Measures {
			if e := &f.Contrasts[i].Measures[j]; e.HasDifference {
				c.Effects = append(c.Effects, f.studyEffect(&f.Contrasts[i], e, at[e.Measure.Name]))
			}
		}
		if len(c.Effects) > 0 {
			h.Contrasts = append(h.Contrasts, c)
		}
	}
	return h
}

// studyContrast is a contrast without what it showed.
func (f *Findings) studyContrast(c *Contrast) StudyContrast {
	s := StudyContrast{Of: c.Of.Key, Against: c.Against.Key, OfDough: c.Of.Origin().Key, AgainstDough: c.Against.Origin().Key,
		Planned: len(c.Planned)}
	for _, list := range [][]design.Difference{c.Planned, c.Unplanned} {
		for _, d := range list {
			of := levelOf(f.Trial, c.Of.Sample, d.Factor, d.Sample)
			against := levelOf(f.Trial, c.Against.Sample, d.Factor, d.Against)
			s.Differing = append(s.Differing, StudyDifference{Factor: d.Factor, Below: below(of, against),
				Of: StudyLevel{of.text, of.key}, Against: StudyLevel{against.text, against.key}})
		}
	}
	return s
}

// studyEffect is what a contrast showed on a measure, which is that of the given number.
func (f *Findings) studyEffect(c *Contrast, e *Effect, measure int) StudyEffect {
	s := StudyEffect{Measure: measure, Unit: e.Unit, Paired: e.Paired,
		Of: StudyGroup{e.Of.Units, e.Of.Readings}, Against: StudyGroup{e.Against.Units, e.Against.Readings},
		Difference: e.Difference, HasDifference: e.HasDifference, Interval: e.Interval, HasInterval: e.HasInterval}
	switch {
	case !e.HasDifference || e.Unit == OfAssessor:
	case e.Measure.Kind.IsShare():
		s.Blocks = f.blocksOf(c, e)
	default:
		s.StandardError, s.HasStandardError = e.standardError()
	}
	return s
}

// blocksOf are the counts of an effect: one block for pieces of one batch a sample, and
// one for each pair of batches that belong together.
func (f *Findings) blocksOf(c *Contrast, e *Effect) []stats.Block {
	block := func(of, against Group) stats.Block {
		return stats.Block{X1: of.Passes, N1: of.Readings, X2: against.Passes, N2: against.Readings}
	}
	if e.Unit == OfPiece {
		return []stats.Block{block(e.Of, e.Against)}
	}
	if !e.Paired {
		return nil
	}
	of, against := common(gather(f.Trial, c.Of.Sample, e.Measure, false), gather(f.Trial, c.Against.Sample, e.Measure, false))
	var blocks []stats.Block
	for i := range of.batches {
		x, y := side{batches: of.batches[i : i+1]}, side{batches: against.batches[i : i+1]}
		blocks = append(blocks, block(x.group(nil, true), y.group(nil, true)))
	}
	return blocks
}

// About is the study as far as it is about one factor, as [FactorKey] names it: the contrasts
// in which that differs, and the measures that they are compared on. [EvidenceAbout] has the
// same of it as of the whole.
func (s *Study) About(key string) Study {
	differs := func(d StudyDifference) bool { return FactorKey(d.Factor) == key }
	return s.only(func(c StudyContrast) bool { return slices.ContainsFunc(c.Differing, differs) }, func(int) bool { return true })
}

// On is the study as far as it is about one of its measures.
func (s *Study) On(measure int) Study {
	return s.only(func(StudyContrast) bool { return true }, func(m int) bool { return m == measure })
}

// only leaves out other contrasts and measures, and foods.
func (s *Study) only(contrast func(StudyContrast) bool, measure func(int) bool) Study {
	rest := *s
	rest.Measures, rest.Contrasts, rest.Answers, rest.Households, rest.Foods = nil, nil, nil, nil, nil
	measures := map[int]int{} // the number there, by the number here
	number := func(m int) int {
		if _, known := measures[m]; !known {
			measures[m] = len(rest.Measures)
			rest.Measures = append(rest.Measures, s.Measures[m])
		}
		return measures[m]
	}
	of := func(c StudyContrast) StudyContrast {
		c.Effects = slices.DeleteFunc(slices.Clone(c.Effects), func(e StudyEffect) bool { return !measure(e.Measure) })
		for i := range c.Effects {
			c.Effects[i].Measure = number(c.Effects[i].Measure)
		}
		return c
	}
	contrasts := map[int]int{}
	for i, c := range s.Contrasts {
		if contrast(c) {
			contrasts[i] = len(rest.Contrasts)
			rest.Contrasts = append(rest.Contrasts, of(c))
		}
	}
	for _, a := range s.Answers {
		if at, is := contrasts[a.Contrast]; is && measure(a.Measure) {
			a.Contrast, a.Measure = at, number(a.Measure)
			rest.Answers = append(rest.Answers, a)
		}
	}
	for _, h := range s.Households {
		home := StudyHousehold{Name: h.Name}
		for _, c := range h.Contrasts {
			if contrast(c) {
				home.Contrasts = append(home.Contrasts, of(c))
			}
		}
		if len(home.Contrasts) > 0 {
			rest.Households = append(rest.Households, home)
		}
	}
	return rest
}
