package findings

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
)

// Text is the summary in a word or two: "4 of 6", "31.2 s", or "–" where nothing
// was read.
func (s Summary) Text() string {
	switch {
	case s.Share != nil:
		return phrasesOf(s.Measure).Say("count", "passes", strconv.Itoa(s.Share.Count), "n", strconv.Itoa(s.Share.N))
	case s.Numbers != nil && s.N == 1:
		return Measured(s.Measure, s.Numbers.Mean, 0)
	case s.Numbers != nil:
		return Measured(s.Measure, s.Numbers.Mean, 1)
	}
	return "–"
}

// Measured writes a value of a measure, given in its base unit, in the unit that
// the note shows it in, with a number of decimals more than a reading usually has.
// A time of a minute and more is written in minutes and seconds.
func Measured(m trial.Measure, value float64, finer int) string {
	if m.Kind == trial.Time {
		return phrasesOf(m).clock(value, finer)
	}
	return unitBehind(m, phrasesOf(m).decimal(InUnit(m, value), places(m, finer)))
}

// Spread writes a difference of a measure, such as a standard deviation, without
// its unit.
func Spread(m trial.Measure, value float64, finer int) string {
	return phrasesOf(m).decimal(value*perUnit(m), places(m, finer))
}

// Range writes two values of a measure with one unit: 365–384 °F, 1:15–1:31 min.
// Values below zero are parted by a word, for a dash beside a minus cannot be read.
func Range(m trial.Measure, low, high float64, finer int) string {
	say := phrasesOf(m)
	switch {
	case m.Kind == trial.Time && high >= 3600:
		return say.clock(low, 0) + " – " + say.clock(high, 0)
	case m.Kind == trial.Time && high >= 59.5:
		return minutes(low) + "–" + minutes(high) + " min"
	}
	from, to := say.decimal(InUnit(m, low), places(m, finer)), say.decimal(InUnit(m, high), places(m, finer))
	if low < 0 || strings.HasPrefix(from, "−") {
		return unitBehind(m, say.Say("from to", "low", from, "high", to))
	}
	return unitBehind(m, from+"–"+to)
}

// WithSpread writes a mean with its standard deviation and one unit: 31.2 ± 4.1 s.
func WithSpread(m trial.Measure, mean, sd float64) string {
	say := phrasesOf(m)
	switch {
	case m.Kind == trial.Time && mean >= 3600:
		return say.clock(mean, 0) + " ± " + say.clock(sd, 0)
	case m.Kind == trial.Time && mean >= 59.5:
		return minutes(mean) + " min ± " + say.decimal(sd, 1) + " s"
	}
	return unitBehind(m, say.decimal(InUnit(m, mean), places(m, 1))+" ± "+Spread(m, sd, 1))
}

func unitBehind(m trial.Measure, text string) string {
	if symbol := m.Symbol(); symbol != "" {
		return text + " " + symbol
	}
	return text
}

// minutes writes seconds as a clock does: 1:09.
func minutes(seconds float64) string {
	if seconds < 0 {
		return "−" + minutes(-seconds)
	}
	whole := int(math.Round(seconds))
	return fmt.Sprintf("%d:%02d", whole/60, whole%60)
}

// InUnit brings a value from the base unit into the measure's.
func InUnit(m trial.Measure, value float64) float64 {
	if m.In == quantity.Fahrenheit {
		return value*9/5 + 32
	}
	return value * perUnit(m)
}

// InUnits brings a difference from the base unit into the measure's; one of shares or of
// ranks has no unit and stays.
func InUnits(m trial.Measure, difference float64) float64 { return difference * perUnit(m) }

// perUnit is how many of the measure's units one of its base unit is, as a
// difference: 9/5 for °F.
func perUnit(m trial.Measure) float64 {
	if m.In == quantity.Fahrenheit {
		return 9.0 / 5
	}
	if _, measured := dimension(m); !measured {
		return 1
	}
	base, _ := quantity.New(quantity.Int(1), m.In).Base()
	return 1 / base.Float64()
}

func dimension(m trial.Measure) (quantity.Dimension, bool) {
	d := m.In.Dimension()
	return d, d != quantity.Count
}

// places is the number of decimals to show: the usual ones and some more, and never
// fewer than the log has.
func places(m trial.Measure, finer int) int { return max(usual(m)+finer, m.Decimals) }

// usual is the number of decimals that readings in the measure's unit have.
func usual(m trial.Measure) int {
	switch m.In {
	case quantity.Centimeter, quantity.Ounce, quantity.Minute:
		return 1
	case quantity.Inch, quantity.Kilogram, quantity.Pound, quantity.Liter, quantity.Hour:
		return 2
	}
	return 0
}

// clock writes seconds: 31.2 s, 1 min 12 s, 1 h 5 min.
func (p phrases) clock(seconds float64, decimals int) string {
	if seconds < 0 {
		return "−" + p.clock(-seconds, decimals)
	}
	if short := p.decimal(seconds, decimals); seconds < 60 && !strings.HasPrefix(short, "60") {
		return short + " s"
	}
	whole := int(math.Round(seconds))
	if whole < 3600 {
		if whole%60 == 0 {
			return fmt.Sprintf("%d min", whole/60)
		}
		return fmt.Sprintf("%d min %d s", whole/60, whole%60)
	}
	minutes := int(math.Round(seconds / 60))
	if minutes%60 == 0 {
		return fmt.Sprintf("%d h", minutes/60)
	}
	return fmt.Sprintf("%d h %d min", minutes/60, minutes%60)
}

// decimal prints half away from zero, with a real minus, and never "−0".
func decimal(value float64, places int) string {
	scale := math.Pow10(places)
	// The sum of a few readings with one decimal may miss a half by an ulp; the
	// nudge puts it back. Readings are far coarser than 1e-9.
	rounded := math.Floor(math.Abs(value)*scale+0.5+1e-9) / scale
	text := strconv.FormatFloat(rounded, 'f', places, 64)
	if value < 0 && rounded != 0 {
		text = "−" + text
	}
	return text
}
