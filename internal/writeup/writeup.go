// Package writeup puts a trial's findings into the views that pages show: which
// numbers stand where, and in what words.
//
// It computes nothing that is not wording or order, knows no addresses, and draws
// no figures; the frame, the prose and the figures of a page are the site's.
package writeup

import (
	"fmt"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// Of returns the write-up of a trial.
func Of(f *findings.Findings) page.WriteUp {
	t := f.Trial
	return page.WriteUp{
		Title:     t.Title,
		Question:  t.Question,
		By:        people(t),
		Cooked:    Day(t.Kitchen.Words, t.Cooked),
		Published: Day(t.Kitchen.Words, t.Published),
		Size:      Evidence(f),
		Answer:    answer(f),
		Samples:   samples(f),
		Differs:   differs(f),
		Same:      same(t),
		Contrasts: contrasts(f),
		Panels:    panels(f),
		Tray:      tray(f),
		Outcomes:  Outcomes(f),
		Trust:     trust(f),
		AtHome:    AtHome(f),
		Recipe:    card(f),
		Balance:   balance(f),
		Nutrition: swapped(f),
		Allergens: allergens(f, nil),
		Cautions:  cautions(f, f.Cautions),
		Video:     video(t),
	}
}

func people(t *trial.Trial) []string {
	names := make([]string, 0, len(t.By))
	for _, key := range t.By {
		names = append(names, t.Kitchen.Person(key))
	}
	return names
}

// Day writes a date in the words of a language; nil is English.
func Day(l *wording.Language, d trial.Date) page.Date {
	if d.IsZero() {
		return page.Date{}
	}
	return page.Date{Text: spoken(l).Language().Date(d.Year, int(d.Month), d.Day), ISO: d.String()}
}

// Evidence says how much a trial rests on: "4 samples, 23 pieces, 2 tasters".
func Evidence(f *findings.Findings) string {
	say := phrasesOf(f.Trial)
	parts := []string{say.Count("sample", len(f.Samples))}
	if n := len(f.Trial.Pieces); n > 0 {
		parts = append(parts, say.Count("piece", n))
	}
	assessors := map[string]bool{}
	for _, row := range f.Trial.Tastings {
		assessors[row.Assessor] = true
	}
	for _, set := range f.Trial.Sets {
		assessors[set.Assessor] = true
	}
	if len(assessors) > 0 {
		parts = append(parts, say.Count("taster", len(assessors)))
	}
	return strings.Join(parts, ", ")
}

// Ref names a sample.
func Ref(s *findings.Sample) page.SampleRef {
	return page.SampleRef{Letter: s.Letter, Name: s.Name}
}

// answer is the people's verdict, or, where they gave none, that there is none.
func answer(f *findings.Findings) page.Answer {
	v := f.Trial.Verdict
	a := page.Answer{Words: v.InWords, Because: v.BecauseOf}
	if v.Prefer != nil {
		ref := Ref(f.Sample(v.Prefer.Key))
		a.Prefer = &ref
		if a.Words == "" {
			a.Words = phrasesOf(f.Trial).Say("we prefer", "sample", ref.Name)
		}
	}
	a.Finding = headline(f)
	a.Support = page.Support(f.Support.Degree)
	if f.Support.Words != "" {
		a.Finding = strings.TrimSpace(a.Finding + " " + f.Support.Words)
	}
	return a
}

// headline says what was seen on the measures that the verdict rests on, or on the
// primary one: the count or mean of every sample.
func headline(f *findings.Findings) string {
	names := f.Trial.Verdict.BecauseOf
	if len(names) == 0 {
		for _, m := range f.Trial.Measures {
			if m.Primary {
				names = []string{m.Name}
			}
		}
	}
	var sentences []string
	for _, name := range names {
		if s := seen(f, name); s != "" {
			sentences = append(sentences, s)
		}
	}
	return strings.Join(sentences, " ")
}

func seen(f *findings.Findings, measure string) string {
	m := f.Trial.Measure(measure)
	if m == nil {
		return ""
	}
	var parts []string
	for i := range f.Samples {
		s := &f.Samples[i]
		if summary := s.Measure(measure); summary != nil && summary.N > 0 {
			parts = append(parts, s.Name+" "+summary.Text())
		}
	}
	if len(parts) == 0 {
		return ""
	}
	about := m.Name
	if m.Asks != "" {
		about = m.Asks
	}
	return phrasesOf(f.Trial).Say("seen", "about", wording.Capital(about), "samples", strings.Join(parts, ", "))
}

func video(t *trial.Trial) *page.Video {
	if t.Video.Address == "" {
		return nil
	}
	v := &page.Video{Title: t.Title, Address: t.Video.Address}
	for _, c := range t.Video.Chapters {
		v.Chapters = append(v.Chapters, page.Chapter{At: Timestamp(c.At), Title: c.Title})
	}
	return v
}

// Timestamp writes a time in a video: 1:10, 1:02:03.
func Timestamp(at quantity.Amount) string {
	low, _ := at.Base()
	seconds, _ := low.Floor().Int64()
	if seconds >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", seconds/3600, seconds/60%60, seconds%60)
	}
	return fmt.Sprintf("%d:%02d", seconds/60, seconds%60)
}
