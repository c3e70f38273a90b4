package trial

import (
	"regexp"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/tabular"
)

const (
	timeName = "time"
	dateName = "date"
)

// timeColumns are the columns of a thermometer log that say when. Date is -1 where
// the time stands in one column.
type timeColumns struct {
	date, time int
	unit       string // that the heading gives for a bare number or a pair: s, min, h, min:s, h:min
	changed    bool   // the times are published in another form than they were written in
}

// findTime finds them in a line of at least two cells, or says that the line is no
// heading.
func findTime(cells []string) (timeColumns, bool) {
	found := timeColumns{date: -1, time: -1}
	filled := 0
	for i, cell := range cells {
		if cell != "" {
			filled++
		}
		name, unit := timeHeading(cell)
		switch {
		case name == dateName && found.date < 0:
			found.date = i
		case name == timeName && found.time < 0:
			found.time, found.unit = i, unit
			found.changed = cell != timeName
		}
	}
	found.changed = found.changed || found.date >= 0
	return found, found.time >= 0 && filled > 1
}

func (c timeColumns) name(t tabular.Table) string { return t.Heading()[c.time].Text }

// timeHeading reads a heading as that of a time or a date, with the unit in brackets
// behind it.
func timeHeading(heading string) (name, unit string) {
	heading = strings.ToLower(heading)
	if m := bracketed.FindStringSubmatch(heading); m != nil {
		heading, unit = m[1], timeUnit(m[2])
	}
	heading = strings.Join(strings.FieldsFunc(heading, func(r rune) bool { return strings.ContainsRune(" _-/:.,", r) }), " ")
	switch heading {
	case timeName, "date time", "datetime", "date and time", "timestamp", "time stamp", "elapsed", "elapsed time", "time elapsed", "clock":
		return timeName, unit
	case dateName:
		return dateName, ""
	}
	return "", ""
}

func timeUnit(word string) string {
	switch strings.Join(strings.Fields(word), "") {
	case "s", "sec", "second", "seconds":
		return "s"
	case "min", "minute", "minutes":
		return "min"
	case "h", "hour", "hours":
		return "h"
	case "min:s", "min:sec", "m:s", "m:ss", "mm:ss":
		return "min:s"
	case "h:min", "h:m", "h:mm", "hh:mm":
		return "h:min"
	}
	return ""
}

// dateOrder is the order of day and month in a date with slashes or points.
type dateOrder int

const (
	unsaidOrder dateOrder = iota
	dayFirst
	monthFirst
	yearFirst
)

// String gives the words of the note.
func (o dateOrder) String() string {
	return [...]string{"", "day first", "month first", "year first"}[o]
}

// moment is a row with its time, in seconds from whatever the log counts from.
type moment struct {
	row     tabular.Row
	cell    tabular.Cell
	seconds quantity.Number
}

// stamp is a time as it is written, taken apart.
type stamp struct {
	form    string          // what must be the same in the whole log
	date    [3]int          // as the numbers stand; of a clock alone all are 0
	year    int             // which of them is the year of four digits; -1 where none is
	seconds quantity.Number // of the day, or since the start
	two     bool            // of a clock or duration: two numbers with a colon, no seconds
}

// moments reads the times of all rows, in order. It returns false, having said why,
// where the log cannot be read in one way.
func (l *probeLog) moments() ([]moment, bool) {
	var all []moment
	var stamps []stamp
	bad := 0
	for _, row := range l.table.Rows() {
		cell := l.timeCell(row)
		s, ok := l.stamp(cell)
		switch {
		case !ok && bad < mostBad:
			l.problems.Hinted(cell.Place, problem.BadReading,
				"write minutes and seconds, like 1:30, or a day and a time, like 2026-02-14 18:03:05", "%s is not a time", quote(cell.Text))
			bad++
		case !ok:
			bad++
		case len(stamps) > 0 && s.form != stamps[0].form:
			l.problems.Hinted(cell.Place, problem.BadReading, "keep to one way in a log",
				"%s is written in another way than the time in line %d, %s", quote(cell.Text), all[0].cell.Place.Line, quote(all[0].cell.Text))
			return nil, false
		default:
			all, stamps = append(all, moment{row: row, cell: cell}), append(stamps, s)
		}
	}
	if bad > mostBad {
		l.problems.Errorf(problem.Pos{File: l.file}, problem.BadReading, "%d more times cannot be read", bad-mostBad)
	}
	if len(stamps) == 0 || !l.sure(all, stamps) {
		return nil, len(stamps) == 0 && bad == 0
	}
	order, ok := l.order(all, stamps)
	if !ok {
		return nil, false
	}
	for i := range all {
		if all[i].seconds, ok = since(stamps[i], order); !ok {
			l.problems.Hinted(all[i].cell.Place, problem.BadDate, l.orderHint(order), "%s is not a day", quote(all[i].cell.Text))
			return nil, false
		}
	}
	return l.forward(all, stamps), true
}

// mostBad is how many times that cannot be read are reported one by one.
const mostBad = 20

// timeCell is the cell of a row's time; of two columns both together.
func (l *probeLog) timeCell(row tabular.Row) tabular.Cell {
	cell := row.Under(l.time.name(l.table))
	if l.time.date < 0 {
		return cell
	}
	date := row.Under(l.table.Heading()[l.time.date].Text)
	if date.Text != "" && cell.Text != "" && !dayAndTime.MatchString(cell.Text) {
		// A workbook's day alone may hold a midnight.
		cell.Text = strings.TrimSuffix(date.Text, " 00:00:00") + " " + cell.Text
		cell.Doubt = "" // beside a date it can only be a clock's
	}
	return cell
}

const clockPart = `([0-9]{1,2}):([0-9]{2})(?::([0-9]{2})([.,][0-9]{1,9})?)?`

var (
	dayAndTime = regexp.MustCompile(`^([0-9]{1,4})([-./])([0-9]{1,2})([-./])([0-9]{1,4})(?:[Tt]|,?\s+)` + clockPart + `\s*([AaPp]\.?[Mm]\.?)?\s*([Zz]|[+-][0-9]{2}:?[0-9]{2})?$`)
	halfClock  = regexp.MustCompile(`^` + clockPart + `\s*([AaPp]\.?[Mm]\.?)$`)
	colons     = regexp.MustCompile(`^([0-9]{1,6}):([0-9]{2})(?::([0-9]{2}))?([.,][0-9]{1,9})?$`)
)

// stamp takes a time apart.
func (l *probeLog) stamp(c tabular.Cell) (stamp, bool) {
	text := strings.Join(strings.Fields(strings.ReplaceAll(c.Text, "\u202f", " ")), " ")
	if m := dayAndTime.FindStringSubmatch(text); m != nil {
		return dayStamp(m)
	}
	if m := halfClock.FindStringSubmatch(text); m != nil {
		seconds, ok := clock(m[1:6])
		return stamp{form: "12 hours", seconds: seconds, two: m[3] == ""}, ok
	}
	if m := colons.FindStringSubmatch(text); m != nil {
		return l.colonStamp(m, c)
	}
	if isBare(text) {
		n, err := quantity.ParseNumber(text)
		scale, takes := map[string]int64{"": 1, "s": 1, "min": 60, "h": 3600}[l.time.unit]
		return stamp{form: "number", seconds: n.Mul(quantity.Int(scale))}, err == nil && takes
	}
	amount, err := quantity.ParseTime(text)
	if err != nil || amount.IsRange() {
		return stamp{}, false
	}
	seconds, _ := amount.Base()
	return stamp{form: "number", seconds: seconds}, seconds.Sign() >= 0
}

// colonStamp reads 1:10 and 1:00:10.
func (l *probeLog) colonStamp(m []string, c tabular.Cell) (stamp, bool) {
	fields := []int64{whole(m[1]), whole(m[2]), whole(m[3])}
	s := stamp{form: "colons", two: m[3] == ""}
	if c.Doubt != "" && l.time.unit == "min:s" {
		s.two = true // the workbook holds hours where the heading says minutes
	}
	switch {
	case s.two && l.time.unit == "h:min":
		s.form = "hours and minutes"
		s.seconds = quantity.Int(fields[0]*3600 + fields[1]*60)
		return s, m[4] == "" && fields[1] < 60
	case s.two:
		s.seconds = quantity.Int(fields[0]*60 + fields[1])
	default:
		s.seconds = quantity.Int(fields[0]*3600 + fields[1]*60 + fields[2])
	}
	s.seconds = s.seconds.Add(fraction(m[4]))
	return s, fields[1] < 60 && fields[2] < 60
}

// whole reads a few digits; none are 0.
func whole(digits string) int64 {
	var n int64
	for _, d := range digits {
		n = n*10 + int64(d-'0')
	}
	return n
}

// fraction reads decimals with their sign, as in .25.
func fraction(text string) quantity.Number {
	if text == "" {
		return quantity.Number{}
	}
	scale := int64(1)
	for range text[1:] {
		scale *= 10
	}
	return quantity.Ratio(whole(text[1:]), scale)
}

// clock reads hours, minutes, seconds, a fraction and the half of the day.
func clock(m []string) (quantity.Number, bool) {
	hours, minutes, seconds := whole(m[0]), whole(m[1]), whole(m[2])
	ok := hours < 24 && minutes < 60 && seconds < 60
	if half := strings.ToLower(m[4]); half != "" {
		ok = ok && 1 <= hours && hours <= 12
		hours %= 12
		if half[0] == 'p' {
			hours += 12
		}
	}
	return quantity.Int(hours*3600 + minutes*60 + seconds).Add(fraction(m[3])), ok
}

// dayStamp reads a day and a time.
func dayStamp(m []string) (stamp, bool) {
	s := stamp{two: m[8] == "", year: -1, date: [3]int{int(whole(m[1])), int(whole(m[3])), int(whole(m[5]))}}
	switch first, last := len(m[1]), len(m[5]); {
	case m[2] != m[4] || first == 3 || last == 3 || first == 4 && last == 4:
		return s, false
	case first == 4:
		s.year = 0
	case last == 4:
		s.year = 2
	}
	seconds, ok := clock(m[6:11])
	s.form = "date " + m[2] + string(rune('1'+s.year))
	if m[10] != "" {
		s.form += " 12 hours"
	}
	if zone := m[11]; zone != "" {
		s.form += " zone"
		if len(zone) > 1 {
			digits := strings.ReplaceAll(zone[1:], ":", "")
			off := whole(digits[:2])*3600 + whole(digits[2:])*60
			ok = ok && off <= 18*3600
			if zone[0] == '+' {
				off = -off
			}
			seconds = seconds.Add(quantity.Int(off))
		}
	}
	s.seconds = seconds
	return s, ok
}

// sure reports times that can be minutes and seconds as well as hours and minutes.
func (l *probeLog) sure(all []moment, stamps []stamp) bool {
	const hint = "name the column time (min:s) or time (h:min)"
	for i, m := range all {
		if m.cell.Doubt != "" && stamps[i].form == "colons" && l.time.unit != "min:s" && l.time.unit != "h:min" {
			l.problems.Hinted(m.cell.Place, problem.UnsureTime, hint, "%s", m.cell.Doubt)
			return false
		}
	}
	isPair := func(s stamp) bool { return s.form == "colons" && s.two }
	if l.time.unit == "" && !slices.ContainsFunc(stamps, func(s stamp) bool { return !isPair(s) }) && quantity.Int(60).Cmp(stamps[0].seconds) <= 0 {
		text := all[0].cell.Text
		minutes, seconds, _ := strings.Cut(text, ":")
		l.problems.Hinted(all[0].cell.Place, problem.UnsureTime, hint, "%s can be %s min %s s from the start, or the time of day", quote(text), minutes, seconds)
		return false
	}
	return true
}
