package cli

import (
	"fmt"
	"io/fs"
	"path"
	"path/filepath"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// readTrial reads one trial of the kitchen, named by its folder. Errors in its note
// are printed where they go, and it is not used.
func readTrial(at places, name string, tell func(problem.Problem)) (*trial.Trial, error) {
	source, err := open(at.content, at.theme)
	if err != nil {
		return nil, err
	}
	defer source.Close()
	slug := path.Base(filepath.ToSlash(filepath.Clean(name)))
	if !fs.ValidPath(slug) {
		slug = "."
	}
	if _, err := fs.Stat(source.FS, path.Join(slug, trial.NoteFile)); err != nil || slug == "." {
		return nil, exit{WrongUsage, unknownTrial(source.FS, name)}
	}
	var problems problem.List
	t := trial.Read(trial.Folder{FS: source.FS, Slug: slug, Shown: source.Shown}, source.kitchen(&problems), &problems)
	for _, p := range problems.Sorted() {
		if p.Weight == problem.Error {
			tell(p)
		}
	}
	if n := problems.Errors(); n > 0 || t == nil {
		return nil, exit{WrongNotes, fmt.Errorf("%s in the note", counted(n, "error"))}
	}
	return t, nil
}

func unknownTrial(content fs.FS, name string) error {
	var slugs []string
	notes, _ := fs.Glob(content, "*/"+trial.NoteFile)
	for _, note := range notes {
		slugs = append(slugs, path.Dir(note))
	}
	if near := problem.Nearest(name, slugs); near != "" {
		return fmt.Errorf("there is no trial %s (did you mean %s?)", name, near)
	}
	return fmt.Errorf("there is no trial %s", name)
}
