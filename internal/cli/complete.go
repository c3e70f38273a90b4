package cli

import (
	"io/fs"
	"path"
	"strings"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// suggest is what a shell asks for: words that may stand where the cursor is.
type suggest = func(c *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective)

// complete tells every command what a shell may suggest: the kitchen's trials, the
// samples of one, foods, and folders. It goes by the names of arguments and flags, so
// that a new command has it too.
func complete(root *cobra.Command) {
	for _, c := range root.Commands() {
		switch _, takes, _ := strings.Cut(c.Use, " "); takes {
		case "TRIAL":
			c.ValidArgsFunction = oneOf(trials)
		case "TRIAL FILES...":
			c.ValidArgsFunction = thenFiles(trials)
		case "WORDS":
			c.ValidArgsFunction = foodWords
		case "DIR":
		default:
			c.ValidArgsFunction = cobra.NoFileCompletions
		}
		for flag, words := range map[string]suggest{
			"sample": sampleKeysOf, "like": trials, "values": trials,
			"csv": cobra.FixedCompletions([]string{"pieces", "tasting"}, cobra.ShellCompDirectiveNoFileComp),
		} {
			if c.Flags().Lookup(flag) != nil {
				// The one error is that it was said twice.
				_ = c.RegisterFlagCompletionFunc(flag, words)
			}
		}
		for _, flag := range []string{"content", "theme"} {
			if c.Flags().Lookup(flag) != nil {
				_ = c.MarkFlagDirname(flag)
			}
		}
	}
}

// oneOf suggests for the first argument alone.
func oneOf(words suggest) suggest {
	return func(c *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return words(c, args, begun)
	}
}

// thenFiles suggests for the first argument, and leaves those after it to the shell, which
// knows files.
func thenFiles(words suggest) suggest {
	return func(c *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, cobra.ShellCompDirectiveDefault
		}
		return words(c, args, begun)
	}
}

// trials are the folders with a note in the kitchen that --content names.
func trials(c *cobra.Command, _ []string, begun string) ([]string, cobra.ShellCompDirective) {
	source, err := open(contentOf(c), "")
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	defer source.Close()
	var slugs []string
	notes, _ := fs.Glob(source.FS, "*/"+trial.NoteFile) // the pattern is right
	for _, note := range notes {
		slugs = append(slugs, path.Dir(note))
	}
	return startingWith(slugs, begun), cobra.ShellCompDirectiveNoFileComp
}

func contentOf(c *cobra.Command) string {
	folder, err := c.Flags().GetString("content")
	if err != nil {
		return ""
	}
	return folder
}

// sampleKeysOf are the samples of the trial that stands on the command line already.
func sampleKeysOf(c *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	t, err := readTrial(places{content: contentOf(c)}, args[0], func(problem.Problem) {})
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return startingWith(sampleKeys(t), begun), cobra.ShellCompDirectiveNoFileComp
}

// foodWords suggests the next word of everyday names that begin with what stands there.
func foodWords(_ *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
	at := len(strings.Fields(strings.ReplaceAll(strings.Join(args, " "), "-", " ")))
	seen := map[string]bool{}
	var words []string
	for _, name := range food.Beginning(strings.Join(append(args, begun), " ")) {
		parts := strings.Fields(name)
		if at < len(parts) && !seen[parts[at]] {
			seen[parts[at]] = true
			words = append(words, parts[at])
		}
	}
	return words, cobra.ShellCompDirectiveNoFileComp
}

func startingWith(words []string, begun string) []string {
	var fitting []string
	for _, w := range words {
		if strings.HasPrefix(w, begun) {
			fitting = append(fitting, w)
		}
	}
	return fitting
}
