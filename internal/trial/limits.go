package trial

import (
	"unicode/utf8"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/tabular"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

// The most of each that a trial can have. Every sample is held against every other by
// every measure, so that without these a note of a few hundred lines could keep a publish
// busy for hours. They are far above what a kitchen can cook in a day.
const (
	mostSamples     = 50
	mostMeasures    = 100
	mostIngredients = 150 // of a recipe, or changed by one sample
	mostConditions  = 100
	mostSteps       = 300
	mostNames       = 100 // people, keywords, names in one list
	mostChapters    = 300
	mostPieces      = 10_000 // rows of a log other than a probe's
	mostRepeats     = 2_000  // households
	mostCharacters  = 500    // of a title, a name, a condition: what stands beside others in tables
)

// entries are the entries of a group, if there are no more than can be meant: the first
// one too many is reported, and left out with all that follow.
func (r *reader) entries(f *yamldoc.Field, most int, what string) []yamldoc.Entry {
	all := f.Entries(r.problems)
	if len(all) > most {
		r.tooMany(all[most].KeyPos, most, what)
		all = all[:most]
	}
	return all
}

// items is entries for a list.
func (r *reader) items(f *yamldoc.Field, most int, what string) []*yamldoc.Field {
	all := f.Items(r.problems)
	if len(all) > most {
		r.tooMany(all[most].Pos(), most, what)
		all = all[:most]
	}
	return all
}

// texts is items for a list of texts.
func (r *reader) texts(f *yamldoc.Field, most int, what string) []string {
	var texts []string
	for _, item := range r.items(f, most, what) {
		if text, ok := item.Text(r.problems); ok {
			texts = append(texts, text)
		}
	}
	return texts
}

// short is the text of a field that stands in headings and tables, again and again.
func (r *reader) short(f *yamldoc.Field) (string, bool) {
	text, ok := f.Text(r.problems)
	if ok && utf8.RuneCountInString(text) > mostCharacters {
		r.problems.Hinted(f.Pos(), problem.TooMany, "say it in fewer words, and the rest in the prose",
			"more than %d characters in one line", mostCharacters)
		return "", false
	}
	return text, ok
}

// name is short for a name, which otherwise is another.
func (r *reader) name(f *yamldoc.Field, otherwise string) string {
	if text, ok := r.short(f); ok {
		return text
	}
	return otherwise
}

// isFull reports, and says, that a recipe has as many ingredients as it can have.
func (r *reader) isFull(of recipe.Recipe, at problem.Pos) bool {
	if len(of.Ingredients) < mostIngredients {
		return false
	}
	r.tooMany(at, mostIngredients, "ingredients")
	return true
}

// rows are the rows of a log that was written by hand.
func (r *reader) rows(t tabular.Table) []tabular.Row {
	all := t.Rows()
	if len(all) > mostPieces {
		r.tooMany(all[mostPieces].Place(), mostPieces, "rows")
		all = all[:mostPieces]
	}
	return all
}

func (r *reader) tooMany(at problem.Pos, most int, what string) {
	r.problems.Errorf(at, problem.TooMany, "more than %d %s, and a trial has no more", most, what)
}
