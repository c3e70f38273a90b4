package findings

import (
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// support holds the verdict against the findings of the measures it rests on. A
// verdict without measures, or without a preference, claims nothing of the kind.
//
// The preferred sample is held against the control; if it is the control, or there
// is none, against every other sample. A difference carries, a leaning or a
// difference of several things at once carries in part. For pass or fail the
// difference must be that more of the preferred sample passed; which way is better
// for other measures is the people's to say.
func (f *Findings) support() Support {
	v := f.Trial.Verdict
	if v.Prefer == nil || len(v.BecauseOf) == 0 {
		return Support{}
	}
	say := f.phrases()
	s := Support{}
	var reasons []string
	count := map[Degree]int{}
	for _, name := range v.BecauseOf {
		m := f.measureSupport(f.Sample(v.Prefer.Key), *f.Trial.Measure(name))
		m.Words = say.Say(m.Words, "measure", name)
		count[m.Degree]++
		reasons = append(reasons, m.Words)
		s.Measures = append(s.Measures, m)
	}
	switch {
	case count[Carried] == len(v.BecauseOf):
		s.Degree = Carried
	case count[NotCarried] == len(v.BecauseOf):
		s.Degree = NotCarried
	default:
		s.Degree = InPart
	}
	s.Words = say.Say("support "+string(s.Degree), "reasons", strings.Join(reasons, "; "))
	return s
}

// stand is what one finding says to a preference, with the name of its phrase.
type stand struct {
	degree Degree
	phrase string
}

func (f *Findings) measureSupport(prefer *Sample, m trial.Measure) MeasureSupport {
	stands := f.stands(prefer, m)
	carried, part := 0, 0
	for _, s := range stands {
		switch s.degree {
		case Carried:
			carried++
		case InPart:
			part++
		}
	}
	switch {
	case len(stands) == 0:
		return MeasureSupport{Measure: m.Name, Degree: NotCarried, Words: "because nothing"}
	case carried == len(stands):
		return MeasureSupport{Measure: m.Name, Degree: Carried, Words: "because carried"}
	case carried > 0 && len(stands) > 1:
		return MeasureSupport{Measure: m.Name, Degree: InPart, Words: "because some"}
	}
	// The kindest of what is left, in the order of the contrasts.
	kindest := stands[0]
	for _, s := range stands {
		if part > 0 && s.degree == InPart {
			kindest = s
			break
		}
	}
	return MeasureSupport{Measure: m.Name, Degree: kindest.degree, Words: kindest.phrase}
}

// stands lists what the findings between the preferred sample and those it is held
// against say.
func (f *Findings) stands(prefer *Sample, m trial.Measure) []stand {
	var stands []stand
	if m.Kind.IsDiscrimination() {
		for i := range f.Discriminations {
			if d := &f.Discriminations[i]; d.Measure.Name == m.Name {
				stands = append(stands, d.stand(prefer))
			}
		}
		return stands
	}
	for i := range f.Contrasts {
		c := &f.Contrasts[i]
		if c.Of != prefer && c.Against != prefer || !prefer.Control && f.hasControl() && !c.Of.Control && !c.Against.Control {
			continue
		}
		for j := range c.Measures {
			if e := &c.Measures[j]; e.Measure.Name == m.Name {
				stands = append(stands, e.stand(c.Of == prefer))
			}
		}
	}
	return stands
}

func (f *Findings) hasControl() bool { return f.Trial.Control() != nil }

// stand says what an effect says to a preference for its sample, or for the one it is
// held against.
func (e *Effect) stand(forSample bool) stand {
	fewer := e.Difference < 0 == forSample
	switch {
	case e.Kind == Nothing:
		return stand{NotCarried, "because nothing"}
	case e.Kind == NoneSeen:
		return stand{NotCarried, "because none"}
	case e.Measure.Kind == trial.PassOrFail && fewer:
		return stand{NotCarried, "because other way"}
	case e.Kind == Leans:
		return stand{InPart, "because leans"}
	case e.Confounded:
		return stand{InPart, "because confounded"}
	}
	return stand{Carried, "because carried"}
}

// stand says what a blind test says to a preference. That people can tell two samples
// apart does not say which one is better.
func (d *Discrimination) stand(prefer *Sample) stand {
	won := d.Of
	if 2*d.Right < d.N {
		won = d.Against
	}
	switch {
	case prefer != d.Of && prefer != d.Against, d.Kind == Nothing:
		return stand{NotCarried, "because nothing"}
	case d.Kind == NoneSeen:
		return stand{NotCarried, "because none"}
	case d.prefers() && won != prefer:
		return stand{NotCarried, "because other way"}
	case d.Kind == Leans:
		return stand{InPart, "because leans"}
	case !d.prefers():
		return stand{InPart, "because told apart"}
	case d.Confounded:
		return stand{InPart, "because confounded"}
	}
	return stand{Carried, "because carried"}
}

// Questions asks about each measure that a verdict rests on and whose findings do
// not carry it.
func (f *Findings) Questions(problems *problem.List) {
	v := f.Trial.Verdict
	for i, m := range f.Support.Measures {
		if m.Degree == NotCarried && i < len(v.Because) {
			problems.Ask(v.Because[i], problem.Design, "say in the verdict how sure you are, or cook another batch",
				"the verdict is not carried by its reason: %s", m.Words)
		}
	}
}
