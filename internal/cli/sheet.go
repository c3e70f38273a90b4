package cli

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/bench"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
)

// sheeting is how sheet was called.
type sheeting struct {
	content, out, csv, theme string
	run                      bench.Run
}

func sheet() *cobra.Command {
	var s sheeting
	c := &cobra.Command{
		Use:   "sheet TRIAL",
		Short: "Print a trial's bench sheet or its empty log",
		Long: `sheet prints the bench sheet of a trial as one HTML file: what to weigh for each
sample at the test size with a blank for what really went in, the steps, and a
grid for the readings. Print it from a browser, on A4 or Letter.

With --csv it prints the empty log instead: the heading that audit reads, and a
row for every piece. --csv=tasting is the log of the tasting.

Without --out it goes to standard output. A file that is there already stays.`,
		Example: `  sidebatch sheet rested-oat-batter --out sheet.html
  sidebatch sheet rested-oat-batter --csv --batches 2 > pieces.csv
  sidebatch sheet oat-biscuits-chilled --csv=tasting --assessors 12 --out tasting.csv`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			if err := s.run.Check(); err != nil {
				return exit{WrongUsage, err}
			}
			t, err := readTrialFor(c, places{content: s.content, theme: s.theme}, args[0], false)
			if err != nil {
				return err
			}
			data, err := s.make(t, c.ErrOrStderr())
			if err != nil {
				return err
			}
			if s.out == "" {
				_, err := c.OutOrStdout().Write(data)
				return err
			}
			if err := writeNew([]newFile{{s.out, data}}); err != nil {
				return err
			}
			fmt.Fprintf(c.ErrOrStderr(), "wrote %s\n", filepath.ToSlash(s.out))
			return nil
		},
	}
	f := c.Flags()
	f.StringVar(&s.content, "content", "content", "the folder with the kitchen and its trials")
	f.StringVar(&s.out, "out", "", "the file to write, instead of standard output")
	f.StringVar(&s.csv, "csv", "", "the empty log instead: pieces or tasting")
	f.Lookup("csv").NoOptDefVal = "the log"
	f.StringVar(&s.theme, "theme", "", "a theme folder, instead of the kitchen's own choice")
	f.IntVar(&s.run.Batches, "batches", 1, "how many batches of every sample are made")
	f.IntVar(&s.run.Pieces, "pieces", 0, "pieces of every batch, instead of what the note divides it into")
	f.IntVar(&s.run.Assessors, "assessors", bench.Once().Assessors, "how many taste (for --csv=tasting)")
	f.StringVar(&s.run.Seed, "seed", "", "draw another cooking order")
	return c
}

func (s sheeting) make(t *trial.Trial, stderr io.Writer) ([]byte, error) {
	if s.csv != "" {
		return s.log(t, stderr)
	}
	renderer, err := pages(s.theme, s.content, t)
	if err != nil {
		return nil, err
	}
	v := bench.Sheet(findings.Of(t), s.run)
	v.Frame = alone(t, v.Title)
	return renderer.BenchSheet(v)
}

// log is one of the empty logs of the trial.
func (s sheeting) log(t *trial.Trial, stderr io.Writer) ([]byte, error) {
	logs := bench.BlankLogs(t, s.run)
	if len(logs) == 0 {
		return nil, exit{WrongNotes, fmt.Errorf("the note of %s has no measures, so there is no log", t.Slug)}
	}
	var has []string
	for _, log := range logs {
		name := strings.TrimSuffix(log.Name, ".csv")
		has = append(has, name)
		if s.csv == name || s.csv == log.Name {
			return log.Data, nil
		}
	}
	if s.csv != "the log" {
		return nil, exit{WrongUsage, fmt.Errorf("there is no log %q (there is %s)", s.csv, strings.Join(has, ", "))}
	}
	if len(logs) > 1 {
		fmt.Fprintln(stderr, "there is a log of the tasting too: --csv=tasting")
	}
	return logs[0].Data, nil
}

// pages opens the theme for files that stand alone.
func pages(flag, content string, t *trial.Trial) (*page.Renderer, error) {
	chosen, err := theme(flag, content, t.Kitchen.Theme)
	if err != nil {
		return nil, err
	}
	renderer, err := page.New(chosen)
	if err != nil {
		return nil, exit{CouldNotRun, err}
	}
	return renderer, nil
}

// alone is the frame of a file that stands alone.
func alone(t *trial.Trial, title string) page.Frame {
	return page.Frame{Site: t.Kitchen.Name, Language: t.Kitchen.Language, Title: title, Invented: t.Kitchen.Invented}
}
