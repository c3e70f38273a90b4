package cli

import (
	"strings"

	"sidebatch.example/sidebatch/internal/draft"
	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
)

// talk asks for what the flags of begin did not say. Every answer is tried at once: a
// draft is made of what is known so far, and what that finds wrong with the answer is
// told, and asked for again.
type talk struct {
	asker
	wish    *draft.Wish
	batches bool // a flag said how many
	kitchen kitchen.Kitchen
	earlier func(name string) (*draft.Earlier, error)
	trials  []string
}

// all asks everything, in the order of the note.
func (t talk) all() error {
	t.tell("An empty line takes what stands in brackets, or ends a list. Ctrl-C stops, and nothing is written.\n")
	for _, part := range []func() error{t.titles, t.recipe, t.samples, t.counts, t.measures} {
		if err := part(); err != nil {
			return err
		}
	}
	agreed, err := t.yes("Write it?")
	if err == nil && !agreed {
		err = errStopped
	}
	return err
}

func (t talk) titles() error {
	if err := t.text("Title", &t.wish.Title); err != nil {
		return err
	}
	return t.text("The question that it is to answer", &t.wish.Question)
}

// text asks for something that is needed, unless a flag said it.
func (t talk) text(question string, into *draft.Said) error {
	if into.Text != "" {
		return nil
	}
	text, err := t.checked(question, "", func(text string) string {
		if text == "" {
			return "this is needed"
		}
		*into = spoken(text)
		return t.mistake(text)
	})
	*into = spoken(text)
	return err
}

// maybe asks for something that may be left out.
func (t talk) maybe(question, otherwise string, into *draft.Said) error {
	if into.Text != "" {
		return nil
	}
	_, err := t.checked(question, otherwise, func(text string) string {
		*into = draft.Said{}
		if text == "" {
			return ""
		}
		*into = spoken(text)
		return t.mistake(text)
	})
	return err
}

// spoken is an answer; it stands for itself in messages.
func spoken(text string) draft.Said { return draft.Said{Text: text, From: quoted(text)} }

// mistake says what a draft of all that is known finds wrong with an answer.
func (t talk) mistake(text string) string {
	_, mistakes := draft.Begin(*t.wish, t.kitchen)
	for _, m := range mistakes {
		if m.From == quoted(text) {
			m.From = ""
			return m.Error()
		}
	}
	return ""
}

// list asks for lines until an empty one. Too few of them are asked for again.
func (t talk) list(question string, least int, into *[]draft.Said) error {
	for {
		ended := false
		before := *into
		_, err := t.checked(question, "", func(text string) string {
			*into = before
			if text == "" {
				ended = true
				if len(before) < least {
					ended = false
					return "at least one is needed"
				}
				return ""
			}
			*into = append(before[:len(before):len(before)], spoken(text))
			return t.mistake(text)
		})
		if err != nil || ended {
			return err
		}
	}
}

func (t talk) recipe() error {
	w := t.wish
	if w.Like == nil && w.Recipe.Name.Text == "" && len(w.Recipe.Ingredients) == 0 && len(t.trials) > 0 {
		t.tell("A recipe can be taken from an earlier trial: %s", strings.Join(t.trials, ", "))
		_, err := t.checked("Like which trial (empty: a new recipe)", "", func(name string) string {
			if name == "" {
				return ""
			}
			var err error
			if w.Like, err = t.earlier(name); err != nil {
				if near := problem.Nearest(name, t.trials); near != "" {
					return err.Error()
				}
				return err.Error() + " (" + strings.Join(t.trials, ", ") + ")"
			}
			return ""
		})
		if err != nil {
			return err
		}
	}
	if w.Like != nil {
		return nil
	}
	if err := t.text("What the recipe is called", &w.Recipe.Name); err != nil {
		return err
	}
	if err := t.maybe(`What the full batch makes, like "12 pancakes"`, "", &w.Recipe.Makes); err != nil {
		return err
	}
	if len(w.Recipe.Ingredients) == 0 {
		t.tell(`Ingredients for the full batch, one a line, like "flour: 300 g all-purpose flour"`)
		if err := t.list("  ingredient", 1, &w.Recipe.Ingredients); err != nil {
			return err
		}
	}
	if len(w.Conditions) == 0 {
		t.tell(`Conditions with their ordinary value, like "rest: 0 min"; one that is to change belongs here too`)
		if err := t.list("  condition", 0, &w.Conditions); err != nil {
			return err
		}
	}
	if len(w.Recipe.Steps) == 0 {
		t.tell("Steps of the recipe; one quotes a condition as {rest}")
		if err := t.list("  step", 0, &w.Recipe.Steps); err != nil {
			return err
		}
	}
	return t.maybe("The size that each sample is made at", "full batch", &w.Recipe.TestedAt)
}

func (t talk) samples() error {
	if len(t.wish.Changes) > 0 || t.wish.Samples.Text != "" {
		return nil
	}
	t.tell(`What changes: "rest: 30 min" makes a sample of that, "rested: rest = 30 min" names it.` +
		"\nOne thing at a time: a sample in which two things change is evidence about neither.")
	return t.list("  change", 1, &t.wish.Changes)
}

func (t talk) counts() error {
	w := t.wish
	var err error
	if w.Pieces == 0 {
		otherwise := 6
		if w.Like != nil && w.Like.Trial.Control() != nil && w.Like.Trial.Control().Weighed.Divided > 0 {
			otherwise = min(100, w.Like.Trial.Control().Weighed.Divided)
		}
		if w.Pieces, err = t.number("Pieces of one batch of a sample", otherwise, 100); err != nil {
			return err
		}
	}
	if !t.batches {
		w.Batches, err = t.number("Batches of every sample", 1, 50)
	}
	return err
}

func (t talk) measures() error {
	w := t.wish
	if len(w.Measures) > 0 {
		return nil
	}
	question := "Measures, parted by commas"
	if w.Like != nil {
		question += " (empty: those of " + w.Like.Trial.Slug + ")"
	}
	t.tell("Ready-made sets of measures, and single ones:\n%s", setsHelp())
	_, err := t.checked(question, "", func(text string) string {
		w.Measures = nil
		if text == "" && w.Like == nil {
			return "at least one is needed"
		}
		for part := range strings.SplitSeq(text, ",") {
			if part = strings.TrimSpace(part); part == "" {
				continue
			}
			w.Measures = append(w.Measures, spoken(part))
			if wrong := t.mistake(part); wrong != "" {
				return part + ": " + wrong
			}
		}
		return ""
	})
	return err
}
