package trial

import (
	"regexp"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/tabular"
)

// probeLog is a thermometer log that is being read.
type probeLog struct {
	*reader
	file    string
	time    timeColumns
	probes  []probeColumn
	table   tabular.Table
	touched bool // something is published in another form than it was written in
}

// probeColumn is a column of readings.
type probeColumn struct {
	ProbeColumn
	name  string // without its unit
	told  bool   // the heading gives the unit
	place problem.Pos
}

// probe reads a thermometer's log: the time, then a column for each probe. Lines that
// the instrument writes before the heading are skipped, and so are a count of the
// rows and columns in units that are no temperature.
//
// What is published is a column time, in seconds from the first row where the log is
// written in another way, and the probes with their headings.
func (r *reader) probe(f logFile) {
	heading := func(cells []string) bool {
		_, ok := findTime(cells)
		return ok
	}
	l := probeLog{reader: r, file: r.folder.shown(f.file)}
	l.table = r.table(f.file, tabular.Wanted{Columns: []string{timeName, dateName}, Heading: heading})
	if len(l.table.Heading()) == 0 {
		return
	}
	l.time, _ = findTime(namesOf(l.table))
	l.columns()
	l.settle()
	moments, ok := l.moments()
	if !ok {
		r.keep(f.log, l.table, l.table.AsIs) // so that links to it still lead somewhere
		return
	}
	p := Probe{Name: strings.TrimSuffix(strings.TrimPrefix(f.log, probePrefix), logEnd)}
	for _, c := range l.probes {
		p.Probes = append(p.Probes, c.name)
		p.Columns = append(p.Columns, c.ProbeColumn)
	}
	for _, m := range moments {
		row := ProbeRow{Seconds: m.seconds.Sub(moments[0].seconds)}
		for _, c := range l.probes {
			row.Temperatures = append(row.Temperatures, l.temperature(c, m.row.Under(c.Heading)))
		}
		p.Rows = append(p.Rows, row)
	}
	l.plausible(p, moments)
	r.trial.Probes = append(r.trial.Probes, p)
	if l.table.AsIs && !l.touched && !l.time.changed {
		r.keep(f.log, l.table, true)
		return
	}
	r.trial.Files = append(r.trial.Files, File{Name: f.log, Data: l.published(p, moments)})
}

func namesOf(t tabular.Table) []string {
	heading, _ := t.Texts()
	return heading
}

// columns finds the probes among the columns.
func (l *probeLog) columns() {
	names := namesOf(l.table)
	taken := map[string]bool{}
	for i, c := range l.table.Heading() {
		switch {
		case i == l.time.date || i == l.time.time || c.Text == "note":
			continue
		case c.Text == "" || isCount(c.Text):
			l.touched = true
			continue
		}
		column, temperature := readHeading(c.Text, names)
		column.place = c.Place
		if !temperature {
			l.touched = true
			l.problems.Ask(c.Place, problem.BadHeader, "take the column out of the log if it is not needed", "%q is no temperature, and is not read", c.Text)
			continue
		}
		if taken[column.name] {
			column.name = c.Text // the same probe in both units
		}
		taken[column.name] = true
		l.probes = append(l.probes, column)
	}
}

// isCount reports whether a column only counts the rows.
func isCount(heading string) bool {
	words := []string{"#", "no", "no.", "nr", "nr.", "index", "record", "row"}
	return slices.Contains(words, strings.ToLower(heading))
}

var (
	bracketed  = regexp.MustCompile(`^(.*?)[\s_]*[(\[]\s*([^()\[\]]+?)\s*[)\]]$`)
	degreed    = regexp.MustCompile(`^(.*?)[\s,_/]*((?i:°|º|deg\.?\s*)\s*[CF]|℃|℉)$`)
	underlined = regexp.MustCompile(`^(.+)_([A-Za-z])$`)
)

// readHeading takes a heading apart: crumb (°F), crumb [C], crumb °C, crumb_F. A
// letter after an underscore is a unit only when no other column of the log has the
// same beginning and another letter: probe_A, probe_B, probe_C are names. It returns
// false for a column in a unit that is no temperature, such as rh (%).
func readHeading(heading string, all []string) (column probeColumn, temperature bool) {
	column = probeColumn{ProbeColumn: ProbeColumn{Heading: heading, In: quantity.Celsius}, name: heading}
	word := ""
	switch bracket, degree, letter := bracketed.FindStringSubmatch(heading), degreed.FindStringSubmatch(heading), underlined.FindStringSubmatch(heading); {
	case degree != nil:
		column.name, word = degree[1], degree[2]
	case bracket != nil:
		column.name, word = bracket[1], bracket[2]
	case letter != nil && isUnitLetter(letter, all):
		column.name, word = letter[1], letter[2]
	default:
		return column, true
	}
	if column.name = strings.TrimSpace(column.name); column.name == "" {
		column.name = heading
	}
	unit, known := temperatureUnit(word)
	switch {
	case known:
		column.In, column.told = unit, true
		return column, true
	case isOtherUnit(word):
		return column, false
	}
	column.name = heading // a remark in brackets: probe (left)
	return column, true
}

func isUnitLetter(letter, all []string) bool {
	if _, is := temperatureUnit(letter[2]); !is {
		return false
	}
	return !slices.ContainsFunc(all, func(other string) bool {
		o := underlined.FindStringSubmatch(other)
		return o != nil && o[1] == letter[1] && !strings.EqualFold(o[2], letter[2]) && !strings.ContainsAny(o[2], "CFcf")
	})
}

var degreeSigns = strings.NewReplacer("º", "°", "℃", "°C", "℉", "°F", "deg.", "deg ", "  ", " ")

func temperatureUnit(word string) (quantity.Unit, bool) {
	word = degreeSigns.Replace(word)
	word = strings.Join(strings.Fields(strings.ReplaceAll(word, "°", " ")), " ")
	switch strings.ToLower(word) {
	case "c", "deg c", "degc", "celsius":
		return quantity.Celsius, true
	case "f", "deg f", "degf", "fahrenheit":
		return quantity.Fahrenheit, true
	}
	return quantity.Celsius, false
}

// isOtherUnit reports whether a word in brackets says that the column is something
// else than a temperature here.
func isOtherUnit(word string) bool {
	if strings.Contains(word, "%") || slices.Contains([]string{"K", "°K", "V", "mV", "A", "mA", "W", "Pa", "hPa", "kPa", "mbar", "bar", "ppm", "lux", "Ohm", "Ω"}, word) {
		return true
	}
	unit, known := quantity.UnitNamed(word, quantity.USCustomary)
	return known && unit.Dimension() != quantity.Temperature && unit.Dimension() != quantity.Count
}

// settle gives the readings a decimal point, and the time where it is a bare number.
func (l *probeLog) settle() {
	var numeric []string
	for _, c := range l.probes {
		numeric = append(numeric, c.Heading)
	}
	if name := l.time.name(l.table); l.time.date < 0 && slices.ContainsFunc(l.table.Rows(), func(row tabular.Row) bool { return isBare(row.Under(name).Text) }) {
		numeric = append(numeric, name)
	}
	settled, changed := l.table.Settle(numeric, l.trial.Decimals, l.problems)
	l.table, l.touched = settled, l.touched || changed
}

// temperature reads a cell; what instruments write where they read nothing is a gap.
func (l *probeLog) temperature(c probeColumn, cell tabular.Cell) Reading {
	if isGap(cell.Text) {
		l.touched = l.touched || cell.Text != ""
		cell.Text = ""
	}
	reading := l.reading(Measure{Name: "temperature", Kind: Temperature, In: c.In}, cell)
	if absoluteZero := quantity.Ratio(-27315, 100); reading.Value.Less(absoluteZero) {
		l.problems.Errorf(cell.Place, problem.OutOfRange, "nothing is colder than −273.15 °C")
	}
	return reading
}

// isGap reports whether a logger says that it read nothing: no probe, out of range,
// an error.
func isGap(text string) bool {
	if strings.Trim(text, "-–—. ") == "" {
		return true
	}
	words := []string{"n/a", "na", "#n/a", "nan", "err", "error", "ol", "o.l", "o.l.", "over", "under", "open", "null", "none", "no probe"}
	return slices.Contains(words, strings.ToLower(text))
}

// hottest is above what is read in most kitchens' food, pans and ovens, in °C.
const hottest = 300

// plausible asks about readings of a column without a unit that are hardly °C.
func (l *probeLog) plausible(p Probe, moments []moment) {
	fahrenheit := l.kitchen.Instruments.Thermometer.Unit() == quantity.FahrenheitDegree
	for i, c := range l.probes {
		if c.told {
			continue
		}
		bare, hot := Reading{Missing: true}, Reading{Missing: true}
		for k, row := range p.Rows {
			reading := row.Temperatures[i]
			if reading.Missing || !isBare(moments[k].row.Under(c.Heading).Text) {
				continue
			}
			if bare.Missing {
				bare = reading
			}
			if hot.Missing && quantity.Int(hottest).Less(reading.Value) {
				hot = reading
			}
		}
		hint := "write " + c.Heading + " (°F) or " + c.Heading + " (°C) in the heading"
		switch {
		case !bare.Missing && fahrenheit:
			l.problems.Hinted(c.place, problem.UnsureNumber, hint, "the readings of %q can be °C, or °F, which the kitchen's thermometer reads", c.Heading)
		case !hot.Missing:
			l.problems.Ask(hot.Place, problem.UnsureNumber, hint, "%s °C is hot for a kitchen: is %q in °F?", hot.Value.Decimal(0), c.Heading)
		}
	}
}

var bareNumber = regexp.MustCompile(`^[-−+]?[0-9]*[.,]?[0-9]+$`)

func isBare(text string) bool { return bareNumber.MatchString(text) }
