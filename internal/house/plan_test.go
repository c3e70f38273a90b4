package house

import (
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// plan is what DEVELOPERS.md says about rooms and libraries.
type plan struct {
	rooms     map[string]room
	doors     map[string][]string // the rooms that are a door to a package or module
	libraries []string            // modules that the project says it uses, and why
	testDoors []string            // what the tests of any room may import besides
	toolDoors []string            // what a tool may import, which never imports a room
}

// room is one row of the table of imports.
type room struct {
	name    string
	level   int
	imports []string // ours; "lower" means any room of a lower level
	doors   []string
}

const (
	anyLower = "lower"
	testsRow = "tests"
	toolsRow = "tools"
)

// readPlan reads the two tables in DEVELOPERS.md.
func readPlan(fsys fs.FS) (plan, error) {
	text, err := fs.ReadFile(fsys, "DEVELOPERS.md")
	if err != nil {
		return plan{}, err
	}
	p := plan{rooms: make(map[string]room), doors: make(map[string][]string)}
	rows, err := tableRows(string(text), "imports", 4)
	if err != nil {
		return p, err
	}
	for _, cells := range rows {
		r := room{name: unquoted(cells[1]), imports: names(cells[2]), doors: names(cells[3])}
		switch r.name {
		case testsRow:
			p.testDoors = r.doors
			continue
		case toolsRow:
			p.toolDoors = r.doors
			continue
		}
		if r.level, err = strconv.Atoi(cells[0]); err != nil {
			return p, fmt.Errorf("DEVELOPERS.md: room %s: level %q is no number", r.name, cells[0])
		}
		if _, doubled := p.rooms[r.name]; doubled {
			return p, fmt.Errorf("DEVELOPERS.md: room %s has two rows", r.name)
		}
		p.rooms[r.name] = r
		for _, door := range r.doors {
			p.doors[door] = append(p.doors[door], r.name)
		}
	}
	rows, err = tableRows(string(text), "libraries", 3)
	for _, cells := range rows {
		p.libraries = append(p.libraries, unquoted(cells[0]))
	}
	return p, err
}

// tableRows returns the cells of the markdown table between the comments
// <!-- house:NAME --> and <!-- /house:NAME -->, without its two head lines.
func tableRows(text, name string, columns int) ([][]string, error) {
	_, text, opened := strings.Cut(text, "<!-- house:"+name+" -->")
	text, _, closed := strings.Cut(text, "<!-- /house:"+name+" -->")
	if !opened || !closed {
		return nil, fmt.Errorf("DEVELOPERS.md: no table between <!-- house:%s --> and <!-- /house:%s -->", name, name)
	}
	var rows [][]string
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if !strings.HasPrefix(line, "|") {
			continue
		}
		cells := strings.Split(strings.Trim(line, "|"), "|")
		if len(cells) != columns {
			return nil, fmt.Errorf("DEVELOPERS.md: %d cells instead of %d: %s", len(cells), columns, line)
		}
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		rows = append(rows, cells)
	}
	if len(rows) < 3 {
		return nil, fmt.Errorf("DEVELOPERS.md: the table house:%s is empty", name)
	}
	return rows[2:], nil
}

func unquoted(cell string) string { return strings.Trim(cell, "` ") }

// names splits a cell at commas.
func names(cell string) []string {
	var all []string
	for part := range strings.SplitSeq(cell, ",") {
		if name := unquoted(part); name != "" {
			all = append(all, name)
		}
	}
	return all
}

// checkPlan looks at the table itself: it must name the rooms that there are,
// and its own direction must be downward.
func checkPlan(t *tree) []string {
	p, err := readPlan(t.fsys)
	if err != nil {
		return []string{err.Error()}
	}
	var wrong []string
	there := t.rooms()
	for _, name := range there {
		if _, known := p.rooms[name]; !known && !isTool(name) {
			wrong = append(wrong, fmt.Sprintf("DEVELOPERS.md: room %s is not in the table of imports", name))
		}
	}
	for _, name := range slices.Sorted(maps.Keys(p.rooms)) {
		r := p.rooms[name]
		if !slices.Contains(there, name) {
			wrong = append(wrong, fmt.Sprintf("DEVELOPERS.md: room %s is in the table of imports, but there is no code of it", name))
		}
		for _, other := range r.imports {
			lower, known := p.rooms[other]
			switch {
			case other == anyLower:
			case !known:
				wrong = append(wrong, fmt.Sprintf("DEVELOPERS.md: room %s may import %s, which is no room", name, other))
			case lower.level >= r.level:
				wrong = append(wrong, fmt.Sprintf("DEVELOPERS.md: room %s (level %d) may import %s (level %d): not downward", name, r.level, other, lower.level))
			}
		}
	}
	return wrong
}

// checkImports compares the imports of every file with the table.
func checkImports(t *tree) []string {
	p, err := readPlan(t.fsys)
	if err != nil {
		return []string{err.Error()}
	}
	var wrong []string
	for _, s := range t.sources {
		for _, i := range s.imports() {
			if why := p.refuses(t.module, s, i.path); why != "" {
				wrong = append(wrong, t.at(i.spec)+": "+why)
			}
		}
	}
	return wrong
}

// refuses says why a file may not import a package, or nothing.
func (p plan) refuses(module string, s source, path string) string {
	r := p.rooms[s.room]
	if isTool(s.room) {
		r.doors = p.toolDoors
	}
	if path == module || strings.HasPrefix(path, module+"/") {
		return p.refusesRoom(s, r, strings.TrimPrefix(strings.TrimPrefix(path, module+"/"), "internal/"))
	}
	if under(r.doors, path) || s.test && under(p.testDoors, path) {
		return ""
	}
	for door, rooms := range p.doors {
		if under([]string{door}, path) && !s.test {
			return fmt.Sprintf("imports %s, to which only %s is the door", path, strings.Join(rooms, ", "))
		}
	}
	if isLibrary(path) {
		return fmt.Sprintf("imports %s, which the table of imports in DEVELOPERS.md allows no such file", path)
	}
	return ""
}

func (p plan) refusesRoom(s source, r room, other string) string {
	if s.test || slices.Contains(r.imports, other) {
		return ""
	}
	lower, known := p.rooms[other]
	if known && slices.Contains(r.imports, anyLower) && lower.level < r.level {
		return ""
	}
	may := "imports no room"
	if len(r.imports) > 0 {
		may = "may import " + strings.Join(r.imports, ", ")
	}
	return fmt.Sprintf("imports %s, but %s %s", other, s.room, may)
}

// isTool holds for a command of those who work on the project. It is no room: nothing
// imports it, and it imports no room.
func isTool(room string) bool { return strings.HasPrefix(room, toolsRow+"/") }

// under holds where a package is one of those named, or lies below one.
func under(named []string, path string) bool {
	return slices.ContainsFunc(named, func(n string) bool { return path == n || strings.HasPrefix(path, n+"/") })
}

// isLibrary holds for packages outside the standard library.
func isLibrary(path string) bool {
	first, _, _ := strings.Cut(path, "/")
	return strings.Contains(first, ".")
}

// checkLibraries holds the table of libraries against the imports: each library
// in use is explained, and each explained is in use.
func checkLibraries(t *tree) []string {
	p, err := readPlan(t.fsys)
	if err != nil {
		return []string{err.Error()}
	}
	var wrong []string
	used := make(map[string]bool)
	for _, s := range t.sources {
		for _, i := range s.imports() {
			if !isLibrary(i.path) || under([]string{t.module}, i.path) {
				continue
			}
			at := slices.IndexFunc(p.libraries, func(m string) bool { return under([]string{m}, i.path) })
			if at < 0 {
				wrong = append(wrong, fmt.Sprintf("%s: imports %s, which the table of libraries in DEVELOPERS.md does not explain", t.at(i.spec), i.path))
				continue
			}
			used[p.libraries[at]] = true
		}
	}
	for _, m := range p.libraries {
		if !used[m] {
			wrong = append(wrong, fmt.Sprintf("DEVELOPERS.md: library %s is explained, but nothing imports it", m))
		}
	}
	return wrong
}
