package house

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"
)

// tree is all the code of a project, parsed but not type-checked, so that files
// for other systems are seen as well.
type tree struct {
	fsys    fs.FS
	module  string
	fset    *token.FileSet
	sources []source // in the order of their paths
}

// source is one Go file.
type source struct {
	path  string // from the top, with forward slashes
	room  string // the folder below internal, or from the top
	test  bool
	lines int
	file  *ast.File
}

// readTree parses every Go file that the go command would look at.
func readTree(fsys fs.FS) (*tree, error) {
	t := &tree{fsys: fsys, fset: token.NewFileSet()}
	mod, err := fs.ReadFile(fsys, "go.mod")
	if err != nil {
		return nil, err
	}
	first, _, _ := strings.Cut(string(mod), "\n")
	t.module = strings.TrimSpace(strings.TrimPrefix(first, "module "))
	err = fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && p != "." && skipped(d.Name()):
			return fs.SkipDir
		case !d.IsDir() && strings.HasSuffix(p, ".go"):
			return t.parse(p)
		}
		return nil
	})
	return t, err
}

// skipped holds for folders without code of the project.
func skipped(name string) bool {
	return strings.HasPrefix(name, ".") || strings.HasPrefix(name, "_") || name == "testdata" || name == "public"
}

func (t *tree) parse(p string) error {
	text, err := fs.ReadFile(t.fsys, p)
	if err != nil {
		return err
	}
	file, err := parser.ParseFile(t.fset, p, text, parser.ParseComments)
	if err != nil {
		return err
	}
	t.sources = append(t.sources, source{
		path:  p,
		room:  strings.TrimPrefix(path.Dir(p), "internal/"),
		test:  strings.HasSuffix(p, "_test.go"),
		lines: strings.Count(string(text), "\n"),
		file:  file,
	})
	return nil
}

// rooms returns the folders that hold code, each once, sorted.
func (t *tree) rooms() []string {
	var rooms []string
	for _, s := range t.sources {
		rooms = append(rooms, s.room)
	}
	slices.Sort(rooms)
	return slices.Compact(rooms)
}

// at names a place as file:line.
func (t *tree) at(n ast.Node) string {
	p := t.fset.Position(n.Pos())
	return fmt.Sprintf("%s:%d", p.Filename, p.Line)
}

// imported is one import of one file.
type imported struct {
	path string
	name string // by which the file calls it
	spec *ast.ImportSpec
}

func (s source) imports() []imported {
	var all []imported
	for _, spec := range s.file.Imports {
		p, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			continue // the parser has seen to it that this cannot be
		}
		i := imported{p, packageName(p), spec}
		if spec.Name != nil {
			i.name = spec.Name.Name
		}
		all = append(all, i)
	}
	return all
}

// packageName guesses a package's name from its path: the last part that is no
// major version.
func packageName(p string) string {
	name := path.Base(p)
	if len(name) > 1 && name[0] == 'v' && strings.Trim(name[1:], "0123456789") == "" {
		name = path.Base(path.Dir(p))
	}
	return name
}

// selector is a use of a name of an imported package.
type selector struct {
	pkg  string // import path
	name string
	node ast.Node
	fn   string // the function around it, or ""
}

// selectors returns every use of imported names in a file. A local variable that
// is called like a package hides it, as it does for the compiler.
func (s source) selectors() []selector {
	byName := make(map[string]string)
	for _, i := range s.imports() {
		byName[i.name] = i.path
	}
	var found []selector
	for _, decl := range s.file.Decls {
		fn := ""
		if f, ok := decl.(*ast.FuncDecl); ok {
			fn = funcName(f)
		}
		ast.Inspect(decl, func(n ast.Node) bool {
			sel, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			if x, ok := sel.X.(*ast.Ident); ok && x.Obj == nil && byName[x.Name] != "" {
				found = append(found, selector{byName[x.Name], sel.Sel.Name, sel, fn})
			}
			return true
		})
	}
	return found
}

// funcName returns a function's name, for a method with its type before it.
func funcName(f *ast.FuncDecl) string {
	if f.Recv == nil || len(f.Recv.List) == 0 {
		return f.Name.Name
	}
	t := f.Recv.List[0].Type
	for {
		switch x := t.(type) {
		case *ast.StarExpr:
			t = x.X
		case *ast.IndexExpr:
			t = x.X
		case *ast.IndexListExpr:
			t = x.X
		case *ast.Ident:
			return x.Name + "." + f.Name.Name
		default:
			return f.Name.Name
		}
	}
}

// archiveTree reads a small tree from one file. Its comment is the text before
// the first file. A fraction slash in it stands for a slash, so that the
// checks of this project do not take its bad examples for breaches.
func archiveTree(t *testing.T, name string) (comment string, parsed *tree) {
	t.Helper()
	archive, err := txtar.ParseFile(name)
	if err != nil {
		t.Fatal(err)
	}
	fsys := fstest.MapFS{}
	for _, f := range archive.Files {
		fsys[f.Name] = &fstest.MapFile{Data: plainSlashes(f.Data)}
	}
	parsed, err = readTree(fsys)
	if err != nil {
		t.Fatal(err)
	}
	return string(plainSlashes(archive.Comment)), parsed
}

func plainSlashes(text []byte) []byte { return bytes.ReplaceAll(text, []byte("⁄"), []byte("/")) }
