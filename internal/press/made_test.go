package press

import (
	"errors"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"sidebatch.example/sidebatch/internal/site"
)

// TestMadeIsTold: every output is told once, failed ones too, and all of all.
func TestMadeIsTold(t *testing.T) {
	for _, workers := range []int{1, 8} {
		var mutex sync.Mutex
		var told []int
		o := Options{Out: filepath.Join(t.TempDir(), "site"), Workers: workers, Made: func(done, of int) {
			mutex.Lock()
			defer mutex.Unlock()
			told = append(told, done)
			if of != 3 {
				t.Errorf("%d outputs", of)
			}
		}}
		if _, err := publishAll(t.Context(), files{"a": "1", "b": "2", "c": "3"}.outputs(), o); err != nil {
			t.Fatal(err)
		}
		slices.Sort(told)
		if !slices.Equal(told, []int{1, 2, 3}) {
			t.Errorf("%d workers: told %v", workers, told)
		}
		told = nil
		outputs := append(files{"a": "1", "b": "2"}.outputs(), []site.Output{failing("x", errors.New("broken"))}...)
		if _, err := publishAll(t.Context(), outputs, o); err == nil || len(told) != 3 {
			t.Errorf("%v after %v", err, told)
		}
	}
}
