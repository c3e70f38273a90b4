package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/bench"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// Files of a tasting in its folder. What tells the codes lies in a folder of its own,
// so that it can be kept from those who taste.
const (
	ballotsPage = "ballots.html"
	ballotsFile = "ballots.csv"
	pouringPage = "for-whoever-pours/pouring-list.html"
	keyFile     = "for-whoever-pours/key.csv"
)

// sitting is how tasting was called.
type sitting struct {
	content, out, theme string
	read, key           string
	seed                int
	replace             bool
	panel               bench.Panel
}

func tasting() *cobra.Command {
	var s sitting
	c := &cobra.Command{
		Use:   "tasting TRIAL",
		Short: "Make the ballots of a blind tasting, and read them back",
		Long: `tasting draws three-digit codes and serving orders for what a trial tastes, and
writes into a folder: ballots.html, one ballot for each assessor, to print;
ballots.csv, to type them into; and in a folder for whoever pours, the pouring
list and the key. Nobody who tastes may see those two.

The orders of what is scored or ranked are balanced for place and for the sample
before; those of triangle and other tests over all their arrangements. A 2-AFC or
3-AFC takes the second sample under compares to be the one that has more.

The draw depends on the trial's name and --seed alone. tasting prints how even
the orders are, and how many assessors are needed for what.

Type the filled-in ballots into ballots.csv (semicolons will do, and so will a
workbook): a score or rank under its measure, the code that was ticked under picked;
what was left out on purpose has a word under note.

With --read it reads filled-in ballots, turns codes into samples by the key, and
writes tasting.csv and the logs of the tests into the trial's folder. When anything
is wrong with the ballots it writes nothing. A log with other readings stays as it
is, unless --replace says otherwise.`,
		Example: `  sidebatch tasting oat-biscuits-chilled --assessors 12
  sidebatch tasting oat-biscuits-chilled --assessors 12 --seed 7 --out friday
  sidebatch tasting oat-biscuits-chilled --read friday/ballots.csv`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			t, err := readTrialFor(c, places{content: s.content, theme: s.theme}, args[0], false)
			if err != nil {
				return err
			}
			if s.read != "" {
				return s.readBack(t, c.OutOrStdout(), c.ErrOrStderr())
			}
			if !c.Flags().Changed("assessors") {
				return exit{WrongUsage, errors.New("how many taste? (--assessors 12)")}
			}
			return s.lay(t, c.OutOrStdout())
		},
	}
	f := c.Flags()
	f.StringVar(&s.content, "content", "content", "the folder with the kitchen and its trials")
	f.IntVar(&s.panel.Assessors, "assessors", 0, "how many taste")
	f.IntVar(&s.panel.Sets, "sets", 1, "sets of every sensory test before each assessor")
	f.IntVar(&s.seed, "seed", 1, "draw other codes and orders")
	f.BoolVar(&s.panel.Constant, "constant-reference", false, "of a duo-trio, always take the first sample as the reference")
	f.StringVar(&s.out, "out", "", "the folder to write (default tasting-TRIAL)")
	f.StringVar(&s.theme, "theme", "", "a theme folder, instead of the kitchen's own choice")
	f.StringVar(&s.read, "read", "", "read these filled-in ballots")
	f.StringVar(&s.key, "key", "", "the key of those ballots (default: in the folder beside them)")
	f.BoolVar(&s.replace, "replace", false, "with --read, write over logs that hold other readings")
	c.MarkFlagsMutuallyExclusive("read", "assessors")
	c.MarkFlagsMutuallyExclusive("read", "out")
	return c
}

// lay draws a tasting and writes its files.
func (s sitting) lay(t *trial.Trial, stdout io.Writer) error {
	s.panel.Seed = strconv.Itoa(s.seed)
	laid, err := bench.Lay(t, s.panel)
	if err != nil {
		return exit{WrongUsage, err}
	}
	needs, err := bench.Needs(t, s.panel)
	if err != nil {
		return err
	}
	files, err := s.files(t, laid)
	if err != nil {
		return err
	}
	if err := writeNew(files); err != nil {
		return err
	}
	for _, f := range files {
		fmt.Fprintln(stdout, "wrote", filepath.ToSlash(f.path))
	}
	fmt.Fprintf(stdout, "%s for %s; seed %s\n", counted(len(laid.Cups), "cup"), counted(s.panel.Assessors, "assessor"), s.panel.Seed)
	for _, line := range append(laid.Evenness(t, s.panel), needs...) {
		fmt.Fprintln(stdout, line)
	}
	return nil
}

func (s sitting) files(t *trial.Trial, laid *bench.Tasting) ([]newFile, error) {
	renderer, err := pages(s.theme, s.content, t)
	if err != nil {
		return nil, err
	}
	f := findings.Of(t)
	ballots := laid.Ballots(f)
	ballots.Frame = alone(t, ballots.Frame.Title)
	forTasters, err := renderer.Ballots(ballots)
	if err != nil {
		return nil, err
	}
	list := laid.PouringList(f, s.panel)
	list.Frame = alone(t, list.Frame.Title)
	forPourers, err := renderer.PouringList(list)
	if err != nil {
		return nil, err
	}
	folder := s.out
	if folder == "" {
		folder = "tasting-" + t.Slug
	}
	return []newFile{
		{filepath.Join(folder, ballotsPage), forTasters},
		{filepath.Join(folder, ballotsFile), laid.BallotsCSV(t)},
		{filepath.Join(folder, filepath.FromSlash(pouringPage)), forPourers},
		{filepath.Join(folder, filepath.FromSlash(keyFile)), laid.KeyCSV()},
	}, nil
}

// readBack turns filled-in ballots into logs.
func (s sitting) readBack(t *trial.Trial, stdout, stderr io.Writer) error {
	key := s.key
	if key == "" {
		key = filepath.Join(filepath.Dir(s.read), filepath.FromSlash(keyFile))
	}
	var problems problem.List
	var returned bench.Returned
	keyData, err := readFile(key, "the key of the tasting, which --key names")
	if err != nil {
		return err
	}
	data, err := readFile(s.read, "the filled-in ballots")
	if err != nil {
		return err
	}
	laid := bench.ReadKey(t, filepath.ToSlash(key), keyData, &problems)
	if problems.Errors() == 0 {
		returned = laid.ReadBallots(t, filepath.ToSlash(s.read), data, &problems)
	}
	for _, p := range problems.Sorted() {
		fmt.Fprintln(stderr, p)
	}
	if n := problems.Errors(); n > 0 {
		return exit{WrongNotes, fmt.Errorf("%s: nothing was written", counted(n, "error"))}
	}
	return s.keep(t, returned, stdout)
}

// keep writes the logs beside the note. None is written when one of them holds other
// readings.
func (s sitting) keep(t *trial.Trial, returned bench.Returned, stdout io.Writer) error {
	var files []newFile
	var said, standing []string
	for _, log := range returned.Logs {
		path := filepath.Join(s.content, t.Slug, log.Name)
		existing, err := os.ReadFile(path)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return exit{CouldNotRun, bare(path, err)}
		}
		held := log.Compare(existing)
		if held == bench.Same {
			said = append(said, fmt.Sprintf("%s holds these rows already", filepath.ToSlash(path)))
			continue
		}
		if held == bench.Other && !s.replace {
			standing = append(standing, filepath.ToSlash(path))
		}
		files = append(files, newFile{path, log.Data})
		said = append(said, fmt.Sprintf("wrote %s: %s", filepath.ToSlash(path), counted(log.Rows, "row")))
	}
	if len(standing) > 0 {
		return exit{CouldNotRun, fmt.Errorf("nothing was written: other readings stand in %s (move them away, or say --replace)",
			strings.Join(standing, ", "))}
	}
	if err := swapFiles(files); err != nil {
		return err
	}
	for _, line := range said {
		fmt.Fprintln(stdout, line)
	}
	if len(returned.Absent) > 0 {
		fmt.Fprintf(stdout, "nothing was handed in by %s\n", strings.Join(returned.Absent, ", "))
	}
	return nil
}
