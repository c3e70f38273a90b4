package trial

import (
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
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
}

// Compare orders dates; no date comes first.
func (d Date) Compare(e Date) int {
	switch a, b := d.String(), e.String(); {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
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
	t := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	if t.Year() != year || int(t.Month()) != month || t.Day() != day || year < 1900 || year > 2200 {
		return Date{}, false
	}
	return Date{Year: year, Month: month, Day: day}, true
}
