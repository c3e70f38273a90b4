package preview

import (
	"context"
	"maps"
	"slices"
	"testing"
	"testing/synctest"
	"time"
)

// In a bubble of testing/synctest time is exact: it passes only when everything waits.
func TestSettle(t *testing.T) {
	type touched struct {
		after time.Duration // since the touch before
		slug  string
	}
	type settled struct {
		at    time.Duration
		slugs []string
	}
	ms := time.Millisecond
	tests := []struct {
		name string
		in   []touched
		want []settled
	}{
		{"one save", []touched{{0, "a"}}, []settled{{20 * ms, []string{"a"}}}},
		{"the steps of one save", []touched{{0, "a"}, {5 * ms, "a"}, {15 * ms, "b"}}, []settled{{40 * ms, []string{"a", "b"}}}},
		{"two saves", []touched{{0, "a"}, {30 * ms, "b"}}, []settled{{20 * ms, []string{"a"}}, {50 * ms, []string{"b"}}}},
		{"writing without end", []touched{{0, "a"}, {15 * ms, "a"}, {15 * ms, "a"}, {15 * ms, "a"}, {15 * ms, "a"}, {15 * ms, "a"}, {15 * ms, "b"}},
			[]settled{{80 * ms, []string{"a"}}, {110 * ms, []string{"b"}}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				ctx, stop := context.WithCancel(t.Context())
				in, out := make(chan touch), make(chan touch)
				go settle(ctx, in, out, times{quiet: 20 * ms, most: 80 * ms})
				start := time.Now()
				go func() {
					for _, i := range tt.in {
						time.Sleep(i.after)
						in <- touch{slugs: map[string]bool{i.slug: true}}
					}
				}()
				for _, want := range tt.want {
					got := <-out
					if at := time.Since(start); at != want.at {
						t.Errorf("settled after %v, want %v", at, want.at)
					}
					if slugs := slices.Sorted(maps.Keys(got.slugs)); !slices.Equal(slugs, want.slugs) {
						t.Errorf("settled %q, want %q", slugs, want.slugs)
					}
				}
				time.Sleep(time.Second)
				select {
				case more := <-out:
					t.Errorf("settled again: %v", more)
				default:
				}
				stop()
			})
		})
	}
}

// What comes while nobody takes is joined.
func TestSettleWhileBusy(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		ctx, stop := context.WithCancel(t.Context())
		in, out := make(chan touch), make(chan touch)
		go settle(ctx, in, out, times{quiet: time.Millisecond, most: time.Second})
		in <- touch{slugs: map[string]bool{"a": true}}
		time.Sleep(time.Minute)
		in <- touch{theme: true, all: true}
		time.Sleep(time.Minute)
		if got := <-out; !got.slugs["a"] || !got.theme || got.names() != nil {
			t.Errorf("got %+v", got)
		}
		stop()
	})
}

func TestTouchNames(t *testing.T) {
	if names := (touch{theme: true}).names(); names == nil || len(names) > 0 {
		t.Errorf("only the theme: %v, want none, and not nil, which is all", names)
	}
}
