package main

import (
	"fmt"
	"io"
	"slices"
)

// subject is what is measured.
type subject int

const (
	bare subject = iota
	cold
	unchanged
	oneSentence
	oneTitle
	newestTitle
	oneLevel
	oneReading
	subjects
)

func (s subject) String() string {
	return [...]string{"the floor", "first publish", "nothing changed", "a sentence changed", "a title changed", "the newest title changed", "a level changed", "a reading changed"}[s]
}

// taken are the measurements at one size of kitchen.
type taken struct {
	seconds   [subjects][]float64 // of the clock
	processor [subjects][]float64 // seconds
	memory    [subjects]int64     // the highest of all rounds, in bytes
	files     int                 // of the site
	bytes     int64
}

func (t *taken) add(s subject, f finished) {
	t.seconds[s] = append(t.seconds[s], f.seconds)
	t.processor[s] = append(t.processor[s], f.processor)
	t.memory[s] = max(t.memory[s], f.memory)
}

func heading(out io.Writer) error {
	_, err := fmt.Fprint(out, "| trials | what | seconds | from–to | more than nothing changed | times the floor | processor seconds | times the floor | peak memory | files | bytes |\n"+
		"|---|---|---|---|---|---|---|---|---|---|---|\n")
	return err
}

// report prints a row for each subject.
func (t *taken) report(out io.Writer, trials int) error {
	floor, worked := median(t.seconds[bare]), median(t.processor[bare])
	for s := range subjects {
		of, processor := t.seconds[s], median(t.processor[s])
		more := ""
		if s > unchanged {
			more = fmt.Sprintf("%.3f", median(of)-median(t.seconds[unchanged]))
		}
		if _, err := fmt.Fprintf(out, "| %d | %s | %.3f | %.3f–%.3f | %s | %.2f | %.3f | %.2f | %.0f MB | %d | %d |\n", trials, s, median(of), slices.Min(of), slices.Max(of), more,
			median(of)/floor, processor, processor/worked, float64(t.memory[s])/1e6, t.files, t.bytes); err != nil {
			return err
		}
	}
	return nil
}

// median is the middle of some numbers, or the mean of the two in the middle; there has
// to be one at least.
func median(of []float64) float64 {
	sorted := slices.Sorted(slices.Values(of))
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}
