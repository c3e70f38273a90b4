package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/problem"
)

func audit() *cobra.Command {
	var content string
	c := &cobra.Command{
		Use:   "audit",
		Short: "Check the notes and write nothing",
		Long: `audit reads the kitchen and all its trials and prints every problem as
file:line:column: what is wrong (what was probably meant). It writes nothing.

An error stops publish. A question is something only you can answer; publish
goes on without an answer.`,
		Example: `  sidebatch audit
  sidebatch audit --content kitchen`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			var problems problem.List
			s, root, err := load(content, &problems)
			if err != nil {
				return err
			}
			defer root.Close()
			for _, p := range problems.Sorted() {
				fmt.Fprintln(c.OutOrStdout(), p)
			}
			trials := counted(len(s.Trials)+len(s.InProgress), "trial")
			errors := problems.Errors()
			if len(problems.Sorted()) == 0 {
				fmt.Fprintf(c.ErrOrStderr(), "nothing to mend in %s\n", trials)
				return nil
			}
			fmt.Fprintf(c.ErrOrStderr(), "%s and %s in %s\n", counted(errors, "error"),
				counted(len(problems.Sorted())-errors, "question"), trials)
			if errors > 0 {
				return exit{code: WrongNotes}
			}
			return nil
		},
	}
	c.Flags().StringVar(&content, "content", "content", "the folder with the kitchen and its trials")
	return c
}
