package picture

import (
	"bytes"
	"image"
	"sync"
	"sync/atomic"
	"testing"
)

// TestDarkroomKeeps: a picture is decoded once for all its sizes, and what comes of it is
// what Make and MakeCropped make.
func TestDarkroomKeeps(t *testing.T) {
	a, b, c := held(t, "lossy.webp"), held(t, "lossless-alpha.webp"), asJPEG(t, photo(90, 60))
	var d Darkroom
	for range 2 {
		for _, data := range [][]byte{a, b, c, a} {
			for _, width := range []int{40, 17} {
				got, err := d.Make(data, width)
				want, wrong := Make(data, width)
				if err != nil || wrong != nil || !bytes.Equal(got.Data, want.Data) || got.Format != want.Format {
					t.Errorf("%d wide: %v, %v, %d bytes, want %d", width, err, wrong, len(got.Data), len(want.Data))
				}
			}
			got, err := d.MakeCropped(data, 12, 9)
			want, wrong := MakeCropped(data, 12, 9)
			if err != nil || wrong != nil || !bytes.Equal(got.Data, want.Data) {
				t.Errorf("cropped: %v, %v", err, wrong)
			}
			if len(d.kept) > mostKept || d.busy != 0 {
				t.Fatalf("%d kept, %d busy", len(d.kept), d.busy)
			}
		}
	}
	before := d.kept[len(d.kept)-1]
	if _, err := d.Make(a, 20); err != nil || d.kept[len(d.kept)-1] != before {
		t.Errorf("it was decoded again (%v)", err)
	}
	if _, _, err := d.Check("a.jpg", c[:len(c)/2]); err == nil || d.busy != 0 {
		t.Errorf("half a picture: %v, %d busy", err, d.busy)
	}
}

// TestDarkroomWaits: of pictures for which there is no room beside each other, one is
// worked on after the other, and none is forgotten.
func TestDarkroomWaits(t *testing.T) {
	for _, tt := range []struct {
		name  string
		bytes int
		most  int32 // at a time
	}{
		{"small", 1000, 12},
		{"three have room", roomFor / 3, 3},
		{"one has", roomFor/2 + 1, 1},
		{"none has", roomFor + 1, 1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var d Darkroom
			var inside, highest atomic.Int32
			var wait sync.WaitGroup
			for i := range 12 {
				wait.Go(func() {
					for turn := range 20 {
						p := d.enter([32]byte{byte(i), byte(turn)}, tt.bytes, 10)
						n := inside.Add(1)
						for was := highest.Load(); n > was && !highest.CompareAndSwap(was, n); was = highest.Load() {
						}
						p.once.Do(func() { p.m = image.NewGray(image.Rect(0, 0, i+1, turn+1)) })
						if p.m.Bounds().Dx() != i+1 || p.m.Bounds().Dy() != turn+1 {
							t.Error("somebody else's picture")
						}
						inside.Add(-1)
						d.leave(p, 10)
					}
				})
			}
			wait.Wait()
			kept := 0
			for _, p := range d.kept {
				kept += p.bytes
			}
			if highest.Load() > tt.most || d.busy != 0 || d.used != kept || len(d.kept) > mostKept {
				t.Errorf("%d at a time, %d busy, %d bytes used, %d kept: %+v", highest.Load(), d.busy, d.used, kept, d.kept)
			}
		})
	}
}
