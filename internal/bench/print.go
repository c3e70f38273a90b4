package bench

import (
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
	"sidebatch.example/sidebatch/internal/writeup"
)

// mostBoxes is the longest scale that is printed as boxes; a longer one is written in.
const mostBoxes = 11

// Ballots are the ballots of a tasting. They name the recipe and nothing else: the
// title, the question and the samples would say what is compared.
func (k *Tasting) Ballots(f *findings.Findings) page.Ballots {
	say := phrases(f.Trial)
	v := page.Ballots{Frame: page.Frame{Title: say.Say("ballots")}, Title: f.Trial.Recipe.Name, Contains: contains(writeup.Of(f).Allergens)}
	for _, s := range k.sittings() {
		if n := len(v.Ballots); n == 0 || v.Ballots[n-1].Assessor != s.assessor {
			v.Ballots = append(v.Ballots, page.Ballot{Assessor: s.assessor})
		}
		b := &v.Ballots[len(v.Ballots)-1]
		b.Parts = append(b.Parts, ballotPart(f.Trial, s))
	}
	for i := range v.Ballots {
		parts := v.Ballots[i].Parts
		for n := range parts {
			parts[n].Label = say.Say("part of parts", "part", strconv.Itoa(n+1), "parts", strconv.Itoa(len(parts)))
		}
	}
	return v
}

// contains lists the allergens of all samples together, without what they come from.
func contains(a *page.Allergens) []page.BallotAllergens {
	if a == nil {
		return nil
	}
	var all []page.BallotAllergens
	for _, g := range a.Groups {
		var names []string
		for _, line := range g.Lines {
			names = append(names, line.Name)
		}
		all = append(all, page.BallotAllergens{Strength: g.Strength, Names: strings.Join(names, ", ")})
	}
	return all
}

func ballotPart(t *trial.Trial, s sitting) page.BallotPart {
	var part page.BallotPart
	for _, c := range s.cups {
		part.Codes = append(part.Codes, c.Code)
	}
	if s.test == "" {
		for _, m := range scoredMeasures(t) {
			part.Scales = append(part.Scales, scale(phrases(t), m, len(s.cups)))
		}
		return part
	}
	m := t.Measure(s.test)
	part.Kind, part.Choices, part.Asks = testKind(m.Kind), s.choices(m.Kind), question(phrases(t), m.Asks)
	if m.Kind == trial.Tetrad {
		part.First = s.cups[0].Code
	}
	return part
}

func testKind(k trial.Kind) page.TestKind {
	switch k {
	case trial.DuoTrio:
		return page.TestDuoTrio
	case trial.TwoAFC, trial.ThreeAFC:
		return page.TestMore
	case trial.Tetrad:
		return page.TestTetrad
	case trial.PairedPreference:
		return page.TestPreference
	}
	return page.TestTriangle
}

// question makes one of what a note asks: "which is saltier" is "Which is saltier?".
func question(say wording.Phrases, asks string) string {
	if asks == "" {
		return ""
	}
	r := []rune(asks)
	text := strings.ToUpper(string(r[0])) + string(r[1:])
	if !strings.ContainsAny(text[len(text)-1:], ".?!") {
		return say.Say("question", "asks", text)
	}
	return text
}

// scale is one measure for every cup.
func scale(say wording.Phrases, m trial.Measure, cups int) page.BallotScale {
	s := page.BallotScale{Measure: m.Name, Asks: m.Asks, Boxes: choices(say, m), Unit: unit(say, m)}
	switch m.Kind {
	case trial.Rank:
		s.Rank = true
		s.Boxes = numbers(1, cups)
		if m.FromIs != "" {
			s.Unit = "1 " + m.FromIs
		}
	case trial.Score:
		low, high := ends(m)
		s.Low, s.High, s.Unit = low, high, ""
		if m.To-m.From < mostBoxes {
			s.Boxes = numbers(m.From, m.To)
		}
	}
	return s
}

// ends are the ends of a score's scale with their words: "1 tender".
func ends(m trial.Measure) (low, high string) {
	return strings.TrimSpace(strconv.Itoa(m.From) + " " + m.FromIs), strings.TrimSpace(strconv.Itoa(m.To) + " " + m.ToIs)
}

func numbers(from, to int) []string {
	var all []string
	for n := from; n <= to; n++ {
		all = append(all, strconv.Itoa(n))
	}
	return all
}

// PouringList is the list for whoever fills the cups.
func (k *Tasting) PouringList(f *findings.Findings, p Panel) page.PouringList {
	t, say := f.Trial, phrases(f.Trial)
	refs := map[string]page.SampleRef{}
	v := page.PouringList{Frame: page.Frame{Title: say.Say("pouring list")}, Title: t.Recipe.Name, Seed: p.Seed, Evenness: k.Evenness(t, p), Cautions: writeup.Of(f).Cautions}
	for i := range f.Samples {
		s := &f.Samples[i]
		refs[s.Key] = writeup.Ref(s)
		cups := page.PouringSample{SampleRef: refs[s.Key]}
		total := 0
		for _, c := range k.Cups {
			if c.Sample == s.Key {
				total++
				cups.Codes = append(cups.Codes, c.Code)
			}
		}
		cups.Cups = say.Count("cup", total)
		if total > 0 {
			v.Samples = append(v.Samples, cups)
		}
	}
	for _, s := range k.sittings() {
		if n := len(v.Assessors); n == 0 || v.Assessors[n-1].Assessor != s.assessor {
			v.Assessors = append(v.Assessors, page.PouringAssessor{Assessor: s.assessor})
		}
		part := page.PouringPart{Label: say.Say("scores")}
		if s.test != "" {
			part.Label = s.test
			if p.Sets > 1 {
				part.Label = say.Say("test and set", "test", s.test, "set", strconv.Itoa(s.set))
			}
		}
		for _, c := range s.cups {
			part.Cups = append(part.Cups, page.PouringCup{Code: c.Code, SampleRef: refs[c.Sample]})
		}
		last := &v.Assessors[len(v.Assessors)-1]
		last.Parts = append(last.Parts, part)
	}
	return v
}
