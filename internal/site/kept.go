package site

import (
	"bytes"
	"path"
	"slices"
	"strings"
	"time"

	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// Kept is a kitchen that stays loaded while people work on its files: each Load
// reads again only what changed. It may not be used by two goroutines at once;
// what Load returned before stays as it was.
type Kept struct {
	content     Content
	album       *album
	kitchen     kitchen.Kitchen // the last one without an error
	newTheme    bool            // since the kitchen was read
	kitchenFile []stamp
	kitchenData []byte
	kitchenBad  problem.List
	trials      map[string]*keptTrial
	problems    map[string][]problem.Problem // of the last reading
	loaded      bool
}

// keptTrial is what stays of one trial between two readings.
type keptTrial struct {
	files []stamp
	saved time.Time // when the newest of its files was changed
	read  *Entry    // as it was read last, or nil; checked, but its prose not told
	found problem.List

	told      *Entry // read, with its prose told; nil where that is still to be done
	toldFound problem.List
	toldTo    string // the published trials as the prose knew them

	good *Entry // the last one without an error, or nil
}

// Reading is a kitchen at one moment. Of a trial with an error the Site holds the
// last version without one, and no version where there never was one.
type Reading struct {
	Site     *Site
	Problems map[string][]problem.Problem // sorted; by trial, under "" those of the kitchen
	Slugs    []string                     // all folders with a note, by name
	Changed  []string                     // trials that are new, gone, or not what they were, by name
	Whole    bool                         // the kitchen's file changed, and with it everything
	Saved    string                       // the trial saved last, by the times of its files; "" where there is none
}

// Same reports whether nothing changed since the reading before.
func (r Reading) Same() bool { return !r.Whole && len(r.Changed) == 0 }

// Keep prepares a kitchen for being read again and again. Nothing is read yet.
func Keep(content Content) *Kept {
	return &Kept{content: content, album: newAlbum(), kitchen: kitchen.Default(), trials: map[string]*keptTrial{}}
}

// ThemeMoved says that the words of the theme may be others: the next Load reads
// everything again.
func (k *Kept) ThemeMoved() { k.newTheme = true }

// Load brings the kitchen up to date. The trials in touched, and the kitchen's file
// when it is named there, are read again in any case; of the others, when touched
// is nil, those whose files have another size, time or identity. New and removed folders and the kitchen's file are always
// noticed.
func (k *Kept) Load(touched []string) Reading {
	whole := k.readKitchen(slices.Contains(touched, kitchen.File))
	s := &Site{reader: reader{k.kitchen, k.content, k.album}}
	var kitchenProblems problem.List
	kitchenProblems.Join(k.kitchenBad)
	slugs := s.trials(&kitchenProblems)
	changed := k.drop(slugs)
	changed = append(changed, k.readTrials(s, slugs, touched, whole)...)
	s, repeated := k.gather(s, slugs)

	r := Reading{Site: s, Slugs: slugs, Whole: whole, Saved: k.lastSaved(slugs)}
	r.Problems = k.sorted(slugs, kitchenProblems, repeated)
	for slug, list := range r.Problems {
		if !slices.Equal(list, k.problems[slug]) {
			changed = append(changed, slug)
		}
	}
	for slug := range k.problems {
		if _, still := r.Problems[slug]; !still {
			changed = append(changed, slug)
		}
	}
	slices.Sort(changed)
	r.Changed = slices.Compact(changed)
	k.problems, k.loaded = r.Problems, true
	return r
}

// readKitchen reads the kitchen's file when it was touched, and reports whether it is
// another.
func (k *Kept) readKitchen(touched bool) bool {
	now := stampFile(k.content.FS, kitchen.File)
	if k.loaded && !k.newTheme && !touched && sameStamps(now, k.kitchenFile) {
		return false
	}
	k.kitchenFile = now
	data, _ := readFile(k.content.FS, kitchen.File) // why it cannot be read is told by reading it properly
	if k.loaded && !k.newTheme && len(k.kitchenBad.Sorted()) == 0 && bytes.Equal(data, k.kitchenData) {
		return false
	}
	k.kitchenData, k.newTheme = data, false
	var problems problem.List
	read := ReadKitchen(k.content, &problems)
	k.kitchenBad = problems
	if problems.Errors() == 0 {
		k.kitchen = read
	}
	return true
}

// drop forgets the trials whose folders are gone and returns them.
func (k *Kept) drop(slugs []string) []string {
	var gone []string
	for slug := range k.trials {
		if _, there := slices.BinarySearch(slugs, slug); !there {
			delete(k.trials, slug)
			gone = append(gone, slug)
		}
	}
	return gone
}

// readTrials reads what changed and returns the trials that are not what they were.
func (k *Kept) readTrials(s *Site, slugs, touched []string, whole bool) []string {
	fresh := make([]*keptTrial, len(slugs))
	each(len(slugs), func(i int) {
		old := k.trials[slugs[i]]
		named := slices.Contains(touched, slugs[i])
		if old != nil && !whole && !named && touched != nil {
			return
		}
		files := stampFolder(k.content.FS, slugs[i])
		if old != nil && !whole && !named && sameStamps(files, old.files) {
			return
		}
		now := &keptTrial{files: files, saved: lastChange(files)}
		now.read = s.entry(slugs[i], &now.found)
		if old == nil || whole || !old.same(now) {
			fresh[i] = now
		} else {
			old.files, old.saved = now.files, now.saved // touched, but what it was
		}
	})
	var changed []string
	for i, now := range fresh {
		if now == nil {
			continue
		}
		if old := k.trials[slugs[i]]; old != nil {
			now.good = old.good
		}
		k.trials[slugs[i]] = now
		changed = append(changed, slugs[i])
	}
	return changed
}

// same reports whether a second reading found the same: the note and its logs byte
// for byte, the other files by their stamps.
func (t *keptTrial) same(now *keptTrial) bool {
	if t.read == nil || now.read == nil || !slices.Equal(t.found.Sorted(), now.found.Sorted()) {
		return false
	}
	text := func(of *keptTrial) map[string]string {
		all := map[string]string{}
		for _, f := range of.read.Trial.Files {
			all[f.Name] = string(f.Data)
		}
		return all
	}
	was, is := text(t), text(now)
	rest := func(of *keptTrial) []stamp {
		return slices.DeleteFunc(slices.Clone(of.files), func(s stamp) bool { _, isText := is[s.name]; return isText })
	}
	if len(was) != len(is) || !sameStamps(rest(t), rest(now)) {
		return false
	}
	for name, data := range is {
		if old, there := was[name]; !there || old != data {
			return false
		}
	}
	return true
}

// gather puts the trials into a site and tells their prose, which may link to
// other trials. A trial that turns out to have an error only now is replaced by
// its last good version, and the site gathered again.
func (k *Kept) gather(s *Site, slugs []string) (*Site, problem.List) {
	bad := map[string]bool{}
	for {
		s = &Site{reader: s.reader}
		var entries []*Entry
		for _, slug := range slugs {
			if e := k.trials[slug].shown(bad[slug]); e != nil {
				entries = append(entries, e)
			}
		}
		s.arrange(entries)
		var repeated problem.List
		s.titles().checkRepeats(&repeated)
		k.tellChanged(s, entries, bad)

		before := len(bad)
		for _, e := range entries {
			slug := e.Trial.Slug
			if !bad[slug] && (k.trials[slug].toldFound.Errors() > 0 || hasError(repeated, k.note(slug))) {
				bad[slug] = k.trials[slug].found.Errors() == 0 // else the good version is shown already
			}
		}
		if len(bad) == before {
			for _, e := range entries {
				if t := k.trials[e.Trial.Slug]; !bad[e.Trial.Slug] && t.found.Errors() == 0 {
					t.good = t.told
				}
			}
			return s, repeated
		}
	}
}

// shown is the version of a trial to be put into the site, as a value of its own:
// what links to it differs from site to site.
func (t *keptTrial) shown(bad bool) *Entry {
	from := t.read
	switch {
	case bad || from == nil || t.found.Errors() > 0:
		from = t.good
	case t.told != nil:
		from = t.told
	}
	if from == nil {
		return nil
	}
	return &Entry{Findings: from.Findings, says: from.says, account: from.account, samplePhotos: from.samplePhotos}
}

// tellChanged tells the prose of trials that were read anew, and of those that link
// to other trials when it is not the same ones that are published.
func (k *Kept) tellChanged(s *Site, entries []*Entry, bad map[string]bool) {
	var published strings.Builder
	for _, e := range s.Trials {
		published.WriteString(e.Trial.Slug + "/")
	}
	to := published.String()
	known := s.titles().known()
	each(len(entries), func(i int) {
		e := entries[i]
		t := k.trials[e.Trial.Slug]
		old := t.told != nil && (t.toldTo == to || len(t.told.account.links) == 0)
		if old || bad[e.Trial.Slug] || t.read == nil || t.found.Errors() > 0 {
			return
		}
		told := &Entry{Findings: e.Findings, says: e.says, samplePhotos: map[string]photo{}}
		var found problem.List
		s.samplePhotos(told, &found)
		s.tell(told, known, &found)
		t.told, t.toldFound, t.toldTo = told, found, to
		e.account, e.samplePhotos = told.account, told.samplePhotos
	})
}

// sorted is what is wrong with the kitchen and with each trial, in its order.
func (k *Kept) sorted(slugs []string, ofKitchen, repeated problem.List) map[string][]problem.Problem {
	lists := map[string]*problem.List{"": {}}
	for _, slug := range slugs {
		lists[slug] = &problem.List{}
		lists[slug].Join(k.trials[slug].found)
		lists[slug].Join(k.trials[slug].toldFound)
	}
	lists[""].Join(ofKitchen)
	for _, p := range repeated.Sorted() {
		for _, slug := range slugs {
			if p.Pos.File == k.note(slug) {
				lists[slug].Add(p)
			}
		}
	}
	all := map[string][]problem.Problem{}
	for slug, list := range lists {
		if list.Len() > 0 {
			all[slug] = list.Sorted()
		}
	}
	return all
}

// note is the file of a trial's note, as problems name it.
func (k *Kept) note(slug string) string { return path.Join(k.content.Shown, slug, trial.NoteFile) }

func hasError(list problem.List, file string) bool {
	return slices.ContainsFunc(list.Sorted(), func(p problem.Problem) bool {
		return p.Weight == problem.Error && p.Pos.File == file
	})
}

func (k *Kept) lastSaved(slugs []string) string {
	last := ""
	for _, slug := range slugs {
		if last == "" || k.trials[slug].saved.After(k.trials[last].saved) {
			last = slug
		}
	}
	return last
}
