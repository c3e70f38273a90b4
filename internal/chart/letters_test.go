package chart

import (
	"testing"

	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"
)

// TestLetters holds what is written out of a font against the font itself.
func TestLetters(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom([]func(float64) (f ruler){
			func(size float64) ruler { return inFont(sansAt(size)) },
			func(size float64) ruler { return inFont(titleFont(size)) },
			func(size float64) ruler { return inFont(kitchenFont(size)) },
		}).Draw(t, "font")
		r := f(rapid.Float64Range(1, 99).Draw(t, "size"))
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`[ -~]*`), rapid.StringMatching(`[ -\x{233f}]*`)).Draw(t, "text")
		size := r.face.Font.Size
		if got, want := r.letters.width(text, size), r.face.Width(text); got != want {
			t.Errorf("%q is %v wide, want %v", text, got, want)
		}
		if got, want := r.letters.measures(size), r.face.Extents(); got != want {
			t.Errorf("lines are %v, want %v", got, want)
		}
		if got := r.face.Face.UnitsPerEm(); got != em {
			t.Errorf("an em is %d units", got)
		}
	})
}

func BenchmarkWidth(b *testing.B) {
	r := inFont(sansAt(smallSize))
	for b.Loop() {
		r.width("First stage: 4 min 30 s, with a lid")
	}
}

// The cost of asking the font itself.
func BenchmarkWidthOfFont(b *testing.B) {
	r := inFont(sansAt(smallSize))
	var wide vg.Length
	for b.Loop() {
		wide += r.face.Width("First stage: 4 min 30 s, with a lid")
	}
}
