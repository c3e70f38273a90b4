package chart

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
)

// scale is an axis: its range, the distance between ticks, and how a value on it
// is written. It is a plot.Ticker.
type scale struct {
	low, high float64
	step      float64
	frame     frame
	write     func(v, step float64) string
}

// ladder returns the tick distances to try for a span, from fine to coarse.
type ladder func(span float64) []float64

// number scale: 1, 2 or 5 times a power of ten.
func tens(span float64) []float64 {
	top := int(math.Ceil(math.Log10(span)))
	var steps []float64
	for k := top - 2; k <= top; k++ {
		for _, m := range []float64{1, 2, 5} {
			steps = append(steps, m*math.Pow10(k))
		}
	}
	return steps
}

// wholes are the steps of tens that are whole numbers: for scores.
func wholes(span float64) []float64 {
	steps := []float64{1, 2, 5}
	for _, s := range tens(span) {
		if s > 5 {
			steps = append(steps, s)
		}
	}
	return steps
}

// seconds are the steps of a kitchen timer up to half an hour and on to a day; for
// a span of a few seconds tens, and above a day days.
func seconds(span float64) []float64 {
	if span < 5 {
		return tens(span)
	}
	return append([]float64{1, 2, 5, 10, 15, 30}, wholeMinutes(span)...)
}

// wholeMinutes are the steps of seconds that are whole minutes.
func wholeMinutes(span float64) []float64 {
	const minute, hour, day = 60, 3600, 86400
	steps := []float64{minute, 2 * minute, 5 * minute, 10 * minute, 15 * minute, 30 * minute,
		hour, 2 * hour, 3 * hour, 6 * hour, 12 * hour}
	for _, days := range tens(max(span/day, 1)) {
		if days >= 1 {
			steps = append(steps, days*day)
		}
	}
	return steps
}

// frame is where an axis lies across the figure: what is left of it, and how long
// it is, in units. The zero frame is for an axis that runs upward.
type frame struct{ left, room float64 }

// newScale chooses ticks at least apart units from each other, whose labels leave a
// gap between them.
func newScale(low, high float64, along frame, steps ladder, write func(v, step float64) string) scale {
	s := scale{low: low, high: high, write: write, frame: along}
	const apart, gap = 34, 12
	for _, s.step = range steps(high - low) {
		distance := along.room * s.step / (high - low)
		if distance >= apart && distance >= s.widest()+gap {
			break
		}
	}
	return s.withTwoTicks()
}

// withTwoTicks widens a range that holds fewer than two ticks to the nearer one
// outside it: a single tick is no scale.
func (s scale) withTwoTicks() scale {
	for range 2 {
		if len(s.Ticks(s.low, s.high)) >= 2 {
			break
		}
		below := (math.Ceil(s.low/s.step) - 1) * s.step
		above := (math.Floor(s.high/s.step) + 1) * s.step
		if s.low-below < above-s.high && s.low != 0 {
			s.low = below
		} else {
			s.high = above
		}
	}
	return s
}

// newUpright is newScale for an axis of plain numbers that runs upward, its ticks
// at least apart units from each other: labels need only height.
func newUpright(low, high, room, apart float64, steps ladder) scale {
	s := scale{low: low, high: high, write: plainNumber}
	for _, s.step = range steps(high - low) {
		if room*s.step/(high-low) >= apart {
			break
		}
	}
	return s
}

// widest returns the width of the widest label. It looks at no more than a screenful.
func (s scale) widest() float64 {
	widest := max(width(s.write(s.low, s.step), smallSize), width(s.write(s.high, s.step), smallSize))
	for i, t := range s.Ticks(s.low, s.high) {
		if i > 40 {
			break
		}
		widest = max(widest, width(t.Label, smallSize))
	}
	return widest
}

// Ticks returns the multiples of the step from low to high. One whose label would
// run out of the figure at the left has none.
func (s scale) Ticks(low, high float64) []plot.Tick {
	const slip = 1e-9                                                         // a tick at the very end counts
	first, last := math.Ceil(low/s.step-slip)+0, math.Floor(high/s.step+slip) // −0 + 0 is 0
	var ticks []plot.Tick
	for i := first; i <= last && len(ticks) < 1000; i++ {
		t := plot.Tick{Value: i * s.step, Label: s.write(i*s.step, s.step)}
		at := s.frame.left + s.frame.room*(t.Value-s.low)/(s.high-s.low)
		if s.frame.room > 0 && at < width(t.Label, smallSize)/2 {
			t.Label = ""
		}
		ticks = append(ticks, t)
	}
	return ticks
}

// spread returns a range that holds all values with a little air. It is at least
// least wide, and where all values are alike at least 1, so that these do not look
// far apart.
func spread(values []float64, least float64) (low, high float64) {
	low, high = values[0], values[0]
	for _, v := range values {
		low, high = min(low, v), max(high, v)
	}
	if large := max(math.Abs(low), math.Abs(high)); high-low <= 1e-6*max(large, 1) {
		least = max(least, 1, 0.02*large) // all alike
	}
	if lack := least - (high - low); lack > 0 {
		low, high = low-lack/2, high+lack/2
	}
	air := 0.03 * (high - low)
	return low - air, high + air
}

// plainNumber writes a value with as many decimals as its step needs and a real
// minus sign.
func plainNumber(v, step float64) string {
	return minus(strconv.FormatFloat(v, 'f', decimalsOf(step), 64))
}

// decimalsOf returns how many decimals tell multiples of a step apart: 2 for 0.05.
func decimalsOf(step float64) int {
	if step >= 1 {
		return 0
	}
	return int(math.Ceil(-math.Log10(step) - 1e-9))
}

// signedNumber is plainNumber with a plus sign: for differences.
func signedNumber(v, step float64) string {
	return signed(plainNumber)(v, step)
}

// signed puts a plus sign before what is above zero.
func signed(write func(v, step float64) string) func(v, step float64) string {
	return func(v, step float64) string {
		s := write(v, step)
		if v > 0 && strings.ContainsAny(s, "123456789") {
			return "+" + s
		}
		return s
	}
}

// percent writes a ratio.
func percent(v, step float64) string { return plainNumber(100*v, 100*step) + "\u00a0%" }

// signedPoints writes a difference of ratios in percentage points.
func signedPoints(v, step float64) string { return signedNumber(100*v, 100*step) }

// minutes writes seconds as 0:30, from an hour on as 1:00:00.
func minutes(v, step float64) string { return timeWithSeconds(v, step, 3600) }

// longMinutes writes seconds as 0:00:30 throughout.
func longMinutes(v, step float64) string { return timeWithSeconds(v, step, 0) }

// timeWithSeconds writes hours from seconds on.
func timeWithSeconds(v, step, hoursFrom float64) string {
	sign := ""
	if v < 0 {
		sign, v = "−", -v
	}
	decimals := decimalsOf(step)
	unit := math.Pow10(decimals)
	v = math.Round(v*unit) / unit
	if v == 0 {
		sign = ""
	}
	whole := math.Floor(v)
	seconds := fmt.Sprintf("%02.0f", math.Mod(whole, 60))
	if decimals > 0 {
		seconds += strconv.FormatFloat(v-whole, 'f', decimals, 64)[1:]
	}
	m := math.Floor(whole / 60)
	if whole >= hoursFrom {
		return fmt.Sprintf("%s%.0f:%02.0f:%s", sign, math.Floor(m/60), math.Mod(m, 60), seconds)
	}
	return fmt.Sprintf("%s%.0f:%s", sign, m, seconds)
}

// hours writes seconds as h:mm, for axes that run over an hour and more.
func hours(v, _ float64) string {
	sign := ""
	if v < 0 {
		sign, v = "−", -v
	}
	m := math.Round(v / 60)
	return fmt.Sprintf("%s%.0f:%02.0f", sign, math.Floor(m/60), math.Mod(m, 60))
}

// timeScale is the scale of an axis of seconds, and the unit it is written in:
// min:s up to an hour, beyond it h:min, or h:min:s for a short stretch far out.
func timeScale(low, high float64, along frame, w Words) (scale, string) {
	switch longest := max(high, -low); {
	case longest <= 3600:
		return newScale(low, high, along, seconds, w.marked(minutes)), w.Minutes
	case high-low >= 600:
		return newScale(low, high, along, wholeMinutes, hours), w.Hours
	}
	return newScale(low, high, along, seconds, w.marked(longMinutes)), w.Seconds
}

func minus(s string) string {
	if rest, negative := strings.CutPrefix(s, "-"); negative {
		if !strings.ContainsAny(rest, "123456789") {
			return rest
		}
		return "−" + rest
	}
	return s
}
