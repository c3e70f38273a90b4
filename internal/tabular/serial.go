package tabular

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// numberKind is what a cell's number format says that its number is.
type numberKind struct {
	date, clock bool // a day; a time of day or a duration
	seconds     bool // of a clock: it shows seconds
	elapsed     bool // of a clock: hours run on past 24
	percent     bool
}

// numberKinds lists the kinds of all cell styles.
func (b *book) numberKinds() []numberKind {
	styles := b.file.Styles
	if styles == nil || styles.CellXfs == nil {
		return nil
	}
	codes := map[int]string{}
	if styles.NumFmts != nil {
		for _, f := range styles.NumFmts.NumFmt {
			if f != nil {
				codes[f.NumFmtID] = f.FormatCode
			}
		}
	}
	kinds := make([]numberKind, len(styles.CellXfs.Xf))
	for i, xf := range styles.CellXfs.Xf {
		if xf.NumFmtID == nil {
			continue
		}
		if code, own := codes[*xf.NumFmtID]; own {
			kinds[i] = kindOf(code)
		} else {
			kinds[i] = builtIn(*xf.NumFmtID)
		}
	}
	return kinds
}

// builtIn are the number formats that a workbook does not spell out: ECMA-376 Part
// 1, 18.8.30, with those of East Asian locales.
func builtIn(id int) numberKind {
	switch {
	case id == 9 || id == 10:
		return numberKind{percent: true}
	case 14 <= id && id <= 17, 27 <= id && id <= 31, id == 36, 50 <= id && id <= 58:
		return numberKind{date: true}
	case id == 18 || id == 20 || id == 32 || id == 34:
		return numberKind{clock: true}
	case id == 19 || id == 21 || id == 33 || id == 35 || id == 45 || id == 47:
		return numberKind{clock: true, seconds: true}
	case id == 22:
		return numberKind{date: true, clock: true}
	case id == 46:
		return numberKind{clock: true, seconds: true, elapsed: true}
	}
	return numberKind{}
}

var (
	quotedPart  = regexp.MustCompile(`"[^"]*"|\\.|_.|\*.`)
	elapsedPart = regexp.MustCompile(`\[(h+|m+|s+)\]`)
	bracketPart = regexp.MustCompile(`\[[^\]]*\]`)
	halfDayPart = regexp.MustCompile(`am/pm|a/p`)
)

// kindOf reads a format code. Only its first section counts, that of numbers above
// zero.
func kindOf(code string) numberKind {
	code = quotedPart.ReplaceAllString(strings.ToLower(code), "")
	code, _, _ = strings.Cut(code, ";")
	var k numberKind
	k.elapsed = elapsedPart.MatchString(code)
	code = elapsedPart.ReplaceAllString(code, "$1")
	code = halfDayPart.ReplaceAllString(bracketPart.ReplaceAllString(code, ""), "")
	if strings.Contains(code, "general") {
		return numberKind{}
	}
	k.percent = strings.Contains(code, "%")
	k.seconds = strings.Contains(code, "s")
	k.date = strings.ContainsAny(code, "yd")
	k.clock = k.elapsed || k.seconds || strings.Contains(code, "h")
	if strings.Contains(code, "m") && !k.clock {
		k.date = true // a month alone
	}
	return k
}

// number turns a number into text: plain digits with a decimal point, at most nine
// decimals; a day as 2026-02-14; a time of day or a duration as 1:10 (minutes) or
// 18:03:05; 50 % as 50%.
func (s *sheetReader) number(text string, style int, c Cell) Cell {
	value, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(value, 0) || math.IsNaN(value) {
		c.Text = text
		return c
	}
	c.Number = true
	var k numberKind
	if 0 <= style && style < len(s.book.kinds) {
		k = s.book.kinds[style]
	}
	switch {
	case k.percent:
		c.Text = plain(value*100) + "%"
	case (k.date || k.clock) && 0 <= value && value < mostDays:
		c.Text, c.Doubt = moment(value, k, s.book.since1904)
	default:
		c.Text = plain(value)
	}
	return c
}

// mostDays is 31 December 9999, the last day of a workbook.
const mostDays = 2_958_466

// plain writes a number without an exponent. A workbook holds it in binary: 15
// digits are what was typed (ECMA-376 and IEEE 754), and of a quotient nine decimals
// are finer than any instrument here.
func plain(value float64) string {
	short, err := strconv.ParseFloat(strconv.FormatFloat(value, 'g', 15, 64), 64)
	if err != nil {
		short = value
	}
	text := strconv.FormatFloat(short, 'f', -1, 64)
	if _, decimals, has := strings.Cut(text, "."); has && len(decimals) > 9 {
		text = strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(short, 'f', 9, 64), "0"), ".")
	}
	return text
}

// moment writes a number of days as what it is. Days are counted from the end of
// 1899, or of 1903; the former count has a 29 February 1900, which never was.
func moment(days float64, k numberKind, since1904 bool) (text, doubt string) {
	const perDay = 24 * 60 * 60 * 1000
	ms := int64(math.Round(days * perDay))
	// A clock that holds more than a few weeks holds the day as well.
	if !k.date && (k.elapsed || days < 60) {
		text = duration(ms)
		if !k.seconds && ms%60000 == 0 && !k.elapsed {
			text = fmt.Sprintf("%d:%02d:00", ms/3600000, ms/60000%60)
			doubt = fmt.Sprintf("the cell shows %d:%02d and holds %d h %d min", ms/3600000, ms/60000%60, ms/3600000, ms/60000%60)
		}
		return text, doubt
	}
	first := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
	switch {
	case since1904:
		first = time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)
	case days < 60:
		first = first.AddDate(0, 0, 1)
	}
	at := first.AddDate(0, 0, int(ms/perDay))
	text = at.Format(time.DateOnly)
	if rest := ms % perDay; rest != 0 || k.clock {
		text += fmt.Sprintf(" %02d:%02d:%02d", rest/3600000, rest/60000%60, rest/1000%60) + fraction(rest)
	}
	return text, ""
}

// duration writes minutes and seconds, and hours where there are any.
func duration(ms int64) string {
	text := fmt.Sprintf("%d:%02d", ms/60000, ms/1000%60)
	if ms >= 3600000 {
		text = fmt.Sprintf("%d:%02d:%02d", ms/3600000, ms/60000%60, ms/1000%60)
	}
	return text + fraction(ms)
}

// fraction writes the part of a second.
func fraction(ms int64) string {
	if ms%1000 == 0 {
		return ""
	}
	return strings.TrimRight(fmt.Sprintf(".%03d", ms%1000), "0")
}
