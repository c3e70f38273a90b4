package house

import (
	"fmt"
	"go/ast"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"sidebatch.example/sidebatch/internal/problem"
)

// checkCeilings measures files and functions. In tests only the hard limits hold
// for nesting and parameters: subtests and helpers have more of both by nature.
func checkCeilings(t *tree) []string {
	var wrong []string
	for _, s := range t.sources {
		lim := limits()
		if s.test {
			lim.nesting.soft, lim.parameters.soft = lim.nesting.hard, lim.parameters.hard
		}
		wrong = append(wrong, lim.fileLines.judge(s.path+":1", "file of", s.lines, "lines")...)
		for _, decl := range s.file.Decls {
			f, ok := decl.(*ast.FuncDecl)
			if !ok || f.Body == nil {
				continue
			}
			at, name := t.at(f), funcName(f)
			wrong = append(wrong, lim.funcLines.judge(at, "function "+name+" of", t.codeLines(f, s.test), "lines")...)
			wrong = append(wrong, lim.nesting.judge(at, "function "+name+" nested", nesting(f.Body), "deep")...)
			wrong = append(wrong, lim.parameters.judge(at, "function "+name+" with", parameters(f.Type), "parameters")...)
		}
	}
	return wrong
}

func (c ceiling) judge(at, what string, n int, unit string) []string {
	switch {
	case n > c.hard:
		return []string{fmt.Sprintf("%s: %s %d %s (never more than %d)", at, what, n, unit, c.hard)}
	case n > c.soft:
		return []string{fmt.Sprintf("%s: %s %d %s (more than %d needs an exception with a reason)", at, what, n, unit, c.soft)}
	}
	return nil
}

// codeLines counts the lines of a function's body. Data written out in it, such
// as a table of test cases or of units, count as one line: they are read as a
// table, not from top to bottom. Data that hold functions are code, except in a
// table of test cases.
func (t *tree) codeLines(f *ast.FuncDecl, test bool) int {
	line := func(n ast.Node, end bool) int {
		if end {
			return t.fset.Position(n.End()).Line
		}
		return t.fset.Position(n.Pos()).Line
	}
	lines := line(f.Body, true) - line(f.Body, false) - 1
	ast.Inspect(f.Body, func(n ast.Node) bool {
		lit, ok := n.(*ast.CompositeLit)
		if ok && (test || !holdsCode(lit)) {
			lines -= line(lit, true) - line(lit, false)
			return false
		}
		return true
	})
	return lines
}

func holdsCode(lit *ast.CompositeLit) bool {
	found := false
	ast.Inspect(lit, func(n ast.Node) bool {
		_, code := n.(*ast.FuncLit)
		found = found || code
		return !found
	})
	return found
}

// nesting counts how many branches, loops and function literals stand inside one
// another. An else if stands beside its if.
func nesting(n ast.Node) int {
	deepest := 0
	var walk func(n ast.Node, depth int)
	walk = func(n ast.Node, depth int) {
		deepest = max(deepest, depth)
		ast.Inspect(n, func(m ast.Node) bool {
			if m == n || m == nil {
				return true
			}
			switch x := m.(type) {
			case *ast.IfStmt:
				walkIf(x, depth, walk)
				return false
			case *ast.ForStmt, *ast.RangeStmt, *ast.SwitchStmt, *ast.TypeSwitchStmt, *ast.SelectStmt, *ast.FuncLit:
				walk(m, depth+1)
				return false
			}
			return true
		})
	}
	walk(n, 0)
	return deepest
}

func walkIf(x *ast.IfStmt, depth int, walk func(ast.Node, int)) {
	if x.Init != nil {
		walk(x.Init, depth)
	}
	walk(x.Cond, depth)
	walk(x.Body, depth+1)
	switch e := x.Else.(type) {
	case *ast.IfStmt:
		walkIf(e, depth, walk)
	case *ast.BlockStmt:
		walk(e, depth+1)
	}
}

func parameters(f *ast.FuncType) int {
	n := 0
	for _, field := range f.Params.List {
		n += max(1, len(field.Names))
	}
	return n
}

// checkTop looks for what does not belong at the top level.
func checkTop(t *tree) []string {
	entries, err := fs.ReadDir(t.fsys, ".")
	if err != nil {
		return []string{err.Error()}
	}
	var wrong []string
	for _, e := range entries {
		// What publish keeps beside the demo's site, and what a killed one left there.
		if strings.HasPrefix(e.Name(), ".public.sidebatch-") {
			continue
		}
		if !slices.Contains(topLevel(), e.Name()) {
			wrong = append(wrong, e.Name()+": does not belong at the top level")
		}
	}
	return wrong
}

// checkDocs looks for a package comment in every room.
func checkDocs(t *tree) []string {
	docs := make(map[string]int)
	var wrong []string
	for _, s := range t.sources {
		if s.test || s.file.Doc == nil {
			continue
		}
		docs[s.room]++
		want := "Package " + s.file.Name.Name + " "
		if s.file.Name.Name == "main" {
			want = "Command " + path.Base(s.room) + " "
		}
		if !strings.HasPrefix(s.file.Doc.Text(), want) {
			wrong = append(wrong, fmt.Sprintf("%s: the package comment does not begin with %q", t.at(s.file), strings.TrimSpace(want)))
		}
	}
	for _, room := range t.rooms() {
		if n := docs[room]; n != 1 {
			wrong = append(wrong, fmt.Sprintf("%s: %d package comments instead of one", room, n))
		}
	}
	return wrong
}

const problemDir = "testdata/problems"

// checkProblems holds the catalogue of problems against the examples: a file
// CODE.txtar or CODE-SOMETHING.txtar for every code, and no file without one
// but those that show what is no problem: none.txtar, none-SOMETHING.txtar.
func checkProblems(codes []problem.Code) func(*tree) []string {
	return func(t *tree) []string {
		files, err := fs.Glob(t.fsys, problemDir+"/*")
		if err != nil {
			return []string{err.Error()}
		}
		var wrong []string
		seen := make(map[problem.Code]bool)
		for _, f := range files {
			code, ok := codeOf(path.Base(f), append(codes, "none"))
			if !ok && path.Base(f) != "README.md" {
				wrong = append(wrong, f+": is not named after a code in internal/problem/code.go")
			}
			seen[code] = true
		}
		for _, code := range codes {
			if !seen[code] {
				wrong = append(wrong, fmt.Sprintf("%s/%s.txtar: missing, so nothing shows what the problem %s looks like", problemDir, code, code))
			}
		}
		return wrong
	}
}

// codeOf returns the longest code that a file's name begins with.
func codeOf(name string, codes []problem.Code) (best problem.Code, found bool) {
	stem, ok := strings.CutSuffix(name, ".txtar")
	for _, code := range codes {
		if ok && len(code) > len(best) && (stem == string(code) || strings.HasPrefix(stem, string(code)+"-")) {
			best, found = code, true
		}
	}
	return best, found
}

// textFiles returns every text file of the project, outside what is written and
// what git keeps.
func textFiles(fsys fs.FS) []string {
	var names []string
	// An unreadable folder has failed readTree already.
	_ = fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (p == ".git" || p == "public"):
			return fs.SkipDir
		case d.Type().IsRegular():
			names = append(names, p)
		}
		return nil
	})
	return names
}

// readText returns nothing for a file that is no text, or too long for one.
func readText(fsys fs.FS, name string) string {
	info, err := fs.Stat(fsys, name)
	if err != nil || info.Size() > 1<<20 {
		return ""
	}
	text, err := fs.ReadFile(fsys, name)
	if err != nil || !utf8.Valid(text) {
		return ""
	}
	return string(text)
}

func machinePath() *regexp.Regexp {
	return regexp.MustCompile("(^|[^A-Za-z0-9_./-])(/(?:" + strings.Join([]string{"work", "root", "home", "tmp", "Users"}, "|") + ")/[A-Za-z0-9_-]*)")
}
