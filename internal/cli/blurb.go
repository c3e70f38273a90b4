package cli

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/blurb"
	"sidebatch.example/sidebatch/internal/findings"
)

// describing is how blurb was called.
type describing struct {
	content, theme, out string
	limit               int
}

func blurbs() *cobra.Command {
	var d describing
	c := &cobra.Command{
		Use:   "blurb TRIAL",
		Short: "Print the text for a video's description",
		Long: `blurb prints plain text for the description of a video: the question, the answer
with what was seen and how far to trust it, the full recipe in metric and US units,
its steps, the chapters (0:00 first), cautions, allergens, and the address of the
write-up, which needs an address in kitchen.yaml. It has no angle brackets, and it
is in the kitchen's language.

--limit is counted both in characters (Unicode code points) and in bytes of UTF-8,
so that the text fits however a site counts. What is too long loses whole parts, in
this order: the times of the recipe, its steps, the chapters, the ingredients. The
question, the answer, cautions, allergens and the address always stay. What was left
out is said on standard error.

Without --out it goes to standard output. A file that is there already stays.`,
		Example: `  sidebatch blurb rested-oat-batter
  sidebatch blurb eggs-into-boiling-water --limit 3000 --out description.txt`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			if d.limit < 0 {
				return exit{WrongUsage, fmt.Errorf("--limit %d: write a number above zero, or 0 for no limit", d.limit)}
			}
			t, err := readTrialFor(c, places{content: d.content, theme: d.theme}, args[0], false)
			if err != nil {
				return err
			}
			// A theme that is broken is not read in silence as the built-in one.
			if _, err := pages(d.theme, d.content, t); err != nil {
				return err
			}
			return d.print(findings.Of(t), c.OutOrStdout(), c.ErrOrStderr())
		},
	}
	f := c.Flags()
	f.StringVar(&d.content, "content", "content", "the folder with the kitchen and its trials")
	f.IntVar(&d.limit, "limit", 5000, "the most characters, and bytes, that the text may have; 0 is no limit")
	f.StringVar(&d.out, "out", "", "the file to write, instead of standard output")
	f.StringVar(&d.theme, "theme", "", "a theme folder, for its words, instead of the kitchen's own choice")
	return c
}

func (d describing) print(f *findings.Findings, stdout, stderr io.Writer) error {
	text, err := blurb.Of(f, d.limit)
	var long *blurb.TooLong
	if errors.As(err, &long) {
		return exit{WrongUsage, fmt.Errorf("--limit %d: %w", d.limit, err)}
	}
	if err != nil {
		return err
	}
	if d.out == "" {
		_, err = io.WriteString(stdout, text.Words)
	} else {
		err = writeNew([]newFile{{d.out, []byte(text.Words)}})
	}
	if err != nil {
		return err
	}
	if len(text.LeftOut) > 0 {
		fmt.Fprintf(stderr, "left out to stay within %d: %s\n", d.limit, strings.Join(text.LeftOut, ", "))
	}
	if f.Trial.Kitchen.Address == "" {
		fmt.Fprintln(stderr, "left out: the address of the write-up (kitchen.yaml has no address)")
	} else if f.Trial.Published.IsZero() {
		fmt.Fprintln(stderr, "the note is in progress: its address leads nowhere until it is published")
	}
	if d.out != "" {
		fmt.Fprintf(stderr, "wrote %s: %s, %s\n", filepath.ToSlash(d.out),
			counted(text.Characters(), "character"), counted(text.Bytes(), "byte"))
	}
	return nil
}
