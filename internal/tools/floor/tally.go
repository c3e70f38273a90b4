package main

import (
	"fmt"
	"io"
	"sync/atomic"
	"time"
)

// kind is a kind of work.
type kind int

const (
	reading kind = iota
	frontMatter
	converting
	logCells
	marking
	drawing
	sharing
	scaling
	filling
	slimming
	marshalling
	writing
	moving
	kinds
)

func (k kind) String() string {
	return [...]string{"files read", "front matter", "prose converted", "logs", "notes marked up", "figures", "share pictures", "photos",
		"pages", "pages made smaller", "JSON", "files written", "files moved"}[k]
}

// tally adds up what was done. Its methods may be called from several goroutines.
type tally struct {
	work [kinds]struct{ count, bytes, nanoseconds atomic.Int64 }
}

// add counts one piece of work that began at a time and made or read so many bytes.
func (t *tally) add(k kind, bytes int, begun time.Time) {
	w := &t.work[k]
	w.count.Add(1)
	w.bytes.Add(int64(bytes))
	w.nanoseconds.Add(int64(time.Since(begun)))
}

// spent is how long the whole took by the clock, and how long the processors worked for
// the floor.
type spent struct{ survey, floor, processor time.Duration }

// report prints a line for each kind of work, then the whole. Seconds of a kind are of
// the clock, added up over the goroutines.
func (t *tally) report(out io.Writer, s spent) error {
	for k := range kinds {
		w := &t.work[k]
		if _, err := fmt.Fprintf(out, "%-18s %8d  %11d bytes  %8.3f s\n", k, w.count.Load(), w.bytes.Load(), time.Duration(w.nanoseconds.Load()).Seconds()); err != nil {
			return err
		}
	}
	w := &t.work[writing]
	_, err := fmt.Fprintf(out, "survey %.3f s\nfloor %.3f s, processors %.3f s, %d files, %d bytes\n",
		s.survey.Seconds(), s.floor.Seconds(), s.processor.Seconds(), w.count.Load(), w.bytes.Load())
	return err
}
