package press

import (
	"io/fs"
	"sync"
	"sync/atomic"
)

// lookAll looks at all places of the site, but for those that were looked at ahead, and keeps
// the outputs whose files are as the last run left them. In verify mode none are kept.
func (f *folder) lookAll(h *holding, o Options) error {
	known := h.ahead
	if known.err != nil || o.Verify {
		known = nil
	}
	if err := f.lookAtRest(h, known); err != nil {
		return err
	}
	h.kept = make([]bool, h.len())
	_ = spread(h.len(), h.workers, func(i int) error { // of what was looked at, which cannot fail
		h.kept[i] = known != nil && h.isInFolder(i) && known.isAsLeft(h.noted[i]) && h.known(i)
		return nil
	})
	for i, kept := range h.kept {
		if !kept {
			h.todo = append(h.todo, i)
		}
	}
	h.places = make([]place, len(h.todo))
	return spread(len(h.todo), h.workers, func(k int) (err error) {
		i := h.todo[k]
		row := h.noted[i]
		switch {
		case !h.isInFolder(i):
		case known == nil || row < 0:
			h.places[k].thing, err = f.look(h.path(i))
		case known.isAsLeft(row):
			h.places[k] = place{thing{aFile, h.table.row(int(row)).stamp}, true}
		default:
			h.places[k].thing = known.things[row]
		}
		return err
	})
}

// isInFolder tells whether there is a folder where the one of an output goes.
func (h *holding) isInFolder(i int) bool { return h.in[i] < 0 || h.dirs[h.in[i]] == aFolder }

// lookAtRest looks at the folders of the site that were not looked at ahead.
func (f *folder) lookAtRest(h *holding, known *ahead) error {
	h.dirs = make([]kind, len(h.folders))
	if known == nil {
		return f.lookAtFolders(h.set, h.dirs, h.workers)
	}
	seen := make([]bool, len(h.folders))
	for i, row := range h.noted {
		if row < 0 {
			continue
		}
		for mine, then := h.in[i], known.files.in[row]; mine >= 0 && !seen[mine]; mine, then = h.folders[mine].in, known.files.folders[then].in {
			h.dirs[mine], seen[mine] = known.dirs[then], true
		}
	}
	for i, dir := range h.folders {
		if seen[i] || dir.in >= 0 && h.dirs[dir.in] != aFolder {
			continue
		}
		it, err := f.look(dir.path)
		if err != nil {
			return err
		}
		h.dirs[i] = it.is
	}
	return nil
}

// lookAtFolders looks at the folders of a set, several at once. Nothing stands in what is no
// folder.
func (f *folder) lookAtFolders(s *set, dirs []kind, workers int) error {
	err := spread(len(dirs), workers, func(i int) error {
		it, err := f.look(s.folders[i].path)
		dirs[i] = it.is
		return err
	})
	for i, dir := range s.folders { // take back what was seen through a link that stands where a folder goes
		if dir.in >= 0 && dirs[dir.in] != aFolder {
			dirs[i] = absent
		}
	}
	return err
}

// lookSlowly does what look does on any system.
func (f *folder) lookSlowly(p string) (thing, error) {
	info, err := f.lstat(p)
	if err != nil || info == nil {
		return thing{}, err
	}
	return thingFrom(info), nil
}

func thingFrom(info fs.FileInfo) thing {
	switch {
	case info.IsDir():
		return thing{is: aFolder}
	case info.Mode().IsRegular():
		return thing{aFile, stamp{size: info.Size(), written: info.ModTime().UnixNano()}}
	}
	return thing{is: another}
}

// spread calls do for every number below n, on several goroutines in batches, and
// returns the error of the lowest number that had one.
func spread(n, workers int, do func(i int) error) error {
	const batch = 128
	batches := (n + batch - 1) / batch
	errs := make([]error, batches) // the first of each
	var next atomic.Int64
	var all sync.WaitGroup
	for range min(workers, batches) {
		all.Go(func() {
			for b := int(next.Add(1)) - 1; b < batches; b = int(next.Add(1)) - 1 {
				for i := b * batch; i < min((b+1)*batch, n) && errs[b] == nil; i++ {
					errs[b] = do(i)
				}
			}
		})
	}
	all.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
