package house

import (
	"fmt"
	"go/ast"
	"go/token"
	"maps"
	"slices"
	"strings"
)

// checkBans looks for names of other packages that a room may not use.
func checkBans(t *tree) []string {
	var wrong []string
	for _, s := range t.sources {
		for _, i := range s.imports() {
			// A test from outside its package may take that package's names as its own.
			own := s.test && strings.HasSuffix(i.path, "/"+s.room)
			if i.name == "." && !own {
				wrong = append(wrong, fmt.Sprintf("%s: dot import: %s", t.at(i.spec), i.path))
			}
		}
		for _, sel := range s.selectors() {
			for _, b := range bans() {
				if b.forbids(s, sel) {
					wrong = append(wrong, fmt.Sprintf("%s: %s: %s%s", t.at(sel.node), b.what, sel.pkg+"."+sel.name, in(sel.fn)))
				}
			}
		}
	}
	return wrong
}

func (b ban) forbids(s source, sel selector) bool {
	room := s.room
	if isTool(room) {
		room = toolsRow
	}
	if sel.pkg != b.pkg || s.test && !b.tests || slices.Contains(b.rooms, room) {
		return false
	}
	if slices.Contains(b.names, "*") {
		return !slices.Contains(b.save, sel.name)
	}
	return slices.Contains(b.names, sel.name)
}

func in(fn string) string {
	if fn == "" {
		return ""
	}
	return " (in " + fn + ")"
}

// checkForms looks for panic and init outside tests.
func checkForms(t *tree) []string {
	var wrong []string
	for _, s := range t.sources {
		if s.test {
			continue
		}
		for _, decl := range s.file.Decls {
			fn := ""
			if f, ok := decl.(*ast.FuncDecl); ok {
				fn = funcName(f)
				if fn == "init" {
					wrong = append(wrong, t.at(f)+": init: runs before anybody asks (make the value in a function)")
				}
			}
			ast.Inspect(decl, func(n ast.Node) bool {
				if call, ok := n.(*ast.CallExpr); ok && isBuiltin(call.Fun, "panic") {
					wrong = append(wrong, t.at(call)+": panic: return an error, or make it a type that cannot be wrong"+in(fn))
				}
				return true
			})
		}
	}
	return wrong
}

func isBuiltin(e ast.Expr, name string) bool {
	id, ok := e.(*ast.Ident)
	return ok && id.Name == name && id.Obj == nil
}

// checkVariables looks for package-level variables that change: assigned,
// counted, written through, or with their address taken, anywhere in their
// package; and for those that hold a map or a slice, which anybody may change
// who gets hold of it.
func checkVariables(t *tree) []string {
	byRoom := make(map[string][]source)
	for _, s := range t.sources {
		if !s.test {
			byRoom[s.room] = append(byRoom[s.room], s)
		}
	}
	var wrong []string
	for _, room := range slices.Sorted(maps.Keys(byRoom)) {
		vars := make(map[string]bool)
		for _, s := range byRoom[room] {
			for _, spec := range packageVars(s.file) {
				for _, name := range spec.Names {
					vars[name.Name] = name.Name != "_"
				}
				if held := holdsTable(spec); held != "" {
					wrong = append(wrong, fmt.Sprintf("%s: package variable %s is a %s (build it in a function)", t.at(spec), spec.Names[0].Name, held))
				}
			}
		}
		for _, s := range byRoom[room] {
			wrong = append(wrong, t.changes(s, vars)...)
		}
	}
	return wrong
}

func packageVars(f *ast.File) []*ast.ValueSpec {
	var specs []*ast.ValueSpec
	for _, decl := range f.Decls {
		if g, ok := decl.(*ast.GenDecl); ok && g.Tok == token.VAR {
			for _, s := range g.Specs {
				specs = append(specs, s.(*ast.ValueSpec))
			}
		}
	}
	return specs
}

// holdsTable names the kind of a variable that is made as a map or a slice.
func holdsTable(spec *ast.ValueSpec) string {
	exprs := slices.Clone(spec.Values)
	if spec.Type != nil {
		exprs = append(exprs, &ast.CompositeLit{Type: spec.Type})
	}
	for _, e := range exprs {
		if call, ok := e.(*ast.CallExpr); ok && isBuiltin(call.Fun, "make") && len(call.Args) > 0 {
			e = &ast.CompositeLit{Type: call.Args[0]}
		}
		lit, ok := e.(*ast.CompositeLit)
		if !ok {
			continue
		}
		switch kind := lit.Type.(type) {
		case *ast.MapType:
			return "map"
		case *ast.ArrayType:
			if kind.Len == nil {
				return "slice"
			}
		}
	}
	return ""
}

// changes finds where one file changes a variable of its package.
func (t *tree) changes(s source, vars map[string]bool) []string {
	var wrong []string
	report := func(e ast.Expr, how string) {
		if id := root(e); id != nil && vars[id.Name] && isPackageLevel(s.file, id) {
			wrong = append(wrong, fmt.Sprintf("%s: package variable %s is %s", t.at(e), id.Name, how))
		}
	}
	ast.Inspect(s.file, func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.AssignStmt:
			for _, e := range x.Lhs {
				if x.Tok != token.DEFINE {
					report(e, "assigned")
				}
			}
		case *ast.IncDecStmt:
			report(x.X, "counted")
		case *ast.RangeStmt:
			if x.Tok == token.ASSIGN {
				report(x.Key, "assigned")
				report(x.Value, "assigned")
			}
		case *ast.UnaryExpr:
			if x.Op == token.AND {
				report(x.X, "reached by its address")
			}
		case *ast.CallExpr:
			if (isBuiltin(x.Fun, "delete") || isBuiltin(x.Fun, "clear") || isBuiltin(x.Fun, "copy")) && len(x.Args) > 0 {
				report(x.Args[0], "written through")
			}
		}
		return true
	})
	return wrong
}

// root returns the variable that an expression like v.f[i] belongs to.
func root(e ast.Expr) *ast.Ident {
	for {
		switch x := e.(type) {
		case *ast.Ident:
			return x
		case *ast.SelectorExpr:
			e = x.X
		case *ast.IndexExpr:
			e = x.X
		case *ast.SliceExpr:
			e = x.X
		case *ast.StarExpr:
			e = x.X
		case *ast.ParenExpr:
			e = x.X
		default:
			return nil
		}
	}
}

// isPackageLevel holds unless a local name hides the package's. The parser links
// an identifier to its declaration in the same file, and leaves one of another
// file unlinked.
func isPackageLevel(f *ast.File, id *ast.Ident) bool {
	return id.Obj == nil || f.Scope.Lookup(id.Name) == id.Obj
}

// checkWords looks for paths of the machine that something was built on. The
// pattern is put together here, so that this file does not hold one.
func checkWords(t *tree) []string {
	var wrong []string
	pattern := machinePath()
	for _, name := range textFiles(t.fsys) {
		text := readText(t.fsys, name)
		n := 0
		for line := range strings.Lines(text) {
			n++
			if found := pattern.FindStringSubmatch(line); found != nil {
				wrong = append(wrong, fmt.Sprintf("%s:%d: a path of one machine: %s", name, n, found[2]))
			}
		}
	}
	return wrong
}
