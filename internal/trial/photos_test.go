package trial

import "testing"

func TestDescribes(t *testing.T) {
	cases := []struct {
		words, file string
		want        bool
	}{
		{"A pancake cracked along the fold", "photos/cool.jpg", true},
		{"Photo of a cool pancake", "photos/cool.jpg", true},
		{"cooler", "photos/cool.jpg", true},
		{"", "photos/cool.jpg", false},
		{" … ", "photos/cool.jpg", false},
		{"cool", "photos/cool.jpg", false},
		{"Cool.", "photos/cool.jpg", false},
		{"cool.jpg", "photos/cool.jpg", false},
		{"photos/cool.jpg", "photos/cool.jpg", false},
		{"Three and a half", "photos/three-and-a-half.JPG", false},
		{"IMG 0412", "IMG_0412.jpeg", false},
		{"Crêpe", "photos/crêpe.png", false},
	}
	for _, c := range cases {
		if got := Describes(c.words, c.file); got != c.want {
			t.Errorf("%q of %s: got %t", c.words, c.file, got)
		}
	}
}
