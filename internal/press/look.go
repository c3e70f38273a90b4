package press

import (
	"io/fs"
	"sync"
	"sync/atomic"
)

// sight is what stands in the site folder where the new site has files and folders.
type sight struct {
	files []thing // by the number of the output
	dirs  []thing
}

// lookAll looks at all places of a site, several at once. Nothing stands in what is
// no folder.
func (f *folder) lookAll(s *set, workers int) (sight, error) {
	v := sight{make([]thing, len(s.outputs)), make([]thing, len(s.folders))}
	err := spread(len(s.folders), workers, func(i int) (err error) {
		v.dirs[i], err = f.look(s.folders[i])
		return err
	})
	if err != nil {
		return v, err
	}
	f.belowLinks(s, v)
	err = spread(len(s.outputs), workers, func(i int) (err error) {
		if in := s.in[i]; in < 0 || v.dirs[in].is == aFolder {
			v.files[i], err = f.look(s.outputs[i].Path)
		}
		return err
	})
	return v, err
}

// belowLinks takes back what was seen through a link that stands where a folder goes.
func (f *folder) belowLinks(s *set, v sight) {
	for i, dir := range s.folders {
		if up, known := s.number[parent(dir)]; known && v.dirs[up].is != aFolder {
			v.dirs[i] = thing{}
		}
	}
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
