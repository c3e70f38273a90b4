package press

import (
	"bytes"
	"iter"

	"sidebatch.example/sidebatch/internal/cache"
)

// fewFacts are the facts that lie in the cache, of which only some are read: where a few files
// were made again and say to others what they said, the facts of all stay as they are.
type fewFacts struct {
	blob *cache.Blob
	ends int // where the ends begin in the blob
	data int // where the facts begin
}

// openFacts opens the facts of so many files; it is false where they are not those of that
// kind and list, or where links led to files of somebody else, which may be gone.
func openFacts(o Options, kind string, of digest, files int) (fewFacts, bool) {
	blob, ok := o.Cache.Open(factsName)
	if !ok {
		return fewFacts{}, false
	}
	top := string(append(append(appendSized([]byte(factsHead), kind), of[:]...), 0, 0, 0, 0))
	ends := len(top)
	if is, ok := blob.Text(0, ends); !ok || is != top || blob.Size() < ends+4*files {
		_ = blob.Close() // it was open for reading
		return fewFacts{}, false
	}
	return fewFacts{blob, ends, ends + 4*files}, true
}

// of returns the facts of a file; it is false where they cannot be read.
func (few fewFacts) of(at int) ([]byte, bool) {
	begin, end := 0, 0
	if at > 0 {
		text, ok := few.blob.Text(few.ends+4*at-4, few.ends+4*at)
		if !ok {
			return nil, false
		}
		begin = numberAt(text, 0)
	}
	text, ok := few.blob.Text(few.ends+4*at, few.ends+4*at+4)
	if !ok {
		return nil, false
	}
	end = numberAt(text, 0)
	facts, ok := few.blob.Text(few.data+begin, few.data+end)
	return []byte(facts), ok && begin <= end
}

// inspectFew has the inspector judge where no file came or went, and those that were made
// again have the facts that they had: then no link of another file can be broken. It is not
// done where that is not known.
func (f *folder) inspectFew(h *holding, kind string, o Options) (done bool, err error) {
	if h.table.passed != kind || !h.owned.ofRows() || !h.samePaths(h.table) {
		return false, nil
	}
	few, ok := openFacts(o, kind, h.table.facts, h.len())
	if !ok {
		return false, nil
	}
	defer few.blob.Close()
	for k, r := range h.results {
		if !r.seen {
			continue
		}
		if was, ok := few.of(r.number); !ok || !bytes.Equal(was, h.facts.of(k)) {
			return false, nil
		}
	}
	facts := func(name string) []byte {
		i, is := h.find(name)
		if !is {
			return nil
		}
		if was, ok := few.of(i); ok {
			return was
		}
		data, err := f.finished(h, name) // the facts are damaged
		if err != nil {
			return nil
		}
		return o.Inspect.See(name, data)
	}
	o.Inspect.Before(nil, h.notSeen(), func(func(string, []byte) bool) {})
	_, err = f.judge(h, facts, o)
	return true, err
}

// notSeen are the files that were not made again. None of them is asked for its facts.
func (h *holding) notSeen() iter.Seq2[string, []byte] {
	return func(yield func(string, []byte) bool) {
		for i := range h.len() {
			if !h.seen(i) && !yield(h.path(i), nil) {
				return
			}
		}
	}
}

// judge asks the inspector.
func (f *folder) judge(h *holding, facts func(string) []byte, o Options) ([]byte, error) {
	has := func(name string) bool {
		_, is := h.find(name)
		return is
	}
	others := func(name string) bool { return f.foreign(name, h.owned) }
	return o.Inspect.Broken(has, facts, others, func(name string) ([]byte, error) { return f.finished(h, name) })
}
