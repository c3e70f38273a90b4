package press

import (
	"bytes"
	"sync"
	"testing"
)

// TestManyFacts: what several goroutines put in at once comes out again, each under its place:
// none, few and more than a block holds.
func TestManyFacts(t *testing.T) {
	const files = 300
	of := func(k int) []byte {
		sizes := []int{0, 1, 700, factsBlock - 1, factsBlock, 2*factsBlock + 3, 5}
		return bytes.Repeat([]byte{byte(k)}, sizes[k%len(sizes)])
	}
	m := newManyFacts(files)
	var all sync.WaitGroup
	for from := range 3 {
		all.Go(func() {
			for k := from; k < files-1; k += 3 {
				m.put(k, of(k))
			}
		})
	}
	all.Wait()
	for k := range files - 1 {
		if got := m.of(k); !bytes.Equal(got, of(k)) {
			t.Fatalf("place %d: %d bytes, not %d of %d", k, len(got), len(of(k)), byte(k))
		}
	}
	if got := m.of(files - 1); got != nil {
		t.Errorf("a place that nothing was put in: %q", got)
	}
}
