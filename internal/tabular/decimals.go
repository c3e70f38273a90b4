package tabular

import (
	"regexp"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
)

// Decimals is what stands before the decimals of a number.
type Decimals int

const (
	Unsaid Decimals = iota // the table has to show it
	DecimalComma
	DecimalPoint
)

// Settle gives the numbers of the columns a decimal point, and reports those that can
// be read in two ways, whose cells it leaves empty. Changed says that it wrote any
// number anew.
//
// With Unsaid a comma in a number is a decimal comma where the table shows that, and
// otherwise asked about:
//
//   - the cells are parted by something else than commas, or it is a workbook;
//   - no number of these columns has a decimal point;
//   - the comma does not stand before exactly three digits, as in 1,500, which can be
//     1.5 or 1500, unless another number of its column shows a decimal comma.
//
// A comma after a colon (1:10,5) is a decimal comma anywhere. In a table with
// semicolons, which is written where the comma is the decimal sign, a point before
// exactly three digits is asked about likewise. What a workbook holds as a number is
// one, whatever it shows.
func (t Table) Settle(columns []string, said Decimals, problems *problem.List) (settled Table, changed bool) {
	s := settler{said: said, form: t.Form, commas: map[string]bool{}, points: map[string]bool{}, problems: problems}
	for _, r := range t.rows {
		for i, c := range r.cells {
			if name := t.heading[i].Text; slices.Contains(columns, name) && !c.Number {
				s.look(name, c)
			}
		}
	}
	t = t.With(func(column string, c Cell) Cell {
		if c.Number || !slices.Contains(columns, column) {
			return c
		}
		text := s.settle(column, c)
		changed = changed || text != c.Text
		c.Text = text
		return c
	})
	return t, changed
}

// settler knows what the numbers of a table show.
type settler struct {
	said     Decimals
	form     Form
	commas   map[string]bool // columns with a comma that can only be a decimal one
	points   map[string]bool // columns with a point that can only be a decimal one
	problems *problem.List
}

// signed is digits with commas and points between them.
var signed = regexp.MustCompile(`[0-9]*([.,][0-9]+)+`)

// look notes what a cell shows.
func (s *settler) look(column string, c Cell) {
	for _, at := range signed.FindAllStringIndex(c.Text, -1) {
		whole, decimals, sign := parts(c.Text[at[0]:at[1]])
		if sign == 0 || threes(whole, decimals) {
			continue
		}
		if sign == ',' && !afterColon(c.Text, at[0]) {
			s.commas[column] = true
		}
		if sign == '.' {
			s.points[column] = true
		}
	}
}

// parts parts a number at its only sign; with several there is none.
func parts(number string) (whole, decimals string, sign byte) {
	at := strings.IndexAny(number, ".,")
	if at < 0 || strings.ContainsAny(number[at+1:], ".,") {
		return "", "", 0
	}
	return number[:at], number[at+1:], number[at]
}

// threes reports whether a sign can stand before thousands: 1,500, not 0,500.
func threes(whole, decimals string) bool {
	return len(decimals) == 3 && 1 <= len(whole) && len(whole) <= 3 && whole[0] != '0'
}

func afterColon(text string, at int) bool { return at > 0 && text[at-1] == ':' }

// settle writes the numbers of a cell with a decimal point, or reports the cell and
// returns nothing.
func (s *settler) settle(column string, c Cell) string {
	var b strings.Builder
	end := 0
	for _, at := range signed.FindAllStringIndex(c.Text, -1) {
		number := c.Text[at[0]:at[1]]
		settled, why := s.number(column, number, afterColon(c.Text, at[0]))
		if why != "" {
			s.problems.Hinted(c.Place, problem.UnsureNumber, s.hint(number), "%s %s", quote(c.Text), why)
			return ""
		}
		b.WriteString(c.Text[end:at[0]])
		b.WriteString(settled)
		end = at[1]
	}
	return b.String() + c.Text[end:]
}

// hint says what to write instead, and how the note settles it.
func (s *settler) hint(number string) string {
	whole, decimals, sign := parts(number)
	word := map[byte]string{',': "comma", '.': "point"}[sign]
	write := "write " + whole + "." + decimals
	switch {
	case sign == 0:
		return "write it with a decimal point and no other sign"
	case threes(whole, decimals) && s.form == Comma:
		write += " or " + whole + decimals
	case threes(whole, decimals):
		write = "write " + whole + decimals + " if it is that"
	}
	if s.said != Unsaid {
		return write
	}
	return write + ", or say once in the note how the logs are written, like logs: {decimals: " + word + "}"
}

// number writes one number with a decimal point, or says in which ways it can be
// read.
func (s *settler) number(column, number string, clock bool) (settled, why string) {
	whole, decimals, sign := parts(number)
	point := whole + "." + decimals
	switch {
	case sign == 0:
		return s.grouped(number)
	case clock:
		return point, ""
	case sign == '.':
		return s.pointed(column, number)
	case s.said == DecimalComma:
		return point, ""
	case s.said == DecimalPoint && threes(whole, decimals):
		return whole + decimals, ""
	case s.said == DecimalPoint:
		return "", "has a comma, and the note says that the logs have decimal points"
	case threes(whole, decimals) && (s.form == Comma || len(s.points) > 0 || !s.commas[column]):
		return "", "can be " + point + " or " + whole + decimals
	case s.form == Comma:
		return "", "can be " + point + " or two readings, " + whole + " and " + decimals
	case len(s.points) > 0:
		return "", "can be " + point + " or two readings, " + whole + " and " + decimals + ": the log has decimal points as well"
	}
	return point, ""
}

// pointed reads a number with a point.
func (s *settler) pointed(column, number string) (settled, why string) {
	whole, decimals, _ := parts(number)
	thousands := threes(whole, decimals)
	switch {
	case s.said == DecimalComma && thousands:
		return whole + decimals, ""
	case s.said == DecimalComma:
		return "", "has a point, and the note says that the logs have decimal commas"
	case s.said == Unsaid && thousands && s.form == Semicolon && !s.points[column]:
		return "", "can be " + number + " or " + whole + decimals
	}
	return number, ""
}

var (
	commaGroups = regexp.MustCompile(`^[1-9][0-9]{0,2}(,[0-9]{3})+(\.[0-9]+)?$`)
	pointGroups = regexp.MustCompile(`^[1-9][0-9]{0,2}(\.[0-9]{3})+(,[0-9]+)?$`)
)

// grouped reads a number with several signs: 1,234,567.8 or 1.234.567,8. It can be
// read in one way only, where that is the way in which the note says the logs are
// written.
func (s *settler) grouped(number string) (settled, why string) {
	switch {
	case strings.Count(number, ".") > 1 && !strings.Contains(number, ",") && !pointGroups.MatchString(number):
		return number, "" // a date, or nothing: its reader says so
	case s.said == DecimalPoint && commaGroups.MatchString(number):
		return strings.ReplaceAll(number, ",", ""), ""
	case s.said == DecimalComma && pointGroups.MatchString(number):
		return strings.Replace(strings.ReplaceAll(number, ".", ""), ",", ".", 1), ""
	}
	return "", "has more than one sign in a number"
}

func quote(text string) string {
	const longest = 40
	if short := []rune(text); len(short) > longest {
		text = string(short[:longest]) + "…"
	}
	return "“" + text + "”"
}
