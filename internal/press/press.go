// Package press writes the files of a site into the site folder: in parallel,
// only what changed, and all of it or nothing.
//
// A run goes through four phases:
//
//  1. The folder beside the site is locked, and what a killed run left behind
//     is finished or undone.
//  2. Every output is made, unless the file in the site is known to be made from
//     the same, and shown to an inspector, who may refuse them all. What changed is
//     written to a staging folder beside the site, on the same file system, and
//     synced.
//  3. The staging folder, with a journal of what is to be done, moves into the
//     site folder as one rename. That is the point of no return: from here on a
//     killed run is finished by the next one.
//  4. The journal is carried out, one rename a file: assets first, then the pages
//     that use them, then the list of files written, last of all the removal of
//     files that the new site no longer has.
//
// Until phase 4 nobody who reads the site sees any change. Whatever goes wrong
// before it (a page that cannot be made, a panic, a cancelled context), and
// whatever fails in it, leaves the old site as it was.
//
// The package refuses to touch what it did not write. It keeps the list of its
// files and their SHA-256 in the site folder, under the name .sidebatch-site, in
// the form that sha256sum --check reads. A folder that has content and no such
// list, a file of somebody else where an output belongs, and a file that was
// edited since it was written are all refused before anything changes. It knows
// nothing of trials, and reads no clock.
//
// What it knows of the last run is a table in the cache (table.go, since.go): what each file
// was made from, its checksum, and the stamp that the file system had for it. An
// output is left alone, unread, where the table has it made from the same, the list
// has the checksum that the table has, and the file still has the stamp, which must
// be older than the table, or a change in the same tick of the clock could hide. With
// another stamp the file is read, and made if its checksum is another. The list is read
// unless it has the stamp that the table has for it. So the list alone says what is ours,
// and whatever becomes of the cache costs time and nothing else. Outputs come in lots, and
// a lot that is made from the same as the lot in the table is not listed: the rows of the
// table are its files.
//
// The files of the table are looked at while the source of the outputs is asked for them,
// so that a file counts as it was then: one that somebody edits while the site is published
// is found in the next run, if it was not to be replaced in this one.
//
// One thing press takes on trust: that a file whose size, number and times are what they
// were holds what it held. Where the system tells when anything about a file last changed,
// no program can put that back; elsewhere (Windows) an edit of the same length whose time
// was put back is not seen. Verify mode trusts nothing.
package press

import (
	"context"
	"errors"
	"fmt"
	"runtime"

	"sidebatch.example/sidebatch/internal/cache"
	"sidebatch.example/sidebatch/internal/site"
)

// Options say where and how to write. Only Out is needed.
type Options struct {
	Out     string // the site folder; it and the folders above it are made if missing
	Workers int    // how many outputs are made at once; 0 or less: GOMAXPROCS
	Verify  bool   // make every output twice, leave none alone, and fail where the two differ

	// Cache holds what the last run left, so that an output that would be made from the
	// same is not made again; cache.At(CacheOf(Out)) is its place. With the zero Cache
	// everything is made.
	Cache cache.Cache

	// Made is told how many outputs of all are done, each time that one was made; from
	// several goroutines, and not in order. Nil is told nothing.
	Made func(done, of int)

	// Inspect is shown every file, and may refuse them all. Nil looks at nothing.
	Inspect Inspector

	before hook // nil outside tests
}

// Summary says what a run did. It counts outputs, not the list that press keeps.
type Summary struct {
	Files     int   // outputs, all together: Written + Unchanged
	Written   int   // new, or with other bytes than before
	Unchanged int   // left alone, with the time they were last changed
	Kept      int   // of those, not even made: made from the same as in the last run
	Removed   int   // files of an earlier run that are no longer part of the site
	Bytes     int64 // size of all outputs together

	// CacheError says why nothing could be kept for the next run, which will take longer.
	CacheError error
}

// Source says what a site is made of. It is asked while press is looking at the site.
type Source struct {
	// Still is asked first for what stands for all that the outputs are made of, together:
	// with the same digest they are the same outputs. Where it is that of the last run, and
	// nobody has touched a file of the site since, Lots is not asked. Zero, or a nil Still,
	// says that it is not known.
	Still func() site.Digest

	// Lots says what the outputs are, and what Still will stand for in the next run.
	Lots func() ([]site.Lot, site.Digest, error)

	// Keep is called when all is made and passed, while it is moved into the site, so that what
	// Lots has found out is kept for the next run. It must not matter for that whether the site
	// becomes what Lots said. What it returns becomes part of CacheError. It may be nil.
	Keep func() error
}

// Run makes the outputs of a source and puts them into the site folder, where they replace
// what an earlier run wrote.
//
// The folder then holds exactly the outputs, and whatever sidebatch did not
// write. After an error it holds what it held before, and the Summary is zero.
// An error may join many, one for each output that failed, in the order of their
// paths. It wraps the errors that Make returned, that of Lots or of Broken, ErrBusy,
// ErrForeign, or the cause for which the context was cancelled.
func Run(ctx context.Context, of Source, o Options) (sum Summary, err error) {
	if err := stopped(ctx); err != nil {
		return Summary{}, err
	}
	f, err := open(o.Out)
	if err != nil {
		return Summary{}, err
	}
	defer func() {
		err = errors.Join(err, f.close(err == nil))
		if err != nil {
			sum = Summary{}
		}
	}()
	if err := f.heal(o.before); err != nil {
		return Summary{}, err
	}
	return f.run(ctx, of, o)
}

// run is a run inside a folder that is locked and whole.
func (f *folder) run(ctx context.Context, of Source, o Options) (Summary, error) {
	looking := f.lookAhead(o)
	defer looking.wait() // it uses the folder
	if of.Still != nil {
		if all := of.Still(); all != (site.Digest{}) {
			if sum, ok := f.untouched(looking.wait(), all, o); ok {
				return sum, nil
			}
		}
	}
	if err := f.refuseForeign(); err != nil { // before anything is read, and noted beside the folder
		return Summary{}, err
	}
	lots, all, err := of.Lots()
	if err != nil {
		return Summary{}, err
	}
	h := &holding{ahead: looking.wait(), made: all, workers: o.workers(), early: map[string]bool{}, keep: of.Keep}
	h.table, h.set = looking.table, inOrder(lots, looking.table, looking.files)
	return f.publish(ctx, h, o)
}

// publish makes what the site does not have, and puts it there.
func (f *folder) publish(ctx context.Context, h *holding, o Options) (Summary, error) {
	err := h.checkPaths()
	if err == nil {
		h.owned, err = f.readList(h.table)
	}
	if err == nil {
		err = f.survey(h, o)
	}
	if err != nil {
		return Summary{}, err
	}
	in, changes, err := f.prepare(ctx, h, o)
	if err != nil {
		_ = h.keeping.wait() // whatever came of it is of no use now
		return Summary{}, err
	}
	sum := h.summarize()
	if len(changes) > 0 {
		sum.Removed = len(h.stale)
		if err = f.commit(changes); err != nil {
			err = errors.Join(err, f.unstage())
		} else {
			err = f.swap(changes, h.believed(), o.before)
		}
	}
	if err != nil {
		_ = h.keeping.wait()
		return Summary{}, err
	}
	sum.CacheError = errors.Join(f.remember(h, in, o), h.keeping.wait())
	return sum, nil
}

// prepare makes all that is to be written and has it inspected. It returns no changes where
// the site is what it should be, and with an error, after which nothing is staged.
func (f *folder) prepare(ctx context.Context, h *holding, o Options) (in inspected, changes []change, err error) {
	list := f.startList(h)
	err = f.make(ctx, h, o)
	list.tell(err == nil)
	if err == nil {
		in, err = f.inspect(ctx, h, o)
	}
	if err == nil && h.keep != nil {
		h.keeping = startKeeping(h.keep)
	}
	list.wait()
	if err == nil {
		err = list.err
	}
	if err == nil {
		h.now = list.sum
		changes, err = f.plan(h, list.changes)
	}
	if err != nil || len(changes) == 0 {
		return in, nil, errors.Join(err, f.unstage())
	}
	return in, changes, nil
}

func (o Options) workers() int {
	if o.Workers > 0 {
		return o.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// stopped returns why the context was cancelled, or nil.
func stopped(ctx context.Context) error {
	if ctx.Err() == nil {
		return nil
	}
	return fmt.Errorf("publishing was stopped: %w", context.Cause(ctx))
}

// checkPaths says which paths cannot stand in one folder. Those that stand there already can.
func (h *holding) checkPaths() error {
	if h.samePaths(h.table) {
		return nil
	}
	return h.check()
}

func (h *holding) summarize() Summary {
	sum := Summary{Files: h.len(), Unchanged: h.len() - len(h.results), Kept: h.len() - len(h.results)}
	for i, kept := range h.kept {
		if kept {
			sum.Bytes += h.table.sizeOf(int(h.noted[i]))
		}
	}
	for _, r := range h.results {
		sum.Bytes += r.size
		if r.same {
			sum.Unchanged++
		}
		if r.kept {
			sum.Kept++
		}
	}
	sum.Written = sum.Files - sum.Unchanged
	return sum
}
