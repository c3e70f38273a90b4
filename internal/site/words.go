package site

import (
	"strings"

	"sidebatch.example/sidebatch/internal/chart"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// section is this room's part of the words file.
const section = "site"

// phrases are the words that the site says of itself, in the kitchen's language.
func (s *reader) phrases() wording.Phrases { return s.Kitchen.Words.Of(section) }

// phrasesFor are the words that a trial's figures and files are described in.
func phrasesFor(t *trial.Trial) wording.Phrases { return t.Kitchen.Words.Of(section) }

// chartWords are the words that a figure says of its own accord.
func chartWords(say wording.Phrases) chart.Words {
	return chart.Words{
		Piece:       say.Say("one piece"),
		Mean:        say.Say("mean"),
		Interval:    say.Say("interval"),
		SetAside:    say.Say("set aside"),
		NoReadings:  say.Say("no readings"),
		Thermometer: say.Say("thermometer"),
		OneFactor:   say.Say("one factor differs"),
		MoreFactors: say.Say("more factors differ"),
		Minutes:     say.Say("minutes and seconds"),
		Hours:       say.Say("hours and minutes"),
		Seconds:     say.Say("hours, minutes and seconds"),
		Points:      say.Say("percentage points"),
		Decimal:     say.Language().Decimal("."),
	}
}

// testName is what readers call a sensory test.
func testName(say wording.Phrases, k trial.Kind) string {
	switch k {
	case trial.DuoTrio:
		return say.Say("duo-trio test")
	case trial.TwoAFC:
		return say.Say("two-alternative forced choice test")
	case trial.ThreeAFC:
		return say.Say("three-alternative forced choice test")
	case trial.Tetrad:
		return say.Say("tetrad test")
	case trial.PairedPreference:
		return say.Say("paired preference test")
	}
	return say.Say("triangle test")
}

// levels names two levels of a factor; an empty one is without it.
func levels(say wording.Phrases, of, against string) string {
	if of == "" {
		of = say.Say("without")
	}
	if against == "" {
		against = say.Say("without")
	}
	return say.Say("name against name", "of", of, "against", against)
}

// pairOf names the letters of a contrast.
func pairOf(say wording.Phrases, c findings.Contrast) string {
	return say.Say("name against name", "of", c.Of.Letter, "against", c.Against.Letter)
}

// named joins what a list names in passing: names with their numbers.
func named(parts []string) string { return strings.Join(parts, ", ") }
