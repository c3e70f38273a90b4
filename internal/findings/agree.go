package findings

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/quantity"
)

var (
	countPattern   = regexp.MustCompile(`^(\d+)\s*(?:of|out of|/|de)\s*(\d+)$`)
	decimalComma   = regexp.MustCompile(`(\d),(\d)`)
	percentPattern = regexp.MustCompile(`^([\d.]+)\s*(?:%|percent|per cent|por ciento)$`)
)

// Agrees reports whether the author's words still say what the value says.
//
// A number agrees when the value rounds to it at the precision it is written
// with: 31 s and 31.2 s both agree with 31.18 s, and so does 0:31. A share agrees
// as a count (5 of 6, 5/6) or as a rounded percentage (83 %). "About" costs
// nothing. In a language with a decimal comma a number may be written with either mark.
// Words that are no number must be the value's own.
func (v Value) Agrees(words string) bool {
	words = plain(words)
	if words == plain(v.Text) {
		return true
	}
	say := spoken(v.language)
	for about := range strings.SplitSeq(say.Say("about words"), "|") {
		words = strings.TrimPrefix(words, about+" ")
	}
	words = strings.TrimPrefix(words, "~")
	if say.Language().Decimal(".") == "," {
		words = decimalComma.ReplaceAllString(words, "$1.$2")
	}
	if v.exact.share {
		return v.exact.agreesAsShare(words)
	}
	return v.exact.agreesAsNumber(words)
}

// plain unifies spaces, minus signs and letter case.
func plain(words string) string {
	return strings.ToLower(strings.Join(strings.Fields(plainSigns.Replace(words)), " "))
}

var plainSigns = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ", "−", "-")

func (f figure) agreesAsShare(words string) bool {
	if m := countPattern.FindStringSubmatch(words); m != nil {
		return m[1] == strconv.Itoa(f.count) && m[2] == strconv.Itoa(f.n)
	}
	if m := percentPattern.FindStringSubmatch(words); m != nil && f.n > 0 {
		return rounds(100*float64(f.count)/float64(f.n), m[1])
	}
	return false
}

func (f figure) agreesAsNumber(words string) bool {
	if m := percentPattern.FindStringSubmatch(words); m != nil {
		return f.unit == quantity.Each && rounds(f.amount, m[1])
	}
	if _, err := strconv.ParseFloat(words, 64); err == nil {
		return rounds(f.amount, words)
	}
	written, err := quantity.ParseTime(words)
	if err != nil || f.unit.Dimension() != quantity.Time {
		written, err = quantity.Parse(words, f.volumes)
	}
	if err != nil || written.IsRange() || written.IsToTaste() || written.Dimension() != f.unit.Dimension() {
		return false
	}
	actual, ok := convert(f.amount, f.unit, written.Unit())
	return ok && math.Abs(actual-written.Low().Float64()) <= tolerance(words)*finest(words, written.Unit())+1e-9
}

// finest is the size of the finest unit that a time is written in, for a time that
// was read into seconds: 18 min is written to the minute, 1 min 10 s and 1:10 to
// the second.
func finest(words string, unit quantity.Unit) float64 {
	if unit != quantity.Second {
		return 1
	}
	last := strings.TrimLeft(words, "0123456789.: ")
	if i := strings.LastIndexByte(words, ' '); i >= 0 {
		last = words[i+1:]
	}
	named, ok := quantity.UnitNamed(strings.TrimLeft(last, "0123456789."), quantity.USCustomary)
	if !ok || named.Dimension() != quantity.Time {
		return 1
	}
	seconds, _ := quantity.New(quantity.Int(1), named).Base()
	return seconds.Float64()
}

// rounds reports whether a value rounds to a number as it is written.
func rounds(value float64, written string) bool {
	number, err := strconv.ParseFloat(written, 64)
	return err == nil && math.Abs(value-number) <= tolerance(written)+1e-9
}

// tolerance is half a unit of the last decimal written.
func tolerance(words string) float64 {
	decimals := 0
	if _, after, point := strings.Cut(words, "."); point {
		decimals = len(after) - len(strings.TrimLeft(after, "0123456789"))
	}
	return 0.5 * math.Pow10(-decimals)
}

// convert brings a number from one unit into another of the same dimension.
func convert(value float64, from, to quantity.Unit) (float64, bool) {
	if from == to {
		return value, true
	}
	base := func(n int64, u quantity.Unit) float64 {
		low, _ := quantity.New(quantity.Int(n), u).Base()
		return low.Float64()
	}
	// Units are straight lines through two points, temperatures with an offset.
	inBase := base(0, from) + value*(base(1, from)-base(0, from))
	slope := base(1, to) - base(0, to)
	if slope == 0 {
		return 0, false
	}
	return (inBase - base(0, to)) / slope, true
}
