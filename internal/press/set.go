package press

import (
	"cmp"
	"slices"
	"sort"
	"strings"

	"sidebatch.example/sidebatch/internal/site"
)

// set is the files of one run, in the order of their paths, and their folders. There may be
// very many, so that of each no more is held than its path and what it is made of. The lot
// that it belongs to is listed again when the file is to be made.
type set struct {
	paths
	from    []site.Digest       // of each file; nil where it is that of its row, but for some
	rows    *table              // which these are then
	other   map[int]site.Digest // the others
	noted   []int32             // the row of each in the table; -1 where it has none
	unmade  []int               // the files that nothing makes
	lots    []site.Lot          // in the order of their places
	first   []int32             // of each lot, the number of its first file
	folders []inFolder          // each after the one that it lies in
	in      []int32             // the number of the folder of each file; -1 for the site folder
}

// inFolder is a folder, with the number of the one that it lies in, or -1.
type inFolder struct {
	path string
	in   int32
}

// inOrder returns the files of lots sorted by path. A lot that is made of what the table has
// at its place is not listed: its files are those of the table, as files has them.
func inOrder(lots []site.Lot, t *table, files *set) *set {
	byPlace := func(a, b site.Lot) int { return strings.Compare(a.At, b.At) }
	if !slices.IsSortedFunc(lots, byPlace) {
		lots = slices.Clone(lots)
		slices.SortStableFunc(lots, byPlace)
	}
	if s := sameFiles(lots, t, files); s != nil {
		return s
	}
	s := &set{lots: lots, first: make([]int32, 0, len(lots))}
	// Nearly all files are those of the table, or it is empty.
	s.from, s.noted = make([]site.Digest, 0, t.len()), make([]int32, 0, t.len())
	var all pathsText
	all.makeRoom(&t.paths)
	last, sorted := "", true
	k := 0 // the number of the lot in the table
	for _, lot := range lots {
		from := s.size()
		s.first = append(s.first, int32(from))
		for k < t.lots.len() && t.lots.path(k) < lot.At {
			k++
		}
		if k < t.lots.len() && t.lots.path(k) == lot.At && t.isLotFrom(k, lot.From) {
			s.addRows(&all, t, k)
		} else {
			sorted = s.addListed(&all, t, lot) && sorted
		}
		if s.size() > from {
			sorted = sorted && last <= all.path(from)
			last = all.path(s.size() - 1)
		}
	}
	if !sorted { // files of one lot lie among those of another
		outputs := site.All(lots)
		slices.SortStableFunc(outputs, byPath)
		return inOrder(site.Lots(outputs), t, files)
	}
	s.paths = all.paths()
	s.findFolders()
	return s
}

// sameFiles returns the files of lots where their paths are those of the table; else nil.
// Then nothing is copied that there are very many of.
func sameFiles(lots []site.Lot, t *table, files *set) *set {
	if len(lots) != t.lots.len() {
		return nil
	}
	s := &set{paths: files.paths, folders: files.folders, in: files.in, lots: lots, first: make([]int32, len(lots))}
	s.rows, s.other, s.noted = t, map[int]site.Digest{}, make([]int32, t.len())
	for k, lot := range lots {
		from, to := t.rowsOf(k)
		if t.lots.path(k) != lot.At {
			return nil
		}
		s.first[k] = int32(from)
		if t.isLotFrom(k, lot.From) {
			continue
		}
		outputs := lot.List()
		if len(outputs) != to-from {
			return nil
		}
		for i, o := range outputs {
			if o.Path != t.path(from+i) || o.Make == nil {
				return nil
			}
			s.other[from+i] = o.From
		}
	}
	for i := range s.noted {
		s.noted[i] = int32(i)
	}
	return s
}

// fromOf is what a file is made of.
func (s *set) fromOf(i int) site.Digest {
	if s.rows == nil {
		return s.from[i]
	}
	if from, other := s.other[i]; other {
		return from
	}
	return s.rows.fromOf(i)
}

func byPath(a, b site.Output) int { return strings.Compare(a.Path, b.Path) }

// size is how many files there are so far.
func (s *set) size() int { return len(s.from) }

// addRows adds the files of a lot of the table.
func (s *set) addRows(all *pathsText, t *table, lot int) {
	from, to := t.rowsOf(lot)
	all.addSome(&t.paths, from, to)
	for i := from; i < to; i++ {
		s.from, s.noted = append(s.from, t.fromOf(i)), append(s.noted, int32(i))
	}
}

// addListed adds the files of a lot, and tells whether they are in order.
func (s *set) addListed(all *pathsText, t *table, lot site.Lot) bool {
	outputs := lot.List()
	for _, o := range outputs {
		row := int32(-1)
		if at, found := t.find(o.Path); found {
			row = int32(at)
		}
		if o.Make == nil {
			s.unmade = append(s.unmade, s.size())
		}
		all.add(o.Path)
		s.from, s.noted = append(s.from, o.From), append(s.noted, row)
	}
	return slices.IsSortedFunc(outputs, byPath)
}

// lotOf is the number of the lot that a file belongs to.
func (s *set) lotOf(i int) int {
	after := sort.Search(len(s.first), func(k int) bool { return int(s.first[k]) > i })
	return after - 1
}

// filesOf are the files of a lot: from that one up to before another.
func (s *set) filesOf(lot int) (from, to int) {
	if lot+1 == len(s.first) {
		return int(s.first[lot]), s.len()
	}
	return int(s.first[lot]), int(s.first[lot+1])
}

// filesInFolder is how many files lie in a folder of a large site, or more.
const filesInFolder = 3

// findFolders finds the folders. In the order of paths all that lies in a folder stands
// together, so that those that a file lies in are known from the file before.
func (s *set) findFolders() {
	s.in = make([]int32, s.len())
	s.folders = make([]inFolder, 0, s.len()/filesInFolder)
	last := int32(-1) // the folder of the file before
	for i := range s.in {
		path := s.path(i)
		for last >= 0 && !isBelow(path, s.folders[last].path) {
			last = s.folders[last].in
		}
		from := 0
		if last >= 0 {
			from = len(s.folders[last].path) + 1
		}
		for cut := strings.IndexByte(path[from:], '/'); cut >= 0; cut = strings.IndexByte(path[from:], '/') {
			s.folders = append(s.folders, inFolder{path[:from+cut], last})
			last = int32(len(s.folders) - 1)
			from += cut + 1
		}
		s.in[i] = last
	}
}

// isBelow tells whether a path lies in a folder.
func isBelow(path, folder string) bool {
	return len(path) > len(folder) && path[len(folder)] == '/' && path[:len(folder)] == folder
}

// isFolder tells whether a file lies below a path.
func (s *set) isFolder(path string) bool {
	first, _ := s.find(path + "/")
	return first < s.len() && isBelow(s.path(first), path)
}

// samePaths tells whether a table has these paths and no others.
func (s *set) samePaths(t *table) bool {
	if t.len() != s.len() {
		return false
	}
	for i, row := range s.noted {
		if int(row) != i {
			return false
		}
	}
	return true
}

// match finds the files in other paths: the number that each has there, or -1, and the
// numbers that no file has.
func (s *set) match(others *paths) (found []int32, rest []int) {
	found = make([]int32, s.len())
	at, n := 0, others.len()
	for i := range found {
		found[i] = -1
		order := -1
		for ; at < n; at++ {
			if order = cmp.Compare(others.path(at), s.path(i)); order >= 0 {
				break
			}
			rest = append(rest, at)
		}
		if at < n && order == 0 {
			found[i] = int32(at)
			at++
		}
	}
	for ; at < n; at++ {
		rest = append(rest, at)
	}
	return found, rest
}
