package picture

import (
	"image"
	"testing"
)

func BenchmarkResize(b *testing.B) {
	m := photo(1600, 1200)
	for b.Loop() {
		new(paper).resize(m, m.Bounds(), image.Pt(800, 600))
	}
}
