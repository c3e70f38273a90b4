package cli

import (
	"cmp"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"
	"sync"
	"time"

	"sidebatch.example/sidebatch/internal/press"
	"sidebatch.example/sidebatch/internal/site"
)

// stopwatch takes the time of a publish: of its steps as they pass, and of each file and
// the check of links as they are worked on, on all processors.
type stopwatch struct {
	now     func() time.Time
	started time.Time
	last    time.Time
	steps   []taken

	mutex sync.Mutex
	files []taken
	links time.Duration
}

// taken is what took how long.
type taken struct {
	what string
	took time.Duration
}

// The steps of a publish, in their order.
const (
	stepLooking  = "looking for what changed"
	stepSite     = "looking at the site"
	stepReading  = "reading and computing"
	stepPlanning = "planning"
	stepWriting  = "making, writing and remembering"
)

func startWatch() *stopwatch { return startWatchBy(time.Now) }

func startWatchBy(now func() time.Time) *stopwatch {
	t := now()
	return &stopwatch{now: now, started: t, last: t}
}

// done says that a step is done, which began when the one before was.
func (w *stopwatch) done(step string) {
	t := w.now()
	w.steps = append(w.steps, taken{step, t.Sub(w.last)})
	w.last = t
}

// all is the time from the start to the end of the last step.
func (w *stopwatch) all() time.Duration { return w.last.Sub(w.started) }

// timing returns the lots so that the making of each output is timed.
func (w *stopwatch) timing(lots []site.Lot) []site.Lot {
	timed := slices.Clone(lots)
	for i, lot := range lots {
		timed[i].List = func() []site.Output {
			outputs := slices.Clone(lot.List())
			for j, o := range outputs {
				outputs[j].Make = func() ([]byte, error) { return w.timed(o) }
			}
			return outputs
		}
	}
	return timed
}

// timed makes an output and takes the time.
func (w *stopwatch) timed(o site.Output) ([]byte, error) {
	start := w.now()
	data, err := o.Make()
	took := w.now().Sub(start)
	w.mutex.Lock()
	defer w.mutex.Unlock()
	w.files = append(w.files, taken{o.Path, took})
	return data, err
}

// inspecting times what an inspector does.
func (w *stopwatch) inspecting(by press.Inspector) press.Inspector { return timedInspector{by, w} }

type timedInspector struct {
	press.Inspector
	watch *stopwatch
}

func (i timedInspector) See(name string, data []byte) []byte {
	defer i.watch.add(i.watch.now())
	return i.Inspector.See(name, data)
}

func (i timedInspector) Broken(has func(name string) bool, facts func(name string) []byte, others func(name string) bool, read func(name string) ([]byte, error)) ([]byte, error) {
	defer i.watch.add(i.watch.now())
	return i.Inspector.Broken(has, facts, others, read)
}

// add adds the time since the start to that of the links.
func (w *stopwatch) add(start time.Time) {
	took := w.now().Sub(start)
	w.mutex.Lock()
	defer w.mutex.Unlock()
	w.links += took
}

// slowest is how many files are told one by one.
const slowest = 10

// explain tells where the time went.
func (w *stopwatch) explain(to io.Writer) {
	list := func(head string, all []taken) {
		if len(all) == 0 {
			return
		}
		fmt.Fprintln(to, "\n"+head)
		for _, t := range all {
			fmt.Fprintf(to, "  %8.3f s  %s\n", t.took.Seconds(), t.what)
		}
	}
	list("steps, one after another", w.steps)
	list("work while files are made and written, on all processors together", w.kinds())
	files := slices.Clone(w.files)
	slices.SortFunc(files, func(a, b taken) int { return cmp.Or(-cmp.Compare(a.took, b.took), strings.Compare(a.what, b.what)) })
	list("files that took longest to make", files[:min(slowest, len(files))])
}

// kinds are the times of files of one kind together, and of the links, the longest first.
func (w *stopwatch) kinds() []taken {
	sums, counts := map[string]time.Duration{}, map[string]int{}
	for _, f := range w.files {
		sums[kindOf(f.what)] += f.took
		counts[kindOf(f.what)]++
	}
	var kinds []taken
	if w.links > 0 {
		kinds = append(kinds, taken{"links followed", w.links})
	}
	for kind, took := range sums {
		kinds = append(kinds, taken{fmt.Sprintf("%s (%s)", kind, counted(counts[kind], "file")), took})
	}
	slices.SortFunc(kinds, func(a, b taken) int { return cmp.Or(-cmp.Compare(a.took, b.took), strings.Compare(a.what, b.what)) })
	return kinds
}

// kindOf says what a file is, by its name.
func kindOf(name string) string {
	switch path.Ext(name) {
	case ".html":
		return "pages"
	case ".svg":
		return "figures"
	case ".jpg", ".png":
		return "pictures"
	case ".br", ".gz":
		return "compressed, with waiting for what is"
	}
	return "data and others"
}
