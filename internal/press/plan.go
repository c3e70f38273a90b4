package press

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strconv"
	"strings"
)

// action is one kind of change to the site folder.
type action string

const (
	put    action = "put"   // a new file replaces the old one, or nothing
	drop   action = "drop"  // a file goes
	mkdir  action = "mkdir" // a folder is made
	rmdir  action = "rmdir" // a folder goes, if it is empty
	ending        = "end\n" // the last line of a journal
	noFile        = "-"     // for the checksum of nothing
	header        = "sidebatch swap 1\n"
)

// change is one line of the journal. The file it brings is new/number, the file
// it takes away is kept as old/number until the swap is done.
type change struct {
	action action
	number int
	was    digest // what must be there before, for put and drop; zero for nothing; of the list, as listSum has it
	path   string
}

// plan orders all changes: out of the way, folders, assets, pages, the list, whose change is
// given, and then what is no longer needed. An empty plan means that the site is what it
// should be.
func (f *folder) plan(h *holding, newList []change) ([]change, error) {
	var early, puts, late []change
	next := h.len()
	for _, p := range h.stale {
		was, err := f.sum(p)
		if err != nil {
			return nil, err
		}
		if at, _ := h.owned.find(p); was != h.owned.sumOf(at) {
			return nil, f.edited(p)
		}
		c := change{drop, next, was, p}
		next++
		if h.early[p] {
			early = append(early, c)
		} else {
			late = append(late, c)
		}
	}
	for _, r := range h.results {
		if r.same {
			continue
		}
		c := change{action: put, number: r.number, path: h.path(r.number)}
		if r.replaces {
			c.was = h.sumOf(r.number)
		}
		puts = append(puts, c)
	}
	slices.SortStableFunc(puts, inSwapOrder)
	obstacles, err := f.obstacles(puts)
	if err != nil {
		return nil, err
	}
	folders, err := f.newFolders(puts, h)
	if err != nil {
		return nil, err
	}
	return slices.Concat(early, obstacles, folders, puts, newList, late, emptied(h)), nil
}

// inSwapOrder puts a file after those it uses: first what pages load, then the
// pages from the inside out, so that the front page comes when all it leads to is
// there, and then the feed and the site map, which name pages.
func inSwapOrder(a, b change) int {
	return cmp.Or(
		cmp.Compare(rank(a.path), rank(b.path)),
		cmp.Compare(strings.Count(b.path, "/"), strings.Count(a.path, "/")),
		strings.Compare(a.path, b.path),
	)
}

func rank(p string) int {
	switch path.Ext(p) {
	case ".html":
		return 1
	case ".xml":
		return 2
	}
	return 0
}

// obstacles returns the removal of the folders that stand where files go. The
// survey has seen that nothing is in them but files that go as well.
func (f *folder) obstacles(puts []change) ([]change, error) {
	var dirs []change
	for _, c := range puts {
		it, err := f.look(c.path)
		if err != nil {
			return nil, err
		}
		if it.is != aFolder {
			continue
		}
		err = fs.WalkDir(f.site.FS(), c.path, func(p string, d fs.DirEntry, err error) error {
			if err == nil && d.IsDir() {
				dirs = append(dirs, change{action: rmdir, path: p})
			}
			return err
		})
		if err != nil {
			return nil, fmt.Errorf("%s/%s: %w", f.out, c.path, bare(err))
		}
	}
	innermostFirst(dirs)
	return dirs, nil
}

// newFolders returns the folders that are missing, outermost first.
func (f *folder) newFolders(puts []change, h *holding) ([]change, error) {
	needed := make(map[string]bool)
	for _, c := range puts {
		for dir := path.Dir(c.path); dir != "."; dir = path.Dir(dir) {
			needed[dir] = true
		}
	}
	var dirs []change
	for _, dir := range slices.Sorted(maps.Keys(needed)) {
		info, err := f.lstat(dir)
		if err != nil {
			return nil, err
		}
		if info == nil || h.early[dir] {
			dirs = append(dirs, change{action: mkdir, path: dir})
		}
	}
	return dirs, nil
}

// emptied returns the folders that may be empty once the stale files are gone,
// innermost first.
func emptied(h *holding) []change {
	left := make(map[string]bool)
	for _, p := range h.stale {
		for dir := path.Dir(p); dir != "."; dir = path.Dir(dir) {
			if _, isFile := h.find(dir); !isFile && !h.isFolder(dir) && !h.below(dir) {
				left[dir] = true
			}
		}
	}
	var dirs []change
	for dir := range maps.Keys(left) {
		dirs = append(dirs, change{action: rmdir, path: dir})
	}
	innermostFirst(dirs)
	return dirs
}

func innermostFirst(dirs []change) {
	slices.SortFunc(dirs, func(a, b change) int { return strings.Compare(b.path, a.path) })
}

// writeJournal prints changes as parseJournal reads them.
func writeJournal(changes []change) []byte {
	var b bytes.Buffer
	b.WriteString(header)
	for _, c := range changes {
		was := noFile
		if c.was != (digest{}) {
			was = c.was.String()
		}
		fmt.Fprintf(&b, "%s %d %s %s\n", c.action, c.number, was, c.path)
	}
	b.WriteString(ending)
	return b.Bytes()
}

var errJournal = errors.New("the journal of an interrupted publish cannot be read")

// parseJournal takes no path that could lead out of the folder, whoever wrote
// the text.
func parseJournal(text []byte) ([]change, error) {
	body, found := strings.CutPrefix(string(text), header)
	body, whole := strings.CutSuffix(body, ending)
	if !found || !whole {
		return nil, errJournal
	}
	var changes []change
	for line := range strings.Lines(body) {
		c, err := parseChange(strings.TrimSuffix(line, "\n"))
		if err != nil {
			return nil, fmt.Errorf("%w: line %d", errJournal, len(changes)+2)
		}
		changes = append(changes, c)
	}
	return changes, nil
}

func parseChange(line string) (c change, err error) {
	fields := strings.SplitN(line, " ", 4)
	if len(fields) != 4 {
		return c, errJournal
	}
	c.action, c.path = action(fields[0]), fields[3]
	switch c.action {
	case put, drop, mkdir, rmdir:
	default:
		return c, errJournal
	}
	if c.number, err = strconv.Atoi(fields[1]); err != nil || c.number < 0 {
		return c, errJournal
	}
	if fields[2] != noFile {
		if c.was, err = parseDigest(fields[2]); err != nil {
			return c, err
		}
	}
	if c.action == put && c.path == listName {
		return c, nil
	}
	return c, checkPath(c.path)
}
