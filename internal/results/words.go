package results

import (
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// phrases are the words that published logs are described in: the section of the
// words file that the site's own words stand in. Names in results.json and the words of
// its schema are the same in every language.
func phrases(l *wording.Language) wording.Phrases { return l.Of("site") }

// KindName is what readers of a language call a kind of measure.
func KindName(l *wording.Language, k trial.Kind) string {
	say := phrases(l)
	switch k {
	case trial.Time:
		return say.Say("kind time")
	case trial.Temperature:
		return say.Say("kind temperature")
	case trial.Length:
		return say.Say("kind length")
	case trial.Mass:
		return say.Say("kind mass")
	case trial.Volume:
		return say.Say("kind volume")
	case trial.PassOrFail:
		return say.Say("kind pass or fail")
	case trial.YesOrNo:
		return say.Say("kind yes or no")
	case trial.Score:
		return say.Say("kind score")
	case trial.Rank:
		return say.Say("kind rank")
	case trial.Triangle:
		return say.Say("kind triangle")
	case trial.DuoTrio:
		return say.Say("kind duo-trio")
	case trial.TwoAFC:
		return say.Say("kind two-alternative forced choice")
	case trial.ThreeAFC:
		return say.Say("kind three-alternative forced choice")
	case trial.Tetrad:
		return say.Say("kind tetrad")
	case trial.PairedPreference:
		return say.Say("kind paired preference")
	}
	return say.Say("kind number")
}
