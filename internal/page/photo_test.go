package page

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestPicture: a photo in the prose offers its widths, has room kept for it before it
// is there, and carries its words.
func TestPicture(t *testing.T) {
	r, err := New(nil)
	if err != nil {
		t.Fatal(err)
	}
	const sizes = `sizes="auto, (min-width: 60rem) 45rem, calc(100vw - 3rem)"`
	torn := Photo{Src: "photos/torn-960.jpg", Srcset: "photos/torn-480.jpg 480w, photos/torn-960.jpg 960w", Alt: `A cake, "torn" & flat`, Width: 960, Height: 640}
	tall := Photo{Src: "photos/jar-300.png", Srcset: "photos/jar-300.png 300w", Alt: "A jar", Width: 300, Height: 400}
	cases := []struct {
		name string
		view Picture
		want string
	}{
		{"a block", Picture{Photo: torn, Caption: "The last one <cold>.", Alone: true}, `<figure class="shot">
<img src="photos/torn-960.jpg" srcset="photos/torn-480.jpg 480w, photos/torn-960.jpg 960w" ` + sizes +
			` alt="A cake, &#34;torn&#34; &amp; flat" width="960" height="640" loading="lazy" decoding="async">
<figcaption>The last one &lt;cold&gt;.</figcaption>
</figure>`},
		{"upright, without a caption", Picture{Photo: tall, Alone: true}, `<figure class="shot is-tall">
<img src="photos/jar-300.png" srcset="photos/jar-300.png 300w" ` + sizes + ` alt="A jar" width="300" height="400" loading="lazy" decoding="async">
</figure>`},
		{"in running text", Picture{Photo: tall}, `<img src="photos/jar-300.png" srcset="photos/jar-300.png 300w" ` + sizes +
			` alt="A jar" width="300" height="400" loading="lazy" decoding="async">`},
		{"nothing known but the file", Picture{Photo: Photo{Src: "a.jpg"}}, `<img src="a.jpg" alt="" loading="lazy" decoding="async">`},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, err := r.Picture("en", c.view)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(c.want, string(got)); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}
