package findings

import (
	"strings"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
)

// pair names the two levels of a contrast so that two trials which compare the same
// ones are seen to.
type pair struct{ of, against string }

func (p pair) turned() pair { return pair{p.against, p.of} }

// level is a factor's value in a sample.
type level struct {
	text   string // as the note has it; "" is without it
	key    string // alike for values that are the same
	size   quantity.Number
	sized  bool   // size can be held against that of another level of the same sort
	sortOf string // what it is a size of
}

// read fills in the levels of the row, in the direction in which they have an order:
// the higher against the lower, with against without.
func (r *EvidenceRow) read(d StudyDifference) {
	r.Of, r.Against = d.Of.Text, d.Against.Text
	r.pair = pair{d.Of.Key, d.Against.Key}
	if d.Below {
		r.turn()
	}
}

// below reports whether the levels have an order and the first is the lower one.
func below(of, against level) bool {
	switch {
	case of.text == "" || against.text == "":
		return of.text == ""
	case of.sized && against.sized && of.sortOf == against.sortOf:
		return of.size.Cmp(against.size) < 0
	}
	return false
}

// turn reads the row the other way round.
func (r *EvidenceRow) turn() {
	r.Turned = !r.Turned
	r.Of, r.Against = r.Against, r.Of
	r.pair = r.pair.turned()
	r.Difference = turnedNumber(r.Difference)
	r.Interval = stats.Interval{Low: turnedNumber(r.Interval.High), High: turnedNumber(r.Interval.Low)}
}

// turnedNumber changes the sign, but leaves no −0 behind.
func turnedNumber(x float64) float64 { return 0 - x }

// levelOf reads a level. A setting or what a measure came to has the size that its
// words say; 1 h and 60 min are the same. Of an ingredient the food and its
// preparation must be the same for two amounts to have an order, and everything for
// two levels to be the same.
func levelOf(t *trial.Trial, s *trial.Sample, f design.Factor, text string) level {
	l := level{text: text, key: strings.ToLower(strings.Join(strings.Fields(text), " "))}
	if amount, err := quantity.Parse(text, t.Kitchen.Instruments.Volumes); err == nil && !amount.IsToTaste() {
		low, high := amount.Base()
		l.key = low.String() + "–" + high.String() + " " + amount.Dimension().String()
		l.size, l.sized, l.sortOf = low.Add(high), true, amount.Dimension().String()
		return l
	}
	if f.Kind != design.Ingredient || text == "" {
		return l
	}
	i, ok := s.Plan.Ingredient(f.Name)
	if !ok {
		return l
	}
	low, high := i.Amount.Base()
	l.size, l.sized = low.Add(high), !i.Amount.IsToTaste()
	l.sortOf = i.Amount.Dimension().String() + " of " + i.Food + ", " + i.Preparation
	return l
}
