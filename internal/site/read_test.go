package site

import (
	"slices"
	"sync"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/problem"
)

// TestReadIsTold: every trial is told once, one that cannot be read too.
func TestReadIsTold(t *testing.T) {
	var mutex sync.Mutex
	var told []int
	note := &fstest.MapFile{Data: []byte("---\ntitle: T\n---\n")}
	var problems problem.List
	content := Content{
		FS: fstest.MapFS{"a/trial.md": note, "b/trial.md": &fstest.MapFile{Data: []byte("no note")}, "c/trial.md": note},
		Read: func(done, of int) {
			mutex.Lock()
			defer mutex.Unlock()
			told = append(told, done)
			if of != 3 {
				t.Errorf("%d trials", of)
			}
		},
	}
	Surveyor{Content: content, Kitchen: ReadKitchen(content, &problems), Look: testLook(t)}.Survey(&problems)
	slices.Sort(told)
	if !slices.Equal(told, []int{1, 2, 3}) {
		t.Errorf("told %v", told)
	}
}
