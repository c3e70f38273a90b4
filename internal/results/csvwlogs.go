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
	say := phrases(t.Kitchen.Words)
	l := sheetLog{trial: t, name: name, say: say, measure: func(column string) *trial.Measure { return measureFrom(t, name, column) }}
	switch {
	case name == "pieces.csv", trial.IsReplication(name):
		l.about = say.Say("csv pieces")
		if trial.IsReplication(name) {
			l.about = say.Say("csv household")
		}
		l.columns = map[string]csvColumn{
			"sample":    {Description: sampleWords(t), Required: true},
			"batch":     {Description: say.Say("csv batch")},
			"piece":     {Description: say.Say("csv piece"), Required: true},
			"set aside": {Description: say.Say("csv set aside")},
			"note":      {Description: say.Say("csv note")},
		}
		l.key = []string{"sample", "batch", "piece"}
	case name == "tasting.csv":
		l.about = say.Say("csv tasting")
		l.columns = map[string]csvColumn{
			"assessor": {Description: say.Say("csv assessor"), Required: true},
			"sample":   {Description: sampleWords(t), Required: true},
			"note":     {Description: say.Say("csv note")},
		}
		l.key = []string{"assessor", "sample"}
	case strings.HasPrefix(name, "probe-") && path.Ext(name) == ".csv":
		l.about = say.Say("csv probe")
		l.columns = map[string]csvColumn{
			"time": {Description: say.Say("csv time"), Required: true},
			"note": {Description: say.Say("csv note")},
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
		say := l.say
		l.about = say.Say("csv sets", "kind", KindName(say.Language(), m.Kind), "test", m.Name,
			"samples", strings.Join(m.Compares, " "+say.Say("csv with")+" "))
		picked := say.Say("csv picked")
		if m.Kind == trial.PairedPreference {
			picked = say.Say("csv preferred", "samples", sampleWords(t))
		}
		l.columns = map[string]csvColumn{
			"assessor": {Description: say.Say("csv assessor"), Required: true},
			"set":      {Description: say.Say("csv set"), Required: true},
			"odd":      {Description: say.Say("csv odd")},
			"picked":   {Description: picked},
			"note":     {Description: say.Say("csv note")},
		}
		l.key = []string{"assessor", "set"}
		return nil
	}
	return fmt.Errorf("%s: no log of the trial is called so", name)
}

// measureFrom returns the measure whose readings stand in a column of a log, or
// nil. Every column of a thermometer's log but its time is one of temperatures, in
// the unit that its heading gives, or in °C.
func measureFrom(t *trial.Trial, log, column string) *trial.Measure {
	if name, is := strings.CutPrefix(log, "probe-"); is {
		m := trial.Measure{Name: column, Kind: trial.Temperature, In: quantity.Celsius}
		for _, p := range t.Probes {
			for _, c := range p.Columns {
				if p.Name+".csv" == name && c.Heading == column {
					m.In = c.In
				}
			}
		}
		return &m
	}
	m := t.Measure(column)
	if trial.IsReplication(log) {
		log = trial.PiecesFile
	}
	source := map[string]trial.Source{"pieces.csv": trial.OfPiece, "tasting.csv": trial.OfTasting}
	if from, shared := source[log]; m == nil || !shared || m.Source != from {
		return nil
	}
	return m
}

// sampleWords says which sample is which.
func sampleWords(t *trial.Trial) string {
	say := phrases(t.Kitchen.Words)
	words := make([]string, 0, len(t.Samples))
	for _, s := range t.Samples {
		word := s.Key
		if s.Name != s.Key {
			word = say.Say("csv sample is", "key", s.Key, "name", s.Name)
		}
		if s.Control {
			word = say.Say("csv control", "sample", word)
		}
		words = append(words, word)
	}
	return say.Say("csv sample", "samples", strings.Join(words, "; "))
}
