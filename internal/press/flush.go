package press

import (
	"errors"
	"fmt"
	"maps"
	"os"
	"slices"
	"sync"
)

// flushers is how many files wait for the disk at a time. The disk says of each, after a
// while in which nobody has to do anything, that it will survive a power cut; without these
// the processors would wait for it as well.
const flushers = 12

// flusher sees staged files to the disk while others are made.
type flusher struct {
	files chan unflushed
	wait  sync.WaitGroup
	stop  func(why error) // the making, where it would be in vain

	errs failures
}

// unflushed is the file of an output whose result is there, but for the stamp.
type unflushed struct {
	result *result
	file   *os.File
}

// startFlushing waits for files, whose stamps it notes in their results.
func startFlushing(stop func(why error)) *flusher {
	l := &flusher{files: make(chan unflushed, flushers), stop: stop}
	for range flushers {
		l.wait.Go(func() {
			for u := range l.files {
				var err error
				u.result.stamp, err = flush(u.file)
				if err = bare(err); isTrouble(err) {
					l.stop(err)
				}
				l.errs.add(u.result.number, err)
			}
		})
	}
	return l
}

// flush sees a file to the disk, and closes it.
func flush(file *os.File) (stamp, error) {
	err := ignoreUnsupported(file.Sync())
	s, missed := stampOf(file)
	return s, errors.Join(err, missed, file.Close())
}

// syncFolders makes the names in folders of the site lasting, several at once.
func (f *folder) syncFolders(dirs map[string]bool) {
	waiting := make(chan string)
	var all sync.WaitGroup
	for range min(flushers, len(dirs)) {
		all.Go(func() {
			for dir := range waiting {
				syncFolder(f.site, dir)
			}
		})
	}
	for dir := range dirs {
		waiting <- dir
	}
	close(waiting)
	all.Wait()
}

// done waits until all files are safe. It is called once, when no more files come.
func (l *flusher) done(paths func(i int) string) error {
	close(l.files)
	l.wait.Wait()
	for i, err := range l.errs.by {
		l.errs.by[i] = fmt.Errorf("%s: %w", paths(i), err)
	}
	return l.errs.join()
}

// failures are the errors of a few among many, by their numbers. Several goroutines may add.
type failures struct {
	mutex sync.Mutex
	by    map[int]error
}

func (f *failures) add(number int, err error) {
	if err == nil {
		return
	}
	f.mutex.Lock()
	defer f.mutex.Unlock()
	if f.by == nil {
		f.by = map[int]error{}
	}
	f.by[number] = err
}

// join joins them in the order of their numbers.
func (f *failures) join() error {
	var errs []error
	for _, number := range slices.Sorted(maps.Keys(f.by)) {
		errs = append(errs, f.by[number])
	}
	return errors.Join(errs...)
}
