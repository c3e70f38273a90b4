package stats

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestConditionalP: the p of many blocks is that of the counted test, with few pieces to
// the last bit, with many to a relative 1e-10.
func TestConditionalP(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var blocks []Block
		pieces := 0
		most := rapid.IntRange(1, 90).Draw(t, "blocks")
		for range most {
			n1, n2 := rapid.IntRange(1, 14).Draw(t, "n1"), rapid.IntRange(1, 9).Draw(t, "n2")
			blocks = append(blocks, Block{X1: rapid.IntRange(0, n1).Draw(t, "x1"), N1: n1, X2: rapid.IntRange(0, n2).Draw(t, "x2"), N2: n2})
			pieces += n1 + n2
		}
		want, err := ConditionalTest(blocks, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		p, ok, err := ConditionalP(blocks)
		if err != nil || ok != want.Defined {
			t.Fatalf("defined %t, want %t, %v", ok, want.Defined, err)
		}
		if exact := want.Exact.P; pieces <= countedPieces && p != exact || math.Abs(p-exact) > 1e-10*exact {
			t.Errorf("%d pieces: %v, counted %v", pieces, p, exact)
		}
	})
}

// TestConditionalPFar: a p far below what luck makes, whose ways a plain number cannot hold,
// and one over blocks that say nothing.
func TestConditionalPFar(t *testing.T) {
	var far, silent []Block
	for range 90 {
		far, silent = append(far, Block{7, 7, 1, 8}), append(silent, Block{6, 6, 6, 6})
	}
	want, err := ConditionalTest(far, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if p, ok, err := ConditionalP(far); err != nil || !ok || p == 0 || math.Abs(p-want.Exact.P) > 1e-10*want.Exact.P {
		t.Errorf("%v, counted %v, %v", p, want.Exact.P, err)
	}
	if p, ok, err := ConditionalP(silent); err != nil || ok || p != 1 {
		t.Errorf("blocks that say nothing: %v, %t, %v", p, ok, err)
	}
	if _, _, err := ConditionalP([]Block{{1, 6000, 1, 6000}}); err == nil {
		t.Error("twelve thousand pieces are taken")
	}
}

// manyBlocks are blocks of six pieces a sample.
func manyBlocks(n int) []Block {
	var blocks []Block
	for i := range n {
		blocks = append(blocks, Block{2 + i%4, 6, 2 + i%3, 6})
	}
	return blocks
}

func BenchmarkConditionalP800(b *testing.B) {
	blocks := manyBlocks(800)
	for b.Loop() {
		if _, _, err := ConditionalP(blocks); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkConditionalTest800(b *testing.B) {
	blocks := manyBlocks(800)
	for b.Loop() {
		if _, err := ConditionalTest(blocks, 0.95); err != nil {
			b.Fatal(err)
		}
	}
}
