package stats

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// largest bounds the size of a reading, so that sums of squares stay finite.
const largest = 1e100

// Sample is a checked set of readings: at least one, all finite, none larger
// than 1e100 in size. It holds a copy, in the order given; its methods never
// change it. The zero Sample holds nothing and comes only from a caller that
// did not use NewSample; every function of the package refuses it.
type Sample struct {
	xs []float64
}

// NewSample checks readings and copies them.
func NewSample(xs []float64) (Sample, error) {
	if len(xs) == 0 {
		return Sample{}, errors.New("a sample without readings (there must be at least one)")
	}
	for i, x := range xs {
		if math.IsNaN(x) || math.Abs(x) > largest {
			return Sample{}, fmt.Errorf("reading %d is %g (readings must be ordinary numbers)", i+1, x)
		}
	}
	return Sample{xs: slices.Clone(xs)}, nil
}

// N is the number of readings.
func (s Sample) N() int { return len(s.xs) }

// Values returns a copy of the readings in the order they were given.
func (s Sample) Values() []float64 { return slices.Clone(s.xs) }

// Min is the smallest reading; 0 for the zero Sample.
func (s Sample) Min() float64 {
	if len(s.xs) == 0 {
		return 0
	}
	return slices.Min(s.xs)
}

// Max is the largest reading; 0 for the zero Sample.
func (s Sample) Max() float64 {
	if len(s.xs) == 0 {
		return 0
	}
	return slices.Max(s.xs)
}

// Mean is the arithmetic mean; 0 for the zero Sample. When all readings are
// alike it is that reading exactly, without the rounding of a sum.
func (s Sample) Mean() float64 {
	if s.alike() {
		return s.Min()
	}
	return stat.Mean(s.xs, nil)
}

// SD is the sample standard deviation, with n − 1 below the sum of squares. It
// is not defined (false) for fewer than two readings, and exactly 0 when all
// readings are alike.
func (s Sample) SD() (float64, bool) {
	v, ok := s.variance()
	return math.Sqrt(v), ok
}

func (s Sample) variance() (float64, bool) {
	if len(s.xs) < 2 {
		return 0, false
	}
	if s.alike() {
		return 0, true
	}
	return stat.Variance(s.xs, nil), true
}

// alike says whether every reading is the same number.
func (s Sample) alike() bool { return s.Min() == s.Max() }

// Median is the middle reading of an odd number of them, and the mean of the two
// middle readings of an even number; 0 for the zero Sample.
func (s Sample) Median() float64 {
	if len(s.xs) == 0 {
		return 0
	}
	return median(s.xs)
}

// median of at least one number, on a copy. The mean of the two middle numbers
// is taken as they are: both are below 1e100, so the sum cannot overflow.
func median(xs []float64) float64 {
	sorted := slices.Clone(xs)
	slices.Sort(sorted)
	mid := len(sorted) / 2
	if len(sorted)%2 == 1 {
		return sorted[mid]
	}
	return (sorted[mid-1] + sorted[mid]) / 2
}

// Summary describes a sample for a table.
type Summary struct {
	N                      int
	Mean, Median, Min, Max float64
	SD                     float64 // meaningless where HasSD is false
	HasSD                  bool    // two readings or more
}

// Describe puts the usual figures of a sample together.
func Describe(s Sample) Summary {
	sd, ok := s.SD()
	return Summary{N: s.N(), Mean: s.Mean(), Median: s.Median(), Min: s.Min(), Max: s.Max(), SD: sd, HasSD: ok}
}
