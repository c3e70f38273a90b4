package press

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/site"
)

// holding is what the site folder holds of an earlier run, as far as the new one
// is concerned.
type holding struct {
	*set
	owned  *list
	now    digest  // of the text of the new list, once it is staged
	listed []int32 // the number of each output in the list; -1 where it is not listed
	table  *table
	ahead  *ahead
	made   site.Digest     // stands for all that the outputs are made of; zero where that is not known
	stale  []string        // owned, there, and no longer part of the site; sorted
	gone   bool            // the list names a file that is not part of the site
	early  map[string]bool // the stale files that stand where something new goes

	dirs   []kind  // what stands where the folders go
	kept   []bool  // of each output: its file is as it was left, and nobody need look at it again
	todo   []int   // the outputs that are not kept
	places []place // where each of these goes

	workers int
	keep    func() error // of the source
	keeping keeping      // once it was begun
	listing listing      // of the lots that these are of
	results []result     // of these, once they are made
	facts   *manyFacts   // of each of these, if an inspector saw it
}

// place is where an output goes, with what stands there.
type place struct {
	thing
	asLeft bool // a file that still has the stamp that the table has for it
}

// placeOf is where an output goes that is not kept.
func (h *holding) placeOf(i int) place {
	k, _ := slices.BinarySearch(h.todo, i)
	return h.places[k]
}

// survey looks at the folder before anything is made. It fails, for every such
// place, where something that sidebatch did not write stands in the way.
func (f *folder) survey(h *holding, o Options) (err error) {
	s := h.set
	var leftOver []int
	if h.owned.ofRows() && s.samePaths(h.table) {
		h.listed = h.noted
	} else {
		h.listed, leftOver = s.match(&h.owned.paths)
	}
	h.gone = len(leftOver) > 0
	if err = f.lookAll(h, o); err != nil {
		return err
	}
	errs := []error{f.findStale(h, leftOver)}
	for i, dir := range s.folders {
		if is := h.dirs[i]; is != absent && is != aFolder && !h.early[dir.path] {
			errs = append(errs, f.inTheWay(dir.path, "the site needs a folder here"))
		}
	}
	for k, i := range h.todo {
		if it := h.places[k]; it.is != absent && (it.is != aFile || h.listed[i] < 0) {
			errs = append(errs, f.checkFile(h, s.path(i)))
		}
	}
	return errors.Join(errs...)
}

// findStale looks for the files that are listed and not part of the site.
func (f *folder) findStale(h *holding, leftOver []int) error {
	if len(leftOver) == 0 {
		return nil
	}
	folded := make(map[string]bool) // but for plain paths, which stay as they are
	for i := range h.len() {
		if path := h.path(i); !isPlain(path) {
			folded[fold(path)] = true
		}
	}
	var errs []error
	for _, i := range leftOver {
		p := h.owned.path(i)
		there, err := f.staleFile(p)
		errs = append(errs, err)
		if there {
			h.stale = append(h.stale, p)
			_, meets := h.find(fold(p))
			h.early[p] = h.isFolder(p) || meets || folded[fold(p)] || h.below(p)
		}
	}
	return errors.Join(errs...)
}

// below holds where an output takes the place of a folder above p.
func (h *holding) below(p string) bool {
	for dir := parent(p); dir != "."; dir = parent(dir) {
		if _, is := h.find(dir); is {
			return true
		}
	}
	return false
}

func parent(p string) string { return path.Dir(p) }

// staleFile reports whether a file that is no longer part of the site is still
// there, as sidebatch left it.
func (f *folder) staleFile(p string) (there bool, err error) {
	info, err := f.lstat(p)
	if err != nil || info == nil {
		return false, err
	}
	if !info.Mode().IsRegular() {
		return false, f.inTheWay(p, "was a file of the site and is something else now")
	}
	return true, nil
}

// lstat returns nil where there is nothing, and looks at a symbolic link itself.
func (f *folder) lstat(p string) (fs.FileInfo, error) {
	info, err := f.site.Lstat(p)
	if err == nil {
		return info, nil
	}
	// A file where the path wants a folder also means that nothing is there. The
	// systems have different errors for it; looking upward has one answer.
	if dir := path.Dir(p); dir != "." {
		if up, err := f.lstat(dir); err == nil && (up == nil || !up.IsDir()) {
			return nil, nil
		}
	}
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return nil, fmt.Errorf("%s/%s: %w", f.out, p, bare(err))
}

// checkFile refuses what stands where an output goes, unless sidebatch wrote it.
func (f *folder) checkFile(h *holding, p string) error {
	info, err := f.lstat(p)
	if err != nil || info == nil {
		return err
	}
	if info.IsDir() {
		return f.checkObstacle(h, p)
	}
	if h.owned.has(p) && info.Mode().IsRegular() {
		return nil
	}
	for _, s := range h.stale { // the same file under another spelling, where letter case is ignored
		if strings.EqualFold(s, p) {
			if old, err := f.lstat(s); err == nil && old != nil && os.SameFile(old, info) {
				return nil
			}
		}
	}
	return f.inTheWay(p, "the site has a file here")
}

// checkObstacle looks through a folder where a file of the site goes: all in it
// must be stale.
func (f *folder) checkObstacle(h *holding, dir string) error {
	return fs.WalkDir(f.site.FS(), dir, func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return fmt.Errorf("%s/%s: %w", f.out, p, bare(err))
		case d.IsDir() || h.early[p]:
			return nil
		}
		return f.inTheWay(p, fmt.Sprintf("the site has a file %s here", dir))
	})
}

func (f *folder) inTheWay(p, why string) error {
	return fmt.Errorf("%s/%s: in the way, and %w: %s (move it elsewhere or delete it)", f.out, p, ErrForeign, why)
}

// foreign tells whether the folder holds a file under this name that is not ours.
func (f *folder) foreign(name string, owned *list) bool {
	if owned.has(name) {
		return false
	}
	info, err := f.lstat(name)
	return err == nil && info != nil && !info.IsDir()
}
