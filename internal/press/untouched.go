package press

import (
	"errors"
	"io/fs"

	"sidebatch.example/sidebatch/internal/site"
)

// Untouched tells whether Run would leave everything as it is, for outputs that need not
// even be planned: the last run was of the same Options.All, and nobody has touched a file
// since. It says no where it does not know, and writes nothing.
func Untouched(o Options) (sum Summary, ok bool, err error) {
	if o.All == (site.Digest{}) || o.Verify {
		return Summary{}, false, nil
	}
	t := readTable(o)
	if t.len() == 0 || t.all != o.All || o.Inspect != nil && o.Inspect.Kind() != t.passed {
		return Summary{}, false, nil
	}
	f, err := open(o.Out)
	if err != nil {
		return Summary{}, false, err
	}
	defer func() { err = errors.Join(err, f.close(ok)) }()
	if !f.isWhole() {
		return Summary{}, false, nil
	}
	// Between the reading of the table and the lock another run may have written both; then
	// the list is another one.
	if it, err := f.look(listName); err != nil || it.stamp != t.listed || !t.settled(it.stamp) {
		return Summary{}, false, err
	}
	h := &holding{set: t.set(), table: t, owned: t.list(), workers: o.workers()}
	h.listed = h.noted
	if err := f.lookAll(h, o); err != nil || len(h.todo) > 0 {
		return Summary{}, false, err
	}
	return h.summarize(), true, nil
}

// isWhole tells whether no run was killed and left something to be cleared up.
func (f *folder) isWhole() bool {
	_, staged := f.stageRoot.Lstat(f.stageName)
	for _, name := range []string{swapName, doneName} {
		if it, err := f.look(name); err != nil || it.is != absent {
			return false
		}
	}
	return errors.Is(staged, fs.ErrNotExist)
}

// set is the files of a table, of which nothing can be made.
func (t *table) set() *set {
	s := &set{paths: t.paths, from: make([]site.Digest, t.len()), noted: make([]int32, t.len())}
	for i := range s.noted {
		s.from[i], s.noted[i] = t.fromOf(i), int32(i)
	}
	s.findFolders()
	return s
}
