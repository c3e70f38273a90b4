package press

import (
	"sidebatch.example/sidebatch/internal/site"
)

// ahead is a look at the files of the last run, which goes on while somebody finds out what
// the site is made of now: the system takes most of the time of a run in which little changed
// to tell what it knows of each file.
type ahead struct {
	table  *table
	files  *set    // those of the table
	dirs   []kind  // what stands where their folders go
	things []thing // what stands where they go, but for those that are as they were left
	asLeft []bool  // each is the file that the table has a stamp of
	err    error
	done   chan struct{}
}

// lookAhead begins to look. In verify mode nothing is taken for what it was, and the table is
// all that is read.
func (f *folder) lookAhead(o Options) *ahead {
	a := &ahead{done: make(chan struct{})}
	go func() {
		defer close(a.done)
		a.table = readTable(o)
		a.files = a.table.set()
		if !o.Verify {
			a.err = f.lookAt(a, o.workers())
		}
	}()
	return a
}

func (f *folder) lookAt(a *ahead, workers int) error {
	a.dirs = make([]kind, len(a.files.folders))
	a.things, a.asLeft = make([]thing, a.files.len()), make([]bool, a.files.len())
	if err := f.lookAtFolders(a.files, a.dirs, workers); err != nil {
		return err
	}
	return spread(a.files.len(), workers, func(i int) error {
		if in := a.files.in[i]; in >= 0 && a.dirs[in] != aFolder {
			return nil
		}
		it, err := f.look(a.files.path(i))
		if a.asLeft[i] = it.is == aFile && a.table.isAsLeft(i, it.stamp); !a.asLeft[i] {
			a.things[i] = it
		}
		return err
	})
}

// isAsLeft tells whether the file of a row is as it was left; of no row there is none.
func (a *ahead) isAsLeft(row int32) bool { return row >= 0 && a.asLeft[row] }

// wait waits until everything was looked at.
func (a *ahead) wait() *ahead {
	<-a.done
	return a
}

// untouched tells whether a run would leave everything as it is, for outputs that need not
// even be planned: the last run was of the same, and nobody has touched a file since. It says
// no where it does not know.
func (f *folder) untouched(a *ahead, all site.Digest, o Options) (Summary, bool) {
	t := a.table
	if all == (site.Digest{}) || t.all != all || o.Verify || a.err != nil || t.len() == 0 || o.Inspect != nil && o.Inspect.Kind() != t.passed {
		return Summary{}, false
	}
	list, err := f.look(listName)
	if err != nil || list.is != aFile || !t.isListLeft(list.stamp) {
		return Summary{}, false
	}
	sum := Summary{Files: t.len(), Unchanged: t.len(), Kept: t.len()}
	for i, left := range a.asLeft {
		if !left {
			return Summary{}, false
		}
		sum.Bytes += t.sizeOf(i)
	}
	return sum, true
}

// set is the files of a table, of which nothing can be made.
func (t *table) set() *set {
	s := &set{paths: t.paths}
	s.findFolders()
	return s
}
