package picture

import (
	"image"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestSizes(t *testing.T) {
	cases := []struct {
		name          string
		width, height int
		want          []Size
	}{
		{"nothing", 0, 0, nil},
		{"a pixel", 1, 1, []Size{{1, 1}}},
		{"narrower than all", 479, 360, []Size{{479, 360}}},
		{"the first step", 480, 360, []Size{{480, 360}}},
		{"less than a quarter more", 599, 400, []Size{{480, 321}}},
		{"a quarter more", 600, 400, []Size{{480, 320}, {600, 400}}},
		{"two steps", 960, 720, []Size{{480, 360}, {960, 720}}},
		{"its own width last", 1500, 500, []Size{{480, 160}, {960, 320}, {1500, 500}}},
		{"all three", 1600, 1200, []Size{{480, 360}, {960, 720}, {1600, 1200}}},
		{"a camera's", 6000, 4000, []Size{{480, 320}, {960, 640}, {1600, 1067}}},
		{"a line", 8000, 1, []Size{{480, 1}, {960, 1}, {1600, 1}}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := Sizes(Info{Format: JPEG, Width: c.width, Height: c.height}, 480, 960, 1600)
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

func TestCroppedSizes(t *testing.T) {
	cases := []struct {
		name          string
		width, height int
		want          []Size
	}{
		{"nothing", 0, 0, nil},
		{"both steps", 800, 600, []Size{{400, 300}, {800, 600}}},
		{"a camera's", 6000, 4000, []Size{{400, 300}, {800, 600}}},
		{"upright", 3000, 4000, []Size{{400, 300}, {800, 600}}},
		{"wide but low", 2000, 450, []Size{{400, 300}, {600, 450}}},
		{"too low for the first", 2000, 240, []Size{{320, 240}}},
		{"less than a quarter more", 480, 900, []Size{{400, 300}}},
		{"a quarter more", 500, 900, []Size{{400, 300}, {500, 375}}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := CroppedSizes(Info{Format: JPEG, Width: c.width, Height: c.height}, 4, 3, 400, 800)
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// What is promised is made: each size is what Make and MakeCropped give for it.
func TestSizesAreMade(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		info := Info{Format: PNG, Width: rapid.IntRange(1, 200).Draw(r, "width"), Height: rapid.IntRange(1, 200).Draw(r, "height")}
		data := asPNG(t, image.NewGray(image.Rect(0, 0, info.Width, info.Height)))
		hold := func(sizes []Size, make func(Size) (Made, error)) {
			if len(sizes) == 0 {
				r.Error("no size at all")
			}
			last := 0
			for _, size := range sizes {
				m, err := make(size)
				if err != nil || m.Width != size.Width || m.Height != size.Height {
					r.Errorf("want %v, got %d × %d and %v", size, m.Width, m.Height, err)
				}
				if size.Width > info.Width || size.Height > info.Height || 4*size.Width < 5*last {
					r.Errorf("%v after a width of %d, from %d × %d", size, last, info.Width, info.Height)
				}
				last = size.Width
			}
		}
		hold(Sizes(info, 24, 48, 96), func(s Size) (Made, error) { return Make(data, s.Width) })
		hold(CroppedSizes(info, 4, 3, 24, 48, 96), func(s Size) (Made, error) { return MakeCropped(data, s.Width, s.Height) })
	})
}
