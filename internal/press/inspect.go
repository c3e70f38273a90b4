package press

import (
	"context"
	"crypto/sha256"
	"fmt"
	"iter"
	"slices"
	"strconv"
)

// Inspector looks at the finished files before they take the place of the old ones. So
// that a file that is left alone need not be read, it gives facts of each that it is
// shown, which are kept for the next run and mean nothing to press.
type Inspector interface {
	// Kind names the rules that it goes by, and the form of its facts. Facts of another
	// kind are not handed to it.
	Kind() string

	// See is shown each file that was made, once, from several goroutines and in no order.
	// It must not change or keep the bytes. What it returns belongs to press.
	See(name string, data []byte) (facts []byte)

	// Before is called when all were seen and something changed since the files last
	// passed. whole is what Broken returned then. passed are the files that are what they
	// were then, and lapsed those that were made again or are gone, each with the facts that
	// See returned then, in the order of names.
	Before(whole []byte, passed, lapsed iter.Seq2[string, []byte])

	// Broken returns why the files must not be written, or nil, and facts of all of them
	// together. Where Before was not called, all were seen. has tells whether the site has a
	// file, and facts returns those of one, which may have to be read; others tells whether the site folder holds a file
	// that sidebatch did not write under a name; read returns what a file of the site holds.
	Broken(has func(name string) bool, facts func(name string) []byte, others func(name string) bool, read func(name string) ([]byte, error)) (whole []byte, err error)
}

// inspected is what came of an inspection.
type inspected struct {
	kind  string // "" where nobody looked
	again bool   // the files passed before and nobody looked again
	same  bool   // all facts are those that lie in the cache
	whole string
	old   facts    // of the files that passed before
	fresh [][]byte // of those that were not made, where nothing is known of before; by number
}

// inspect shows the files to the inspector, and is content where the same files passed
// before.
func (f *folder) inspect(ctx context.Context, h *holding, o Options) (in inspected, err error) {
	if o.Inspect == nil {
		return in, nil
	}
	in.kind = o.Inspect.Kind()
	if h.table.passed == in.kind && h.sameFiles() && h.sameTable() {
		in.again, in.same = true, true
		return in, nil
	}
	if in.same, err = f.inspectFew(h, in.kind, o); in.same || err != nil {
		return in, err
	}
	if text, ok := o.Cache.Read(factsName); ok && h.owned.len() > 0 {
		in.old = parseFacts(text, in.kind, h.factsList(), h.owned.len())
	}
	if in.old.len() > 0 {
		o.Inspect.Before([]byte(in.old.whole), h.passed(in.old), h.lapsed(in.old))
	} else if err := f.showRest(ctx, h, &in, o.Inspect); err != nil {
		return in, err
	}
	facts := func(name string) []byte {
		if i, is := h.find(name); is {
			return h.factsOf(i, in)
		}
		return nil
	}
	whole, err := f.judge(h, facts, o)
	in.whole = string(whole)
	return in, err
}

// factsList is the checksum of the list that the facts in the cache are of: that in the site
// folder, or one before it with the same paths.
func (h *holding) factsList() digest {
	if h.owned.ofRows() {
		return h.table.facts
	}
	return h.owned.sum
}

// factsListNow is what factsList will be in the next run.
func (h *holding) factsListNow(in inspected) digest {
	switch {
	case in.kind == "":
		return digest{}
	case in.same:
		return h.table.facts
	}
	return h.now
}

// sameTable tells whether the table is of these files and no others.
func (h *holding) sameTable() bool {
	if !h.samePaths(h.table) {
		return false
	}
	for _, r := range h.results {
		if h.table.row(r.number).sum != r.sum {
			return false
		}
	}
	return true
}

// seen tells whether an output was shown to the inspector when it was made.
func (h *holding) seen(i int) bool { return !h.kept[i] && h.result(i).seen }

// passed are the files that are what they were when all passed, with their facts.
func (h *holding) passed(old facts) iter.Seq2[string, []byte] {
	return func(yield func(string, []byte) bool) {
		for i, at := range h.listed {
			if at >= 0 && !h.seen(i) && !yield(h.path(i), old.of(int(at))) {
				return
			}
		}
	}
}

// lapsed are the other files of then.
func (h *holding) lapsed(old facts) iter.Seq2[string, []byte] {
	return func(yield func(string, []byte) bool) {
		i := 0
		for at := range h.owned.len() {
			for i < h.len() && int(h.listed[i]) < at {
				i++
			}
			if i < h.len() && int(h.listed[i]) == at && !h.seen(i) {
				continue
			}
			if !yield(h.owned.path(at), old.of(at)) {
				return
			}
		}
	}
}

// factsOf are those of an output.
func (h *holding) factsOf(i int, in inspected) []byte {
	if facts, was := h.factsNow(i, in); facts == nil {
		return in.old.of(was)
	} else {
		return facts
	}
}

// factsNow are the facts of an output that was shown, or the number of the file in the list
// whose facts are still those of the output.
func (h *holding) factsNow(i int, in inspected) (facts []byte, was int) {
	switch {
	case h.seen(i):
		k, _ := slices.BinarySearch(h.todo, i)
		facts = h.facts.of(k)
	case in.fresh != nil:
		facts = in.fresh[i]
	default:
		return nil, int(h.listed[i])
	}
	if facts == nil {
		facts = []byte{}
	}
	return facts, 0
}

// showRest shows the files that were not made, where nothing is known of them.
func (f *folder) showRest(ctx context.Context, h *holding, in *inspected, by Inspector) error {
	var rest []int
	for i := range h.len() {
		if !h.seen(i) {
			rest = append(rest, i)
		}
	}
	if len(rest) == 0 {
		return nil
	}
	in.fresh = make([][]byte, h.len())
	return inParallel(ctx, h.workers, h.these(rest), func(k int) error {
		i := rest[k]
		data, err := f.finished(h, h.path(i))
		if err == nil {
			in.fresh[i] = by.See(h.path(i), data)
		}
		return err
	})
}

// finished reads a file of the new site: where it lies, or in staging.
func (f *folder) finished(h *holding, name string) ([]byte, error) {
	i, is := h.find(name)
	if !is {
		return nil, fmt.Errorf("%s: no file of the site", name)
	}
	r := h.result(i)
	root, at := f.site, name
	if !r.same {
		root, at = f.staging, newDir+"/"+strconv.Itoa(i)
	}
	data, err := root.ReadFile(at)
	if err != nil {
		return nil, fmt.Errorf("%s/%s: %w", f.out, name, bare(err))
	}
	if sha256.Sum256(data) != r.sum {
		return nil, f.edited(name)
	}
	return data, nil
}
