package results

import (
	"fmt"
	"path"
	"strings"

	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
)

// logOf says what is known of a log by its name.
func logOf(t *trial.Trial, name string) (sheetLog, error) {
	l := sheetLog{trial: t, name: name, measure: func(column string) *trial.Measure { return measureFrom(t, name, column) }}
	switch {
	case name == "pieces.csv":
		l.about = "One row a piece that was cooked and tested. An empty cell is a reading that nobody took; it is never 0."
		l.columns = map[string]csvColumn{
			"sample":    {Description: sampleWords(t), Required: true},
			"batch":     {Description: "the number of the dough, pot or bowl that the piece is from; empty for the first"},
			"piece":     {Description: "the piece, in the order in which it was made, counted in its batch", Required: true},
			"set aside": {Description: "why the piece, or the readings named before the colon, is in no sum; empty when it counts"},
			"note":      {Description: "a remark"},
		}
		l.key = []string{"sample", "batch", "piece"}
	case name == "tasting.csv":
		l.about = "One row an assessor and sample. An empty cell is a score that nobody gave; it is never 0."
		l.columns = map[string]csvColumn{
			"assessor": {Description: "who tasted", Required: true},
			"sample":   {Description: sampleWords(t), Required: true},
			"note":     {Description: "a remark"},
		}
		l.key = []string{"assessor", "sample"}
	case strings.HasPrefix(name, "probe-") && path.Ext(name) == ".csv":
		l.about = "A thermometer's log: one row a moment. An empty cell is a gap."
		l.columns = map[string]csvColumn{
			"time": {Description: "since the thermometer was started, in s where the cell gives no unit; 1:10 is a minute and ten seconds", Required: true},
			"note": {Description: "a remark"},
		}
		l.key = []string{"time"}
	default:
		return l, l.sets(t, name)
	}
	return l, nil
}

// sets fills in what is known of the log of a discrimination or preference test.
func (l *sheetLog) sets(t *trial.Trial, name string) error {
	for _, m := range t.Measures {
		if m.Source != trial.OfSets || trial.LogName(m.Name) != name {
			continue
		}
		l.about = fmt.Sprintf("One row a set of samples before an assessor, of the %s %q, which compares %s.",
			m.Kind, m.Name, strings.Join(m.Compares, " with "))
		picked := "the code of the sample that the assessor picked; right when it is the odd one"
		if m.Kind == trial.PairedPreference {
			picked = "the sample that the assessor preferred. " + sampleWords(t)
		}
		l.columns = map[string]csvColumn{
			"assessor": {Description: "who tasted", Required: true},
			"set":      {Description: "the set, counted for each assessor", Required: true},
			"odd":      {Description: "the code of the odd sample of the set"},
			"picked":   {Description: picked},
			"note":     {Description: "a remark"},
		}
		l.key = []string{"assessor", "set"}
		return nil
	}
	return fmt.Errorf("%s: no log of the trial is called so", name)
}

// measureFrom returns the measure whose readings stand in a column of a log, or
// nil. Every column of a thermometer's log but its time is one in °C.
func measureFrom(t *trial.Trial, log, column string) *trial.Measure {
	if strings.HasPrefix(log, "probe-") {
		return &trial.Measure{Name: column, Kind: trial.Temperature, In: quantity.Celsius}
	}
	m := t.Measure(column)
	source := map[string]trial.Source{"pieces.csv": trial.OfPiece, "tasting.csv": trial.OfTasting}
	if from, shared := source[log]; m == nil || !shared || m.Source != from {
		return nil
	}
	return m
}

// sampleWords says which sample is which.
func sampleWords(t *trial.Trial) string {
	words := make([]string, 0, len(t.Samples))
	for _, s := range t.Samples {
		word := s.Key
		if s.Name != s.Key {
			word += " is " + s.Name
		}
		if s.Control {
			word += " (control)"
		}
		words = append(words, word)
	}
	return "the sample: " + strings.Join(words, "; ")
}
