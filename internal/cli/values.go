package cli

import (
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/site"
)

// tellValues prints what the prose of a trial may cite, what it cites already and where
// the two do not agree.
func tellValues(c *cobra.Command, content, name string, asJSON bool) error {
	t, err := readTrialFor(c, places{content: content}, name, asJSON)
	if err != nil {
		return err
	}
	shown := filepath.ToSlash(filepath.Clean(content))
	citable, wrong := site.Citations(shown, findings.Of(t))
	if asJSON {
		err = writeJSON(c.OutOrStdout(), valuesOf(t.Slug, citable, wrong))
	} else {
		err = listValues(c.OutOrStdout(), citable, wrong)
	}
	if err == nil && len(wrong) > 0 {
		return exit{WrongNotes, fmt.Errorf("%s in the prose of %s", counted(len(wrong), "disagreement"), t.Slug)}
	}
	return err
}

func listValues(w io.Writer, citable []site.Citable, wrong []site.Disagreement) error {
	table := tabwriter.NewWriter(w, 0, 0, 3, ' ', 0)
	fmt.Fprintln(table, "to write\tsays\tcited in line\tis")
	for _, c := range citable {
		fmt.Fprintln(table, strings.Join([]string{c.Address, orDash(c.Text), orDash(linesOf(c.Cited)), c.What}, "\t"))
	}
	if err := table.Flush(); err != nil {
		return err
	}
	if len(wrong) > 0 {
		fmt.Fprintln(w)
	}
	colours := inkFor(w)
	for _, d := range wrong {
		fmt.Fprintln(w, colours.problem(problem.Problem{Pos: d.Pos, What: d.What, Hint: d.Hint}))
	}
	return nil
}

// orDash fills an empty cell.
func orDash(text string) string {
	if text == "" {
		return "-"
	}
	return text
}

func linesOf(cited []problem.Pos) string {
	var lines []string
	for _, p := range cited {
		lines = append(lines, strconv.Itoa(p.Line))
	}
	return strings.Join(lines, ", ")
}

// saidCitable is something that prose may cite.
type saidCitable struct {
	Address  string     `json:"address"`
	Text     *string    `json:"text"` // null of a figure or table
	What     string     `json:"what"`
	Markdown string     `json:"markdown"`
	Cited    []placedAt `json:"cited"`
}

// saidDisagreement is a citation that does not agree with the log.
type saidDisagreement struct {
	placedAt
	Address string  `json:"address"`
	Written string  `json:"written"`
	Now     *string `json:"now"` // null where there is no such thing
	What    string  `json:"what"`
	Hint    string  `json:"hint"`
}

type saidValues struct {
	Trial         string             `json:"trial"`
	Citable       []saidCitable      `json:"citable"`
	Disagreements []saidDisagreement `json:"disagreements"`
}

func valuesOf(slug string, citable []site.Citable, wrong []site.Disagreement) saidValues {
	said := saidValues{Trial: slug, Citable: []saidCitable{}, Disagreements: []saidDisagreement{}}
	for _, c := range citable {
		one := saidCitable{Address: c.Address, Text: orNull(c.Text), What: c.What, Markdown: c.Markdown, Cited: []placedAt{}}
		for _, p := range c.Cited {
			one.Cited = append(one.Cited, placeOf(p))
		}
		said.Citable = append(said.Citable, one)
	}
	for _, d := range wrong {
		said.Disagreements = append(said.Disagreements,
			saidDisagreement{placeOf(d.Pos), d.Address, d.Written, orNull(d.Now), d.What, d.Hint})
	}
	return said
}

// orNull is nothing for an empty text.
func orNull(text string) *string {
	if text == "" {
		return nil
	}
	return &text
}
