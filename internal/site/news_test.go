package site

import "testing"

// TestPagesIn: the pages of a trial are counted as the sitemap lists them.
func TestPagesIn(t *testing.T) {
	for _, paths := range []string{"", "index.html", "data.json\nindex.html\nnotes/index.html", "a.html.txt\nindex.html\nshare.png", "share.png"} {
		c := &Card{Slug: "x", Files: paths}
		p := &planner{Index: &Index{Trials: []*Card{c}}}
		want := 0
		for range p.listed(nil) {
			want++
		}
		if got := pagesIn(p.ownPathsText(c)); got != want {
			t.Errorf("%q: %d pages, and %d are listed", paths, got, want)
		}
	}
}
