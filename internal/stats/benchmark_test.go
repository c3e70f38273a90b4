package stats

import (
	"math/rand/v2"
	"testing"
)

func BenchmarkFisher(b *testing.B) {
	for b.Loop() {
		if _, err := Fisher(6, 6, 2, 6); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBoschloo12v12(b *testing.B) {
	for b.Loop() {
		if _, err := Boschloo(12, 12, 7, 12); err != nil {
			b.Fatal(err)
		}
	}
}

// Readings of a thermometer in tenths: counted over the grid.
func BenchmarkPermutation12v12(b *testing.B) {
	benchmarkPermutation(b, 12, func(r *rand.Rand) float64 { return float64(650+r.IntN(120)) / 10 })
}

// Readings with many digits: the subsets of either half are listed.
func BenchmarkPermutation12v12ManyDigits(b *testing.B) {
	benchmarkPermutation(b, 12, func(r *rand.Rand) float64 { return r.NormFloat64() })
}

func BenchmarkPermutation20v20ManyDigits(b *testing.B) {
	benchmarkPermutation(b, 20, func(r *rand.Rand) float64 { return r.NormFloat64() })
}

func BenchmarkPermutationDrawn100v100(b *testing.B) {
	benchmarkPermutation(b, 100, func(r *rand.Rand) float64 { return r.NormFloat64() })
}

func benchmarkPermutation(b *testing.B, n int, reading func(*rand.Rand) float64) {
	r := rand.New(rand.NewPCG(1, 2))
	var xs, ys []float64
	for range n {
		xs, ys = append(xs, reading(r)), append(ys, reading(r))
	}
	x, y := mustSample(b, xs), mustSample(b, ys)
	for b.Loop() {
		if _, err := Permutation(x, y, Sampling{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRankSum12v12(b *testing.B) {
	x := mustSample(b, []float64{1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21, 23})
	y := mustSample(b, []float64{2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24})
	for b.Loop() {
		if _, err := RankSum(x, y, 0.95, Sampling{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFriedman10x4(b *testing.B) {
	rows := make([][]float64, 10)
	for i := range rows {
		rows[i] = []float64{1, 2, 3, 4}
	}
	for b.Loop() {
		if _, err := Friedman(rows, Sampling{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkConditional4x8(b *testing.B) {
	blocks := []Block{{8, 8, 5, 8}, {7, 8, 4, 8}, {6, 6, 4, 6}, {5, 7, 1, 6}}
	for b.Loop() {
		if _, err := ConditionalTest(blocks, 0.95); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDropFromAll(b *testing.B) {
	for b.Loop() {
		if _, _, err := (Plan{N1: 12, N2: 12, Alpha: 0.05}).DropFromAll(0.8); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPiecesNeeded(b *testing.B) {
	for b.Loop() {
		if _, _, err := PiecesNeeded(0.9, 0.5, 0.05, 0.8, 60); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAssessorsNeeded(b *testing.B) {
	for b.Loop() {
		if _, _, err := AssessorsNeeded(Triangle, 0.3, 0.05, 0.8, 200); err != nil {
			b.Fatal(err)
		}
	}
}
