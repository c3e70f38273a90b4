package page

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
)

var (
	headings  = regexp.MustCompile(`<h([1-6])[ >]`)
	ids       = regexp.MustCompile(`\sid="([^"]+)"`)
	labelled  = regexp.MustCompile(`\saria-labelledby="([^"]*)"`)
	fragments = regexp.MustCompile(`\shref="#([^"]*)"`)
	addresses = regexp.MustCompile(`\s(?:href|src)="([^"]*)"`)
)

// structure lists what a reader who listens would stumble over: headings out of
// order (WCAG 2.2, technique G141), an id given twice (HTML Living Standard
// 3.2.6), a label that points at nothing.
func structure(html string) []string {
	var found []string
	last, ones := 0, 0
	for _, h := range headings.FindAllStringSubmatch(html, -1) {
		level, _ := strconv.Atoi(h[1])
		if level > last+1 {
			found = append(found, "h"+h[1]+" after h"+strconv.Itoa(last))
		}
		if level == 1 {
			ones++
		}
		last = level
	}
	if ones != 1 {
		found = append(found, strconv.Itoa(ones)+" first headings")
	}
	known := make(map[string]bool)
	for _, id := range ids.FindAllStringSubmatch(html, -1) {
		if known[id[1]] {
			found = append(found, "twice: id "+id[1])
		}
		known[id[1]] = true
	}
	for _, m := range labelled.FindAllStringSubmatch(html, -1) {
		for _, id := range strings.Fields(m[1]) {
			if !known[id] {
				found = append(found, "nothing has the id "+id)
			}
		}
	}
	for _, m := range fragments.FindAllStringSubmatch(html, -1) {
		if !known[m[1]] {
			found = append(found, "nothing at #"+m[1])
		}
	}
	if strings.Count(html, "<main") != 1 {
		found = append(found, "not one main")
	}
	return found
}

func TestStructure(t *testing.T) {
	r := mustNew(t)
	pages := make(map[string]string)
	for _, p := range fakePages(t, r) {
		pages[p.name] = string(p.html)
	}
	empty, err := everyPage(r, "", 0)
	if err != nil {
		t.Fatal(err)
	}
	for name, html := range empty {
		pages["empty "+name] = html
	}
	for name, html := range pages {
		if found := structure(html); found != nil {
			t.Errorf("%s: %q", name, found)
		}
		if !strings.Contains(html, `<a class="skip" href="#main">`) {
			t.Errorf("%s: no way to skip to the content", name)
		}
	}
	for _, bad := range []string{"<main><h1>a</h1><h3>b</h3></main>", "<main><h1>a</h1><p id=\"a\"><p id=\"a\"></main>", "<main><h1>a</h1><a href=\"#b\"></main>", "<main><h1>a</h1><p aria-labelledby=\"c\"></main>", "<main></main>"} {
		if structure(bad) == nil {
			t.Errorf("%s passes", bad)
		}
	}
}

// A site works under any path: no page but the 404 names an absolute path, and
// none loads anything from another host.
func TestLinksAreRelative(t *testing.T) {
	for _, p := range fakePages(t, mustNew(t)) {
		for _, m := range addresses.FindAllStringSubmatch(string(p.html), -1) {
			if strings.HasPrefix(m[1], "/") != (p.name == "404.html" && !strings.HasPrefix(m[1], "#")) {
				if !strings.HasPrefix(m[1], "https://") {
					t.Errorf("%s: address %s", p.name, m[1])
				}
			}
		}
		if strings.Contains(string(p.html), `src="http`) {
			t.Errorf("%s loads from another host", p.name)
		}
	}
}

// What a mark, a set-aside piece and a changed level mean does not hang on colour
// alone (WCAG 2.2, success criterion 1.4.1): each has words.
func TestWordsBesideColour(t *testing.T) {
	html, err := mustNew(t).WriteUp(fakeWriteUp())
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"lift: pass.", "lift: fail.", "dome: yes.", "dome: no.", "dome: not read.", "dome: no, set aside: pressed with a thumb.",
		"Piece 1 set aside: oven not up to heat", "Piece 7, dome set aside: pressed with a thumb",
		"Single factor", "Confounded", "The findings carry part of this.", "The data in this demo are invented.",
	} {
		if !strings.Contains(string(html), want) {
			t.Errorf("the write-up does not say %q", want)
		}
	}
	if got, want := strings.Count(string(html), `<li class="piece`), 26; got != want {
		t.Errorf("%d cells on the tray, want %d", got, want)
	}
}

func TestInk(t *testing.T) {
	tests := []struct{ letter, want string }{
		{"A", "ink-a"}, {"L", "ink-l"}, {"M", "ink-a"}, {"Z", "ink-b"}, {"", "ink-a"}, {"é", "ink-a"}, {"<", "ink-a"},
	}
	for _, tt := range tests {
		if got := ink(tt.letter); got != tt.want {
			t.Errorf("ink(%q) = %q, want %q", tt.letter, got, tt.want)
		}
	}
}
