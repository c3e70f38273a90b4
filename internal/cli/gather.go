package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/draft"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// gathering is how gather was called.
type gathering struct {
	content, from string
	agreed, alike bool
	trial         *trial.Trial
}

// sent is one file that a viewer sent.
type sent struct {
	file string // as the user named it
	log  trial.HomeLog
	key  string // "household-3", once it has one
}

func gather() *cobra.Command {
	var g gathering
	c := &cobra.Command{
		Use:   "gather TRIAL FILES...",
		Short: "Take in what viewers sent who repeated a trial",
		Long: `gather takes in logs of people who repeated a trial at home: the blank CSV of its
page to repeat it, filled in, or what that page saved. Each file is one household.
A spreadsheet's commas, semicolons and tabs will do, and so will a workbook (.xlsx).

Every mistake is named by file, line and column, and with one nothing is written. A
file whose readings were gathered already is refused; --alike takes it all the same,
for two households can see the same.

What is kept is anonymous: sample, batch, piece and readings, as
TRIAL/replications/household-1.csv and so on. Remarks, reasons in words, file names and
whatever else the sender wrote are not. Only with --agreed and --from, if the sender
agreed to be published by that name, the remarks stay and the name is written into
replications/people.yaml. Whoever wants to be taken out again is, when these lines and
files are deleted.

The write-up then shows every household beside the kitchen, and adds them up where that
is sound. Logs of tastings are not taken: who tasted at home is not known.`,
		Example: `  sidebatch gather rested-oat-batter inbox/*.csv
  sidebatch gather rested-oat-batter inbox/pieces.xlsx --from "Ada Fenn" --agreed`,
		Args: cobra.MinimumNArgs(2),
		RunE: func(c *cobra.Command, args []string) error {
			if err := g.check(args[1:], c.Flags().Changed("from")); err != nil {
				return exit{WrongUsage, err}
			}
			t, err := readTrialFor(c, places{content: g.content}, args[0], false)
			if err != nil {
				return err
			}
			g.trial = t
			all, err := g.read(args[1:], c.ErrOrStderr())
			if err != nil {
				return err
			}
			if err := g.keep(all); err != nil {
				return err
			}
			g.tell(all, c.OutOrStdout())
			return nil
		},
	}
	f := c.Flags()
	f.StringVar(&g.content, "content", "content", "the folder with the kitchen and its trials")
	f.StringVar(&g.from, "from", "", "the name of the sender, who agreed to be named")
	f.BoolVar(&g.agreed, "agreed", false, "the sender agreed that name and remarks are published")
	f.BoolVar(&g.alike, "alike", false, "take a file although one with the same readings was gathered")
	return c
}

// check says what is wrong with how names were given.
func (g gathering) check(files []string, named bool) error {
	switch {
	case named && !g.agreed:
		return errors.New("a name is published only where its owner agreed to that: ask, and then say --agreed, or leave --from out")
	case g.agreed && strings.TrimSpace(g.from) == "":
		return errors.New(`who agreed? (--from "Ada Fenn" --agreed; without both the file is taken in anonymously)`)
	case g.agreed && len(files) > 1:
		return fmt.Errorf("--from names one household, and there are %s (gather them one by one)", counted(len(files), "file"))
	case strings.ContainsFunc(g.from, unicode.IsControl), len([]rune(g.from)) > 200:
		return errors.New("--from is no name (one line, up to 200 characters)")
	}
	return nil
}

// read reads all files, prints what is wrong, and stops where there is an error.
func (g gathering) read(files []string, stderr io.Writer) ([]sent, error) {
	var problems problem.List
	var all []sent
	for _, file := range files {
		shown := filepath.ToSlash(file)
		data, err := readFile(file, "a log that a viewer sent")
		if err != nil {
			return nil, err
		}
		before := problems.Errors()
		s := sent{file: shown, log: g.trial.ReadHome(shown, data, &problems)}
		if problems.Errors() > before {
			continue
		}
		if as := g.known(s, all); as != "" {
			problems.Hinted(problem.Pos{File: shown}, problem.DoubledPiece, "if another household saw the very same, say --alike",
				"these readings are %s", as)
			continue
		}
		all = append(all, s)
	}
	colours := inkFor(stderr)
	for _, p := range problems.Sorted() {
		fmt.Fprintln(stderr, colours.problem(p))
	}
	if n := problems.Errors(); n > 0 {
		return nil, exit{WrongNotes, fmt.Errorf("%s: nothing was written", counted(n, "error"))}
	}
	return all, nil
}

// known says where the readings of a file stand already, or is empty.
func (g gathering) known(s sent, before []sent) string {
	if g.alike {
		return ""
	}
	if s.log.SameAs(g.trial.Pieces) {
		return "the kitchen's own, which are no repeat"
	}
	for _, r := range g.trial.Replications {
		if s.log.SameAs(r.Pieces) {
			return "gathered already, as " + r.Key
		}
	}
	for _, other := range before {
		if s.log.SameAs(other.log.Pieces) {
			return "those of " + other.file + " as well"
		}
	}
	return ""
}

// keep writes the logs under the next numbers that are free, and the name, if one was
// given, into the file of names: all of them or none.
func (g gathering) keep(all []sent) error {
	folder := filepath.Join(g.content, g.trial.Slug, trial.ReplicationsFolder)
	if err := g.staysInside(); err != nil {
		return err
	}
	next, err := nextHousehold(folder)
	if err != nil {
		return err
	}
	var files []newFile
	for i := range all {
		s := &all[i]
		s.key = trial.HouseholdKey(next + i)
		files = append(files, newFile{filepath.Join(g.content, g.trial.Slug, filepath.FromSlash(trial.HouseholdFile(s.key))), s.log.CSV(g.agreed)})
	}
	people, err := g.people(filepath.Join(folder, trial.PeopleFile), all)
	if err != nil {
		return err
	}
	if err := writeNew(files); err != nil {
		return err
	}
	if err := swapFiles(people); err != nil {
		for _, f := range files {
			removeOwn(f.path)
		}
		return err
	}
	return nil
}

// staysInside refuses a folder for the logs that a link leads out of the kitchen: what is
// written there would lie where nothing reads it, in a folder that is somebody else's.
func (g gathering) staysInside() error {
	root, err := os.OpenRoot(g.content)
	if err != nil {
		return exit{CouldNotRun, bare(g.content, err)}
	}
	defer root.Close()
	folder := filepath.Join(g.trial.Slug, trial.ReplicationsFolder)
	info, err := root.Stat(folder)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err == nil && !info.IsDir():
		err = errors.New("is not a folder")
	}
	if err != nil {
		return exit{CouldNotRun, bare(filepath.Join(g.content, folder), err)}
	}
	return nil
}

// nextHousehold is a number above those of all households that lie there.
func nextHousehold(folder string) (int, error) {
	entries, err := os.ReadDir(folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return 0, exit{CouldNotRun, bare(folder, err)}
	}
	last := 0
	for _, e := range entries {
		last = max(last, trial.HouseholdNumber(strings.ToLower(e.Name())))
	}
	return last + 1, nil
}

// people is the file of names with the sender's, where there is one.
func (g gathering) people(path string, all []sent) ([]newFile, error) {
	if !g.agreed {
		return nil, nil
	}
	standing, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, exit{CouldNotRun, bare(path, err)}
	}
	data, err := draft.Named(standing, all[0].key, strings.TrimSpace(g.from))
	if err != nil {
		return nil, exit{CouldNotRun, bare(path, err)}
	}
	return []newFile{{path, data}}, nil
}

// tell says what was taken, and what to do next.
func (g gathering) tell(all []sent, stdout io.Writer) {
	for _, s := range all {
		shown := filepath.ToSlash(filepath.Join(g.content, g.trial.Slug, filepath.FromSlash(trial.HouseholdFile(s.key))))
		fmt.Fprintf(stdout, "wrote %s: %s of %s\n", shown, counted(len(s.log.Pieces), "piece"), s.file)
		var samples []string
		aside := 0
		for _, sample := range g.trial.Samples {
			n := 0
			for _, p := range s.log.Pieces {
				if p.Sample == sample.Key {
					n++
					aside += setAside(p, g.trial)
				}
			}
			samples = append(samples, fmt.Sprintf("%s %d", sample.Key, n))
		}
		fmt.Fprintf(stdout, "  by sample: %s; %s set aside\n", strings.Join(samples, ", "), counted(aside, "reading"))
		if lacks := s.log.LacksColumns(); len(lacks) > 0 {
			fmt.Fprintf(stdout, "  nothing was read of %s\n", strings.Join(lacks, ", "))
		}
		if g.agreed {
			fmt.Fprintf(stdout, "  by the name of %s, remarks and all: look through them before you publish\n", strings.TrimSpace(g.from))
		}
	}
	fmt.Fprintf(stdout, "next: sidebatch audit, and sidebatch preview to see %s beside the kitchen\n", counted(len(g.trial.Replications)+len(all), "household"))
}

// setAside counts the readings of a piece that are set aside, without sums.
func setAside(p trial.Piece, t *trial.Trial) int {
	n := 0
	for name, r := range p.Readings {
		if m := t.Measure(name); r.SetAside != "" && !r.Missing && m != nil && m.Source != trial.OfParts {
			n++
		}
	}
	return n
}
