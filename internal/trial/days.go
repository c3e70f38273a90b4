package trial

import (
	"fmt"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/tabular"
)

const day = 24 * 60 * 60 // in s

// order finds the order of day and month in a log's dates: a number above 12 settles
// it, or the note does. Otherwise it is asked about: with a question where all orders
// give the same times from the first row, and with an error where they do not.
func (l *probeLog) order(all []moment, stamps []stamp) (dateOrder, bool) {
	first := stamps[0]
	switch {
	case !strings.HasPrefix(first.form, "date"):
		return unsaidOrder, true
	case first.year == 0:
		return yearFirst, true
	}
	said := l.dates
	if said != unsaidOrder && (said != yearFirst || first.year < 0) {
		return said, true // a day that is none is reported where it stands
	}
	var fit []dateOrder
	for _, o := range []dateOrder{dayFirst, monthFirst, yearFirst} {
		wrong := slices.ContainsFunc(stamps, func(s stamp) bool { _, ok := since(s, o); return !ok })
		if !wrong && (o != yearFirst || first.year < 0) {
			fit = append(fit, o)
		}
	}
	switch len(fit) {
	case 0:
		l.problems.Hinted(all[0].cell.Place, problem.BadDate, "write year, month and day like 2026-02-14",
			"the days of this log are days in no order of day and month")
		return unsaidOrder, false
	case 1:
		return fit[0], true
	}
	what := quote(all[0].cell.Text) + " can be " + readIn(stamps[0], fit)
	hint := "say in the note how the logs are written, like logs: {dates: " + fit[0].String() + "}"
	if sameTimes(stamps, fit) {
		l.problems.Ask(all[0].cell.Place, problem.UnsureTime, hint, "%s", what)
		return fit[0], true
	}
	l.problems.Hinted(all[0].cell.Place, problem.UnsureTime, hint, "%s", what)
	return unsaidOrder, false
}

// readIn writes a day in every order: 2026-02-01 (day first) or 2026-01-02 (month first).
func readIn(s stamp, orders []dateOrder) string {
	var ways []string
	for _, o := range orders {
		d := s.inOrder(o)
		ways = append(ways, fmt.Sprintf("%s (%s)", d, o))
	}
	return strings.Join(ways, " or ")
}

// sameTimes reports whether the log's times from its first row are the same in all
// orders.
func sameTimes(stamps []stamp, orders []dateOrder) bool {
	for _, s := range stamps {
		var from []quantity.Number
		for _, o := range orders {
			start, _ := since(stamps[0], o)
			at, _ := since(s, o)
			from = append(from, at.Sub(start))
		}
		if slices.ContainsFunc(from, func(n quantity.Number) bool { return !n.Equal(from[0]) }) {
			return false
		}
	}
	return true
}

// inOrder reads a stamp's date. Of a year of two digits the century is this one.
func (s stamp) inOrder(o dateOrder) Date {
	if s.year == 0 {
		o = yearFirst
	}
	d := Date{Day: s.date[0], Month: s.date[1], Year: s.date[2]}
	switch o {
	case monthFirst:
		d = Date{Month: s.date[0], Day: s.date[1], Year: s.date[2]}
	case yearFirst:
		d = Date{Year: s.date[0], Month: s.date[1], Day: s.date[2]}
	}
	if s.year < 0 {
		d.Year += 2000
	}
	return d
}

// since is a stamp in seconds: since 1 January 1970 where it has a day. It returns
// false for a day that the calendar does not have.
func since(s stamp, o dateOrder) (quantity.Number, bool) {
	if !strings.HasPrefix(s.form, "date") {
		return s.seconds, true
	}
	d := s.inOrder(o)
	if !d.exists() {
		return quantity.Number{}, false
	}
	return quantity.Int(d.midnight().Unix()).Add(s.seconds), true
}

func (l *probeLog) orderHint(o dateOrder) string {
	if l.dates != unsaidOrder {
		return "the note says that days are written " + o.String()
	}
	return ""
}

// forward holds the times against each other: every row is later than the one before
// it. A clock without a day goes on over midnight, where it falls by more than half a
// day. A row that goes back is reported and left out.
func (l *probeLog) forward(all []moment, stamps []stamp) []moment {
	clockOnly := l.isClock(stamps)
	midnights := quantity.Number{}
	var kept []moment
	for i, m := range all {
		m.seconds = m.seconds.Add(midnights)
		if n := len(kept); n > 0 && m.seconds.Cmp(kept[n-1].seconds) <= 0 {
			fell := kept[n-1].seconds.Sub(m.seconds)
			if clockOnly && quantity.Int(day/2).Less(fell) {
				midnights = midnights.Add(quantity.Int(day))
				m.seconds = m.seconds.Add(quantity.Int(day))
				l.time.changed = true
			} else {
				l.back(kept, m, stamps[i])
				continue
			}
		}
		kept = append(kept, m)
	}
	l.time.changed = l.time.changed || stamps[0].form != "number" && stamps[0].form != "colons" || l.time.unit != ""
	return kept
}

// isClock reports whether all times can be those of a clock without a day.
func (l *probeLog) isClock(stamps []stamp) bool {
	form := stamps[0].form
	if form == "12 hours" || form == "hours and minutes" {
		return true
	}
	return form == "colons" && !slices.ContainsFunc(stamps, func(s stamp) bool { return s.two || quantity.Int(day).Cmp(s.seconds) <= 0 })
}

// back reports a row that is not later than the one before it.
func (l *probeLog) back(kept []moment, m moment, s stamp) {
	last := kept[len(kept)-1].seconds
	hint := ""
	if m.seconds.Equal(last) && (s.two || !strings.Contains(m.cell.Text, ":")) {
		hint = "let the thermometer write seconds"
	}
	what := "is not after the row before it"
	if n := len(kept); n > 1 && !strings.Contains(s.form, "zone") && s.form != "number" {
		step := last.Sub(kept[n-2].seconds)
		ahead := m.seconds.Add(quantity.Int(3600)).Sub(last)
		if ahead.Sign() > 0 && ahead.Cmp(step.Mul(quantity.Int(2))) <= 0 {
			what = "is an hour earlier than it should be: was the clock put back, as at the end of summer time?"
			hint = "add an hour to the rows from here on, or write times with their zone"
		}
	}
	l.problems.Hinted(m.cell.Place, problem.BadReading, hint, "%s %s", quote(m.cell.Text), what)
}

// published is the log in the form that it is published in: seconds from the first
// row, then the probes, and remarks.
func (l *probeLog) published(p Probe, moments []moment) []byte {
	heading := []string{timeName}
	for _, c := range p.Columns {
		heading = append(heading, c.Heading)
	}
	noted := l.table.HasColumn("note")
	if noted {
		heading = append(heading, "note")
	}
	var rows [][]string
	for i, m := range moments {
		cells := []string{p.Rows[i].Seconds.String()}
		for k, c := range p.Columns {
			text := m.row.Under(c.Heading).Text
			if p.Rows[i].Temperatures[k].Missing {
				text = ""
			}
			cells = append(cells, text)
		}
		if noted {
			cells = append(cells, m.row.Under("note").Text)
		}
		rows = append(rows, cells)
	}
	return tabular.Write(heading, rows, tabular.LF)
}
