package press

import (
	"errors"
	"slices"
	"sync"

	"sidebatch.example/sidebatch/internal/cache"
	"sidebatch.example/sidebatch/internal/site"
)

// remember keeps for the next run what this one left in the site. What cannot be kept
// costs time and nothing else.
func (f *folder) remember(h *holding, in inspected, o Options) error {
	if o.Cache == (cache.Cache{}) || !h.knowsAny() {
		return nil
	}
	var keptFacts, keptTable error
	var both sync.WaitGroup
	both.Go(func() {
		if in.kind != "" && !in.again {
			keptFacts = o.Cache.Write(factsName, factsText(in, h.now.sum)...)
		}
	})
	both.Go(func() {
		if f.noteworthy(h, in, o) {
			keptTable = f.writeTable(h, in, o)
		}
	})
	both.Wait()
	return errors.Join(keptFacts, keptTable)
}

func (f *folder) writeTable(h *holding, in inspected, o Options) error {
	list, err := f.look(listName)
	if err != nil {
		return err
	}
	top := tableTop{in.kind, o.All, list.stamp, h.now.sum}
	if len(h.outputs) > 0 && h.samePaths() { // then a few rows change, and no path is printed again
		text := newTable(top, len(h.outputs))
		for _, r := range h.results {
			now := row{h.outputs[r.number].From, r.sum, f.stampNow(h, r.number, r)}
			now.appendTo(h.table.rows[int(h.noted[r.number])*rowSize:][:0])
		}
		return o.Cache.Write(tableName, text.top, h.table.rows, h.table.below)
	}
	text := newTable(top, len(h.outputs))
	text.rows, text.ends = make([]byte, 0, rowSize*len(h.outputs)), make([]byte, 0, 4*len(h.outputs))
	for i, r := range h.all() {
		text.add(h.outputs[i].Path, row{h.outputs[i].From, r.sum, f.stampNow(h, i, r)})
	}
	return o.Cache.Write(tableName, text.top, text.rows, text.ends, text.paths)
}

// samePaths tells whether the table has these paths and no others.
func (h *holding) samePaths() bool {
	return h.table.count == len(h.outputs) && !slices.Contains(h.noted, -1)
}

// knowsAny tells whether there is an output that may be kept.
func (h *holding) knowsAny() bool {
	for _, o := range h.outputs {
		if o.From != (site.Digest{}) {
			return true
		}
	}
	return false
}

// noteworthy tells whether the table would be another, or be believed in more.
func (f *folder) noteworthy(h *holding, in inspected, o Options) bool {
	if h.table.count != len(h.outputs) || h.table.passed != in.kind || h.table.all != o.All {
		return true
	}
	if list, err := f.look(listName); err != nil || list.stamp != h.table.listed || !h.table.settled(list.stamp) {
		return true
	}
	for _, r := range h.results {
		at := h.noted[r.number]
		if r.kept && at >= 0 && r.stamp == h.table.row(int(at)).stamp && h.table.settled(r.stamp) {
			continue
		}
		if h.outputs[r.number].From != (site.Digest{}) || at < 0 || h.table.row(int(at)).sum != r.sum {
			return true
		}
	}
	return false
}

// stampNow returns the stamp of a file once it is in the site. Moving it there has
// changed when it was changed, and nothing else; if it has, somebody was faster, and the
// stamp is left out, which has the next run read the file.
func (f *folder) stampNow(h *holding, i int, r result) stamp {
	if r.same {
		return r.stamp
	}
	now, err := f.look(h.outputs[i].Path)
	is := now.stamp
	if err != nil || now.is != aFile || is.size != r.stamp.size || is.written != r.stamp.written || is.number != r.stamp.number {
		return stamp{}
	}
	return is
}
