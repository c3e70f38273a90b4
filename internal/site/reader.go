package site

import (
	"io/fs"
	"path"
	"runtime"
	"slices"
	"sync"

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

// folders lists the folders with a note. A folder of the name of a page that the
// site writes itself is refused, and so is one that cannot be part of an address.
func (s *reader) folders(problems *problem.List) []string {
	shown := s.content.Shown
	entries, err := fs.ReadDir(s.content.FS, ".")
	if err != nil {
		problems.Errorf(problem.Pos{File: shown}, problem.Unreadable, "the folder cannot be read")
		return nil
	}
	var slugs []string
	for _, e := range entries {
		name := e.Name()
		if !e.IsDir() || name[0] == '.' {
			continue
		}
		if _, err := fs.Stat(s.content.FS, path.Join(name, trial.NoteFile)); err != nil {
			problems.Ask(problem.Pos{File: path.Join(shown, name)}, problem.MissingFile,
				"a trial's note is called "+trial.NoteFile, "there is no note in this folder")
			continue
		}
		if !slugPattern.MatchString(name) || slices.Contains(reserved(), name) {
			problems.Hinted(problem.Pos{File: path.Join(shown, name)}, problem.BadWord,
				"use small letters, digits and hyphens, and no name of the site's own pages",
				"a trial's folder cannot be called %q", name)
			continue
		}
		slugs = append(slugs, name)
	}
	if len(slugs) == 0 {
		problems.Ask(problem.Pos{File: shown}, problem.MissingFile,
			"a trial is a folder with a "+trial.NoteFile, "there is no trial in this folder")
	}
	return slugs
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
	next := make(chan int)
	var workers sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	workers.Wait()
}
