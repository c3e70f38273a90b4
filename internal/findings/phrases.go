package findings

import (
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// phrases are the words that findings are said in: the section "findings" of the
// kitchen's words file.
type phrases struct{ wording.Phrases }

func (f *Findings) phrases() phrases { return spoken(f.Trial.Kitchen.Words) }

// phrasesOf are the words that a measure's readings are written in.
func phrasesOf(m trial.Measure) phrases { return spoken(m.Language) }

// spoken returns the phrases of a language; a measure that was made without a note
// speaks English.
func spoken(l *wording.Language) phrases {
	if l == nil {
		l = wording.English()
	}
	return phrases{l.Of("findings")}
}

// decimal writes a number as the language does, half away from zero.
func (p phrases) decimal(value float64, places int) string {
	return p.Language().Decimal(decimal(value, places))
}

// list joins words: a, b and c.
func (p phrases) list(words []string) string { return p.Language().List(words) }
