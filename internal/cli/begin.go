package cli

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/draft"
	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/planning"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/site"
	"sidebatch.example/sidebatch/internal/trial"
)

// newTrial is how begin was called.
type newTrial struct {
	content, like                           string
	title, question, by                     string
	recipeName, makes, amountsFor, testedAt string
	ingredients, flours, beside, steps      []string
	conditions, changes                     []string
	samples, measures, primary              string
	pieces, batches, assessors              int
	apart                                   bool
}

func begin() *cobra.Command {
	var b newTrial
	c := &cobra.Command{
		Use:   "begin NAME",
		Short: "Start a new trial: its note and its blank logs",
		Long: `begin starts a trial in a new folder NAME (small letters, digits and hyphens): a
note full of comments that say what goes where, and logs with their heading and a
row for every piece, taster and set. Then it says what the trial can show with so
many pieces, what to buy, and in which order to cook.

In a terminal it asks for what no flag says. In a script the flags say it all:
--title, --question, a recipe (--recipe-name and --ingredient, or --like), --change
and, without --like, --measures.

--like TRIAL takes recipe, conditions and measures from an earlier note as they are
written there, comments and all.

--change "rest: 30 min" makes a sample in which that one thing is changed; every
further one makes another. --change "rested: rest = 30 min" names the sample, changes
go on with "; pan = steel", and "rested and hot: like rested" starts one from another.
An ingredient that becomes none is left out. A condition that is changed needs its
ordinary value: --condition "rest: 0 min".

--measures takes ready-made sets, single measures and your own, parted by commas:
` + setsHelp(),
		Example: `  sidebatch begin rested-crepes
  sidebatch begin rested-crepes --title "Should a crepe batter rest?" \
      --question "Do crepes of a rested batter tear less?" \
      --recipe-name Crepes --makes "8 crepes" --ingredient "flour: 125 g all-purpose flour" \
      --ingredient "milk: 250 g whole milk" --ingredient "eggs: 2 eggs" \
      --condition "rest: 0 min" --change "rest: 30 min" --measures griddle,tasting --pieces 8
  sidebatch begin saltier-oats --like rested-oat-batter --title "More salt?" \
      --question "Does anybody notice?" --change "salt: 1 1/2 tsp table salt" --batches 3`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error { return b.run(c, args[0]) },
	}
	f := c.Flags()
	f.StringVar(&b.content, "content", "content", "the folder with the kitchen and its trials")
	f.StringVar(&b.title, "title", "", "the title of the write-up")
	f.StringVar(&b.question, "question", "", "what the trial is to answer")
	f.StringVar(&b.by, "by", "", "who cooks, by their short names, parted by commas")
	f.StringVar(&b.like, "like", "", "an earlier trial, whose recipe, conditions and measures are taken")
	f.StringVar(&b.recipeName, "recipe-name", "", "what the recipe is called")
	f.StringVar(&b.makes, "makes", "", `what the full batch makes: "12 pancakes"`)
	f.StringVar(&b.amountsFor, "amounts-for", "", `the size that the amounts are for: "half batch" (default full batch)`)
	f.StringVar(&b.testedAt, "tested-at", "", "the size that each sample is made at (default that of the amounts)")
	f.StringArrayVar(&b.ingredients, "ingredient", nil, `role: amount, unit and food: "flour: 300 g all-purpose flour"`)
	f.StringSliceVar(&b.flours, "flours", nil, "roles that together are 100 % in baker's percentages")
	f.StringSliceVar(&b.beside, "beside", nil, "roles used beside the dough, as oil for the pan")
	f.StringArrayVar(&b.steps, "step", nil, "a step of the recipe; it quotes a condition as {rest}")
	f.StringArrayVar(&b.conditions, "condition", nil, `a setting and its value: "rest: 30 min"`)
	f.StringArrayVar(&b.changes, "change", nil, `what differs: "rest: 60 min", or "rested: rest = 60 min"`)
	f.StringVar(&b.samples, "samples", "", "their names parted by commas, the control first, or how many")
	f.IntVar(&b.pieces, "pieces", 0, "pieces of one batch of a sample (default as --like, or 6)")
	f.IntVar(&b.batches, "batches", 1, "how many batches of every sample are made")
	f.BoolVar(&b.apart, "apart", false, "batches are made each for itself, and not batch 1 of every sample in one session")
	f.IntVar(&b.assessors, "assessors", 8, "how many taste")
	f.StringVar(&b.measures, "measures", "", "sets of measures and single ones, parted by commas")
	f.StringVar(&b.primary, "primary", "", "the measure that the question turns on")
	return c
}

// setsHelp lists the ready-made measures.
func setsHelp() string {
	var b strings.Builder
	inSets := map[string]bool{}
	for _, set := range draft.Sets() {
		fmt.Fprintf(&b, "  %-12s %s\n", set.Name, strings.Join(set.Measures, ", "))
		for _, name := range set.Measures {
			inSets[name] = true
		}
	}
	var single []string
	for _, name := range draft.Measures() {
		if !inSets[name] {
			single = append(single, name)
		}
	}
	half := len(single) / 2
	fmt.Fprintf(&b, "  %-12s %s,\n  %-12s %s\n", "single ones", strings.Join(single[:half], ", "), "", strings.Join(single[half:], ", "))
	fmt.Fprintf(&b, "  %-12s %s", "your own", `"crumb: yes or no", "rise: length in mm", "sour: score"`)
	return b.String()
}

func (b *newTrial) run(c *cobra.Command, slug string) error {
	if !site.IsSlug(slug) {
		return exit{WrongUsage, badSlug(slug)}
	}
	source, err := open(b.content, "")
	if err != nil {
		return exit{CouldNotRun, fmt.Errorf("%w; sidebatch setup DIR lays one out", err)}
	}
	defer source.Close()
	folder := filepath.Join(b.content, slug)
	if _, err := os.Lstat(folder); err == nil {
		return exit{WrongUsage, fmt.Errorf("nothing was written: %s is there already (choose another name)", filepath.ToSlash(folder))}
	}
	var problems problem.List
	k := source.kitchen(&problems)
	if err := tellErrors(c.ErrOrStderr(), &problems); err != nil {
		return err
	}
	w, err := b.wish(slug, func(p problem.Problem) { fmt.Fprintln(c.ErrOrStderr(), p) })
	if err != nil {
		return err
	}
	if len(missing(w)) > 0 && isTerminal(c.InOrStdin()) {
		t := talk{asker: asker{bufio.NewReader(c.InOrStdin()), c.ErrOrStderr()}, wish: &w, batches: c.Flags().Changed("batches"), kitchen: k,
			earlier: func(name string) (*draft.Earlier, error) {
				return b.earlier(name, quoted(name), func(problem.Problem) {})
			},
			trials: trialsOf(source.FS)}
		if err := t.all(); err != nil {
			return exit{WrongUsage, err}
		}
	}
	if missing := missing(w); len(missing) > 0 {
		return exit{WrongUsage, fmt.Errorf("nothing was written: %s needed (in a terminal, begin asks for it)", needs(missing))}
	}
	d, mistakes := draft.Begin(w, k)
	if len(mistakes) > 0 {
		return exit{WrongUsage, fmt.Errorf("nothing was written:\n%w", joined(mistakes))}
	}
	return b.write(c, folder, d)
}

// write writes the draft, and says what it can show and what comes next.
func (b *newTrial) write(c *cobra.Command, folder string, d draft.Draft) error {
	var files []newFile
	for _, f := range d.Files {
		files = append(files, newFile{filepath.Join(folder, f.Name), f.Data})
	}
	if err := writeNew(files); err != nil {
		return err
	}
	out := c.OutOrStdout()
	for _, f := range files {
		fmt.Fprintf(out, "wrote %s\n", filepath.ToSlash(f.path))
	}
	t, err := readTrial(places{content: b.content}, d.Trial.Slug, func(p problem.Problem) { fmt.Fprintln(c.ErrOrStderr(), p) })
	if err != nil {
		return err
	}
	p := planning.Of(t, "")
	tellPlan(out, p)
	b.next(out, p, len(d.Files))
	return nil
}

func (b *newTrial) next(w io.Writer, p *planning.Plan, files int) {
	t := p.Trial
	more := ""
	if b.content != "content" {
		more = " --content " + filepath.ToSlash(b.content)
	}
	folder := filepath.ToSlash(filepath.Join(b.content, t.Slug))
	sheet := more
	if p.Batches > 1 {
		sheet += " --batches " + strconv.Itoa(p.Batches)
	}
	fmt.Fprintf(w, "\nnext\n  look through %s/%s: what stands behind a # is yours to fill in\n", folder, trial.NoteFile)
	fmt.Fprintf(w, "  sidebatch audit%s\n  sidebatch sheet %s%s --out %s.html\n", more, t.Slug, sheet, t.Slug)
	for _, m := range t.Measures {
		if m.Source == trial.OfTasting || m.Source == trial.OfSets {
			fmt.Fprintf(w, "  sidebatch tasting %s%s --assessors %d --out %s-tasting\n", t.Slug, more, b.assessors, t.Slug)
			break
		}
	}
	if files > 1 {
		fmt.Fprintf(w, "  cook, and write the readings into the logs in %s\n", folder)
	}
}

// wish is what the flags say.
func (b *newTrial) wish(slug string, tell func(problem.Problem)) (draft.Wish, error) {
	w := draft.Wish{
		Slug: slug, Title: said("title", b.title), Question: said("question", b.question), By: split("by", b.by),
		Recipe: draft.Recipe{
			Name: said("recipe-name", b.recipeName), Makes: said("makes", b.makes),
			AmountsFor: said("amounts-for", b.amountsFor), TestedAt: said("tested-at", b.testedAt),
			Ingredients: saidAll("ingredient", b.ingredients), Steps: saidAll("step", b.steps),
			Flours: saidAll("flours", b.flours), Beside: saidAll("beside", b.beside),
		},
		Conditions: saidAll("condition", b.conditions), Changes: saidAll("change", b.changes),
		Samples: said("samples", b.samples), Measures: split("measures", b.measures), Primary: said("primary", b.primary),
		Pieces: b.pieces, Batches: b.batches, Assessors: b.assessors, Apart: b.apart,
	}
	for flag, n := range map[string]int{"batches": b.batches, "assessors": b.assessors} {
		if n < 1 {
			return w, exit{WrongUsage, fmt.Errorf("nothing was written: --%s %d (1 or more)", flag, n)}
		}
	}
	if b.like == "" {
		return w, nil
	}
	var err error
	w.Like, err = b.earlier(b.like, "--like "+b.like, tell)
	return w, err
}

func (b *newTrial) earlier(name, from string, tell func(problem.Problem)) (*draft.Earlier, error) {
	t, err := readTrial(places{content: b.content}, name, tell)
	if err != nil {
		return nil, err
	}
	return &draft.Earlier{Trial: t, From: from}, nil
}

func said(flag, text string) draft.Said {
	return draft.Said{Text: strings.TrimSpace(text), From: "--" + flag + " " + strconv.Quote(text)}
}

func saidAll(flag string, texts []string) []draft.Said {
	var all []draft.Said
	for _, text := range texts {
		all = append(all, said(flag, text))
	}
	return all
}

func split(flag, text string) []draft.Said {
	var all []draft.Said
	for part := range strings.SplitSeq(text, ",") {
		if part = strings.TrimSpace(part); part != "" {
			all = append(all, said(flag, part))
		}
	}
	return all
}

// missing names the flags that a trial cannot be begun without.
func missing(w draft.Wish) []string {
	var flags []string
	need := func(has bool, flag string) {
		if !has {
			flags = append(flags, flag)
		}
	}
	need(w.Title.Text != "", "--title")
	need(w.Question.Text != "", "--question")
	switch {
	case w.Like != nil:
	case w.Recipe.Name.Text == "" && len(w.Recipe.Ingredients) == 0:
		flags = append(flags, "--like, or --recipe-name and --ingredient")
	default:
		need(w.Recipe.Name.Text != "", "--recipe-name")
		need(len(w.Recipe.Ingredients) > 0, "--ingredient")
	}
	need(len(w.Changes) > 0 || w.Samples.Text != "", "--change")
	need(w.Like != nil || len(w.Measures) > 0, "--measures")
	return flags
}

func needs(flags []string) string {
	if len(flags) == 1 {
		return flags[0] + " is"
	}
	return strings.Join(flags, "; ") + " are"
}

func joined(mistakes []draft.Mistake) error {
	var all []error
	for _, m := range mistakes {
		all = append(all, fmt.Errorf("  %w", m))
	}
	return errors.Join(all...)
}

// tellErrors prints the errors of a kitchen file; with any it cannot be relied on.
func tellErrors(w io.Writer, problems *problem.List) error {
	for _, p := range problems.Sorted() {
		if p.Weight == problem.Error {
			fmt.Fprintln(w, p)
		}
	}
	if n := problems.Errors(); n > 0 {
		return exit{WrongNotes, fmt.Errorf("%s in %s: nothing was written", counted(n, "error"), kitchen.File)}
	}
	return nil
}

var notInSlugs = regexp.MustCompile(`[^a-z0-9]+`)

// badSlug says what a folder cannot be called, and what was probably meant.
func badSlug(name string) error {
	meant := strings.Trim(notInSlugs.ReplaceAllString(strings.ToLower(name), "-"), "-")
	if meant != name && site.IsSlug(meant) {
		return fmt.Errorf("a trial's folder cannot be called %q (did you mean %s?)", name, meant)
	}
	return fmt.Errorf("a trial's folder cannot be called %q (use small letters, digits and hyphens, and no name of the site's own pages)", name)
}

// trialsOf are the trials of a kitchen, by their folders.
func trialsOf(content fs.FS) []string {
	notes, _ := fs.Glob(content, "*/"+trial.NoteFile)
	for i, note := range notes {
		notes[i] = strings.TrimSuffix(note, "/"+trial.NoteFile)
	}
	return notes
}

func quoted(text string) string { return strconv.Quote(text) }
