package cli

import (
	"fmt"
	"io"
	"math"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/planning"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/site"
	"sidebatch.example/sidebatch/internal/trial"
)

// planFlag lets audit print the plan of every trial.
func planFlag(c *cobra.Command) {
	c.Flags().Bool("plan", false, "print the plan of every trial, and not only of those in progress without a reading")
}

// tellPlans prints the plan of every note in progress that nothing has been read for,
// or with --plan of all. A note with an error has none.
func tellPlans(c *cobra.Command, x *site.Index, problems *problem.List) error {
	all, err := c.Flags().GetBool("plan")
	if err != nil {
		return nil // the flag is not there: nobody can ask
	}
	wrong := map[string]bool{}
	for _, p := range problems.Sorted() {
		if p.Weight == problem.Error {
			wrong[path.Base(path.Dir(p.Pos.File))] = true
		}
	}
	asked := x.InProgress
	if all {
		asked = slices.Concat(x.InProgress, x.Trials)
	}
	for _, card := range asked {
		if wrong[card.Slug] {
			continue
		}
		e, err := x.Open(card)
		if err != nil {
			return err
		}
		if all || !planning.Cooked(e.Trial) {
			tellPlan(c.OutOrStdout(), planning.Of(e.Trial, ""))
		}
	}
	return nil
}

// tellPlan prints what a trial can show, what it takes, and in which order to cook.
func tellPlan(w io.Writer, p *planning.Plan) {
	fmt.Fprintf(w, "\nthe plan of %s\n", p.Trial.Slug)
	for i := range p.Samples {
		s := &p.Samples[i]
		made := counted(s.Pieces, "piece")
		if s.Batches > 1 {
			made = fmt.Sprintf("%d batches of %s", s.Batches, made)
		}
		if s.Control {
			made += ", the control"
		}
		if s.TakenFrom != nil {
			made += ", of the dough of " + s.TakenFrom.Name
		}
		fmt.Fprintf(w, "  %s  %s: %s\n", s.Letter, s.Name, made)
	}
	tellReach(w, p)
	tellShopping(w, p)
	if len(p.Samples) > 1 {
		fmt.Fprintln(w, "cook in this order, so that the same one is not always the first")
		for batch, order := range p.Orders {
			text := strings.Join(letters(order), ", ")
			if p.Batches > 1 {
				text = fmt.Sprintf("batch %d: %s", batch+1, text)
			}
			fmt.Fprintln(w, "  "+text)
		}
	}
}

func letters(samples []planning.Sample) []string {
	var all []string
	for _, s := range samples {
		all = append(all, s.Letter)
	}
	return all
}

// tellReach prints the contrasts, and of those that are evidence what they could show.
func tellReach(w io.Writer, p *planning.Plan) {
	if len(p.Contrasts) == 0 {
		fmt.Fprintln(w, "what it can show: nothing, with one sample only")
		return
	}
	fmt.Fprintln(w, "what it can show")
	pieces := false
	for _, c := range p.Contrasts {
		var factors []string
		for _, d := range append(c.Planned, c.Unplanned...) {
			factors = append(factors, d.Factor.Name)
		}
		pair := c.Of.Letter + " against " + c.Against.Letter
		switch {
		case len(factors) == 0:
			fmt.Fprintf(w, "  %s: nothing differs\n", pair)
		case len(factors) > 1:
			fmt.Fprintf(w, "  %s: %s differ, so nothing can be put down to one of them (confounded)\n", pair, listed(factors))
		default:
			fmt.Fprintf(w, "  %s: one thing differs (%s), so what comes out is evidence about it\n", pair, factors[0])
		}
		for _, line := range reachLines(c.Reach) {
			fmt.Fprintln(w, "    "+line)
		}
		for _, r := range c.Reach {
			pieces = pieces || r.Unit == findings.OfPiece
		}
	}
	if pieces {
		fmt.Fprintf(w, "  One batch of each speaks of these batches. About the recipe, a difference can show from %d batches\n"+
			"  of each on, made side by side.\n", p.LeastPairs)
	}
}

// reachLines says what each measure could show; measures with the same answer share a
// line.
func reachLines(all []planning.Reach) []string {
	var names, words []string
	for _, r := range all {
		name, text := r.Measure.Name, reachWords(r)
		if r.Measure.Primary {
			name += " (primary)"
		}
		n := len(words) - 1
		if n >= 0 && words[n] == text {
			names[n] += ", " + name
			continue
		}
		names, words = append(names, name), append(words, text)
	}
	for i := range words {
		words[i] = names[i] + ": " + words[i]
	}
	return words
}

// reachWords says, of one measure, what could show and what it would take.
func reachWords(r planning.Reach) string {
	unit := reachUnit(r)
	with := "with " + several(r.Of, unit)
	if !r.Paired && r.Scale != planning.ByPanel {
		with += fmt.Sprintf(" against %d", r.Against)
	}
	const chance = "has a good chance (80 of 100) to show"
	var text, worth string
	switch r.Scale {
	case planning.ByShare:
		text, worth = fmt.Sprintf("only a gap like all against %s %s", tenths(r.Smallest), chance), "all against half takes"
	case planning.ByScatter:
		text = fmt.Sprintf("only a difference of %s times the scatter of %s %s", upTenth(r.Smallest), scatterOf(r), chance)
		worth = "one as wide as the scatter takes"
	case planning.ByPanel:
		can := "can really tell"
		if r.Measure.Kind == trial.PairedPreference {
			can = "prefer the same one"
		}
		text = fmt.Sprintf("there is a good chance (80 of 100) only if %d in 10 %s", int(math.Ceil(10*r.Smallest-1e-9)), can)
		worth = "where half can, it takes"
	case planning.ByOrder:
		if !r.Never {
			return with + " a difference can show, if nearly all say the same"
		}
	}
	if r.Never {
		text = "no difference, however wide, can show"
	}
	if r.Scale == planning.ByOrder {
		worth = "that takes"
	}
	return with + " " + text + "; " + worth + " " + takes(r, unit)
}

func reachUnit(r planning.Reach) string {
	switch {
	case r.Unit == findings.OfBatch && r.Paired:
		return "pair of batches"
	case r.Unit == findings.OfBatch:
		return "batch"
	case r.Unit == findings.OfAssessor:
		return "taster"
	case r.Unit == findings.OfSet:
		return "answer"
	}
	return "piece"
}

// several says "1 batch", "2 pairs of batches".
func several(n int, unit string) string {
	switch {
	case n == 1 || unit != "batch" && unit != "pair of batches":
		return counted(n, unit)
	case unit == "batch":
		return fmt.Sprintf("%d batches", n)
	}
	return fmt.Sprintf("%d pairs of batches", n)
}

// takes says the number that is needed.
func takes(r planning.Reach, unit string) string {
	switch {
	case r.Needed == 0:
		return "more than anybody cooks"
	case r.Paired || r.Scale == planning.ByPanel:
		return several(r.Needed, unit)
	}
	return fmt.Sprintf("%d of each", r.Needed)
}

// scatterOf says what the scatter is of.
func scatterOf(r planning.Reach) string {
	switch {
	case r.Unit == findings.OfAssessor:
		return "what tasters say of the two"
	case r.Unit == findings.OfBatch && r.Paired:
		return "the differences of the pairs"
	case r.Unit == findings.OfBatch:
		return "batches"
	}
	return "pieces"
}

// tenths says a share from below: what is no better than so many in ten.
func tenths(share float64) string {
	if n := int(math.Floor(10*share + 1e-9)); n > 0 {
		return fmt.Sprintf("%d in 10", n)
	}
	return "hardly any"
}

// upTenth rounds up to a tenth.
func upTenth(x float64) string { return fmt.Sprintf("%.1f", math.Ceil(10*x-1e-9)/10) }

// tellShopping prints what all doughs of all samples take.
func tellShopping(w io.Writer, p *planning.Plan) {
	if len(p.Shopping) == 0 {
		return
	}
	fmt.Fprintln(w, "shopping list, for all samples and batches")
	width := 0
	for _, line := range p.Shopping {
		width = max(width, utf8.RuneCountInString(line.Food))
	}
	for _, line := range p.Shopping {
		gap := strings.Repeat(" ", width-utf8.RuneCountInString(line.Food)+2)
		fmt.Fprintln(w, "  "+line.Food+gap+shoppingText(p, line))
	}
}

func shoppingText(p *planning.Plan, line planning.Line) string {
	k := p.Trial.Kitchen
	var parts []string
	for _, buy := range line.ToBuy(k.Instruments, k.Units[0]) {
		text := buy.Shown.Text
		if buy.Shown.About {
			text = "about " + text
		}
		if buy.Whole {
			text += " whole (" + buy.Used + " used)"
		}
		parts = append(parts, text)
	}
	if line.ToTaste {
		parts = append(parts, "to taste")
	}
	text := strings.Join(parts, " and ")
	if line.Beside {
		text += ", with what is used beside the dough"
	}
	if len(line.Samples) > 0 {
		var takers []string
		for _, s := range line.Samples {
			takers = append(takers, s.Letter)
		}
		text += ", for " + listed(takers)
	}
	return text
}

// listed says "a", "a and b", "a, b and c".
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}
