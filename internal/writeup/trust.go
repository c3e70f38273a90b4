package writeup

import (
	"fmt"
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
	var all []page.Sentence
	say := func(section, format string, args ...any) {
		all = append(all, page.Sentence{
			Text: fmt.Sprintf(format, args...),
			More: page.Link{Text: "How this is done", Href: section},
		})
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
		say(ContrastMethod, "%s", contrastWords(single, confounded))
	}
	if words := batchWords(f); words != "" {
		say(BatchMethod, "%s", words)
	}
	if words := setAsideWords(f); words != "" {
		say(SetAsideMethod, "%s", words)
	}
	if s := smallest(f); s != "" {
		say(ShareMethod, "%s", s)
	}
	for _, words := range resolutions(f.Trial) {
		say(ResolveMethod, "%s", words)
	}
	if aboveBoiling(f) {
		p := recipe.PuffedSurface()
		say(BoilingMethod, "Some surfaces read above the boiling point of water: %s (common practice, no source).", p.Note)
	}
	if a := f.Trial.Kitchen.Accuracy; !a.IsZero() && hasTemperature(f) {
		say(BoilingMethod, "The thermometer is accurate to ±%s; smaller differences in temperature may be the thermometer's.", words(f.Trial, a))
	}
	return all
}

func contrastWords(single, confounded int) string {
	first := counted(single, "pair of samples")
	if single != 1 {
		first = fmt.Sprintf("%d pairs of samples", single)
	}
	words := capital(first) + " differ in exactly one factor and are evidence about it."
	if single == 1 {
		words = "One pair of samples differs in exactly one factor and is evidence about it."
	}
	switch {
	case single == 0:
		words = "No pair of samples differs in exactly one factor, so no effect can be put down to any one of them."
	case confounded == 1:
		words += " One more differs in several at once; it is shown, and proves nothing about any of them."
	case confounded > 1:
		words += fmt.Sprintf(" %d more differ in several at once; they are shown, and prove nothing about any of them.", confounded)
	}
	return words
}

// batchWords says what the pieces are evidence about.
func batchWords(f *findings.Findings) string {
	most := 0
	for _, s := range f.Samples {
		most = max(most, s.Batches)
	}
	switch {
	case most == 0:
		return ""
	case most == 1:
		return "Each sample was made once. What is said here is about these batches; a second one on another day would tell more about the recipe."
	}
	return fmt.Sprintf("Samples were made in up to %d batches. Pieces of one batch are alike for reasons of their own and do not count as so many separate trials of the recipe.", most)
}

func setAsideWords(f *findings.Findings) string {
	whole := 0
	var parts []string
	for _, p := range f.Trial.Pieces {
		if p.SetAside != "" {
			whole++
			parts = append(parts, fmt.Sprintf("piece %s of %s (%s)", p.Number, f.Sample(p.Sample).Letter, p.SetAside))
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
			parts = append(parts, fmt.Sprintf("%s of piece %s of %s (%s)", strings.Join(names, " and "), p.Number, f.Sample(p.Sample).Letter, reason))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "Set aside, and left out of every sum: " + strings.Join(parts, "; ") + "."
}

// smallest says how little the smallest share rests on.
func smallest(f *findings.Findings) string {
	var least *findings.Share
	var of string
	for i := range f.Samples {
		for _, m := range f.Samples[i].Measures {
			if m.Share != nil && (least == nil || m.Share.N < least.N) {
				least, of = m.Share, m.Measure.Name+" of "+f.Samples[i].Letter
			}
		}
	}
	if least == nil {
		return ""
	}
	return fmt.Sprintf("With %s, “%d of %d” (%s) fits a true share anywhere from %.0f to %.0f %%.",
		counted(least.N, "piece"), least.Count, least.N, of, 100*least.Low, 100*least.High)
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
