package press

import (
	"bytes"
	"fmt"
	"os"
	"testing"

	"sidebatch.example/sidebatch/internal/site"
)

// benchSite is 500 pages of 20 kB, about a hundred trials.
func benchSite() []site.Output {
	var outputs []site.Output
	for i := range 500 {
		page := bytes.Repeat([]byte(fmt.Sprintf("page %03d ", i)), 20_000/9)
		outputs = append(outputs, site.Output{Path: fmt.Sprintf("trial-%03d/index.html", i), Make: func() ([]byte, error) { return page, nil }})
	}
	return outputs
}

func BenchmarkRun(b *testing.B) {
	outputs := benchSite()
	run := func(b *testing.B, o Options) {
		if _, err := publishAll(b.Context(), outputs, o); err != nil {
			b.Fatal(err)
		}
	}
	b.Run("first", func(b *testing.B) {
		out := newFolder(b)
		for b.Loop() {
			run(b, Options{Out: out})
			b.StopTimer()
			if err := os.RemoveAll(out); err != nil {
				b.Fatal(err)
			}
			b.StartTimer()
		}
		perSecond(b, len(outputs))
	})
	b.Run("unchanged", func(b *testing.B) {
		out := newFolder(b)
		run(b, Options{Out: out})
		for b.Loop() {
			run(b, Options{Out: out})
		}
		perSecond(b, len(outputs))
	})
	b.Run("verify", func(b *testing.B) {
		out := newFolder(b)
		run(b, Options{Out: out})
		for b.Loop() {
			run(b, Options{Out: out, Verify: true})
		}
		perSecond(b, len(outputs))
	})
}

func perSecond(b *testing.B, files int) {
	b.ReportMetric(float64(files*b.N)/b.Elapsed().Seconds(), "files/s")
}
