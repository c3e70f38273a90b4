package cli

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/linkcheck"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/press"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/site"
)

// places are the folders that publish works with.
type places struct {
	content, out, theme string
}

func publish() *cobra.Command {
	var at places
	c := &cobra.Command{
		Use:   "publish",
		Short: "Write the site",
		Long: `publish reads the kitchen and all its trials and writes the site. A note
without a date under published is left out.

When a note has an error, nothing is written and the old site stays as it was.
The same where an address that a theme wrote leads nowhere on the site.
Files that sidebatch did not write are never touched.`,
		Example: `  sidebatch publish
  sidebatch publish --content kitchen --out site --theme my-theme`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			ctx, stop := signal.NotifyContext(c.Context(), os.Interrupt)
			defer stop()
			return at.publish(ctx, c.OutOrStdout(), c.ErrOrStderr())
		},
	}
	c.Flags().StringVar(&at.content, "content", "content", "the folder with the kitchen and its trials")
	c.Flags().StringVar(&at.out, "out", "public", "the folder to write the site into")
	c.Flags().StringVar(&at.theme, "theme", "", "a theme folder, instead of the kitchen's own choice")
	return c
}

func (at places) publish(ctx context.Context, stdout, stderr io.Writer) error {
	start := time.Now()
	var problems problem.List
	far := startProgress(stderr)
	defer far.end()
	s, root, err := loadTelling(at.content, at.theme, far.telling("trials read"), &problems)
	if err != nil {
		return err
	}
	defer root.Close()
	if problems.Errors() > 0 {
		far.end()
		colours := inkFor(stderr)
		for _, p := range problems.Sorted() {
			if p.Weight == problem.Error {
				fmt.Fprintln(stderr, colours.problem(p))
			}
		}
		return exit{WrongNotes, fmt.Errorf("%s in the notes: nothing was written", counted(problems.Errors(), "error"))}
	}
	chosen, err := theme(at.theme, at.content, s.Kitchen.Theme)
	if err != nil {
		return err
	}
	renderer, err := page.New(chosen)
	if err != nil {
		return exit{CouldNotRun, err}
	}
	methods, err := page.MethodTexts(chosen, s.Kitchen.Language)
	if err != nil {
		return exit{CouldNotRun, err}
	}
	outputs := site.Plan(s, site.Look{Pages: renderer, Methods: methods})
	summary, err := press.Run(ctx, outputs, press.Options{
		Out: at.out, Made: far.telling("files made"), Inspect: linkcheck.New(s.Kitchen.Address),
	})
	far.end()
	if err != nil {
		return exit{CouldNotRun, fmt.Errorf("nothing was changed in %s: %w", filepath.ToSlash(at.out), err)}
	}
	if n := len(problems.Sorted()); n > 0 {
		fmt.Fprintf(stderr, "%s about the notes: sidebatch audit tells\n", counted(n, "question"))
	}
	fmt.Fprintln(stdout, at.summary(s, summary, time.Since(start)))
	return nil
}

// summary is the one line that publish ends with.
func (at places) summary(s *site.Site, wrote press.Summary, took time.Duration) string {
	line := fmt.Sprintf("published %s to %s: %s (%.1f kB), %d of them new or changed",
		counted(len(s.Trials), "trial"), filepath.ToSlash(at.out), counted(wrote.Files, "file"),
		float64(wrote.Bytes)/1000, wrote.Written)
	if wrote.Removed > 0 {
		line += fmt.Sprintf(", %d removed", wrote.Removed)
	}
	if n := len(s.InProgress); n > 0 {
		line += fmt.Sprintf("; left out %s in progress", counted(n, "note"))
	}
	return fmt.Sprintf("%s; took %.2f s", line, took.Seconds())
}
