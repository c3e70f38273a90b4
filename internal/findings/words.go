package findings

import (
	"math"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/trial"
)

// sayer puts one effect into words.
type sayer struct {
	phrases
	contrast *Contrast
	effect   *Effect
}

// effectWords says an effect in one sentence: what was seen, how often luck alone
// makes it, what that says and about what, and, where no difference was seen, what
// could not have been. A second one follows only where readings that were set aside
// would change the answer.
func (f *Findings) effectWords(c *Contrast, e *Effect) string {
	s := sayer{phrases: f.phrases(), contrast: c, effect: e}
	switch {
	case e.Kind == Nothing:
		return s.nothing() + s.Say("end") + s.changes()
	case e.Why == Alike:
		return s.alike() + s.Say("end") + s.changes()
	}
	return s.seen() + s.luck() + s.claim() + s.Say("end") + s.changes()
}

// fill says a phrase with the measure and the samples filled in.
func (s sayer) fill(name string, more ...string) string {
	aside := ""
	if s.effect.Exploratory {
		aside = s.Say("exploratory")
	}
	return s.Say(name, append([]string{"measure", s.effect.Measure.Name, "of", s.contrast.Of.Name,
		"against", s.contrast.Against.Name, "aside", aside}, more...)...)
}

func (s sayer) seen() string {
	e := s.effect
	tasters := s.Count("taster", e.Of.Units)
	switch {
	case e.Measure.Kind.IsShare():
		return s.fill("share seen", "x", s.count(e.Of), "y", s.count(e.Against)) + s.batches()
	case e.Measure.Kind == trial.Rank:
		return s.fill("rank seen", "n", tasters,
			"x", s.decimal(e.Of.Mean*float64(e.Of.Units), 0), "y", s.decimal(e.Against.Mean*float64(e.Of.Units), 0))
	case e.Unit == OfAssessor && s.size(e.Difference) == s.size(0):
		return s.fill("score level", "n", tasters)
	case e.Unit == OfAssessor:
		return s.fill("score seen", "n", tasters, "difference", s.difference())
	}
	return s.fill("mean seen", "difference", s.difference(),
		"x", Measured(e.Measure, e.Of.Mean, 1), "y", Measured(e.Measure, e.Against.Mean, 1)) + s.batches()
}

func (s sayer) count(g Group) string {
	return s.Say("count", "passes", strconv.Itoa(g.Passes), "n", strconv.Itoa(g.Readings))
}

// batches says in how many batches the pieces were, where batches were compared.
func (s sayer) batches() string {
	e := s.effect
	switch {
	case e.Unit != OfBatch:
		return ""
	case e.Paired:
		return s.Say("in pairs", "n", strconv.Itoa(e.Of.Units))
	}
	return s.Say("in batches", "n", strconv.Itoa(e.Of.Units), "m", strconv.Itoa(e.Against.Units))
}

// difference says a difference with its direction and its interval.
func (s sayer) difference() string {
	e := s.effect
	size := s.directed(e.Difference)
	if !e.HasInterval {
		return size
	}
	low, high := e.Interval.Low, e.Interval.High
	if low*high <= 0 {
		return s.Say("interval across", "size", size, "low", s.directed(low), "high", s.directed(high))
	}
	if low < 0 {
		low, high = high, low // both less: the smaller first
	}
	return s.Say("interval", "size", size, "low", s.size(low), "high", s.directed(high))
}

// directed writes 12.1 s less, 3 °F more.
func (s sayer) directed(difference float64) string {
	size := s.size(difference)
	switch {
	case size == s.size(0):
		return s.Say("no difference")
	case difference < 0:
		return s.Say("less", "size", size)
	}
	return s.Say("more", "size", size)
}

// size writes a difference without its sign.
func (s sayer) size(difference float64) string {
	m, size := s.effect.Measure, math.Abs(difference)
	switch {
	case m.Kind.IsShare():
		return s.Count("percentage points", int(math.Round(100*size)))
	case m.Kind == trial.Time:
		return s.clock(size, 1)
	case m.Kind == trial.Score:
		points := decimal(size, 1)
		if points == "1.0" {
			return s.Count("points difference", 1)
		}
		return s.Count("points difference", 2, "n", s.Language().Decimal(strings.TrimSuffix(points, ".0")))
	}
	return unitBehind(m, Spread(m, size, 1))
}

// luck says how often luck alone parts the samples as far.
func (s sayer) luck() string {
	e := s.effect
	switch {
	case !e.HasP:
		return ""
	case e.Family < 2 || e.Kind == NoneSeen || e.Kind == Leans && e.P > Alpha:
		return s.Say("luck", "luck", s.repeats(&e.Outcome, e.P))
	case e.Kind == Differs:
		return s.Say("luck of", "luck", s.repeats(&e.Outcome, e.PAdjusted), "family", strconv.Itoa(e.Family))
	}
	return s.Say("luck two", "luck", s.repeats(&e.Outcome, e.P), "adjusted", s.often(e.PAdjusted), "family", strconv.Itoa(e.Family))
}

// repeats says a probability, and how far it is known where arrangements were drawn.
func (s sayer) repeats(o *Outcome, p float64) string {
	switch {
	case !o.Sampled:
		return s.often(p)
	case p < 0.001:
		return s.often(p) + s.Say("drawn few")
	}
	return s.often(p) + s.Say("drawn", "error", s.decimal(max(0.1, 100*o.MonteCarloError), 1))
}

// often says a probability as so many of so many repeats, never as none of them.
func (p phrases) often(probability float64) string {
	switch {
	case probability < 0.001:
		return p.Say("hardly any")
	case probability < 0.0095:
		return p.Say("of 1000", "n", p.decimal(1000*probability, 0))
	case probability < 0.995:
		return p.Say("of 100", "n", p.decimal(100*probability, 0))
	}
	return p.Say("nearly all")
}

// claim says what the finding is evidence for.
func (s sayer) claim() string {
	e := s.effect
	switch {
	case e.Confounded:
		return s.Say("confounded", "factors", s.list(e.Factors))
	case len(e.Factors) == 0:
		return s.Say("same recipe")
	case e.Kind == Differs:
		return s.differs()
	case e.Kind == Leans && e.Unit == OfBatch && e.P > LeaningAlpha:
		return s.Say("leans limit", "luck", s.repeats(e.Pieces, e.Pieces.PAdjusted))
	case e.Kind == Leans:
		return s.Say("leans") + s.reach()
	}
	return s.Say("none seen") + s.reach()
}

func (s sayer) differs() string {
	switch {
	case s.effect.Unit == OfAssessor:
		return s.Say("differs assessor")
	case s.effect.Unit == OfBatch:
		return s.Say("differs batch")
	case s.contrast.Within:
		return s.Say("differs within")
	}
	return s.Say("differs piece")
}

// reach says what could have been seen, and how many units it would have taken.
func (s sayer) reach() string {
	e := s.effect
	d := e.Detectable
	switch {
	case d == nil:
		return ""
	case d.Never:
		return s.Say("reach never", "n", s.units()) + s.needed()
	case math.Abs(e.Difference) >= d.Difference:
		return "" // a gap with a good chance to show, and it did not
	case e.Test == FisherTest && d.Rate < 0.1:
		return s.Say("reach share widest") + s.needed()
	case e.Test == FisherTest:
		return s.Say("reach share", "tenths", s.decimal(math.Floor(10*d.Rate), 0)) + s.needed()
	case e.Measure.Kind.IsShare():
		return s.Say("reach size", "size", s.Say("tenths", "n", s.decimal(math.Ceil(10*d.Difference-1e-9), 0))) + s.needed()
	}
	return s.Say("reach size", "size", s.size(d.Difference)) + s.needed()
}

// units counts what was compared: 6 pieces against 7.
func (s sayer) units() string {
	e := s.effect
	if e.Of.Units == e.Against.Units {
		return s.Count(s.unit(), e.Of.Units)
	}
	return s.Say("against", "n", s.Count(s.unit(), e.Of.Units), "m", strconv.Itoa(e.Against.Units))
}

func (s sayer) unit() string {
	switch {
	case s.effect.Unit == OfBatch && s.effect.Paired:
		return "pair of batches"
	case s.effect.Unit == OfAssessor:
		return "taster"
	}
	return string(s.effect.Unit)
}

func (s sayer) needed() string {
	n := s.effect.Needed
	switch {
	case n == nil:
		return ""
	case s.effect.Paired && n.More:
		return s.Say("needed pairs more", "n", s.Count(s.unit(), n.N))
	case s.effect.Paired:
		return s.Say("needed pairs", "n", s.Count(s.unit(), n.N))
	case n.More:
		return s.Say("needed more", "n", s.Count(s.unit(), n.N))
	}
	return s.Say("needed", "n", s.Count(s.unit(), n.N))
}

// nothing says why there is nothing to compare.
func (s sayer) nothing() string {
	e := s.effect
	missing, other := s.contrast.Of, s.contrast.Against
	if e.Against.Units < e.Of.Units || e.Against.Units == e.Of.Units && e.Against.Aside > e.Of.Aside {
		missing, other = other, missing
	}
	fill := func(name string) string { return s.fill(name, "missing", missing.Name, "other", other.Name) }
	switch {
	case e.Why == AllSetAside:
		return fill("all set aside")
	case e.Why == OneReading:
		return fill("one reading")
	case e.Why == NoPair:
		return fill("no pair")
	case e.Why == OnePair:
		return fill("one pair")
	case e.Of.Units == 0 && e.Against.Units == 0 && s.unread(missing) && s.unread(other):
		return fill("neither read")
	}
	return fill("not read")
}

// unread reports whether a sample has no reading of the measure that counts.
func (s sayer) unread(sample *Sample) bool {
	summary := sample.Measure(s.effect.Measure.Name)
	return summary == nil || summary.N == 0
}

// alike says that all readings are the same, or all pairs.
func (s sayer) alike() string {
	e := s.effect
	if e.Paired {
		return s.fill("alike pairs", "n", s.Count(s.unit(), e.Of.Units))
	}
	return s.fill("alike", "x", Measured(e.Measure, e.Of.Mean, 0))
}

// changes says what the answer would be with the readings put back, if another.
func (s sayer) changes() string {
	e := s.effect
	if !e.Changes {
		return ""
	}
	answer := s.Say(map[Kind]string{Differs: "answer differs", Leans: "answer leans",
		NoneSeen: "answer none", Nothing: "answer nothing"}[e.PutBack.Kind])
	if !e.PutBack.HasP {
		return s.Say("changes", "answer", answer)
	}
	return s.Say("changes luck", "answer", answer, "luck", s.repeats(e.PutBack, e.PutBack.PAdjusted))
}
