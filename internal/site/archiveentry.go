package site

import (
	"strings"
	"unicode"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/writeup"
)

// archiveEntry is all that the archive says of one trial and finds it by. It is plain
// data that stands for itself: what holds it needs neither the note nor the findings. Its
// words are in the kitchen's language; keys are completed by whoever knows the addresses.
type archiveEntry struct {
	Slug      string
	Title     string
	Question  string
	Answer    string // the verdict in words, or the finding where nobody decided
	Evidence  string // "4 samples, 23 pieces, 2 tasters"
	Published trial.Date
	Day       string          // that date in words
	Varied    []archiveFactor // what differs on purpose in some contrast, each once, in order
	Foods     []string        // by key, each once, in order
	Measures  []string        // kinds, as notes name them, in order; one may come twice
	Contrasts int
}

// archiveFactor is a factor by name and by findings.FactorKey.
type archiveFactor struct{ Name, Key string }

// archiveEntryOf says of a trial what the archive needs.
func archiveEntryOf(f *findings.Findings) archiveEntry {
	row := writeup.Row(f)
	entry := archiveEntry{
		Slug:      f.Trial.Slug,
		Title:     row.Title,
		Question:  row.Question,
		Answer:    row.Answer,
		Evidence:  row.Evidence,
		Published: f.Trial.Published,
		Day:       row.Date.Text,
		Foods:     findings.FoodKeys(f.Trial),
		Contrasts: len(f.Contrasts),
	}
	for _, factor := range row.Varied {
		entry.Varied = append(entry.Varied, archiveFactor{Name: factor.Text, Key: factor.Href})
	}
	for _, m := range f.Trial.Measures {
		entry.Measures = append(entry.Measures, string(m.Kind))
	}
	return entry
}

// counted is what the archive counts of a trial that it does not list.
func (c *Card) counted() archiveEntry {
	entry := archiveEntry{Slug: c.Slug, Published: c.Published, Measures: c.Measures, Contrasts: c.Contrasts}
	for _, f := range c.Factors {
		if f.Varied {
			entry.Varied = append(entry.Varied, archiveFactor{Name: f.Name, Key: f.Key})
		}
	}
	for _, f := range c.Foods {
		entry.Foods = append(entry.Foods, f.Key)
	}
	return entry
}

// searchWords is each word of a note once that its line in the archive does not say
// already.
func searchWords(t *trial.Trial, row page.ArchiveRow) string {
	said := map[string]bool{}
	shown := []string{row.Title, row.Question, row.Answer, row.Evidence}
	for _, link := range row.Varied {
		shown = append(shown, link.Text)
	}
	unsaid(shown, said)
	texts := append([]string{t.Recipe.Name, string(t.Prose)}, t.Keywords...)
	texts = append(texts, t.Recipe.Steps...)
	for _, s := range t.Samples {
		texts = append(texts, s.Name)
		for _, i := range s.Plan.Ingredients {
			texts = append(texts, i.Food+" "+i.Preparation)
		}
	}
	return strings.Join(unsaid(texts, said), " ")
}

// unsaid cuts texts into words of two letters or more, in small letters, and keeps
// those that were not said yet.
func unsaid(texts []string, said map[string]bool) []string {
	var words []string
	for _, text := range texts {
		for _, word := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
			return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.IsMark(r)
		}) {
			if len(word) > 1 && !said[word] {
				said[word] = true
				words = append(words, word)
			}
		}
	}
	return words
}
