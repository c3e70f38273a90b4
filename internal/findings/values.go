package findings

import (
	"fmt"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
)

// Value is a number that prose may cite, with its present words.
type Value struct {
	Text  string
	exact figure
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
func (f *Findings) Value(path string) (Value, error) {
	first, rest, _ := strings.Cut(path, "/")
	switch {
	case same(first, "boiling point") && rest == "":
		return Value{Text: decimal(f.Boiling.Celsius, 1) + " °C",
			exact: figure{amount: f.Boiling.Celsius, unit: quantity.Celsius}}, nil
	case same(first, "hydration") && rest == "":
		return f.hydration()
	case same(first, "recipe"):
		return f.amountOf(rest)
	}
	var keys []string
	for i := range f.Samples {
		s := &f.Samples[i]
		keys = append(keys, s.Key)
		if same(first, s.Key) {
			return s.value(rest)
		}
	}
	for i := range f.Discriminations {
		d := &f.Discriminations[i]
		keys = append(keys, d.Measure.Name)
		if same(first, d.Measure.Name) {
			return d.value(rest)
		}
	}
	return Value{}, &UnknownValue{
		What: fmt.Sprintf("no sample is called %q", first),
		Hint: problem.DidYouMean(first, append(keys, "boiling point", "hydration", "recipe")),
	}
}

// value is the count of right answers, or of those who prefer the sample that the
// note names first.
func (d *Discrimination) value(statistic string) (Value, error) {
	switch {
	case d.N == 0:
		return Value{}, &UnknownValue{What: fmt.Sprintf("there is no answer to %q", d.Measure.Name)}
	case statistic == "":
		return Value{Text: fmt.Sprintf("%d of %d", d.Right, d.N), exact: figure{count: d.Right, n: d.N, share: true}}, nil
	case same(statistic, "n"):
		return Value{Text: fmt.Sprint(d.N), exact: figure{amount: float64(d.N), unit: quantity.Each}}, nil
	}
	return Value{}, &UnknownValue{What: fmt.Sprintf("%q has no %q", d.Measure.Name, statistic), Hint: "it has n"}
}

// same compares a name in an address with a name in the note.
func same(address, name string) bool { return trial.AddressName(address) == trial.AddressName(name) }

func (s *Sample) value(path string) (Value, error) {
	name, statistic, _ := strings.Cut(path, "/")
	var names []string
	for i := range s.Measures {
		m := &s.Measures[i]
		names = append(names, m.Measure.Name)
		if same(name, m.Measure.Name) {
			return m.value(statistic)
		}
	}
	return Value{}, &UnknownValue{
		What: fmt.Sprintf("no measure is called %q", name),
		Hint: problem.DidYouMean(name, names),
	}
}

// statistics are the names that may follow a measure.
func statistics(s *Summary) []string {
	if s.Share != nil {
		return []string{"n", "share"}
	}
	return []string{"n", "mean", "median", "min", "max", "sd"}
}

func (s *Summary) value(statistic string) (Value, error) {
	if same(statistic, "n") {
		return Value{Text: fmt.Sprint(s.N), exact: figure{amount: float64(s.N), unit: quantity.Each}}, nil
	}
	switch {
	case s.Share != nil && statistic == "":
		return Value{Text: s.Text(), exact: figure{count: s.Share.Count, n: s.Share.N, share: true}}, nil
	case s.Share != nil && same(statistic, "share"):
		return Value{Text: decimal(100*s.Share.Rate, 0) + " %",
			exact: figure{count: s.Share.Count, n: s.Share.N, share: true}}, nil
	case s.Numbers != nil:
		if v, ok := s.number(statistic); ok {
			return v, nil
		}
	case s.N == 0:
		return Value{}, &UnknownValue{What: fmt.Sprintf("there is no reading of %q here that counts", s.Measure.Name)}
	}
	return Value{}, &UnknownValue{
		What: fmt.Sprintf("%q has no %q", s.Measure.Name, statistic),
		Hint: "it has " + strings.Join(statistics(s), ", "),
	}
}

func (s *Summary) number(statistic string) (Value, bool) {
	m, n := s.Measure, s.Numbers
	at := func(value float64, finer int) (Value, bool) {
		return Value{Text: Measured(m, value, finer), exact: figure{amount: InUnit(m, value), unit: m.In}}, true
	}
	switch trial.AddressName(statistic) {
	case "":
		v, _ := at(n.Mean, 0)
		v.Text = s.Text()
		return v, true
	case "mean":
		return at(n.Mean, 1)
	case "median":
		return at(n.Median, 0)
	case "min":
		return at(n.Min, 0)
	case "max":
		return at(n.Max, 0)
	case "sd":
		if !n.HasSD {
			return Value{}, false
		}
		text := Spread(m, n.SD, 1)
		if m.Kind != trial.Score && m.Kind != trial.Rank && m.In.Symbol() != "" {
			text += " " + m.In.Symbol()
		}
		return Value{Text: text, exact: figure{amount: n.SD * perUnit(m), unit: m.In}}, true
	}
	return Value{}, false
}

func (f *Findings) hydration() (Value, error) {
	p, ok := f.Trial.Recipe.Batch().Percentages()
	if !ok {
		return Value{}, &UnknownValue{What: "the recipe has no hydration", Hint: "list its flours under flours:"}
	}
	return Value{Text: p.Hydration.Decimal(0) + " %", exact: figure{amount: p.Hydration.Float64(), unit: quantity.Each}}, nil
}

// amountOf returns a role's amount in the full batch, in the first unit system of
// the kitchen.
func (f *Findings) amountOf(role string) (Value, error) {
	t := f.Trial
	var roles []string
	for _, i := range t.Recipe.Ingredients {
		roles = append(roles, i.Role)
		if !same(role, i.Role) {
			continue
		}
		shown := t.Kitchen.Instruments.Show(i.Amount, t.Kitchen.Units[0])
		return Value{Text: shown.Text, exact: figure{
			amount: i.Amount.Mid().Float64(), unit: i.Amount.Unit(), volumes: t.Kitchen.Instruments.Volumes,
		}}, nil
	}
	return Value{}, &UnknownValue{
		What: fmt.Sprintf("no role is called %q", role),
		Hint: problem.DidYouMean(role, roles),
	}
}
