package press

import (
	"io/fs"
	"sync"
	"sync/atomic"
)

// lookAll looks at all places of the site, several at once, and keeps the outputs whose
// files have the stamps that the last run left them with. In verify mode none are kept.
// Nothing stands in what is no folder.
func (f *folder) lookAll(h *holding, o Options) error {
	h.dirs = make([]kind, len(h.folders))
	err := spread(len(h.folders), h.workers, func(i int) error {
		it, err := f.look(h.folders[i].path)
		h.dirs[i] = it.is
		return err
	})
	if err != nil {
		return err
	}
	for i, dir := range h.folders { // take back what was seen through a link that stands where a folder goes
		if dir.in >= 0 && h.dirs[dir.in] != aFolder {
			h.dirs[i] = absent
		}
	}
	h.kept, h.files = make([]bool, h.len()), make([]thing, h.len())
	err = spread(h.len(), h.workers, func(i int) error {
		if in := h.in[i]; in >= 0 && h.dirs[in] != aFolder {
			return nil
		}
		it, err := f.look(h.path(i))
		if h.kept[i] = !o.Verify && it.is == aFile && h.isAsLeft(i, it.stamp); !h.kept[i] {
			h.files[i] = it
		}
		return err
	})
	for i, kept := range h.kept {
		if !kept {
			h.todo = append(h.todo, i)
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
