package cli

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// The names in what --json prints are a contract: README.md describes them. More may
// be added; none is taken away or given another meaning.

// placedAt is where something stands.
type placedAt struct {
	File   string `json:"file"`
	Line   int    `json:"line"`   // 0: the whole file
	Column int    `json:"column"` // 0: the whole line
}

func placeOf(p problem.Pos) placedAt { return placedAt{p.File, p.Line, p.Column} }

// saidProblem is a problem of the notes.
type saidProblem struct {
	placedAt
	Code   string `json:"code"`
	Weight string `json:"weight"` // "error" or "question"
	What   string `json:"what"`
	Hint   string `json:"hint"` // may be empty
}

func saidProblems(found []problem.Problem) []saidProblem {
	all := []saidProblem{}
	for _, p := range found {
		p = p.Visible()
		said := saidProblem{placeOf(p.Pos), string(p.Code), "error", p.What, p.Hint}
		if p.Weight == problem.Question {
			said.Weight = "question"
		}
		all = append(all, said)
	}
	return all
}

// jsonFlag adds --json to a command.
func jsonFlag(c *cobra.Command, asked *bool) {
	c.Flags().BoolVar(asked, "json", false, "print JSON, problems of the notes too, under names that stay")
}

// writeJSON prints a value, and a line feed.
func writeJSON(w io.Writer, value any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(value)
}

// readTrialFor reads a trial for a command. What is wrong with the note goes to
// standard error, or, for one that was asked for JSON, as JSON to standard output.
func readTrialFor(c *cobra.Command, at places, name string, asJSON bool) (*trial.Trial, error) {
	var found []problem.Problem
	t, err := readTrial(at, name, func(p problem.Problem) { found = append(found, p) })
	var stop exit
	if asJSON && errors.As(err, &stop) && stop.code == WrongNotes {
		printed := writeJSON(c.OutOrStdout(), struct {
			Problems []saidProblem `json:"problems"`
		}{saidProblems(found)})
		return nil, errors.Join(err, printed)
	}
	colours := inkFor(c.ErrOrStderr())
	for _, p := range found {
		fmt.Fprintln(c.ErrOrStderr(), colours.problem(p))
	}
	return t, err
}
