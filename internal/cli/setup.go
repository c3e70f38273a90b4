package cli

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/draft"
	"sidebatch.example/sidebatch/internal/kitchen"
)

func setup() *cobra.Command {
	return &cobra.Command{
		Use:   "setup DIR",
		Short: "Lay out a new site folder",
		Long: `setup lays out a new site folder: content/ with a kitchen file in which every key
is explained and one small trial, which is invented and says so, and a .gitignore.
sidebatch publish works in it at once.

It writes over nothing: the folder is new, or empty.`,
		Example: `  sidebatch setup my-kitchen
  cd my-kitchen && sidebatch publish`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			if err := isFree(args[0]); err != nil {
				return err
			}
			var files []newFile
			for _, f := range draft.Site() {
				files = append(files, newFile{filepath.Join(args[0], filepath.FromSlash(f.Name)), f.Data})
			}
			if err := writeNew(files); err != nil {
				return err
			}
			afterSetup(c.OutOrStdout(), args[0], files)
			return nil
		},
	}
}

// isFree refuses a folder with anything in it.
func isFree(folder string) error {
	if folder == "" {
		return exit{WrongUsage, fmt.Errorf("the folder has no name (. is this one)")}
	}
	shown := filepath.ToSlash(folder)
	info, err := os.Stat(folder)
	switch {
	case os.IsNotExist(err):
		return nil
	case err != nil:
		return exit{CouldNotRun, bare(folder, err)}
	case !info.IsDir():
		return exit{WrongUsage, fmt.Errorf("nothing was written: %s is a file (name a new folder)", shown)}
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		return exit{CouldNotRun, bare(folder, err)}
	}
	if len(entries) == 0 {
		return nil
	}
	if _, err := os.Stat(filepath.Join(folder, "content", kitchen.File)); err == nil {
		return exit{WrongUsage, fmt.Errorf("nothing was written: there is a kitchen in %s already (sidebatch begin starts a trial in it)", shown)}
	}
	return exit{WrongUsage, fmt.Errorf("nothing was written: %s is not empty (name a new folder, such as %s)",
		shown, filepath.ToSlash(filepath.Join(folder, "kitchen")))}
}

func afterSetup(w io.Writer, folder string, files []newFile) {
	for _, f := range files {
		fmt.Fprintf(w, "wrote %s\n", filepath.ToSlash(f.path))
	}
	fmt.Fprint(w, "next:\n")
	if filepath.Clean(folder) != "." {
		fmt.Fprintf(w, "  cd %s\n", filepath.ToSlash(folder))
	}
	fmt.Fprint(w, `  sidebatch publish          writes the site into public/; open public/index.html
  sidebatch begin NAME       starts a trial of your own
The trial that lies there is invented. Take its folder away, and the line invented: true out
of content/kitchen.yaml, when you publish what you have cooked.
`)
}
