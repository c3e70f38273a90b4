package main

import (
	"errors"
	"html/template"
	"os"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"time"
)

// task is a folder of the kitchen, or none, with the outputs that are made of it.
type task struct {
	folder  string
	outputs []output
}

// tasks gives each folder of the kitchen its outputs. What belongs to no folder, such as
// the pages of factors, is a task for each file.
func tasks(content string, seen []output) ([]task, error) {
	entries, err := os.ReadDir(content)
	if err != nil {
		return nil, err
	}
	var all []task
	at := make(map[string]int)
	for _, e := range entries {
		at[e.Name()] = len(all)
		all = append(all, task{folder: e.Name()})
	}
	for _, o := range seen {
		first, _, deep := strings.Cut(o.path, "/")
		if i, known := at[first]; deep && known {
			all[i].outputs = append(all[i].outputs, o)
			continue
		}
		all = append(all, task{outputs: []output{o}})
	}
	return all, nil
}

// worker does tasks; any number of goroutines may share one.
type worker struct {
	content string
	tally   *tally
	reader  *reader
	maker   *maker
	store   *store
}

// work does all there is to do.
func work(a asked, seen []output, t *tally) error {
	all, err := tasks(a.content, seen)
	if err != nil {
		return err
	}
	r, err := newReader(t)
	if err != nil {
		return err
	}
	m, err := newMaker()
	if err != nil {
		return err
	}
	s, err := newStore(a.out, a.sync, t)
	if err != nil {
		return err
	}
	w := &worker{a.content, t, r, m, s}
	if err := inParallel(len(all), func(i int) error { return w.do(all[i]) }); err != nil {
		return err
	}
	return s.finish()
}

// inParallel calls do for every number below n on GOMAXPROCS goroutines.
func inParallel(n int, do func(i int) error) error {
	var next atomic.Int64
	errs := make([]error, runtime.GOMAXPROCS(0))
	var group sync.WaitGroup
	for g := range errs {
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < n && errs[g] == nil; i = int(next.Add(1)) - 1 {
				errs[g] = do(i)
			}
		})
	}
	group.Wait()
	return errors.Join(errs...)
}

func (w *worker) do(t task) error {
	var f folder
	if t.folder != "" {
		var err error
		if f, err = w.reader.read(w.content, t.folder); err != nil {
			return err
		}
	}
	f.name, f.shown = t.folder, figure{20, 20}
	for _, o := range t.outputs {
		if o.path == t.folder+"/index.html" && len(o.figures) > 0 {
			f.shown = o.figures[0]
		}
	}
	for _, o := range t.outputs {
		made, err := w.make(o, &f)
		if err == nil {
			err = w.store.write(o.path, fitted(made, o.size))
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func (w *worker) make(o output, f *folder) ([]byte, error) {
	begun := time.Now()
	switch o.form {
	case page:
		return w.page(o, f)
	case asJSON:
		made, err := data(o.size)
		w.tally.add(marshalling, len(made), begun)
		return made, err
	case share:
		made, err := sharePicture(f.shown)
		w.tally.add(sharing, len(made), begun)
		return made, err
	case photo:
		if len(f.photos) == 0 {
			return nil, nil // copied, as the theme's
		}
		made, err := f.photo(o)
		w.tally.add(scaling, len(made), begun)
		return made, err
	}
	return f.copied, nil
}

// page makes a page. The prose stands on the first page of a folder, the note on that of
// its data.
func (w *worker) page(o output, f *folder) ([]byte, error) {
	var v view
	switch o.path {
	case f.name + "/index.html":
		v.Prose = template.HTML(f.prose)
	case f.name + "/data/index.html":
		v.Note = template.HTML(f.note)
	}
	for _, figure := range o.figures {
		begun := time.Now()
		made := svg(figure)
		w.tally.add(drawing, len(made), begun)
		v.Figures = append(v.Figures, template.HTML(made))
	}
	if o.data > 0 {
		begun := time.Now()
		made, err := data(o.data)
		w.tally.add(marshalling, len(made), begun)
		if err != nil {
			return nil, err
		}
		v.Data = template.JS(made)
	}
	begun := time.Now()
	whole, err := w.maker.fill(o, v)
	w.tally.add(filling, len(whole), begun)
	if err != nil {
		return nil, err
	}
	begun = time.Now()
	small, err := w.maker.slimmer(whole)
	w.tally.add(slimming, len(small), begun)
	return small, err
}
