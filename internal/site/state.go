package site

import (
	"crypto/sha256"
	"encoding/binary"
	"hash"
	"io"
	"io/fs"
	"path"
	"strings"
	"time"
)

// state says whether the files of a trial are what they were.
type state struct {
	// Stamps stands for the names, sizes, times and identities of all files of the folder, and
	// of the folders where these have any.
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
	// Names are the folders, with a slash at the end, and files below the trial's folder, a
	// line each, in the order in which Stamps stands for them. It is "" where folders do not
	// tell when something in them came or went: then they must be listed to know.
	Names string
}

func (f *form) state(s *state) {
	f.digest(&s.Stamps)
	f.yes(&s.Settled)
	f.digest(&s.Data)
	f.yes(&s.Known)
	f.text(&s.Names)
}

// coarsest is the coarsest clock of a file system.
const coarsest = 2 * time.Second

// mostToSum is the size of the largest file whose content is summed up, in bytes.
const mostToSum = 64 << 20

// stateOf looks at the files of a trial, and lists them, but opens none. Settled is what
// changed well before a moment that the clock of the file system gives.
func (s *reader) stateOf(slug string, moment time.Time) (state, []string) {
	sum := newStamps()
	var files []string
	var names strings.Builder
	known := true
	err := fs.WalkDir(s.content.names(), slug, func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case len(files) >= mostFiles:
			known = false
			return fs.SkipAll
		}
		info, err := d.Info() // of a folder, before it is looked into
		if err != nil {
			return err
		}
		name := p[len(slug):]
		if d.IsDir() {
			name += "/"
		} else {
			files = append(files, p)
		}
		names.WriteString(name + "\n")
		return sum.add(s.content, p, info)
	})
	now := state{Stamps: sum.digest(), Settled: sum.before(moment), Known: known && err == nil}
	if now.Known && sum.foldersTell {
		now.Names = names.String()
	}
	return now, files
}

// still tells whether the files of a trial are those that a settled state of an earlier run
// stands for, without listing them. What came into a folder, went or got another name has
// changed the times of the folder (POSIX.1-2017, open, unlink, rename: "mark for update the
// last data modification and last file status change timestamps of the parent directory").
func (s *reader) still(slug string, was state) bool {
	if !was.Settled || !was.Known || was.Names == "" {
		return false
	}
	sum := newStamps()
	for line := range strings.Lines(was.Names) {
		name := strings.TrimSuffix(line, "\n")
		isFolder := strings.HasSuffix(name, "/")
		p := slug + strings.TrimSuffix(name, "/")
		info, err := fs.Lstat(s.content.names(), p)
		if err != nil || info.IsDir() != isFolder || sum.add(s.content, p, info) != nil {
			return false
		}
	}
	return sum.digest() == was.Stamps
}

// stamps sums up what the file system knows of files and folders.
type stamps struct {
	sum         hash.Hash
	newest      time.Time
	foldersTell bool // all folders say when something in them came or went
}

func newStamps() *stamps { return &stamps{sum: sha256.New(), foldersTell: true} }

// add adds a file or folder, of which info is that of a link where it is one.
func (s *stamps) add(content Content, p string, info fs.FileInfo) error {
	if info.Mode()&fs.ModeSymlink != 0 {
		var err error
		if info, err = fs.Stat(content.FS, p); err != nil {
			return err
		}
	}
	changed, identity := statusOf(info)
	if info.IsDir() && changed.IsZero() {
		s.foldersTell = false
		return nil
	}
	if info.ModTime().After(changed) {
		changed = info.ModTime()
	}
	if changed.After(s.newest) {
		s.newest = changed
	}
	stampInto(s.sum, p, info, identity)
	return nil
}

func (s *stamps) digest() Digest { return Digest(s.sum.Sum(nil)[:len(Digest{})]) }

// before tells whether everything was as it is well before a moment.
func (s *stamps) before(moment time.Time) bool { return s.newest.Before(moment.Add(-coarsest)) }

func stampInto(sum hash.Hash, name string, info fs.FileInfo, identity [3]int64) {
	_, _ = io.WriteString(sum, name) // a hash takes everything
	numbers := make([]byte, 0, 7*8)
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
