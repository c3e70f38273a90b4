package site

import (
	"io/fs"
	"path"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// reader reads the trials of a kitchen.
type reader struct {
	Kitchen kitchen.Kitchen
	content Content
	album   *album
}

// trials lists the folders with a note.
func (s *reader) trials(problems *problem.List) []string {
	all := s.folders(problems)
	slugs := slices.DeleteFunc(slices.Clone(all), func(name string) bool {
		_, err := fs.Stat(s.content.FS, path.Join(name, trial.NoteFile))
		return !s.isTrial(name, err == nil, problems)
	})
	if all != nil && len(slugs) == 0 {
		s.noTrial(problems)
	}
	return slugs
}

// folders lists the folders that may be trials; nil where the kitchen cannot be read.
func (s *reader) folders(problems *problem.List) []string {
	shown := s.content.Shown
	entries, err := fs.ReadDir(s.content.names(), ".")
	if err != nil {
		problems.Errorf(problem.Pos{File: shown}, problem.Unreadable, "the folder cannot be read")
		return nil
	}
	names := []string{}
	for _, e := range entries {
		if name := e.Name(); e.IsDir() && name[0] != '.' {
			names = append(names, name)
		}
	}
	return names
}

// isTrial asks about a folder without a note. One of the name of a page that the site writes
// itself is refused, and so is one that cannot be part of an address.
func (s *reader) isTrial(name string, hasNote bool, problems *problem.List) bool {
	at := problem.Pos{File: path.Join(s.content.Shown, name)}
	switch {
	case !hasNote:
		problems.Ask(at, problem.MissingFile, "a trial's note is called "+trial.NoteFile, "there is no note in this folder")
	case !IsSlug(name):
		problems.Hinted(at, problem.BadWord, "use small letters, digits and hyphens, and no name of the site's own pages",
			"a trial's folder cannot be called %q", name)
	default:
		return true
	}
	return false
}

func (s *reader) noTrial(problems *problem.List) {
	problems.Ask(problem.Pos{File: s.content.Shown}, problem.MissingFile,
		"a trial is a folder with a "+trial.NoteFile, "there is no trial in this folder")
}

// entry reads one trial.
func (s *reader) entry(slug string, problems *problem.List) *Entry {
	t := trial.Read(trial.Folder{FS: s.content.FS, Slug: slug, Shown: s.content.Shown}, s.Kitchen, problems)
	if t == nil {
		return nil
	}
	t.Check(problems)
	f := findings.Of(t)
	return &Entry{Findings: f, says: sync.OnceValue(func() said { return saidBy(f) }), samplePhotos: map[string]photo{}}
}

// each calls a function for every number below n, on all processors.
func each(n int, do func(i int)) {
	var next atomic.Int64
	var workers sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	workers.Wait()
}
