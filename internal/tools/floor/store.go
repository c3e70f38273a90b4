package main

import (
	"errors"
	"os"
	"path"
	"slices"
	"strconv"
	"sync"
	"time"
)

// staging is the folder in which files lie until all of them are written.
const staging = ".staging"

// store writes files as press does: into a staging folder first, synced one by one, and
// then each to its place by a rename. Nothing is there before that needs to be kept, so
// there is no journal.
type store struct {
	root  *os.Root
	sync  bool
	tally *tally

	mu     sync.Mutex
	staged []string // the paths of files, by their number in staging
}

func newStore(out string, syncing bool, t *tally) (*store, error) {
	if err := os.MkdirAll(out, 0o755); err != nil {
		return nil, err
	}
	root, err := os.OpenRoot(out)
	if err != nil {
		return nil, err
	}
	return &store{root: root, sync: syncing, tally: t}, root.Mkdir(staging, 0o755)
}

// write stages a file. It may be called from several goroutines.
func (s *store) write(name string, data []byte) error {
	begun := time.Now()
	s.mu.Lock()
	number := len(s.staged)
	s.staged = append(s.staged, name)
	s.mu.Unlock()
	file, err := s.root.OpenFile(staging+"/"+strconv.Itoa(number), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = file.Write(data)
	if s.sync {
		err = errors.Join(err, file.Sync())
	}
	err = errors.Join(err, file.Close())
	s.tally.add(writing, len(data), begun)
	return err
}

// finish makes the folders and moves every file to its place.
func (s *store) finish() error {
	begun := time.Now()
	var folders []string
	for _, name := range s.staged {
		folders = append(folders, path.Dir(name))
	}
	slices.Sort(folders)
	folders = slices.Compact(folders)
	for _, folder := range folders {
		if err := s.root.MkdirAll(folder, 0o755); err != nil {
			return err
		}
	}
	for number, name := range s.staged {
		if err := s.root.Rename(staging+"/"+strconv.Itoa(number), name); err != nil {
			return err
		}
	}
	if err := s.root.Remove(staging); err != nil {
		return err
	}
	for _, folder := range folders {
		if err := s.syncFolder(folder); err != nil {
			return err
		}
	}
	s.tally.add(moving, 0, begun)
	return s.root.Close()
}

func (s *store) syncFolder(name string) error {
	if !s.sync {
		return nil
	}
	folder, err := s.root.Open(name)
	if err != nil {
		return err
	}
	return errors.Join(folder.Sync(), folder.Close())
}
