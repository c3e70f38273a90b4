package press

import (
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"sidebatch.example/sidebatch/internal/cache"
	"sidebatch.example/sidebatch/internal/linkcheck"
	"sidebatch.example/sidebatch/internal/site"
)

// keptSite is 150,000 files in 10,000 folders, as ten thousand trials have them; a third
// are pages, with links to other pages. The front page alone changes with the round.
func keptSite(round int) []site.Output {
	outputs := make([]site.Output, 0, 150_001)
	add := func(path, text string) {
		var from site.Digest
		binary.LittleEndian.PutUint64(from[:], uint64(len(outputs)))
		copy(from[8:], path)
		outputs = append(outputs, site.Output{Path: path, From: from, Make: func() ([]byte, error) { return []byte(text), nil }})
	}
	for i := range 10_000 {
		for k := range 15 {
			if k%3 > 0 {
				add(fmt.Sprintf("a-trial-of-something-%04d/photos/piece-%02d.csv", i, k), "sample\n")
				continue
			}
			text := ""
			for n := range 20 {
				text += fmt.Sprintf(`<p id="part-%d"><a href="/a-trial-of-something-%04d/page-%02d.html#part-%d">x</a>`, n, (i+n*n)%10_000, k, n)
			}
			add(fmt.Sprintf("a-trial-of-something-%04d/page-%02d.html", i, k), text)
		}
	}
	add("index.html", fmt.Sprint(round))
	outputs[len(outputs)-1].From[15] = byte(round)
	return outputs
}

// BenchmarkKept is a run in which nothing, or one page, changed, as a multiple of a bare loop
// of os.Lstat over the same files.
func BenchmarkKept(b *testing.B) {
	out := newFolder(b)
	run := func(b *testing.B, outputs []site.Output) Summary {
		b.Helper()
		sum, err := Run(b.Context(), sourceOf(inLots(outputs)...), Options{Out: out, Cache: cache.At(CacheOf(out)), Inspect: linkcheck.New("")})
		if err != nil || sum.CacheError != nil {
			b.Fatal(err, sum.CacheError)
		}
		return sum
	}
	run(b, keptSite(0))
	believe := func() { dateTable(b, out) }
	believe()
	round := 0
	for _, c := range []struct {
		name    string
		changed int
	}{{"none", 0}, {"one", 1}} {
		b.Run(c.name, func(b *testing.B) {
			var bare time.Duration
			for b.Loop() {
				b.StopTimer()
				round += c.changed
				outputs := keptSite(round)
				start := time.Now()
				for _, o := range outputs {
					if _, err := os.Lstat(filepath.Join(out, o.Path)); err != nil {
						b.Fatal(err)
					}
				}
				bare += time.Since(start)
				b.StartTimer()
				sum := run(b, outputs)
				b.StopTimer()
				if sum.Written != c.changed || sum.Kept != len(outputs)-c.changed {
					b.Fatalf("%+v", sum)
				}
				believe()
				b.StartTimer()
			}
			b.ReportMetric(float64(b.Elapsed())/float64(bare), "loops")
			b.ReportMetric(float64(bare)/float64(b.N)/1e6, "ms/bare")
		})
	}
}
