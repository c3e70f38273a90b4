package chart

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestWriteValues(t *testing.T) {
	tests := []struct {
		name  string
		write func(v, step float64) string
		v     float64
		step  float64
		want  string
	}{
		{"half a minute", minutes, 30, 10, "0:30"},
		{"a minute", minutes, 60, 10, "1:00"},
		{"tenths", minutes, 70.26, .1, "1:10.3"},
		{"rounded up to the minute", minutes, 59.96, .1, "1:00.0"},
		{"just under an hour", minutes, 3599, 1, "59:59"},
		{"an hour", minutes, 3600, 60, "1:00:00"},
		{"before the start", minutes, -90, 30, "−1:30"},
		{"no minus zero", minutes, -.2, 1, "0:00"},
		{"long", longMinutes, 3000, 1, "0:50:00"},
		{"hours", hours, 5400, 1800, "1:30"},
		{"hours below zero", hours, -5400, 1800, "−1:30"},
		{"a real minus", plainNumber, -18.5, .5, "−18.5"},
		{"decimals of the step", plainNumber, 2, .05, "2.00"},
		{"no minus zero", plainNumber, -.001, .1, "0.0"},
		{"plus", signedNumber, .5, .5, "+0.5"},
		{"zero has no sign", signedNumber, 0, .5, "0.0"},
		{"percent", percent, .25, .25, "25\u00a0%"},
		{"points", signedPoints, -.4, .2, "−40"},
	}
	for _, tc := range tests {
		t.Run(tc.name, func(t *testing.T) {
			if got := tc.write(tc.v, tc.step); got != tc.want {
				t.Errorf("got %q, want %q", got, tc.want)
			}
		})
	}
}

func labelsOf(s scale) []string {
	var labels []string
	for _, t := range s.Ticks(s.low, s.high) {
		labels = append(labels, t.Label)
	}
	return labels
}

func TestTicks(t *testing.T) {
	words := Words{}.orEnglish()
	across := frame{30, 300}
	times := func(low, high float64) scale {
		s, _ := timeScale(low, high, across, words)
		return s
	}
	tests := []struct {
		name string
		in   scale
		want string
	}{
		{"a minute and a half", times(0, 90), "0:00 0:15 0:30 0:45 1:00 1:15 1:30"},
		{"twenty minutes", times(0, 1200), "0:00 5:00 10:00 15:00 20:00"},
		{"a night", times(0, 12*3600), "0:00 2:00 4:00 6:00 8:00 10:00 12:00"},
		{"a short stretch far out", times(7200, 7260), "2:00:00 2:00:15 2:00:30 2:00:45 2:01:00"},
		{"about freezing", newScale(-2, 3, across, tens, plainNumber), "−2 −1 0 1 2 3"},
		{"scores upward", newUpright(.7, 9.3, 200, 17, wholes), "1 2 3 4 5 6 7 8 9"},
	}
	for _, tc := range tests {
		t.Run(tc.name, func(t *testing.T) {
			if got := strings.Join(labelsOf(tc.in), " "); got != tc.want {
				t.Errorf("got  %s\nwant %s", got, tc.want)
			}
		})
	}
}

// Every axis has ticks, no two of them alike, none outside.
func TestTicksOfAnyRange(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		a := rapid.Float64Range(-1e6, 1e6).Draw(r, "a")
		b := rapid.OneOf(rapid.Just(a), rapid.Float64Range(-1e6, 1e6), rapid.Float64Range(a-2, a+2)).Draw(r, "b")
		low, high := spread([]float64{a, b}, 0)
		timed, _ := timeScale(low, high, frame{60, 280}, Words{}.orEnglish())
		for _, s := range []scale{newScale(low, high, frame{60, 280}, tens, plainNumber), timed} {
			if s.low > low || s.high < high {
				r.Errorf("from %g to %g became %g to %g", low, high, s.low, s.high)
			}
			low, high := s.low, s.high
			labels := labelsOf(s)
			if len(labels) < 2 || len(labels) > 12 {
				r.Errorf("%d ticks from %g to %g", len(labels), low, high)
			}
			if slices.Sort(labels); len(slices.Compact(labels)) != len(s.Ticks(low, high)) {
				r.Errorf("two ticks read the same from %g to %g: %q", low, high, labels)
			}
			for _, tick := range s.Ticks(low, high) {
				if at := (tick.Value - low) / (high - low); at < -1e-6 || at > 1+1e-6 {
					r.Errorf("tick %g lies outside %g to %g", tick.Value, low, high)
				}
			}
		}
	})
}

func TestWrap(t *testing.T) {
	tests := []struct {
		name  string
		in    string
		room  float64
		lines int
		want  []string
		whole bool
	}{
		{"fits", "Cool water", 100, 2, []string{"Cool water"}, true},
		{"breaks at a space", "Boiling water, no rest", 90, 2, []string{"Boiling water,", "no rest"}, true},
		{"ends in …", "Boiling water and a long rest overnight", 90, 2, []string{"Boiling water", "and a long re…"}, false},
		{"one long word", "Donaudampfschifffahrt", 90, 2, []string{"Donaudampfsc", "hifffahrt"}, true},
		{"nothing", "", 90, 2, []string{""}, true},
		{"a mark stays with its letter", strings.Repeat("e\u0301", 20), 50, 1, []string{strings.Repeat("e\u0301", 5) + "…"}, false},
	}
	for _, tc := range tests {
		t.Run(tc.name, func(t *testing.T) {
			got, whole := wrap(tc.in, nameSize, tc.room, tc.lines)
			if diff := cmp.Diff(tc.want, got); diff != "" || whole != tc.whole {
				t.Errorf("whole %v, (-want +got)\n%s", whole, diff)
			}
			for _, line := range got {
				if width(line, nameSize) > tc.room {
					t.Errorf("%q is wider than %g", line, tc.room)
				}
			}
		})
	}
}

// Liberation Sans has the advance widths of Arial: in units of 1/2048 em a digit is
// 1139 wide and an A 1366 (from memory of Arial's hmtx table).
func TestWidth(t *testing.T) {
	for _, tc := range []struct {
		in   string
		want float64
	}{{"0", 1139}, {"A", 1366}, {"00", 2278}, {"煮", 2048}} {
		if got, want := width(tc.in, 10), tc.want/2048*10*slack; math.Abs(got-want) > .01 {
			t.Errorf("%q is %g wide, want %g", tc.in, got, want)
		}
	}
}

func TestPushApart(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		heights := rapid.SliceOfN(rapid.Float64Range(0, 200), 0, 14).Draw(r, "heights")
		slices.Sort(heights)
		before := slices.Clone(heights)
		moved := pushApart(heights, 13, 0, 200)
		if !slices.Equal(before, heights) {
			r.Fatal("the input was changed")
		}
		for i, y := range moved {
			if y < -1e-9 || y > 200+1e-9 || i > 0 && y-moved[i-1] < 13-1e-9 {
				r.Errorf("%v became %v", heights, moved)
			}
		}
	})
	if diff := cmp.Diff([]float64{10, 50, 100}, pushApart([]float64{10, 50, 100}, 13, 0, 200)); diff != "" {
		t.Errorf("names that have room moved: %s", diff)
	}
}

// What thin leaves out lies near the line through what it keeps, but for the
// readings between the lowest and the highest of one unit of width.
func TestThin(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(1, 300).Draw(r, "points")
		heights := rapid.SliceOfN(rapid.Float64Range(0, 200), n, n).Draw(r, "heights")
		line := make([]place, n)
		low, high := 0, 0
		for i := range line {
			line[i] = place{float64(i) * 1.01, heights[i]} // a column of its own each
			if heights[i] < heights[low] {
				low = i
			}
			if heights[i] > heights[high] {
				high = i
			}
		}
		kept := thin(line)
		if kept[0] != line[0] || kept[len(kept)-1] != line[n-1] {
			r.Fatal("an end is gone")
		}
		k := 0
		for _, p := range line {
			for k+1 < len(kept) && kept[k+1].x <= p.x {
				k++
			}
			if near := distance(p, kept[k], kept[min(k+1, len(kept)-1)]); near > .2+1e-9 {
				r.Errorf("%v lies %g from the line", p, near)
			}
		}
	})
	crowd := make([]place, 10_000)
	for i := range crowd {
		crowd[i] = place{float64(i) / 100, math.Mod(float64(i)*7.3, 50)}
	}
	if kept := thin(crowd); len(kept) > 4*101 {
		t.Errorf("%d points stay of a hundred units, want at most four a unit", len(kept))
	}
}
