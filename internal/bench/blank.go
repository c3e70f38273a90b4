package bench

import (
	"fmt"
	"slices"
	"strconv"

	"sidebatch.example/sidebatch/internal/trial"
)

// Run is how much is to be cooked and tasted.
type Run struct {
	Batches   int // of every sample
	Pieces    int // of every batch; 0: as many as the note divides it into
	Assessors int // rows of the tasting log for so many
	Seed      string
}

// Once is one batch of every sample: what somebody who repeats a trial begins with.
func Once() Run { return Run{Batches: 1, Assessors: 8} }

// otherwisePieces is how many pieces a batch has where neither the note nor a log
// says so.
const otherwisePieces = 6

// Check says what is wrong with a run.
func (r Run) Check() error {
	switch {
	case r.Batches < 1 || r.Batches > 50:
		return fmt.Errorf("%d batches (from 1 to 50 fit on sheets)", r.Batches)
	case r.Pieces < 0 || r.Pieces > 100:
		return fmt.Errorf("%d pieces of a batch (from 1 to 100 fit on sheets)", r.Pieces)
	case r.Assessors < 1 || r.Assessors > mostAssessors:
		return fmt.Errorf("%d assessors (from 1 to %d can taste)", r.Assessors, mostAssessors)
	}
	return nil
}

// pieces is how many pieces of a batch a sample has on paper: as planned, as
// in the first batch of the log, or six.
func (r Run) pieces(t *trial.Trial, s *trial.Sample) int {
	if r.Pieces > 0 {
		return r.Pieces
	}
	if s.Weighed.Divided > 0 {
		return s.Weighed.Divided
	}
	n, batch := 0, 0
	for _, p := range t.Pieces {
		if p.Sample != s.Key || (batch > 0 && p.Batch != batch) {
			continue
		}
		batch = p.Batch
		n++
	}
	if n > 0 {
		return n
	}
	return otherwisePieces
}

// piecesHeading is the heading of the log of pieces.
func piecesHeading(t *trial.Trial) []string {
	return slices.Concat([]string{"sample", "batch", "piece"}, names(measuresOf(t, trial.OfPiece)), []string{"set aside", "note"})
}

// BlankLogs are the logs of a trial before anybody has written into them: the
// headings that the reader knows and a row for every piece, by sample, batch and
// piece, and for what is tasted a row for every assessor and sample. A trial without
// such measures has none.
func BlankLogs(t *trial.Trial, r Run) []Log {
	var logs []Log
	if measures := names(measuresOf(t, trial.OfPiece)); len(measures) > 0 {
		var rows [][]string
		for _, s := range t.Samples {
			for batch := range r.Batches {
				for piece := range r.pieces(t, s) {
					row := []string{s.Key, strconv.Itoa(batch + 1), strconv.Itoa(piece + 1)}
					rows = append(rows, append(row, make([]string, len(measures)+2)...))
				}
			}
		}
		logs = append(logs, Log{Name: trial.PiecesFile, Data: table(piecesHeading(t), rows), Rows: len(rows)})
	}
	if measures := names(scoredMeasures(t)); len(measures) > 0 {
		var rows [][]string
		for a := range r.Assessors {
			for _, s := range t.Samples {
				rows = append(rows, append([]string{"A" + strconv.Itoa(a+1), s.Key}, make([]string, len(measures)+1)...))
			}
		}
		heading := slices.Concat([]string{"assessor", "sample"}, measures, []string{"note"})
		logs = append(logs, Log{Name: trial.TastingFile, Data: table(heading, rows), Rows: len(rows)})
	}
	return logs
}
