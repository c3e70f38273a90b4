package cli

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"os/exec"
	"path/filepath"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/preview"
	"sidebatch.example/sidebatch/internal/site"
)

// watching is how preview was called.
type watching struct {
	content, theme string
	port           int
	open           bool
}

func previews() *cobra.Command {
	var p watching
	c := &cobra.Command{
		Use:   "preview",
		Short: "Show the site while you write it",
		Long: `preview shows the site in a browser of this machine and loads the page again
whenever a note, a log, a photo, the kitchen's file or the theme is saved. It
writes no files.

Notes in progress are shown too, with a band that says so. A note with an error
keeps its last good page; beside it stands what is wrong, at the line it comes
from.

The address that is printed is that of the trial saved last. Nothing but this
machine can reach it. Ctrl-C ends it, a second one at once.`,
		Example: `  sidebatch preview
  sidebatch preview --content kitchen --port 8123
  sidebatch preview --open`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if p.port < 0 || p.port > 65535 {
				return exit{WrongUsage, fmt.Errorf("--port %d: a port is a number from 1 to 65535, or 0 for a free one", p.port)}
			}
			ctx, stop := stoppable(c.Context())
			defer stop()
			return p.run(ctx, c.OutOrStdout(), c.ErrOrStderr())
		},
	}
	f := c.Flags()
	f.StringVar(&p.content, "content", "content", "the folder with the kitchen and its trials")
	f.StringVar(&p.theme, "theme", "", "a theme folder, instead of the kitchen's own choice")
	f.IntVar(&p.port, "port", 0, "the port to serve on; 0 is a free one")
	f.BoolVar(&p.open, "open", false, "open the page in the browser")
	return c
}

func (p watching) run(ctx context.Context, stdout, stderr io.Writer) error {
	source, err := open(p.content, p.theme)
	if err != nil {
		return err
	}
	defer source.Close()
	err = preview.Run(ctx, preview.Options{
		Content: source.Content,
		Folder:  p.content,
		Theme:   p.look,
		Port:    p.port,
		Ready: func(address string, polls error) {
			if polls != nil {
				fmt.Fprintf(stderr, "the system cannot tell when files are saved (%v): looking twice a second\n", polls)
			}
			fmt.Fprintln(stdout, address)
			if p.open {
				if err := showInBrowser(address); err != nil {
					fmt.Fprintf(stderr, "the browser could not be opened (%v): open the address above\n", err)
				}
			}
		},
	})
	if err != nil {
		return exit{CouldNotRun, err}
	}
	return nil
}

// look reads the theme as publish does.
func (p watching) look(s *site.Site) preview.Theme {
	chosen, err := theme(p.theme, p.content, s.Kitchen.Theme)
	t := preview.Theme{FS: chosen, Err: err, Shown: filepath.ToSlash(filepath.Clean(p.themeFolder(s)))}
	if err != nil || chosen == nil {
		t.FS = nil
	}
	if chosen != nil {
		t.Folder = p.themeFolder(s)
	}
	if err == nil {
		t.Look, t.Err = lookOf(chosen, s)
	}
	return t
}

func lookOf(chosen fs.FS, s *site.Site) (site.Look, error) {
	renderer, err := page.New(chosen)
	if err != nil {
		return site.Look{}, err
	}
	methods, err := page.MethodTexts(chosen, s.Kitchen.Language)
	return site.Look{Pages: renderer, Methods: methods}, err
}

func (p watching) themeFolder(s *site.Site) string {
	if p.theme != "" {
		return p.theme
	}
	return filepath.Join(p.content, filepath.FromSlash(s.Kitchen.Theme))
}

// showInBrowser starts the program with which the system opens addresses, and does
// not wait for it.
func showInBrowser(address string) error {
	name, args := opener()
	command := exec.Command(name, append(args, address)...)
	if err := command.Start(); err != nil {
		return err
	}
	return command.Process.Release()
}
