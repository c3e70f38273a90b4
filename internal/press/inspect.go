package press

import (
	"context"
	"crypto/sha256"
	"fmt"
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
	// passed. whole is what Broken returned then, and files is how many there were.
	Before(whole []byte, files int)

	// Recall is told of each file that is what it was when the files last passed, with the
	// facts of it. It comes after Before, in the order of names, as Lapse does.
	Recall(name string, facts []byte)

	// Lapse is told of each file that passed then and was made again, or is gone.
	Lapse(name string, facts []byte)

	// Broken returns why the files must not be written, or nil, and facts of all of them
	// together. A file that was not there when they last passed was seen; where nothing is
	// known of that time, all were. others tells whether the site folder holds a file that
	// sidebatch did not write under a name; read returns what a file holds that was seen or
	// recalled.
	Broken(others func(name string) bool, read func(name string) ([]byte, error)) (whole []byte, err error)
}

// inspected is what came of an inspection.
type inspected struct {
	kind  string // "" where nobody looked
	again bool   // the files passed before and nobody looked again
	whole []byte
	old   facts
	facts [][]byte // of every output
	seen  []bool   // the outputs that were shown
}

// inspect shows the files to the inspector, and is content where the same files passed
// before.
func (f *folder) inspect(ctx context.Context, h *holding, o Options) (in inspected, err error) {
	if o.Inspect == nil {
		return in, nil
	}
	in.kind = o.Inspect.Kind()
	if h.table.passed == in.kind && h.sameFiles() && h.sameTable() {
		in.again = true
		return in, nil
	}
	if text, ok := o.Cache.Read(factsName); ok && len(h.owned.files) > 0 {
		in.old = parseFacts(text, in.kind, h.owned.sum, len(h.owned.files))
	}
	in.facts, in.seen = make([][]byte, len(h.outputs)), make([]bool, len(h.outputs))
	for _, r := range h.results {
		in.facts[r.number], in.seen[r.number] = r.facts, r.seen
	}
	if in.old.count > 0 {
		h.recall(in, o.Inspect)
	} else if err := f.showRest(ctx, h, in, o.Inspect); err != nil {
		return in, err
	}
	read := func(name string) ([]byte, error) { return f.finished(h, name) }
	in.whole, err = o.Inspect.Broken(func(name string) bool { return f.foreign(name, h.owned) }, read)
	return in, err
}

// sameTable tells whether the table is of these files and no others.
func (h *holding) sameTable() bool {
	if h.table.count != len(h.outputs) {
		return false
	}
	for _, r := range h.results {
		if at := h.noted[r.number]; at < 0 || h.table.row(int(at)).sum != r.sum {
			return false
		}
	}
	return true
}

// recall tells the inspector of the files that passed before.
func (h *holding) recall(in inspected, by Inspector) {
	by.Before(in.old.whole, len(h.owned.files))
	i := 0
	for at, was := range h.owned.files {
		for i < len(h.outputs) && h.outputs[i].Path < was.path {
			i++
		}
		if i < len(h.outputs) && h.outputs[i].Path == was.path && !in.seen[i] {
			in.facts[i] = in.old.of(at)
			by.Recall(was.path, in.facts[i])
		} else {
			by.Lapse(was.path, in.old.of(at))
		}
	}
}

// showRest shows the files that were not made, where nothing is known of them.
func (f *folder) showRest(ctx context.Context, h *holding, in inspected, by Inspector) error {
	var rest []int
	for i := range h.outputs {
		if !in.seen[i] {
			rest = append(rest, i)
		}
	}
	return inParallel(ctx, h.workers, h.these(rest), func(k int) error {
		i := rest[k]
		data, err := f.finished(h, h.outputs[i].Path)
		if err == nil {
			in.facts[i] = by.See(h.outputs[i].Path, data)
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
