package cli

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/site"
)

// builtIn is the theme inside the program.
const builtIn = "bench"

// source is a kitchen's folder, opened for reading.
type source struct {
	site.Content
	root *os.Root
}

// Close lets the folder go.
func (s source) Close() error { return s.root.Close() }

func (s source) kitchen(problems *problem.List) kitchen.Kitchen {
	return site.ReadKitchen(s.Content, problems)
}

// open opens a kitchen's folder. A root refuses symbolic links that lead out of it.
// The flag names a theme instead of the kitchen's own choice.
func open(folder, themeFlag string) (source, error) {
	info, err := os.Stat(folder)
	if err != nil || !info.IsDir() {
		return source{}, exit{CouldNotRun, fmt.Errorf(
			"there is no folder %s with a kitchen in it (name another with --content)", filepath.ToSlash(folder))}
	}
	root, err := os.OpenRoot(folder)
	if err != nil {
		return source{}, exit{CouldNotRun, err}
	}
	return source{site.Content{
		FS:    root.FS(),
		Names: os.DirFS(root.Name()), // a root opens every folder on the way to each file anew
		Shown: filepath.ToSlash(filepath.Clean(folder)),
		Theme: func(named string) (fs.FS, error) { return theme(themeFlag, folder, named) },
	}, root}, nil
}

// theme opens the theme that the flag names, or the kitchen; nil is the built-in
// one. The flag is relative to the folder one stands in, the kitchen's to its own.
func theme(flag, content, named string) (fs.FS, error) {
	folder := flag
	if folder == "" {
		if named == builtIn {
			return nil, nil
		}
		folder = filepath.Join(content, filepath.FromSlash(named))
	}
	if folder == builtIn {
		return nil, nil
	}
	info, err := os.Stat(folder)
	if err != nil || !info.IsDir() {
		return nil, exit{CouldNotRun, fmt.Errorf("there is no theme folder %s (%s is the built-in one)",
			filepath.ToSlash(folder), builtIn)}
	}
	return themeFolder(folder), nil
}

// counted says "1 error", "3 questions".
func counted(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}
