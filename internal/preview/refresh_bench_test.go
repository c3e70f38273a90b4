package preview

import (
	"fmt"
	"testing"
	"time"
)

// BenchmarkRefresh measures what a save costs in a kitchen of a thousand trials,
// from the moment it has settled to the page that shows it, beside making one
// write-up alone: "write-ups" is the one as a multiple of the other, and
// "write-ups-whole" the same until the pages that go over all trials are there as
// well. What the watcher waits for (quietTime) comes on top of it.
func BenchmarkRefresh(b *testing.B) {
	for _, trials := range []int{10, 1000} {
		b.Run(fmt.Sprintf("trials=%d", trials), func(b *testing.B) {
			var slugs []string
			for i := range trials {
				slugs = append(slugs, fmt.Sprintf("trial-%04d", i))
			}
			f := newFolder(b, slugs...)
			d := loaded(f.options())
			slug := slugs[trials/2]
			s := serve(d)
			var saving, whole, making time.Duration
			n := 0
			for b.Loop() {
				n++
				b.StopTimer()
				f.write(slug+"/trial.md", note(fmt.Sprintf("Saved %d", n), published))
				b.StartTimer()
				start := time.Now()
				_, next := d.nowAndNext()
				done := make(chan struct{})
				go func() {
					d.followOne(b.Context(), touch{slugs: map[string]bool{slug: true}})
					close(done)
				}()
				<-next // the page is told
				if code := ask(s, request("/"+slug+"/")).Code; code != 200 {
					b.Fatal(code)
				}
				saving += time.Since(start)
				b.StopTimer()
				<-done // the pages that go over all trials
				whole += time.Since(start)
				start = time.Now()
				if _, err := d.now().outputs[slug+"/index.html"].Make(); err != nil {
					b.Fatal(err)
				}
				making += time.Since(start)
				b.StartTimer()
			}
			b.ReportMetric(float64(saving)/float64(making), "write-ups")
			b.ReportMetric(float64(whole)/float64(making), "write-ups-whole")
			b.ReportMetric(float64(saving.Microseconds())/1000/float64(n), "ms/save")
		})
	}
}
