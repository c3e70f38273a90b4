package press

import (
	"errors"
	"fmt"
	"os"
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

	stamps []stamp // by the number of the output; each written by one goroutine
	errs   []error
}

type unflushed struct {
	number int
	file   *os.File
}

// startFlushing waits for files of so many outputs.
func startFlushing(outputs int, stop func(why error)) *flusher {
	l := &flusher{files: make(chan unflushed, flushers), stop: stop, stamps: make([]stamp, outputs), errs: make([]error, outputs)}
	for range flushers {
		l.wait.Go(func() {
			for u := range l.files {
				l.stamps[u.number], l.errs[u.number] = flush(u.file)
				if err := bare(l.errs[u.number]); isTrouble(err) {
					l.stop(err)
				}
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

// done waits until all files are safe, and notes their stamps. It is called once, when no
// more files come.
func (l *flusher) done(results []result, paths func(i int) string) error {
	close(l.files)
	l.wait.Wait()
	var errs []error
	for i, err := range l.errs {
		if err != nil {
			errs = append(errs, fmt.Errorf("%s: %w", paths(i), bare(err)))
		}
		if l.stamps[i] != (stamp{}) {
			results[i].stamp = l.stamps[i]
		}
	}
	return errors.Join(errs...)
}
