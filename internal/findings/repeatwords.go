package findings

import "strings"

// repeatWords says in plain sentences what households found next to the kitchen: how many
// point the same way, and what all come to or why they are not added up.
func (f *Findings) repeatWords(x *Repeat) string {
	own := f.phrases()
	sentences := []string{own.direction(x)}
	if x.HasDirection && x.Level > 0 {
		sentences = append(sentences, own.Count("repeats level", x.Level))
	}
	if x.Confounded > 0 {
		sentences = append(sentences, own.Count("repeats confounded", x.Confounded))
	}
	sentences = append(sentences, f.together(x)...)
	return strings.Join(sentences, " ")
}

// direction says how many households point the way of the kitchen.
func (p phrases) direction(x *Repeat) string {
	aside := ""
	if !x.Measure.Primary {
		aside = p.Say("exploratory")
	}
	fill := []string{"aside", aside, "measure", x.Measure.Name, "of", x.Contrast.Of.Name, "against", x.Contrast.Against.Name}
	households := p.Count("households", x.Households)
	switch {
	case !x.HasDirection:
		number := p.Language().Integer
		return p.Say("repeats directions", append(fill, "households", households,
			"more", number(x.Same), "less", number(x.Other), "level", number(x.Level))...)
	case x.Same == x.Households:
		return p.Count("repeats all", x.Same, fill...)
	case x.Same == 0:
		return p.Count("repeats none", x.Households, fill...)
	}
	return p.Count("repeats some", x.Same, append(fill, "households", households)...)
}

// together says what kitchen and households come to.
func (f *Findings) together(x *Repeat) []string {
	own := f.phrases()
	if x.Strata < 2 {
		return []string{own.Say("repeats alone")}
	}
	p := &x.Pooled
	if p.Why != IsPooled {
		return []string{own.unpooled(p.Why)}
	}
	e := &Effect{Measure: x.Measure, Outcome: Outcome{Difference: p.Difference, HasDifference: true,
		Interval: p.Interval, HasInterval: true, P: p.P, HasP: p.HasP, Sampled: p.Sampled, MonteCarloError: p.MonteCarloError, Kind: NoneSeen}}
	s := sayer{phrases: own, contrast: x.Contrast, effect: e}
	with := "repeats sum"
	if !x.kitchenCounts() {
		with = "repeats sum alone"
	}
	sentences := []string{own.Say(with, "difference", s.difference()) + s.luckTogether() + own.Say("end")}
	if p.HasAgreeP && p.AgreeP < DisagreeAlpha {
		sentences = append(sentences, own.Say("repeats apart"))
	}
	return sentences
}

// luckTogether says how often luck alone makes the sum. That of numbers is weighed by
// precision, and its test is not, which is said.
func (s sayer) luckTogether() string {
	e := s.effect
	if !e.HasP || e.Measure.Kind.IsShare() {
		return s.luck()
	}
	return s.Say("repeats luck", "luck", s.repeats(&e.Outcome, e.P))
}

// kitchenCounts reports whether the kitchen's own contrast is among what is added up.
func (x *Repeat) kitchenCounts() bool {
	return len(x.Rows) > 0 && x.Rows[0].Findings.Home == nil && x.Rows[0].Counted
}

// unpooled says why kitchen and households are not added up.
func (p phrases) unpooled(why Unpooled) string {
	switch why {
	case NoScatter:
		return p.Say("repeats no scatter")
	case LooseBatches:
		return p.Say("repeats loose batches")
	case AllAlike:
		return p.Say("repeats all alike")
	case Disagree:
		return p.Say("repeats disagree")
	}
	return p.Say("repeats unweighable")
}
