package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/site"
)

// auditing is how audit was called.
type auditing struct {
	content, values string
	json            bool
}

func audit() *cobra.Command {
	var a auditing
	c := &cobra.Command{
		Use:   "audit",
		Short: "Check the notes and write nothing",
		Long: `audit reads the kitchen and all its trials and prints every problem as
file:line:column: what is wrong (what was probably meant). It writes nothing.

An error stops publish. A question (no measure is primary; no two samples differ in
exactly one factor) is something only you can answer; publish goes on without.

For a note in progress that nothing has been read for, and with --plan for every
trial, it prints the plan: which contrasts it allows, how large a difference so many
pieces, batches or tasters have a good chance to show and how many it would take,
what to buy for all samples and batches, and a cooking order that does not always
begin with the same sample.

--values TRIAL lists instead what the prose of a trial may cite, with its present
words: figures, tables and every value. What is cited already has its lines, and
below stands each citation that does not agree, with what is written and what the
log says.`,
		Example: `  sidebatch audit
  sidebatch audit --content kitchen
  sidebatch audit --values rested-oat-batter
  sidebatch audit --json > problems.json`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if c.Flags().Changed("values") {
				return tellValues(c, a.content, a.values, a.json)
			}
			return a.run(c)
		},
	}
	c.Flags().StringVar(&a.content, "content", "content", "the folder with the kitchen and its trials")
	c.Flags().StringVar(&a.values, "values", "", "list what the prose of this trial may cite, instead")
	jsonFlag(c, &a.json)
	planFlag(c)
	c.MarkFlagsMutuallyExclusive("values", "plan")
	c.MarkFlagsMutuallyExclusive("json", "plan")
	return c
}

// saidAudit is what audit --json prints.
type saidAudit struct {
	Trials    int           `json:"trials"`
	Errors    int           `json:"errors"`
	Questions int           `json:"questions"`
	Problems  []saidProblem `json:"problems"`
}

func (a auditing) run(c *cobra.Command) error {
	var problems problem.List
	kitchen, err := open(a.content, "")
	if err != nil {
		return err
	}
	defer kitchen.Close()
	x := site.Surveyor{Content: kitchen.Content, Kitchen: kitchen.kitchen(&problems)}.Survey(&problems)
	found := problems.Sorted()
	errors := problems.Errors()
	said := saidAudit{len(x.Trials) + len(x.InProgress), errors, len(found) - errors, saidProblems(found)}
	if a.json {
		err = writeJSON(c.OutOrStdout(), said)
	} else {
		err = a.tell(c, x, &problems, said)
	}
	if err == nil && errors > 0 {
		return exit{code: WrongNotes}
	}
	return err
}

func (a auditing) tell(c *cobra.Command, x *site.Index, problems *problem.List, said saidAudit) error {
	colours := inkFor(c.OutOrStdout())
	for _, p := range problems.Sorted() {
		fmt.Fprintln(c.OutOrStdout(), colours.problem(p))
	}
	if err := tellPlans(c, x, problems); err != nil {
		return exit{CouldNotRun, err}
	}
	trials := counted(said.Trials, "trial")
	if len(said.Problems) == 0 {
		fmt.Fprintf(c.ErrOrStderr(), "nothing to mend in %s\n", trials)
		return nil
	}
	fmt.Fprintf(c.ErrOrStderr(), "%s and %s in %s\n", counted(said.Errors, "error"), counted(said.Questions, "question"), trials)
	return nil
}
