package site

import (
	"maps"
	"slices"
)

// Outline is a plan from which the files of one trial can be listed anew, without
// going over all the others.
type Outline struct{ plan *planner }

// PlanOutline is Plan, with its outline.
func PlanOutline(s *Site, look Look) ([]Output, Outline) {
	p := planned(s.bound(look))
	return p.all(), Outline{p}
}

// Trial lists the files of one trial of a newer site, or none where it has no such
// trial. What its pages say of all trials together, which is where each factor has
// its page, is that of the outline.
func (o Outline) Trial(s *Site, slug string) []Output {
	p := *o.plan
	b := *p.binding
	b.reader = s.reader
	p.binding, p.Index, p.outputs, p.own = &b, s.titles(), nil, nil
	for _, e := range slices.Concat(s.Trials, s.InProgress) {
		if e.Trial.Slug == slug {
			p.own = append(p.own, e.card())
		}
	}
	return p.all()
}

// Agrees reports whether the pages of single trials are the same with either outline.
func (o Outline) Agrees(other Outline) bool {
	return maps.Equal(o.plan.factorsAt.at, other.plan.factorsAt.at)
}
