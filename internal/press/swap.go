package press

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"strconv"
)

const (
	journalName = "journal"
	undoName    = "undo" // there once a swap is being taken back
)

// swapping is a committed swap, in the site folder.
type swapping struct {
	f       *folder
	changes []change
	before  hook
	seen    map[string]stamp // of files that were believed for their stamps, by path
}

// hook is called before each change is made, and before it is taken back. A test
// uses it to fail or to die there.
type hook func(c change, back bool) error

func (h hook) call(c change, back bool) error {
	if h == nil {
		return nil
	}
	return h(c, back)
}

// commit writes the journal and moves staging into the site folder. After the
// rename in it the new site is certain, unless a change fails.
func (f *folder) commit(changes []change) error {
	err := writeSynced(f.staging, journalName, writeJournal(changes))
	if err == nil {
		syncFolder(f.staging, ".")
		_ = f.staging.Close() // some systems rename no folder that is open
		f.staging = nil
		err = f.stageRoot.Rename(f.stageName, f.swapPath)
	}
	if err != nil {
		return fmt.Errorf("%s: moving the new files in: %w", f.out, bare(err))
	}
	syncFolder(f.site, ".")
	return nil
}

// swap carries out a committed swap, or takes it back. What was seen of files that were
// believed for their stamps, by path, need not be read of them.
func (f *folder) swap(changes []change, seen map[string]stamp, before hook) error {
	s := swapping{f, changes, before, seen}
	err := s.forward()
	if err != nil {
		if undo := s.back(); undo != nil {
			return fmt.Errorf("%w, and the old site could not be put back in full (publish again to finish): %w", err, undo)
		}
	}
	return errors.Join(err, f.done())
}

// heal finishes or takes back what a killed run left in the site folder, and
// deletes what it left of staging.
func (f *folder) heal(before hook) error {
	err := f.stageRoot.RemoveAll(f.stageName)
	if err == nil {
		err = f.site.RemoveAll(doneName)
	}
	if err != nil {
		return fmt.Errorf("%s: clearing up after an interrupted publish: %w", f.out, bare(err))
	}
	if info, err := f.lstat(swapName); err != nil || info == nil {
		return err
	}
	text, err := f.readSmall(swapName + "/" + journalName)
	if err != nil {
		return fmt.Errorf("%s/%s: %w: %w (empty the folder %s and publish again)", f.out, swapName, errJournal, bare(err), f.out)
	}
	changes, err := parseJournal(text)
	if err != nil {
		return fmt.Errorf("%s/%s: %w (empty the folder %s and publish again)", f.out, swapName, err, f.out)
	}
	s := swapping{f: f, changes: changes, before: before}
	undoing, err := f.lstat(swapName + "/" + undoName)
	if err == nil && undoing == nil && s.forward() == nil {
		return f.done()
	}
	if err == nil {
		err = s.back()
	}
	if err != nil {
		return fmt.Errorf("%s: taking back an interrupted publish: %w", f.out, err)
	}
	return f.done()
}

// done deletes the swap folder. It gets another name first, so that a swap
// half deleted is never taken for one to be finished.
func (f *folder) done() error {
	err := f.site.Rename(swapName, doneName)
	if err == nil {
		err = f.site.RemoveAll(doneName)
	}
	if err != nil {
		return fmt.Errorf("%s: clearing up: %w", f.out, bare(err))
	}
	return nil
}

// forward makes every change that is not made yet. Each is a single step of the
// file system, or can be taken up where it was left.
func (s swapping) forward() error {
	touched := make(map[string]bool)
	for _, c := range s.changes {
		err := s.before.call(c, false)
		if err == nil {
			err = s.apply(c)
		}
		if err != nil {
			return fmt.Errorf("%s/%s: %w", s.f.out, c.path, bare(err))
		}
		touched[path.Dir(c.path)] = true
	}
	s.f.syncFolders(touched)
	return nil
}

func (s swapping) apply(c change) error {
	site := s.f.site
	switch c.action {
	case mkdir:
		if err := site.Mkdir(c.path, 0o755); !errors.Is(err, fs.ErrExist) {
			return err
		}
		return s.needFolder(c.path)
	case rmdir:
		return s.removeEmpty(c.path)
	case drop:
		if s.has(oldFile(c)) {
			return nil
		}
		if err := s.expect(c); err != nil {
			return err
		}
		return site.Rename(c.path, oldFile(c))
	}
	if !s.has(newFile(c)) {
		return nil // done before the run was killed
	}
	if !s.has(oldFile(c)) {
		if err := s.expect(c); err != nil {
			return err
		}
		if c.was != (digest{}) {
			if err := s.keep(c.path, oldFile(c)); err != nil {
				return err
			}
		}
	}
	return site.Rename(newFile(c), c.path)
}

// back takes every change back, the last one first. A run killed in the middle
// of it leaves the mark by which the next one goes on backwards.
func (s swapping) back() error {
	mark := swapName + "/" + undoName
	if !s.has(mark) {
		if err := writeSynced(s.f.site, mark, nil); err != nil {
			return bare(err)
		}
		syncFolder(s.f.site, swapName)
	}
	var errs []error
	for i := len(s.changes) - 1; i >= 0; i-- {
		c := s.changes[i]
		err := s.before.call(c, true)
		if err == nil {
			err = s.revert(c)
		}
		if err != nil {
			errs = append(errs, fmt.Errorf("%s/%s: %w", s.f.out, c.path, bare(err)))
		}
	}
	return errors.Join(errs...)
}

func (s swapping) revert(c change) error {
	site := s.f.site
	switch c.action {
	case mkdir:
		return s.removeEmpty(c.path)
	case rmdir:
		return site.MkdirAll(c.path, 0o755)
	case put:
		// The new file goes back to where it came from, so that its being there
		// says that this change is not made, however often the run is killed.
		if s.has(newFile(c)) {
			break
		}
		if !s.has(oldFile(c)) {
			return ignoreMissing(site.Rename(c.path, newFile(c)))
		}
		if err := s.keep(c.path, newFile(c)); err != nil {
			return err
		}
	}
	if !s.has(oldFile(c)) {
		return nil
	}
	return site.Rename(oldFile(c), c.path)
}

func newFile(c change) string { return swapName + "/" + newDir + "/" + strconv.Itoa(c.number) }
func oldFile(c change) string { return swapName + "/" + oldDir + "/" + strconv.Itoa(c.number) }

func (s swapping) has(name string) bool {
	it, err := s.f.look(name)
	return err == nil && it.is != absent
}

func (s swapping) needFolder(name string) error {
	info, err := s.f.site.Lstat(name)
	if err == nil && !info.IsDir() {
		err = fmt.Errorf("in the way, and %w: a folder goes here", ErrForeign)
	}
	return err
}

// expect fails unless what is there is what the survey saw.
func (s swapping) expect(c change) error {
	it, err := s.f.look(c.path)
	if seen, believed := s.seen[c.path]; err == nil && believed && it.is == aFile && it.stamp == seen {
		return nil
	}
	is := digest{}
	switch {
	case err != nil || it.is != aFile:
	case c.path == listName:
		is, err = s.f.listSum()
	default:
		is, err = s.f.sum(c.path)
	}
	if err != nil {
		return err
	}
	if (it.is == absent) != (c.was == digest{}) || is != c.was {
		return fmt.Errorf("changed while the site was being published, so its content is %w (publish again)", ErrForeign)
	}
	return nil
}

// keep gives a file a second name, or makes a copy where a file can have only
// one. The second name is there with all the bytes or not at all.
func (s swapping) keep(from, to string) error {
	site := s.f.site
	err := site.Link(from, to)
	if err == nil || errors.Is(err, fs.ErrExist) || errors.Is(err, fs.ErrNotExist) {
		return err
	}
	part := to + ".part"
	if err := site.RemoveAll(part); err != nil {
		return err
	}
	if err := copyFile(site, from, part); err != nil {
		return err
	}
	return site.Rename(part, to)
}

func copyFile(root *os.Root, from, to string) error {
	source, err := root.Open(from)
	if err != nil {
		return err
	}
	defer source.Close()
	target, err := root.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = io.Copy(target, source)
	return errors.Join(err, ignoreUnsupported(target.Sync()), target.Close())
}

// removeEmpty removes a folder, unless it is gone or something is left in it, or
// in a swap taken up again, a file has its place already.
func (s swapping) removeEmpty(name string) error {
	info, err := s.f.lstat(name)
	if err != nil || info == nil || !info.IsDir() {
		return err
	}
	entries, err := fs.ReadDir(s.f.site.FS(), name)
	if err != nil || len(entries) > 0 {
		return err
	}
	return s.f.site.Remove(name)
}

func ignoreMissing(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}
