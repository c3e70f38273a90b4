package site

import (
	"crypto/sha256"
	"encoding/binary"
	"hash"
	"io"
	"io/fs"
	"path"
	"time"
)

// state says whether the files of a trial are what they were.
type state struct {
	_ struct{} `cbor:",toarray"`
	// Stamps stands for the names, sizes, times and identities of all files of the folder.
	Stamps Digest
	// Settled says that all files were old enough when they were looked at: one that is
	// changed later has another time for sure. The clock of a file system may stand still
	// for two seconds (FAT; from memory).
	Settled bool
	// Data stands for what is in the files.
	Data Digest
	// Known says that Stamps and Data stand for all there is. A folder of very many files, or
	// with one that is very large or cannot be read, is read anew in every run.
	Known bool
}

// coarsest is the coarsest clock of a file system.
const coarsest = 2 * time.Second

// mostToSum is the size of the largest file whose content is summed up, in bytes.
const mostToSum = 64 << 20

// stateOf looks at the files of a trial, and lists them, but opens none. Settled is what
// changed well before a moment that the clock of the file system gives.
func (s *reader) stateOf(slug string, moment time.Time) (state, []string) {
	sum := sha256.New()
	newest := time.Time{}
	var names []string
	known := true
	err := s.content.walk(slug, func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case len(names) >= mostFiles:
			known = false
			return fs.SkipAll
		case d.IsDir():
			return nil
		}
		info, err := d.Info()
		if err == nil && info.Mode()&fs.ModeSymlink != 0 {
			info, err = fs.Stat(s.content.FS, p)
		}
		if err != nil {
			return err
		}
		names = append(names, p)
		changed, identity := statusOf(info)
		if info.ModTime().After(changed) {
			changed = info.ModTime()
		}
		if changed.After(newest) {
			newest = changed
		}
		stampInto(sum, p, info, identity)
		return nil
	})
	return state{
		Stamps:  Digest(sum.Sum(nil)[:len(Digest{})]),
		Settled: newest.Before(moment.Add(-coarsest)),
		Known:   known && err == nil,
	}, names
}

func stampInto(sum hash.Hash, name string, info fs.FileInfo, identity [3]int64) {
	_, _ = io.WriteString(sum, name) // a hash takes everything
	var numbers []byte
	for _, n := range [...]int64{int64(len(name)), info.Size(), int64(info.Mode()), info.ModTime().UnixNano(), identity[0], identity[1], identity[2]} {
		numbers = binary.LittleEndian.AppendUint64(numbers, uint64(n))
	}
	sum.Write(numbers)
}

// dataOf stands for what is in files. It is not known where one is too large to be looked
// through each time, or cannot be read.
func (s *reader) dataOf(slug string, names []string) (Digest, bool) {
	texts := []string{}
	for _, name := range names {
		own, ok := s.sumOf(name)
		if !ok {
			return Digest{}, false
		}
		texts = append(texts, name, own)
	}
	return digestOf(texts...), true
}

func (s *reader) sumOf(name string) (string, bool) {
	info, err := fs.Stat(s.content.FS, name)
	if err != nil || !info.Mode().IsRegular() || info.Size() > mostToSum {
		return "", false
	}
	file, err := s.content.FS.Open(path.Clean(name))
	if err != nil {
		return "", false
	}
	defer file.Close()
	sum := sha256.New()
	n, err := io.Copy(sum, io.LimitReader(file, mostToSum+1))
	return string(sum.Sum(nil)), err == nil && n <= mostToSum
}
