package press

import (
	"iter"
	"slices"
)

// known tells whether an output would be made from the same as what the last run left: the
// table has it made from the same, and the list, which alone says what is ours, has the same
// checksum as the table.
func (h *holding) known(i int) bool {
	at := int(h.noted[i])
	return at >= 0 && h.listed[i] >= 0 && h.table.isFrom(at, h.fromOf(i)) && (h.owned.ofRows() || h.table.sumOf(at) == h.sumOf(i))
}

// mayKeep tells whether a file whose stamp is not to be believed is what would be made, if
// nobody touched it.
func (h *holding) mayKeep(i int) bool { return h.placeOf(i).is == aFile && h.known(i) }

// sumOf returns the checksum that the list has for an output.
func (h *holding) sumOf(i int) digest {
	if at := h.listed[i]; at >= 0 {
		return h.owned.sumOf(int(at))
	}
	return digest{}
}

// believed are the files that are to be replaced and were believed for their stamps, by path.
func (h *holding) believed() map[string]stamp {
	seen := map[string]stamp{}
	if h.owned.stamp != (stamp{}) {
		seen[listName] = h.owned.stamp
	}
	for k, r := range h.results {
		if at := h.places[k]; r.replaces && at.asLeft {
			seen[h.path(r.number)] = at.stamp
		}
	}
	return seen
}

// left is the result of an output that is kept, unread.
func (h *holding) left(i int) result {
	r := h.table.row(int(h.noted[i]))
	return result{number: i, sum: r.sum, size: r.stamp.size, same: true, kept: true, stamp: r.stamp}
}

// all goes through the results of all outputs, of which those that were not kept unread are
// given.
func (h *holding) all() iter.Seq2[int, result] {
	return func(yield func(int, result) bool) {
		k := 0
		for i := range h.len() {
			var r result
			if h.kept[i] {
				r = h.left(i)
			} else {
				r = h.results[k]
				k++
			}
			if !yield(i, r) {
				return
			}
		}
	}
}

// result is that of one output.
func (h *holding) result(i int) result {
	if h.kept[i] {
		return h.left(i)
	}
	k, _ := slices.BinarySearch(h.todo, i)
	return h.results[k]
}

// sumNow is the checksum that an output has in the new site.
func (h *holding) sumNow(i int) digest {
	if h.kept[i] {
		return h.table.sumOf(int(h.noted[i]))
	}
	return h.result(i).sum
}

// sumBefore is the checksum that an output has as far as that is known before it is made.
func (h *holding) sumBefore(i int) digest {
	if h.kept[i] {
		return h.table.sumOf(int(h.noted[i]))
	}
	return h.sumOf(i)
}
