package press

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/site"
)

// holding is what the site folder holds of an earlier run, as far as the new one
// is concerned.
type holding struct {
	owned   list
	outputs map[string]bool // the paths of the new site
	above   map[string]bool // the folders of the new site
	stale   []string        // owned, there, and no longer part of the site; sorted
	early   map[string]bool // the stale files that stand where something new goes
}

// survey looks at the folder before anything is made. It fails, for every such
// place, where something that sidebatch did not write stands in the way.
func (f *folder) survey(outputs []site.Output, owned list) (*holding, error) {
	h := &holding{owned: owned, outputs: map[string]bool{}, above: map[string]bool{}, early: map[string]bool{}}
	folded := make(map[string]bool)
	for _, o := range outputs {
		h.outputs[o.Path] = true
		folded[fold(o.Path)] = true
		for dir := path.Dir(o.Path); dir != "."; dir = path.Dir(dir) {
			h.above[dir] = true
		}
	}
	var errs []error
	for _, p := range slices.Sorted(maps.Keys(owned)) {
		if h.outputs[p] {
			continue
		}
		there, err := f.staleFile(p)
		errs = append(errs, err)
		if there {
			h.stale = append(h.stale, p)
			h.early[p] = h.above[p] || folded[fold(p)] || h.below(p)
		}
	}
	for _, dir := range slices.Sorted(maps.Keys(h.above)) {
		errs = append(errs, f.checkFolder(h, dir))
	}
	for _, o := range outputs {
		errs = append(errs, f.checkFile(h, o.Path))
	}
	return h, errors.Join(errs...)
}

// below holds where an output takes the place of a folder above p.
func (h *holding) below(p string) bool {
	for dir := path.Dir(p); dir != "."; dir = path.Dir(dir) {
		if h.outputs[dir] {
			return true
		}
	}
	return false
}

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

// checkFolder refuses what stands where a folder is needed, unless it is a file
// of the old site that goes.
func (f *folder) checkFolder(h *holding, dir string) error {
	info, err := f.lstat(dir)
	switch {
	case err != nil || info == nil || info.IsDir():
		return err
	case h.early[dir]:
		return nil
	}
	return f.inTheWay(dir, "the site needs a folder here")
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
	if _, ours := h.owned[p]; ours && info.Mode().IsRegular() {
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
func (f *folder) foreign(name string, owned list) bool {
	if _, ours := owned[name]; ours {
		return false
	}
	info, err := f.lstat(name)
	return err == nil && info != nil && !info.IsDir()
}
