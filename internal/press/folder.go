package press

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
)

// The names of what press keeps. In the site folder they all begin with
// ownPrefix, which no output may; beside it they carry the site folder's name.
const (
	ownPrefix  = ".sidebatch-"
	listName   = ownPrefix + "site" // what was written, with checksums
	swapName   = ownPrefix + "swap" // a committed swap: journal, new files, old files
	doneName   = ownPrefix + "done" // a swap carried out, about to be deleted
	insideName = ownPrefix + "new"  // staging, where the site folder is a mount point
)

// ErrBusy says that another run is writing into the same folder.
var ErrBusy = errors.New("another publish is writing into this folder (wait until it is done)")

// folder is a site folder that this run has locked.
type folder struct {
	out    string   // as the user names it, for messages
	beside *os.Root // the folder that holds the site folder
	name   string   // of the site folder, in beside
	site   *os.Root // the site folder
	handle *os.File // the same, to look at what is in it
	lock   *os.File
	made   []string // folders made for this run, innermost first

	staging   *os.Root // from the first output that is written
	begin     sync.Mutex
	stageRoot *os.Root // what holds the staging folder: beside, or site
	stageName string
	swapPath  string // where the staging folder goes, as seen from stageRoot
}

// open makes the folder if need be and locks it.
func open(out string) (f *folder, err error) {
	if out == "" {
		return nil, errors.New("no folder to write the site into")
	}
	f = &folder{out: filepath.ToSlash(out)}
	defer func() {
		if err != nil {
			err = fmt.Errorf("%s: %w", f.out, errors.Join(err, f.close(false)))
			f = nil
		}
	}()
	place, err := f.locate(out)
	if err != nil {
		return f, err
	}
	f.name = filepath.Base(place)
	if f.beside, err = os.OpenRoot(filepath.Dir(place)); err != nil {
		return f, bare(err)
	}
	if err = f.takeLock(); err != nil {
		return f, err
	}
	if err = f.beside.Mkdir(f.name, 0o755); err == nil {
		f.made = append([]string{place}, f.made...)
	} else if !errors.Is(err, fs.ErrExist) {
		return f, bare(err)
	}
	if f.site, err = f.beside.OpenRoot(f.name); err != nil {
		return f, bare(err)
	}
	if f.handle, err = f.site.Open("."); err != nil {
		return f, bare(err)
	}
	f.stageRoot, f.stageName, f.swapPath = f.beside, f.aside("staging"), f.name+"/"+swapName
	if elsewhere(f.beside, f.site) {
		f.stageRoot, f.stageName, f.swapPath = f.site, insideName, swapName
	}
	return f, nil
}

// locate makes the folders above the site folder and returns where it really is,
// behind any symbolic links.
func (f *folder) locate(out string) (string, error) {
	abs, err := filepath.Abs(out)
	if err != nil {
		return "", bare(err)
	}
	above := filepath.Dir(abs)
	if above == abs {
		return "", errors.New("the root of a disk is no site folder (name a folder in it)")
	}
	for dir := above; ; dir = filepath.Dir(dir) {
		if _, err := os.Lstat(dir); !errors.Is(err, fs.ErrNotExist) {
			break
		}
		f.made = append(f.made, dir)
	}
	if err := os.MkdirAll(above, 0o755); err != nil {
		return "", bare(err)
	}
	if place, err := filepath.EvalSymlinks(abs); err == nil {
		info, err := os.Stat(place)
		if err == nil && !info.IsDir() {
			err = errors.New("is a file (the site needs a folder)")
		}
		return place, bare(err)
	}
	place, err := filepath.EvalSymlinks(above)
	return filepath.Join(place, filepath.Base(abs)), bare(err)
}

// CacheOf returns the folder beside a site folder in which what is kept from one run to the
// next lies, behind any symbolic links. Neither need be there.
func CacheOf(out string) string {
	place, err := filepath.Abs(out)
	if err != nil {
		return ""
	}
	if real, err := filepath.EvalSymlinks(place); err == nil {
		place = real
	} else if above, err := filepath.EvalSymlinks(filepath.Dir(place)); err == nil {
		place = filepath.Join(above, filepath.Base(place))
	}
	return filepath.Join(filepath.Dir(place), "."+filepath.Base(place)+ownPrefix+"cache")
}

// aside names a file or folder beside the site folder.
func (f *folder) aside(what string) string {
	return "." + f.name + ownPrefix + what
}

// takeLock locks a file beside the site folder. The file goes when the lock does,
// so whoever gets a lock must see whether the file it locked is still the one
// that others will find under that name.
func (f *folder) takeLock() error {
	name := f.aside("lock")
	for {
		file, err := f.beside.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o644)
		if err != nil {
			return bare(err)
		}
		taken, err := tryLock(file)
		if err == nil && !taken {
			err = ErrBusy
		}
		if err != nil {
			return errors.Join(err, file.Close())
		}
		ours, err := file.Stat()
		if err != nil {
			return errors.Join(err, file.Close())
		}
		if found, err := f.beside.Stat(name); err == nil && os.SameFile(ours, found) {
			f.lock = file
			return nil
		}
		if err := file.Close(); err != nil {
			return err
		}
	}
}

// close lets go of everything. Unless the run went well, folders that it made and
// that are still empty go as well.
func (f *folder) close(well bool) error {
	var errs []error
	if f.handle != nil {
		errs = append(errs, f.handle.Close())
	}
	for _, root := range []*os.Root{f.staging, f.site} {
		if root != nil {
			errs = append(errs, root.Close())
		}
	}
	if !well {
		f.unmake()
	}
	if f.lock != nil {
		// Where an open file cannot be removed the empty lock file stays, which does no harm.
		_ = f.beside.Remove(f.aside("lock"))
		errs = append(errs, f.lock.Close())
	}
	if !well {
		f.unmake() // again, for the folder that held the lock
	}
	if f.beside != nil {
		errs = append(errs, f.beside.Close())
	}
	return errors.Join(errs...)
}

// unmake removes the folders made for this run. One that is not empty stays: it
// is no longer ours alone.
func (f *folder) unmake() {
	for _, dir := range f.made {
		_ = os.Remove(dir)
	}
}

// syncFolder makes the names in a folder lasting. Some systems cannot, and then
// nothing is lost but the promise for a power cut.
func syncFolder(root *os.Root, name string) {
	if f, err := root.Open(name); err == nil {
		_ = f.Sync()
		_ = f.Close()
	}
}
