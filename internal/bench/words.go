package bench

import (
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// phrases are the words of printed sheets: the section "bench" of the kitchen's
// words file. What is only said in a terminal stays English, and so do the columns of
// files, which are a format.
func phrases(t *trial.Trial) wording.Phrases { return t.Kitchen.Words.Of("bench") }
