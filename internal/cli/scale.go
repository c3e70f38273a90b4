package cli

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
)

// sizing is how big the recipe is wanted, and of which sample.
type sizing struct {
	content, sample             string
	times, makes, from          string
	total, pieces, each, losing string
	json                        bool
}

func scale() *cobra.Command {
	var s sizing
	c := &cobra.Command{
		Use:   "scale TRIAL",
		Short: "Print a trial's recipe at any size",
		Long: `scale prints the recipe of a trial, rounded to what the kitchen's instruments
can measure, at the size that one of these asks for: --times, --makes, --from,
--total, or --pieces with --each. Without one it prints the full batch.

TRIAL is the name of the trial's folder. The recipe is the note's own; --sample
takes the version of a sample.`,
		Example: `  sidebatch scale rested-oat-batter --times 1.5
  sidebatch scale rested-oat-batter --makes 20
  sidebatch scale rested-oat-batter --from "oat flour 400 g" --sample rested
  sidebatch scale oat-biscuits-chilled --total "1 kg"
  sidebatch scale oat-biscuits-chilled --pieces 8 --each "70 g" --losing 2
  sidebatch scale oat-biscuits-chilled --makes 30 --json`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			t, err := readTrialFor(c, places{content: s.content}, args[0], s.json)
			if err != nil {
				return err
			}
			return s.print(c.OutOrStdout(), t)
		},
	}
	f := c.Flags()
	f.StringVar(&s.content, "content", "content", "the folder with the kitchen and its trials")
	f.StringVar(&s.sample, "sample", "", "take this sample's version of the recipe")
	f.StringVar(&s.times, "times", "", "so many full batches, like 1.5 or 2/3")
	f.StringVar(&s.makes, "makes", "", "as much as makes so many pieces")
	f.StringVar(&s.from, "from", "", `as much as uses so much of a role, like "flour 400 g"`)
	f.StringVar(&s.total, "total", "", `as much as weighs this before anything is lost, like "1 kg"`)
	f.StringVar(&s.pieces, "pieces", "", "as much as can be divided into so many pieces (with --each)")
	f.StringVar(&s.each, "each", "", "what each of --pieces weighs")
	f.StringVar(&s.losing, "losing", "", "percent of the batch that is lost before it is divided (with --pieces)")
	jsonFlag(c, &s.json)
	c.MarkFlagsMutuallyExclusive("times", "makes", "from", "total", "pieces")
	c.MarkFlagsRequiredTogether("pieces", "each")
	return c
}

func (s sizing) print(out io.Writer, t *trial.Trial) error {
	r := t.Recipe
	name := r.Name
	if s.sample != "" {
		sample := sampleNamed(t, s.sample)
		if sample == nil {
			return exit{WrongUsage, fmt.Errorf("the trial has no sample %q (it has %s)", s.sample, strings.Join(sampleKeys(t), "; "))}
		}
		r, name, s.sample = sample.Plan, name+", "+sample.Name, sample.Key
	}
	by, err := s.factor(t, r)
	if err != nil {
		return exit{WrongUsage, err}
	}
	scaled := r.Scale(by)
	if s.json {
		return writeJSON(out, scaledOf(t, scaled, s.sample, by))
	}
	fmt.Fprintf(out, "%s\n%s\n\n", name, heading(by, scaled))
	return list(out, t, scaled)
}

func heading(by quantity.Number, r recipe.Recipe) string {
	words := by.Fraction() + " of the full batch"
	switch {
	case by.Equal(quantity.Int(1)):
		words = "the full batch"
	case by.Cmp(quantity.Int(1)) > 0:
		words = by.Fraction() + " times the full batch"
	}
	if _, whole := by.Int64(); !whole && strings.Contains(by.Fraction(), "/") {
		words = "about " + by.Decimal(3) + " times the full batch"
	}
	if r.Makes.Count.Sign() > 0 {
		words += ": makes " + pieces(r.Makes)
	}
	return words
}

func pieces(y recipe.Yield) string {
	count := y.Count.Fraction()
	if strings.Contains(count, "/") {
		count = "about " + y.Count.Decimal(1)
	}
	return count + " " + y.What
}

// factor works out how many full batches are asked for.
func (s sizing) factor(t *trial.Trial, r recipe.Recipe) (quantity.Number, error) {
	switch {
	case s.times != "":
		n, err := quantity.ParseNumber(s.times)
		if err == nil && n.Sign() <= 0 {
			err = errors.New("the size must be above zero")
		}
		return n, flagged("--times", s.times, err)
	case s.makes != "":
		n, err := quantity.ParseNumber(s.makes)
		if err != nil {
			return n, flagged("--makes", s.makes, err)
		}
		return r.ForYield(n)
	case s.from != "":
		return s.fromRole(t, r)
	case s.total != "":
		grams, err := mass(s.total)
		if err != nil {
			return grams, flagged("--total", s.total, err)
		}
		return r.ForMass(grams)
	case s.pieces != "":
		return s.fromPieces(r)
	}
	return quantity.Int(1), nil
}

func flagged(flag, value string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%s %q: %w", flag, value, err)
}

// fromRole reads "oat flour 400 g": a role and an amount of it. The amount begins
// at the first word that begins with a digit or a fraction.
func (s sizing) fromRole(t *trial.Trial, r recipe.Recipe) (quantity.Number, error) {
	words := strings.Fields(s.from)
	at := 0
	for at < len(words) && !strings.ContainsAny(words[at][:1], "0123456789.") && !strings.ContainsAny(words[at], "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞") {
		at++
	}
	role := strings.Join(words[:at], " ")
	amount, err := quantity.Parse(strings.Join(words[at:], " "), t.Kitchen.Instruments.Volumes)
	if err != nil || role == "" {
		return quantity.Number{}, fmt.Errorf(`--from %q: write a role and an amount, like "flour 400 g"`, s.from)
	}
	var roles []string
	for _, i := range r.Ingredients {
		roles = append(roles, i.Role)
		if strings.EqualFold(i.Role, role) || strings.EqualFold(i.Food, role) {
			return r.ForIngredient(i.Role, amount)
		}
	}
	return quantity.Number{}, fmt.Errorf("--from %q: the recipe has no role %q (it has %s)", s.from, role, strings.Join(roles, ", "))
}

func (s sizing) fromPieces(r recipe.Recipe) (quantity.Number, error) {
	count, err := quantity.ParseNumber(s.pieces)
	if err != nil {
		return count, flagged("--pieces", s.pieces, err)
	}
	each, err := mass(s.each)
	if err != nil {
		return each, flagged("--each", s.each, err)
	}
	var loss quantity.Number
	if s.losing != "" {
		percent, err := quantity.ParseNumber(strings.TrimSuffix(s.losing, "%"))
		if err != nil || percent.Sign() < 0 || percent.Cmp(quantity.Int(90)) > 0 {
			return percent, fmt.Errorf("--losing %q: write a percentage from 0 to 90", s.losing)
		}
		loss = percent.Mul(quantity.Ratio(1, 100))
	}
	whole, _ := count.Mul(each).Quo(quantity.Int(1).Sub(loss))
	return r.ForMass(whole)
}

func mass(text string) (quantity.Number, error) {
	amount, err := quantity.Parse(text, quantity.USCustomary)
	if err != nil {
		return quantity.Number{}, err
	}
	if amount.Dimension() != quantity.Mass || amount.IsRange() {
		return quantity.Number{}, errors.New("this is not a mass, like 70 g")
	}
	grams, _ := amount.Base()
	return grams, nil
}

// list prints the ingredients in every unit system of the kitchen.
func list(out io.Writer, t *trial.Trial, r recipe.Recipe) error {
	table := tabwriter.NewWriter(out, 0, 0, 3, ' ', 0)
	for _, i := range r.Ingredients {
		cells := []string{i.Food}
		if i.Preparation != "" {
			cells[0] += ", " + i.Preparation
		}
		for _, system := range t.Kitchen.Units {
			text := shownText(i.Show(t.Kitchen.Instruments, system))
			if weigh, fraction := i.ToWeigh(t.Kitchen.Instruments); fraction {
				text += " (" + weigh.Text + ")"
			}
			cells = append(cells, text)
		}
		fmt.Fprintln(table, strings.Join(cells, "\t"))
	}
	batch := r.Batch()
	if len(batch.Missing) == 0 && len(batch.Formula) > 0 {
		cells := []string{"together"}
		for _, system := range t.Kitchen.Units {
			shown := t.Kitchen.Instruments.Show(quantity.New(batch.Formula.Mass(), quantity.Gram), system)
			shown.About = shown.About || batch.About
			cells = append(cells, shownText(shown))
		}
		fmt.Fprintln(table, strings.Join(cells, "\t"))
	}
	if err := table.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintln(out, "\nTemperatures and times do not scale; a bigger batch may need longer.")
	return err
}

func shownText(s quantity.Shown) string {
	if s.About {
		return "about " + s.Text
	}
	return s.Text
}

// sampleNamed finds a sample by its key, as in the note or as in an address.
func sampleNamed(t *trial.Trial, name string) *trial.Sample {
	for _, s := range t.Samples {
		if s.Key == name || trial.AddressName(s.Key) == trial.AddressName(name) {
			return s
		}
	}
	return nil
}

func sampleKeys(t *trial.Trial) []string {
	var keys []string
	for _, s := range t.Samples {
		keys = append(keys, s.Key)
	}
	return keys
}
