// Package site knows what a kitchen's site consists of: it reads every trial,
// collects what is wrong, and lists the files to write, what stands in them and
// what links to what.
//
// It writes nothing itself. Survey reads and checks; Plan lists outputs, each with
// a function that makes its bytes when it is asked to.
package site

import (
	"bytes"
	"cmp"
	"errors"
	"io/fs"
	"path"
	"slices"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// Content is a folder of trials with the kitchen's file.
type Content struct {
	FS    fs.FS
	Shown string // how the user named the folder; problems carry it
	// Names is the same folder where it is quicker to look at names and files through it; no
	// file is opened by it. Nil is FS.
	Names fs.FS
	// Theme opens the theme that a kitchen names, for its words; a nil file system is
	// the built-in theme, and so is a nil Theme.
	Theme func(named string) (fs.FS, error)
	// Read is told, as Survey goes on, how many trials of all have been read; from
	// several goroutines, and not in order. Nil is told nothing.
	Read func(done, of int)
}

// names is what the names of files are looked up in.
func (c Content) names() fs.FS {
	if c.Names != nil {
		return c.Names
	}
	return c.FS
}

// Site is everything that was read, checked and computed.
type Site struct {
	reader
	Trials     []*Entry // published ones, newest first
	InProgress []*Entry // notes without a date of publication, by slug
}

// Entry is one trial of the site.
type Entry struct {
	*findings.Findings
	says         func() said      // what other pages know of it, found out when one asks
	account      account          // the prose, with places for its figures and tables
	samplePhotos map[string]photo // by the sample's key
	hung         hung             // the figures, put together when first asked for
	ready        ready            // files that were made before their turn
}

// arrange puts the trials that could be read into their order.
func (s *Site) arrange(entries []*Entry) {
	for _, entry := range entries {
		switch {
		case entry == nil:
		case entry.Trial.Published.IsZero():
			s.InProgress = append(s.InProgress, entry)
		default:
			s.Trials = append(s.Trials, entry)
		}
	}
	slices.SortStableFunc(s.Trials, func(a, b *Entry) int {
		return cmp.Or(-a.Trial.Published.Compare(b.Trial.Published), cmp.Compare(a.Trial.Slug, b.Trial.Slug))
	})
}

// ReadKitchen reads the kitchen's file, or gives the defaults where there is none, and
// lets the kitchen speak its language with the words of its theme.
func ReadKitchen(content Content, problems *problem.List) kitchen.Kitchen {
	k := readKitchen(content, problems)
	// A theme that cannot be opened or has broken words is told of when its templates
	// are read; until then the kitchen speaks as the built-in theme does.
	var theme fs.FS
	if content.Theme != nil {
		theme, _ = content.Theme(k.Theme)
	}
	book, err := wording.Read(theme)
	if err != nil {
		if book, err = wording.Read(nil); err != nil {
			return k
		}
	}
	return k.Speaking(book.In(k.Language))
}

func readKitchen(content Content, problems *problem.List) kitchen.Kitchen {
	shown := path.Join(content.Shown, kitchen.File)
	data, err := readFile(content.FS, kitchen.File)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return kitchen.Default()
	case err == nil && len(bytes.TrimSpace(data)) == 0:
		return kitchen.Default() // an empty kitchen file is one of defaults
	}
	data, ok := trial.ReadText(content.FS, kitchen.File, shown, problems)
	if !ok {
		return kitchen.Default()
	}
	return kitchen.Read(shown, data, problems)
}
