package cli

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/food"
)

// candidates is how many near names are shown.
const candidates = 8

func foods() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "foods WORDS",
		Short: "Look an ingredient up in the food table",
		Long: `foods looks an ingredient up: by the table's number, an everyday name or the
table's own description. It prints the nutrients of 100 g, the household measures
and the allergens that the name gives reason to look for.

A value that the table does not report is left empty. Allergens are an aid only:
read the label of what you use.`,
		Example: `  sidebatch foods sesame oil
  sidebatch foods 20081
  sidebatch foods oat flour --json`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			words := strings.Join(args, " ")
			match, found := food.Find(words)
			if asJSON {
				return foodJSON(c.OutOrStdout(), words, match, found)
			}
			if !found {
				return notFound(c.OutOrStdout(), words)
			}
			return describe(c.OutOrStdout(), words, match)
		},
	}
	jsonFlag(c, &asJSON)
	return c
}

func notFound(out io.Writer, words string) error {
	near := food.Nearest(words, candidates)
	if len(near) == 0 {
		return exit{WrongNotes, fmt.Errorf("the food table has no %q, and nothing near it", words)}
	}
	fmt.Fprintf(out, "near %q are:\n", words)
	table := tabwriter.NewWriter(out, 0, 0, 3, ' ', 0)
	for _, match := range near {
		fmt.Fprintf(table, "  %s\t%s\n", match.Food.ID, match.Name)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	return exit{WrongNotes, fmt.Errorf("the food table has no %q", words)}
}

func describe(out io.Writer, words string, match food.Match) error {
	f := match.Food
	fmt.Fprintf(out, "%s  %s\n%s (%s)\n", f.ID, match.Name, f.Description, f.Group)
	if match.Via == food.EverydayClose || match.Via == food.EverydayAssumption {
		fmt.Fprintf(out, "%s: %s\n", match.Via, match.Note)
	}
	if food.DatedFat(f) {
		fmt.Fprintln(out, "older than the ban on partly hydrogenated fat: use the package's label instead")
	}
	fmt.Fprintln(out, "\nin 100 g")
	table := tabwriter.NewWriter(out, 0, 0, 3, ' ', 0)
	for _, n := range food.AllNutrients() {
		value := "not reported"
		if v := f.Nutrients.Of(n); v.Reported {
			value = v.Amount.String() + " " + n.Unit()
		}
		fmt.Fprintf(table, "  %s\t%s\n", n.Name(), value)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	if len(f.Measures) > 0 {
		fmt.Fprintln(out, "\nhousehold measures")
	}
	for _, m := range f.Measures {
		fmt.Fprintf(out, "  %s\n", m)
	}
	allergens(out, words, match)
	_, err := fmt.Fprintf(out, "\n%s\n", food.Source().Text)
	return err
}

// pointedAt is what a name gives reason to look for.
func pointedAt(words string, match food.Match) []food.Allergen {
	f := match.Food
	if match.Via == food.EverydayAssumption {
		f = nil // a stand-in's own description says nothing about the food
	}
	return food.Allergens(words, f)
}

func allergens(out io.Writer, words string, match food.Match) {
	found := pointedAt(words, match)
	if len(found) == 0 {
		fmt.Fprintln(out, "\nno allergen found by name; read the label all the same")
		return
	}
	fmt.Fprintln(out, "\nallergens, by name only: read the label")
	for _, a := range found {
		var lists []string
		if a.US != "" {
			lists = append(lists, a.US+" (US list)")
		}
		if a.EU != "" {
			lists = append(lists, a.EU+" (EU list)")
		}
		fmt.Fprintf(out, "  %s: %s\n", a.Strength, strings.Join(lists, ", "))
	}
}
