package trial

import (
	"cmp"
	"fmt"
	"regexp"
	"strconv"
	"time"
)

// Date is a day of the calendar. The zero value is no date.
type Date struct {
	Year, Month, Day int
}

// IsZero reports whether there is no date.
func (d Date) IsZero() bool { return d == Date{} }

// String returns the date as ISO 8601 has it, 2026-02-14, or "".
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	if d.Year < 0 || d.Year > 9999 || d.Month < 0 || d.Month > 99 || d.Day < 0 || d.Day > 99 {
		return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
	}
	digit := func(n int) byte { return '0' + byte(n%10) }
	return string([]byte{digit(d.Year / 1000), digit(d.Year / 100), digit(d.Year / 10), digit(d.Year), '-',
		digit(d.Month / 10), digit(d.Month), '-', digit(d.Day / 10), digit(d.Day)})
}

// Compare orders dates; no date comes first.
func (d Date) Compare(e Date) int {
	switch {
	case d.Year != e.Year:
		return cmp.Compare(d.Year, e.Year)
	case d.Month != e.Month:
		return cmp.Compare(d.Month, e.Month)
	}
	return cmp.Compare(d.Day, e.Day)
}

var datePattern = regexp.MustCompile(`^(\d{4})-(\d{2})-(\d{2})$`)

// ParseDate reads a date written 2026-02-14, between the years 1900 and 2200.
func ParseDate(s string) (Date, bool) {
	parts := datePattern.FindStringSubmatch(s)
	if parts == nil {
		return Date{}, false
	}
	year, _ := strconv.Atoi(parts[1])
	month, _ := strconv.Atoi(parts[2])
	day, _ := strconv.Atoi(parts[3])
	d := Date{Year: year, Month: month, Day: day}
	if !d.exists() {
		return Date{}, false
	}
	return d, true
}

// exists reports whether the calendar has the day, between the years 1900 and 2200.
func (d Date) exists() bool {
	t := d.midnight()
	return t.Year() == d.Year && int(t.Month()) == d.Month && t.Day() == d.Day && 1900 <= d.Year && d.Year <= 2200
}

// midnight is when the day begins; there is one kind of time here, without zones.
func (d Date) midnight() time.Time {
	return time.Date(d.Year, time.Month(d.Month), d.Day, 0, 0, 0, 0, time.UTC)
}
