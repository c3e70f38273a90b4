package trial

import (
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

// Repeats is the trial that this one was made to repeat. Whether there is such a
// trial only the whole kitchen can tell; here it is a name.
type Repeats struct {
	Slug  string // "" for a trial that repeats none
	Place problem.Pos
}

// repeats reads the name of the folder of another trial.
func (r *reader) repeats(f *yamldoc.Field) Repeats {
	slug, ok := f.Text(r.problems)
	if !ok {
		return Repeats{}
	}
	if slug == "" {
		r.problems.Hinted(f.Pos(), problem.MissingKey, "name the folder of the trial that this one repeats, or leave the key out",
			"repeats is empty")
		return Repeats{}
	}
	return Repeats{Slug: slug, Place: f.Pos()}
}
