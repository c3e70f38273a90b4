package site

import (
	"path"
	"slices"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// checkRepeats looks up the trials that notes say they repeat: each must be another
// published trial, and none may lead back to itself.
func (x *Index) checkRepeats(problems *problem.List) {
	for _, c := range slices.Concat(x.Trials, x.InProgress) {
		r := c.Repeats
		r.Place.File = path.Join(x.reader.content.Shown, c.Slug, trial.NoteFile)
		switch original := x.published[r.Slug]; {
		case r.Slug == "":
		case r.Slug == c.Slug:
			problems.Hinted(r.Place, problem.Circle, "name the earlier trial", "the trial is said to repeat itself")
		case original == nil:
			problems.Hinted(r.Place, problem.BrokenLink, problem.DidYouMean(r.Slug, x.known().slugs()),
				"no published trial is called %q", r.Slug)
		case x.leadsBack(c):
			problems.Hinted(r.Place, problem.Circle, "of two trials, the later one repeats the earlier",
				"%s is itself said to repeat this trial", r.Slug)
		}
	}
}

// relate joins the trials that repeat others to those. What checkRepeats finds wrong
// joins nothing.
func (x *Index) relate() {
	for _, c := range slices.Concat(x.Trials, x.InProgress) {
		original := x.published[c.Repeats.Slug]
		if original == nil || original == c || x.leadsBack(c) {
			continue
		}
		x.repeats[c.Slug] = original
		if !c.Published.IsZero() {
			x.repeatedBy[original.Slug] = append(x.repeatedBy[original.Slug], c)
		}
	}
}

// leadsBack reports whether a trial is repeated by one that it repeats, at any
// remove.
func (x *Index) leadsBack(c *Card) bool {
	at := x.published[c.Repeats.Slug]
	for range len(x.published) {
		if at == nil {
			return false
		}
		if at.Repeats.Slug == c.Slug {
			return true
		}
		at = x.published[at.Repeats.Slug]
	}
	return false
}
