package page

import (
	"reflect"
	"strings"
	"testing"
)

// What a note says is text on the preview's pages, and they are whole pages.
func TestPreviewPages(t *testing.T) {
	r := mustNew(t)
	hostile := `"><script>alert(1)</script>`
	for _, n := range []int{0, 1, 3} {
		html, err := r.Mend(stuffed(reflect.TypeFor[Mend](), hostile, n).Interface().(Mend))
		if err != nil {
			t.Fatal(err)
		}
		if found := structure(string(html)); found != nil {
			t.Errorf("%d of each: %q", n, found)
		}
		band, err := r.Band("en", stuffed(reflect.TypeFor[Band](), hostile, n).Interface().(Band))
		if err != nil {
			t.Fatal(err)
		}
		for name, text := range map[string]string{"mend": string(html), "band": string(band)} {
			if strings.Contains(text, "<script>") {
				t.Errorf("%s, %d of each: a note's text is markup", name, n)
			}
		}
		if strings.Contains(string(band), "<h1") || strings.Contains(string(band), " id=") {
			t.Errorf("the band has headings or ids, which may be those of the page below")
		}
	}
}
