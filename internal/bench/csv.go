package bench

import (
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/tabular"
	"sidebatch.example/sidebatch/internal/trial"
)

// table writes a table as CSV with line feeds.
func table(heading []string, rows [][]string) []byte { return tabular.Write(heading, rows, tabular.LF) }

// keyHeading are the columns of the key.
func keyHeading() []string {
	return []string{"trial", "assessor", "test", "set", "place", "code", "sample", "right"}
}

// KeyCSV is the key as a file: one row a cup.
func (k *Tasting) KeyCSV() []byte {
	var rows [][]string
	for _, c := range k.Cups {
		right := ""
		if c.Right {
			right = "yes"
		}
		rows = append(rows, []string{k.Trial, c.Assessor, c.Test, numberOr(c.Set), strconv.Itoa(c.Place), c.Code, c.Sample, right})
	}
	return table(keyHeading(), rows)
}

func numberOr(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// ballotHeading are the columns of ballots.csv.
func ballotHeading(t *trial.Trial) []string {
	heading := []string{"assessor", "test", "set", "code"}
	for _, m := range scoredMeasures(t) {
		heading = append(heading, m.Name)
	}
	if len(testMeasures(t)) > 0 {
		heading = append(heading, "picked")
	}
	return append(heading, "note")
}

// BallotsCSV is the file into which the ballots are typed: one row for every set of
// a test, where the picked code goes under picked, then one row for every cup that is
// scored or ranked.
func (k *Tasting) BallotsCSV(t *trial.Trial) []byte {
	heading := ballotHeading(t)
	blank := make([]string, len(heading)-4)
	var rows [][]string
	for _, s := range k.sittings() {
		if s.test != "" {
			rows = append(rows, append([]string{s.assessor, s.test, strconv.Itoa(s.set), strings.Join(s.codes(), " ")}, blank...))
			continue
		}
		for _, c := range s.cups {
			rows = append(rows, append([]string{c.Assessor, "", "", c.Code}, blank...))
		}
	}
	return table(heading, rows)
}
