package press

// mayKeep tells whether the file of an output is what would be made, if nobody
// touched it: it is there, the table has it made from the same, and the list, which
// alone says what is ours, has the same checksum as the table.
func (h *holding) mayKeep(i int) bool {
	at := h.noted[i]
	return at >= 0 && h.listed[i] >= 0 && h.files[i].is == aFile &&
		h.table.isFrom(int(at), h.outputs[i].From) && h.table.row(int(at)).sum == h.sumOf(i)
}

// sumOf returns the checksum that the list has for an output.
func (h *holding) sumOf(i int) digest {
	if at := h.listed[i]; at >= 0 {
		return h.owned.files[at].sum
	}
	return digest{}
}

// keep fills in the results of the outputs whose files have the stamps that the last
// run left them with, and returns the numbers of all others. In verify mode there are
// only others.
func (h *holding) keep(results []result, o Options) []int {
	var todo []int
	for i := range h.outputs {
		if o.Verify || !h.mayKeep(i) {
			todo = append(todo, i)
			continue
		}
		is := h.files[i].stamp
		r := h.table.row(int(h.noted[i]))
		if is != r.stamp || !h.table.settled(is) {
			todo = append(todo, i)
			continue
		}
		results[i] = result{sum: r.sum, was: r.sum, size: is.size, same: true, kept: true, stamp: is}
	}
	return todo
}

// readTable reads what the last run noted; an empty table is as good as none.
func (h *holding) readTable(o Options) {
	text, at, _ := o.Cache.ReadDated(tableName)
	h.table = parseTable(text, at)
	h.noted, _ = h.match(h.table.count, h.table.path)
}
