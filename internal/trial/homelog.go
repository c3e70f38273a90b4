package trial

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/tabular"
)

// HomeLog is a log that a viewer sent: what one household read.
type HomeLog struct {
	Pieces []Piece
	trial  *Trial
	table  tabular.Table // with its numbers settled
	kept   []byte
}

// ReadHome reads a viewer's log of the trial. Whether its numbers have decimal commas
// only the file itself can show: what the note says of logs is about the kitchen's own.
// What is wrong is reported under the name that the file is shown by; with an error the
// log is not to be used.
func (t *Trial) ReadHome(shown string, data []byte, problems *problem.List) HomeLog {
	var found problem.List
	r := &reader{kitchen: t.Kitchen, problems: &found, trial: t}
	h := r.homeLog(shown, data, tabular.Unsaid)
	for _, p := range found.Sorted() {
		p.Hint, _, _ = strings.Cut(p.Hint, ", or say once in the note") // which speaks of other logs
		problems.Add(tabular.Named(p))
	}
	return h
}

// LacksColumns are the measures of pieces that the log has no column for.
func (h HomeLog) LacksColumns() []string {
	var names []string
	for _, m := range h.trial.of(OfPiece) {
		if !h.table.HasColumn(m.Name) {
			names = append(names, m.Name)
		}
	}
	return names
}

// SameAs reports whether the pieces of two logs have the same readings, however the pieces
// are numbered and whatever was set aside.
func (h HomeLog) SameAs(pieces []Piece) bool {
	return slices.Equal(readingsOf(h.Pieces), readingsOf(pieces))
}

// readingsOf writes down every piece that has a reading by its readings, in an order that
// does not depend on the log's.
func readingsOf(pieces []Piece) []string {
	var all []string
	for _, p := range pieces {
		var words []string
		for name, reading := range p.Readings {
			if !reading.Missing {
				words = append(words, name+"\x00"+reading.Value.String())
			}
		}
		slices.Sort(words)
		if len(words) > 0 {
			all = append(all, p.Sample+"\x01"+strconv.Itoa(p.Batch)+"\x01"+strings.Join(words, "\x01"))
		}
	}
	slices.Sort(all)
	return all
}

// CSV is the log as it is kept: sample, batch, piece, every measure of pieces, and what is
// set aside. Unless the sender agreed to it, nothing is kept that they put into words of
// their own: no remark, a plain reason for what is set aside, and pieces have numbers.
// Reading it again gives the same readings, set aside or not as they were.
func (h HomeLog) CSV(agreed bool) []byte {
	measures := h.trial.of(OfPiece)
	heading := []string{"sample", "batch", "piece"}
	for _, m := range measures {
		heading = append(heading, m.Name)
	}
	heading = append(heading, "set aside")
	if agreed {
		heading = append(heading, "note")
	}
	numbers := h.numbers(agreed)
	at := make(map[problem.Pos]int, len(h.Pieces))
	for i, p := range h.Pieces {
		at[p.Place] = i
	}
	var rows [][]string
	for _, row := range h.table.Rows() {
		i, read := at[row.Place()]
		if !read {
			continue // nothing was noted of it
		}
		p := h.Pieces[i]
		cells := []string{p.Sample, strconv.Itoa(p.Batch), numbers[i]}
		for _, m := range measures {
			cells = append(cells, row.Under(m.Name).Text)
		}
		aside := row.Under("set aside").Text
		if !agreed {
			aside = h.plainly(p)
		}
		cells = append(cells, aside)
		if agreed {
			cells = append(cells, p.Note)
		}
		rows = append(rows, cells)
	}
	return tabular.Write(heading, rows, tabular.LF)
}

// plainly says what of a piece is set aside, and no more.
func (h HomeLog) plainly(p Piece) string {
	say := h.trial.phrases()
	reason := say.Say("set aside at home")
	if p.SetAside != "" {
		return reason
	}
	var names []string
	for _, m := range h.trial.of(OfPiece) {
		if p.Readings[m.Name].SetAside == "" {
			continue
		}
		name := m.Name
		if strings.ContainsAny(name, ",:;") {
			name = m.PartOf // a list cannot name it but by its sum, and did
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return strings.Join(names, ", ") + ": " + reason
}

// numbers are the pieces' numbers. What is more than a number may say who wrote it: unless
// they agreed, such a piece has the next number that is free in its batch.
func (h HomeLog) numbers(agreed bool) []string {
	taken := map[string]bool{}
	place := func(p Piece, number string) string {
		return p.Sample + "\x00" + strconv.Itoa(p.Batch) + "\x00" + number
	}
	all := make([]string, len(h.Pieces))
	for i, p := range h.Pieces {
		if agreed || plainNumber.MatchString(p.Number) {
			all[i] = p.Number
			taken[place(p, p.Number)] = true
		}
	}
	for i, p := range h.Pieces {
		for n := 1; all[i] == ""; n++ {
			if number := strconv.Itoa(n); !taken[place(p, number)] {
				all[i] = number
				taken[place(p, number)] = true
			}
		}
	}
	return all
}

var plainNumber = regexp.MustCompile(`^[0-9]{1,4}$`)
