package press

import (
	"errors"
	"strings"
	"sync"

	"sidebatch.example/sidebatch/internal/cache"
	"sidebatch.example/sidebatch/internal/site"
)

// keeping is what a source does for the next run while press goes on.
type keeping chan error

func startKeeping(keep func() error) keeping {
	done := make(keeping, 1)
	go func() { done <- keep() }()
	return done
}

// wait returns what came of it; nothing where it was not begun.
func (k keeping) wait() error {
	if k == nil {
		return nil
	}
	return <-k
}

// remember keeps for the next run what this one left in the site. What cannot be kept
// costs time and nothing else.
func (f *folder) remember(h *holding, in inspected, o Options) error {
	if o.Cache == (cache.Cache{}) || !h.knowsAny() {
		return nil
	}
	var keptFacts, keptTable error
	var both sync.WaitGroup
	both.Go(func() {
		if in.kind != "" && !in.same {
			keptFacts = o.Cache.Write(factsName, factsText(in, h.now, h.len(), func(i int) ([]byte, int) { return h.factsNow(i, in) })...)
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
	top := tableTop{in.kind, h.made, list.stamp, h.now, h.factsListNow(in)}
	if done, err := f.noteSince(h, top, o); done || err != nil {
		return err
	}
	if err := forgetSince(o.Cache); err != nil {
		return err
	}
	text := &tableText{tableTop: top}
	for k, lot := range h.lots {
		if from, to := h.filesOf(k); from < to {
			text.addLot(lot.At, lot.From, from)
		}
	}
	var rows strings.Builder
	rows.Grow(rowSize * h.len())
	var line [rowSize]byte
	for i, r := range h.all() {
		rows.Write(row{h.fromOf(i), r.sum, f.stampNow(h, r)}.appendTo(line[:0]))
	}
	return o.Cache.Write(tableName, text.parts(h.len(), rows.String(), h.ends, h.text)...)
}

// knowsAny tells whether there is an output that may be kept.
func (h *holding) knowsAny() bool {
	for i := range h.len() {
		if h.fromOf(i) != (site.Digest{}) {
			return true
		}
	}
	return false
}

// noteworthy tells whether the table would be another, or be believed in more.
func (f *folder) noteworthy(h *holding, in inspected, o Options) bool {
	if !h.samePaths(h.table) || h.table.passed != in.kind || h.table.facts != h.factsListNow(in) || h.table.all != h.made {
		return true
	}
	if list, err := f.look(listName); err != nil || !h.table.isListLeft(list.stamp) {
		return true
	}
	for _, r := range h.results {
		was := h.table.row(r.number)
		if r.kept && h.table.isAsLeft(r.number, r.stamp) {
			continue
		}
		if h.fromOf(r.number) != (site.Digest{}) || was.sum != r.sum {
			return true
		}
	}
	return false
}

// stampNow returns the stamp of a file once it is in the site. Moving it there has
// changed when it was changed, and nothing else; if it has, somebody was faster, and the
// stamp is left out, which has the next run read the file.
func (f *folder) stampNow(h *holding, r result) stamp {
	if r.same {
		return r.stamp
	}
	now, err := f.look(h.path(r.number))
	is := now.stamp
	if err != nil || now.is != aFile || is.size != r.stamp.size || is.written != r.stamp.written || is.number != r.stamp.number {
		return stamp{}
	}
	return is
}
