package press

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"

	"sidebatch.example/sidebatch/internal/site"
)

// result is what became of an output that was not kept unread. There may be very many, and
// it holds no pointer.
type result struct {
	number   int    // of the output
	sum      digest // of what was made
	size     int64
	same     bool  // the site has these bytes already; else they are in staging
	kept     bool  // not made: the site has what would be
	replaces bool  // what the site has under this path, which is what the list says
	seen     bool  // by the inspector
	stamp    stamp // of the file in the site, or in staging
}

// The folders of staging. A file in either is named by its number, so that no
// path of the site can meet another there.
const (
	newDir = "new"
	oldDir = "old"
)

// stage makes the staging folder, when something is to be written.
func (f *folder) stage() (*os.Root, error) {
	f.begin.Lock()
	defer f.begin.Unlock()
	if f.staging != nil {
		return f.staging, nil
	}
	err := f.stageRoot.Mkdir(f.stageName, 0o755)
	var staging *os.Root
	if err == nil {
		staging, err = f.stageRoot.OpenRoot(f.stageName)
	}
	for _, dir := range []string{newDir, oldDir} {
		if err == nil {
			err = staging.Mkdir(dir, 0o755)
		}
	}
	if err != nil {
		if staging != nil {
			_ = staging.Close() // it was open for names only
		}
		return nil, fmt.Errorf("%s: making the staging folder: %w", f.out, bare(err))
	}
	f.staging = staging
	return staging, nil
}

// staged returns the staging folder, or nil where nothing was to be written so far.
func (f *folder) staged() *os.Root {
	f.begin.Lock()
	defer f.begin.Unlock()
	return f.staging
}

// unstage removes the staging folder.
func (f *folder) unstage() error {
	if f.staging != nil {
		_ = f.staging.Close() // it was open for names only
		f.staging = nil
	}
	if err := f.stageRoot.RemoveAll(f.stageName); err != nil {
		return fmt.Errorf("%s: removing the staging folder: %w", f.out, bare(err))
	}
	return nil
}

// make runs every output that is not kept and stages what changed. All are tried, so that
// one run tells all errors, in the order of the outputs; only a cancelled context ends it
// early, and trouble that no other file would be spared.
func (f *folder) make(ctx context.Context, h *holding, o Options) error {
	results := make([]result, len(h.todo))
	h.facts = newManyFacts(len(h.todo))
	var made atomic.Int64
	made.Store(int64(h.len() - len(h.todo)))
	going, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	disk := startFlushing(stop)
	err := inParallel(going, h.workers, h.these(h.todo), func(k int) error {
		now, err := f.makeOrKeep(h.todo[k], h, o)
		results[k] = now.result
		h.facts.put(k, now.facts)
		if now.staged != nil {
			disk.files <- unflushed{&results[k], now.staged}
		}
		if isTrouble(err) {
			stop(err)
		}
		if done := int(made.Add(1)); o.Made != nil {
			o.Made(done, h.len())
		}
		return err
	})
	err = errors.Join(err, disk.done(h.path))
	if why := context.Cause(going); isTrouble(why) {
		return why
	}
	if err == nil && o.Verify {
		// Backwards, so that an output that depends on what was made before it differs.
		numbers := slices.Clone(h.todo)
		slices.Reverse(numbers)
		err = inParallel(ctx, h.workers, h.these(numbers), func(k int) error {
			return f.makeAgain(numbers[k], h, results[len(results)-1-k])
		})
	}
	if err != nil {
		return err
	}
	if staging := f.staged(); staging != nil {
		syncFolder(staging, newDir)
	}
	h.results = results
	return nil
}

// some are a few of the outputs, by their numbers.
type some struct {
	*set
	numbers []int
}

func (s *set) these(numbers []int) some { return some{s, numbers} }

// inParallel calls do for every output, by its place among them, and joins the errors in
// that order.
func inParallel(ctx context.Context, workers int, outputs some, do func(k int) error) error {
	n := len(outputs.numbers)
	errs := failures{}
	done := make([]bool, n)
	var next atomic.Int64
	var all sync.WaitGroup
	for range min(workers, n) {
		all.Go(func() {
			for k := int(next.Add(1)) - 1; k < n && ctx.Err() == nil; k = int(next.Add(1)) - 1 {
				errs.add(k, do(k))
				done[k] = true
			}
		})
	}
	all.Wait()
	if err := stopped(ctx); err != nil {
		return err // which outputs were reached is chance, so their errors are left out
	}
	for k, i := range outputs.numbers {
		if !done[k] {
			errs.add(k, fmt.Errorf("%s: not made (a Make ended its goroutine instead of returning)", outputs.path(i)))
		}
	}
	return errs.join()
}

// made is what became of an output just now.
type made struct {
	result
	facts  []byte   // of an inspector
	staged *os.File // that is yet to be seen to the disk; nil where the site has it
}

// makeOrKeep makes an output, unless its file, which was touched or is too new for
// its stamp to be believed, turns out to be as it was left.
func (f *folder) makeOrKeep(i int, h *holding, o Options) (made, error) {
	if h.mayKeep(i) && !o.Verify {
		is, err := f.sum(h.path(i))
		if err != nil {
			return made{}, err
		}
		if is == h.sumOf(i) {
			now := h.placeOf(i).stamp
			return made{result: result{number: i, sum: is, size: now.size, same: true, kept: true, stamp: now}}, nil
		}
	}
	return f.makeOne(i, h, o)
}

// makeOne makes an output and writes it into a file of staging, if the site does not have it.
func (f *folder) makeOne(i int, h *holding, by Options) (made, error) {
	o, err := h.listing.output(h.set, i)
	if err != nil {
		return made{}, err
	}
	data, err := Make(o)
	if err != nil {
		return made{}, err
	}
	r := made{result: result{number: i, sum: sha256.Sum256(data), size: int64(len(data)), stamp: h.placeOf(i).stamp}}
	if by.Inspect != nil {
		r.facts, r.seen = by.Inspect.See(o.Path, data), true
	}
	was, err := f.sumInPlace(i, h)
	if err != nil {
		return made{}, err
	}
	if was == r.sum {
		r.same = true
		return r, nil
	}
	if r.replaces = was != (digest{}); r.replaces && was != h.sumOf(i) {
		return made{}, f.edited(o.Path)
	}
	if by.Verify && h.mayKeep(i) {
		return made{}, f.unlike(o.Path, data)
	}
	staging, err := f.stage()
	if err == nil {
		r.staged, err = writeNew(staging, newDir+"/"+strconv.Itoa(i), data)
	}
	if err != nil {
		return made{}, fmt.Errorf("%s: %w", o.Path, bare(err))
	}
	return r, nil
}

// sumInPlace is the checksum of the file that stands where a listed output goes.
func (f *folder) sumInPlace(i int, h *holding) (digest, error) {
	switch {
	case h.listed[i] < 0:
		return digest{}, nil
	case h.placeOf(i).asLeft:
		return h.table.sumOf(int(h.noted[i])), nil
	}
	return f.sum(h.path(i))
}

func (f *folder) edited(p string) error {
	return fmt.Errorf("%s/%s: changed since sidebatch wrote it, so its content is %w "+
		"(move it elsewhere or delete it)", f.out, p, ErrForeign)
}

// unlike says that an output was made from the same as before and is not the same.
func (f *folder) unlike(p string, again []byte) error {
	once, err := f.site.ReadFile(p)
	if err != nil {
		return fmt.Errorf("%s: made from the same as before, and the two differ (%w)", p, bare(err))
	}
	return fmt.Errorf("%s: made from the same as before, and the two differ%s", p, difference(once, again))
}

// Make makes an output. A panic comes back as an error that names the output and
// the place in the code, without the folders of the machine it was built on.
func Make(o site.Output) (data []byte, err error) {
	defer func() {
		if v := recover(); v != nil {
			err = fmt.Errorf("%s: panic while it was made: %v%s", o.Path, v, panicPlace())
		}
	}()
	if data, err = o.Make(); err != nil {
		return nil, fmt.Errorf("%s: %w", o.Path, err)
	}
	return data, nil
}

// panicPlace names the innermost function outside the runtime that was running
// when the panic began.
func panicPlace() string {
	var pcs [64]uintptr
	frames := runtime.CallersFrames(pcs[:runtime.Callers(2, pcs[:])])
	panicking := false
	for {
		frame, more := frames.Next()
		inRuntime := strings.HasPrefix(frame.Function, "runtime.")
		if panicking && !inRuntime {
			return fmt.Sprintf(" (in %s, %s:%d)", frame.Function, path.Base(frame.File), frame.Line)
		}
		panicking = panicking || inRuntime
		if !more {
			return ""
		}
	}
}

// makeAgain fails where an output is not the same the second time.
func (f *folder) makeAgain(i int, h *holding, first result) error {
	o, err := h.listing.output(h.set, i)
	if err != nil {
		return err
	}
	again, err := Make(o)
	if err != nil {
		return fmt.Errorf("the second time: %w", err)
	}
	if sha256.Sum256(again) == first.sum {
		return nil
	}
	root, name := f.staging, newDir+"/"+strconv.Itoa(i)
	if first.same {
		root, name = f.site, o.Path
	}
	once, err := root.ReadFile(name)
	if err != nil {
		return fmt.Errorf("%s: made twice, and the two differ (%w)", o.Path, bare(err))
	}
	return fmt.Errorf("%s: made twice, and the two differ%s", o.Path, difference(once, again))
}

// difference shows where two texts part.
func difference(a, b []byte) string {
	at := 0
	for at < min(len(a), len(b)) && a[at] == b[at] {
		at++
	}
	line := 1 + bytes.Count(a[:at], []byte("\n"))
	return fmt.Sprintf(" from byte %d (line %d) on: %q, then %q", at, line, excerpt(a, at), excerpt(b, at))
}

func excerpt(text []byte, at int) []byte {
	const before, after = 16, 32
	return text[max(0, at-before):min(len(text), at+after)]
}

// writeSynced writes a new file that survives a power cut.
func writeSynced(root *os.Root, name string, data []byte) error {
	file, err := writeNew(root, name, data)
	if err != nil {
		return err
	}
	_, err = flush(file)
	return err
}

// writeNew writes a new file and leaves it open, for it to be seen to the disk.
func writeNew(root *os.Root, name string, data []byte) (*os.File, error) {
	file, err := root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return nil, err
	}
	if _, err = file.Write(data); err != nil {
		return nil, errors.Join(err, file.Close())
	}
	return file, nil
}

// ignoreUnsupported drops the error of a file system that has no sync.
func ignoreUnsupported(err error) error {
	if errors.Is(err, errors.ErrUnsupported) || errors.Is(err, fs.ErrInvalid) {
		return nil
	}
	return err
}
