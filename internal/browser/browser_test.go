package browser

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// tabsAtOnce is how many pages are looked at side by side.
const tabsAtOnce = 2

// tabs opens the tabs of a browser; a test takes one and puts it back.
func tabs(t *testing.T, b *chromium) chan *tab {
	t.Helper()
	free := make(chan *tab, tabsAtOnce)
	for range tabsAtOnce {
		free <- newTab(t, b)
	}
	return free
}

// visit opens a page as on a wide screen, in light.
func visit(t testing.TB, p *tab, address string) {
	t.Helper()
	p.look(t, screen{width: desk})
	p.open(t, address)
}

// TestDemo looks at every page of the demo with every check.
func TestDemo(t *testing.T) {
	asked(t)
	axe := axeSource(t)
	site := publish(t)
	files := os.DirFS(site.folder)
	root := serve(t, files, policy)
	free := tabs(t, startChromium(t, browserProgram(t)))
	for _, slug := range site.trials {
		if !site.has(slug) || !site.has(slug+"recipe/") {
			t.Errorf("%s has no write-up or no recipe", slug)
		}
	}
	for _, address := range site.pages() {
		t.Run(nameOf(address), func(t *testing.T) {
			t.Parallel()
			p := <-free
			defer func() { free <- p }()
			visit(t, p, root+address)
			report := func(check string, wrong []string) {
				for _, w := range wrong {
					t.Errorf("%s: %s", check, w)
				}
			}
			for _, slug := range site.trials {
				switch address {
				case slug:
					report("light", checkLight(t, p, files))
				case slug + "recipe/":
					report("sheets", checkSheets(t, p, 1))
				case slug + "repeat/":
					report("sheets", checkSheets(t, p, 2))
				}
			}
			keepShots(t, p, address)
			report("fits", checkFits(t, p))
			report("accessible", checkAccessible(t, p, axe))
			report("quiet", checkQuiet(t, p))
			visit(t, p, root+address)
			report("without scripts", checkScriptless(t, p, root+address))
		})
	}
}

// keepShots writes pictures of the page into the folder that SIDEBATCH_SHOTS
// names, to be looked at: as on a phone and wide, in light and dark, and printed.
func keepShots(t *testing.T, p *tab, address string) {
	t.Helper()
	folder := os.Getenv("SIDEBATCH_SHOTS")
	if folder == "" {
		return
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	keep := func(ending string, data []byte) {
		if err := os.WriteFile(filepath.Join(folder, nameOf(address)+ending), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	keep("-print.pdf", p.print(t))
	for _, how := range screens() {
		p.look(t, how)
		keep("-"+strings.ReplaceAll(how.String(), ", ", "-")+".png", p.shoot(t))
	}
}

// nameOf makes an address a word: "rye-recipe" of "rye/recipe/".
func nameOf(address string) string {
	if address == "" {
		return "home"
	}
	return strings.ReplaceAll(strings.Trim(address, "/"), "/", "-")
}
