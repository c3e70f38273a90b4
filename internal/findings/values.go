package findings

import (
	"fmt"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// Value is a number that prose may cite, with its present words.
type Value struct {
	Text  string
	exact figure

	language *wording.Language // that words about it are written in
}

// figure is what a value says, in a form that words can be held against.
type figure struct {
	count, n int  // of a share
	share    bool // count and n hold
	amount   float64
	unit     quantity.Unit    // of amount
	volumes  quantity.Volumes // which spoons and cups the author means
}

// UnknownValue says that a path names nothing, and what was probably meant.
type UnknownValue struct {
	What, Hint string
}

// Error returns what is wrong with the hint in brackets.
func (e *UnknownValue) Error() string {
	if e.Hint == "" {
		return e.What
	}
	return e.What + " (" + e.Hint + ")"
}

// Value returns the value at a path of names: sample/measure, with a statistic
// behind it if wanted (n, mean, median, min, max, sd, share), the name of a
// discrimination test or preference, boiling point, hydration, recipe/role. In a name a hyphen stands for a space.
// All that it finds is in [Findings.Citable], and nothing else is.
func (f *Findings) Value(path string) (Value, error) {
	v, err := f.root().find(path)
	v.language = f.Trial.Kitchen.Words
	return v, err
}

// same compares a name in an address with a name in the note.
func same(address, name string) bool { return trial.AddressName(address) == trial.AddressName(name) }

// root holds the names that a path may begin with. Of two alike the first is meant.
func (f *Findings) root() name {
	return name{lacks: f.lacks, next: f.firstNames}
}

func (f *Findings) firstNames() []name {
	all := []name{
		{said: "boiling point", what: "where water boils at the kitchen's altitude", value: f.boilingPoint},
		{said: "hydration", what: "water of the full batch, in per cent of its flours", value: f.hydration},
		f.recipeNames(),
	}
	for i := range f.Samples {
		all = append(all, f.Samples[i].names())
	}
	for i := range f.Discriminations {
		all = append(all, f.Discriminations[i].names())
	}
	return all
}

func (f *Findings) lacks(path string) error {
	first, _, _ := strings.Cut(path, "/")
	var known []string
	for _, n := range f.firstNames() {
		known = append(known, n.said)
	}
	return &UnknownValue{
		What: fmt.Sprintf("no sample is called %q", first),
		Hint: problem.DidYouMean(first, known),
	}
}

func (f *Findings) boilingPoint() (Value, error) {
	return Value{Text: f.phrases().decimal(f.Boiling.Celsius, 1) + " °C",
		exact: figure{amount: f.Boiling.Celsius, unit: quantity.Celsius}}, nil
}

// names are a test's own, the count of right answers or of those who prefer the sample
// that the note names first, and its n.
func (d *Discrimination) names() name {
	own := name{said: d.Measure.Name, what: d.Measure.Name + ": right answers"}
	if d.prefers() {
		own.what = d.Measure.Name + ": who prefer " + d.Of.Name
	}
	own.value = func() (Value, error) {
		return Value{Text: phrasesOf(d.Measure).Say("count", "passes", strconv.Itoa(d.Right), "n", strconv.Itoa(d.N)),
			exact: figure{count: d.Right, n: d.N, share: true}}, nil
	}
	own.lacks = func(statistic string) error {
		return &UnknownValue{What: fmt.Sprintf("%q has no %q", d.Measure.Name, statistic), Hint: "it has n"}
	}
	own.next = func() []name {
		return []name{{said: "n", what: d.Measure.Name + ": how many answers", value: countOf(d.N)}}
	}
	if d.N == 0 {
		none := &UnknownValue{What: fmt.Sprintf("there is no answer to %q", d.Measure.Name)}
		own.value = func() (Value, error) { return Value{}, none }
		own.lacks, own.next = func(string) error { return none }, nil
	}
	return own
}

// countOf is a number of readings or answers.
func countOf(n int) func() (Value, error) {
	return func() (Value, error) {
		return Value{Text: strconv.Itoa(n), exact: figure{amount: float64(n), unit: quantity.Each}}, nil
	}
}

// names are the sample's measures.
func (s *Sample) names() name {
	own := name{said: s.Key}
	own.next = func() []name {
		var all []name
		for i := range s.Measures {
			all = append(all, s.Measures[i].names(s.Letter+" "+s.Name))
		}
		return all
	}
	own.lacks = func(path string) error {
		measure, _, _ := strings.Cut(path, "/")
		var measures []string
		for i := range s.Measures {
			measures = append(measures, s.Measures[i].Measure.Name)
		}
		return &UnknownValue{
			What: fmt.Sprintf("no measure is called %q", measure),
			Hint: problem.DidYouMean(measure, measures),
		}
	}
	return own
}

// names are the measure's own, its count or mean, and those of its statistics.
func (s *Summary) names(sample string) name {
	about := s.Measure.Name + " of " + sample
	own := name{said: s.Measure.Name, next: func() []name { return s.statistics(about) }}
	switch {
	case s.Share != nil:
		exact := figure{count: s.Share.Count, n: s.Share.N, share: true}
		own.what, own.value = about+": count", func() (Value, error) { return Value{Text: s.Text(), exact: exact}, nil }
	case s.Numbers != nil:
		own.what, own.value = about+": mean, as the table has it", func() (Value, error) {
			v := s.at(s.Numbers.Mean, 0)
			v.Text = s.Text()
			return v, nil
		}
	default:
		own.value = func() (Value, error) { return Value{}, s.unread() }
	}
	own.lacks = func(statistic string) error { return s.lacks(statistic, s.statistics(about)) }
	return own
}

// statistics are how many readings there are, and those of a share or of numbers; a spread
// needs two readings.
func (s *Summary) statistics(about string) []name {
	count := name{said: "n", what: about + ": how many readings count", value: countOf(s.N)}
	switch {
	case s.Share != nil:
		exact := figure{count: s.Share.Count, n: s.Share.N, share: true}
		return []name{count, {said: "share", what: about + ": share in per cent", value: func() (Value, error) {
			return Value{Text: decimal(100*s.Share.Rate, 0) + " %", exact: exact}, nil
		}}}
	case s.Numbers == nil:
		return []name{count}
	}
	n := s.Numbers
	at := func(value float64, finer int) func() (Value, error) {
		return func() (Value, error) { return s.at(value, finer), nil }
	}
	all := []name{
		count,
		{said: "mean", what: about + ": mean", value: at(n.Mean, 1)},
		{said: "median", what: about + ": median", value: at(n.Median, 0)},
		{said: "min", what: about + ": smallest", value: at(n.Min, 0)},
		{said: "max", what: about + ": largest", value: at(n.Max, 0)},
	}
	if n.HasSD {
		all = append(all, name{said: "sd", what: about + ": standard deviation", value: s.spread})
	}
	return all
}

// at is a number of the measure, written so many decimals finer than a reading.
func (s *Summary) at(value float64, finer int) Value {
	return Value{Text: Measured(s.Measure, value, finer), exact: figure{amount: InUnit(s.Measure, value), unit: s.Measure.In}}
}

func (s *Summary) spread() (Value, error) {
	m, sd := s.Measure, s.Numbers.SD
	text := Spread(m, sd, 1)
	if m.Kind != trial.Score && m.Kind != trial.Rank && m.In.Symbol() != "" {
		text = unitBehind(m, text)
	}
	return Value{Text: text, exact: figure{amount: sd * perUnit(m), unit: m.In}}, nil
}

func (s *Summary) unread() error {
	return &UnknownValue{What: fmt.Sprintf("there is no reading of %q here that counts", s.Measure.Name)}
}

func (s *Summary) lacks(statistic string, has []name) error {
	if s.N == 0 {
		return s.unread()
	}
	var known []string
	for _, n := range has {
		known = append(known, n.said)
	}
	return &UnknownValue{
		What: fmt.Sprintf("%q has no %q", s.Measure.Name, statistic),
		Hint: "it has " + strings.Join(known, ", "),
	}
}

func (f *Findings) hydration() (Value, error) {
	p, ok := f.Trial.Recipe.Batch().Percentages()
	if !ok {
		return Value{}, &UnknownValue{What: "the recipe has no hydration", Hint: "list its flours under flours:"}
	}
	return Value{Text: p.Hydration.Decimal(0) + " %", exact: figure{amount: p.Hydration.Float64(), unit: quantity.Each}}, nil
}

// recipeNames are the roles: each is its amount in the full batch, in the first unit
// system of the kitchen.
func (f *Findings) recipeNames() name {
	own := name{said: "recipe"}
	in, system := f.Trial.Kitchen.Instruments, f.Trial.Kitchen.Units[0]
	own.next = func() []name {
		var all []name
		for _, i := range f.Trial.Recipe.Ingredients {
			all = append(all, name{said: i.Role, what: i.Food + " in the full batch", value: func() (Value, error) {
				return Value{Text: in.Show(i.Amount, system).Text, exact: figure{
					amount: i.Amount.Mid().Float64(), unit: i.Amount.Unit(), volumes: in.Volumes,
				}}, nil
			}})
		}
		return all
	}
	own.lacks = func(role string) error {
		var roles []string
		for _, i := range f.Trial.Recipe.Ingredients {
			roles = append(roles, i.Role)
		}
		return &UnknownValue{What: fmt.Sprintf("no role is called %q", role), Hint: problem.DidYouMean(role, roles)}
	}
	return own
}
