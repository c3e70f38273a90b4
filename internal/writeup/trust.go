package writeup

import (
	"fmt"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
)

// Sections of the methods page that sentences link to.
const (
	ShareMethod    = "shares"
	ContrastMethod = "contrasts"
	SetAsideMethod = "set-aside"
	BatchMethod    = "batches"
	BoilingMethod  = "boiling"
	ResolveMethod  = "resolution"
)

// trust lists, in plain sentences, how far the trial carries. The site completes
// the links: their addresses are names of method sections.
func trust(f *findings.Findings) []page.Sentence {
	say := phrasesOf(f.Trial)
	var all []page.Sentence
	add := func(section, sentence string) {
		if sentence != "" {
			all = append(all, page.Sentence{Text: sentence, More: page.Link{Text: say.Say("how this is done"), Href: section}})
		}
	}
	single, confounded := 0, 0
	for _, c := range f.Contrasts {
		switch {
		case c.Single():
			single++
		case c.Confounded():
			confounded++
		}
	}
	if len(f.Contrasts) > 0 {
		add(ContrastMethod, say.contrasts(single, confounded))
	}
	add(BatchMethod, say.batches(f))
	add(SetAsideMethod, say.setAside(f))
	add(ShareMethod, say.smallest(f))
	for _, words := range resolutions(f.Trial) {
		add(ResolveMethod, words)
	}
	if aboveBoiling(f) {
		add(BoilingMethod, say.Say("surfaces above boiling"))
	}
	if a := f.Trial.Kitchen.Accuracy; !a.IsZero() && hasTemperature(f) {
		add(BoilingMethod, say.Say("thermometer", "accuracy", words(f.Trial, a)))
	}
	return all
}

// contrasts says how many pairs of samples are evidence about one factor.
func (say phrases) contrasts(single, confounded int) string {
	if single == 0 {
		return say.Say("no single pair")
	}
	words := say.Count("single pairs", single)
	if confounded > 0 {
		words += " " + say.Count("confounded pairs", confounded)
	}
	return words
}

// batches says what the pieces are evidence about.
func (say phrases) batches(f *findings.Findings) string {
	most := 0
	for _, s := range f.Samples {
		most = max(most, s.Batches)
	}
	switch most {
	case 0:
		return ""
	case 1:
		return say.Say("made once")
	}
	return say.Count("made in batches", most)
}

func (say phrases) setAside(f *findings.Findings) string {
	var parts []string
	for _, p := range f.Trial.Pieces {
		letter := f.Sample(p.Sample).Letter
		if p.SetAside != "" {
			parts = append(parts, say.Say("piece set aside", "piece", p.Number, "letter", letter, "reason", p.SetAside))
			continue
		}
		var names []string
		reason := ""
		for _, m := range f.Trial.Measures {
			if r := p.Readings[m.Name]; r.SetAside != "" && len(m.Parts) == 0 {
				names = append(names, m.Name)
				reason = r.SetAside
			}
		}
		if len(names) > 0 {
			parts = append(parts, say.Say("readings set aside", "measures", say.together(names), "piece", p.Number, "letter", letter, "reason", reason))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return say.Say("set aside", "list", strings.Join(parts, "; "))
}

// smallest says how little the smallest share rests on.
func (say phrases) smallest(f *findings.Findings) string {
	var least *findings.Share
	var measure, letter string
	for i := range f.Samples {
		for _, m := range f.Samples[i].Measures {
			if m.Share != nil && (least == nil || m.Share.N < least.N) {
				least, measure, letter = m.Share, m.Measure.Name, f.Samples[i].Letter
			}
		}
	}
	if least == nil {
		return ""
	}
	return say.Count("smallest share", least.N, "count", strconv.Itoa(least.Count), "measure", measure, "letter", letter,
		"low", fmt.Sprintf("%.0f", 100*least.Low), "high", fmt.Sprintf("%.0f", 100*least.High))
}

// aboveBoiling reports whether a reading lies above the boiling point of water, but
// not so far above it that a pan or an oven was measured.
func aboveBoiling(f *findings.Findings) bool {
	highest, _ := quantity.New(recipe.PuffedSurface().High, quantity.Fahrenheit).Base()
	for _, m := range f.Trial.Measures {
		if m.Kind != trial.Temperature {
			continue
		}
		for _, s := range f.Trial.Samples {
			for _, r := range f.Trial.Readings(s, m) {
				if c := r.Value.Float64(); !r.Missing && c > f.Boiling.Celsius && c <= highest.Float64() {
					return true
				}
			}
		}
	}
	return false
}

func hasTemperature(f *findings.Findings) bool {
	for _, m := range f.Trial.Measures {
		if m.In.Dimension() == quantity.Temperature {
			return true
		}
	}
	return false
}
