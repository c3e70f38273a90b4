package site

import (
	"slices"

	"sidebatch.example/sidebatch/internal/problem"
)

// checkRepeats looks up the trials that notes say they repeat: each must be another
// published trial, and none may lead back to itself.
func (s *Site) checkRepeats(problems *problem.List) {
	published := map[string]*Entry{}
	var slugs []string
	for _, e := range s.Trials {
		published[e.Trial.Slug] = e
		slugs = append(slugs, e.Trial.Slug)
	}
	for _, e := range slices.Concat(s.Trials, s.InProgress) {
		r := e.Trial.Repeats
		switch original := published[r.Slug]; {
		case r.Slug == "":
		case r.Slug == e.Trial.Slug:
			problems.Hinted(r.Place, problem.Circle, "name the earlier trial", "the trial is said to repeat itself")
		case original == nil:
			problems.Hinted(r.Place, problem.BrokenLink, problem.DidYouMean(r.Slug, slugs),
				"no published trial is called %q", r.Slug)
		case leadsBack(e, published):
			problems.Hinted(r.Place, problem.Circle, "of two trials, the later one repeats the earlier",
				"%s is itself said to repeat this trial", r.Slug)
		default:
			e.repeats = original
			original.repeatedBy = append(original.repeatedBy, e)
		}
	}
	for _, e := range s.Trials {
		e.repeatedBy = slices.DeleteFunc(e.repeatedBy, func(by *Entry) bool { return by.Trial.Published.IsZero() })
	}
}

// leadsBack reports whether a trial is repeated by one that it repeats, at any
// remove.
func leadsBack(e *Entry, published map[string]*Entry) bool {
	at := published[e.Trial.Repeats.Slug]
	for range len(published) {
		if at == nil {
			return false
		}
		if at.Trial.Repeats.Slug == e.Trial.Slug {
			return true
		}
		at = published[at.Trial.Repeats.Slug]
	}
	return false
}
