package browser

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
)

// badPage is a page with one thing wrong, the check that must find it, and words
// of what it must say.
type badPage struct {
	name  string
	style string // in a file of its own
	head  string
	body  string
	bare  bool // the page is sent without a policy
	check string
	want  string
}

const goodBody = `<h1>A page</h1><h2>Its part</h2><p>Words enough to read, and <a href="./">a link</a>.</p>`

func badPages() []badPage {
	return []badPage{
		{name: "good", body: goodBody},
		{name: "pale", style: "p { color: #aaa }", body: goodBody, check: "accessible", want: "color-contrast"},
		{name: "pale in the dark", style: "@media (prefers-color-scheme: dark) { p { color: #aaa } }", body: goodBody,
			check: "accessible", want: "(phone, dark; wide, dark)"},
		{name: "other in the dark", style: "@media (prefers-color-scheme: light) { .dark { display: none } }", check: "accessible",
			want: "(phone, dark; wide, dark)", body: goodBody + `<img class="dark" src="x.svg">`},
		{name: "pale on a phone", style: "@media (max-width: 400px) { p { color: #aaa } }", body: goodBody,
			check: "accessible", want: "(phone, light; phone, dark)"},
		{name: "pale when wide", style: "@media (min-width: 1000px) { p { color: #aaa } }", body: goodBody,
			check: "accessible", want: "(wide, dark; wide, light)"},
		{name: "pale when unfolded", style: "details p { color: #aaa }", check: "accessible", want: "color-contrast",
			body: goodBody + `<details><summary>More</summary><p>Hidden words.</p></details>`},
		{name: "pale when switched", style: "main:has(#x:checked) p { color: #aaa }", check: "accessible", want: "(switch 1)",
			body: goodBody + `<label><input type="radio" id="x" name="x"> Other</label>`},
		{name: "picture without words", body: goodBody + `<img src="x.svg">`, check: "accessible", want: "image-alt"},
		{name: "headings out of order", body: `<h1>A page</h1><h4>Deep</h4>`, check: "accessible", want: "heading-order"},
		{name: "wide", style: "p { width: 400px }", body: goodBody, check: "fits", want: "p reaches 4"},
		{name: "wide when unfolded", style: "details p { width: 400px }", check: "fits", want: "(unfolded)",
			body: goodBody + `<details><summary>More</summary><p>Words.</p></details>`},
		{name: "wide when switched", style: "main:has(#x:checked) p { width: 400px }", check: "fits", want: "(switch 1)",
			body: goodBody + `<label><input type="radio" id="x" name="x"> Other</label>`},
		{name: "wide and hidden", style: "body { overflow-x: hidden } p { width: 400px }", body: goodBody,
			check: "fits", want: "hides what sticks out"},
		{name: "console", body: goodBody + `<script src="console.js"></script>`, check: "quiet", want: "console: warning: burnt"},
		{name: "script that fails", body: goodBody + `<script src="fails.js"></script>`, check: "quiet", want: "console: Uncaught"},
		{name: "late console", body: goodBody + `<script src="late.js"></script>`, check: "quiet", want: "console: log: late"},
		{name: "missing picture", body: goodBody + `<img src="none.png" alt="">`, check: "quiet", want: "status 404"},
		{name: "missing picture far down", style: "p { height: 20000px }", check: "quiet", want: "status 404",
			body: goodBody + `<img src="none.png" alt="" loading="lazy">`},
		{name: "outside", bare: true, body: goodBody + `<img src="https://outside.example/x.png" alt="">`,
			check: "quiet", want: "leaves the origin: https://outside.example/x.png"},
		{name: "outside hint", bare: true, head: `<link rel="stylesheet" href="https://outside.example/x.css">`, body: goodBody,
			check: "quiet", want: "leaves the origin: https://outside.example/x.css"},
		{name: "style in the page", head: `<style>p { color: #333 }</style>`, body: goodBody, check: "quiet", want: "policy: style-src"},
		{name: "style in a drawing", check: "quiet", want: "policy: style-src",
			body: goodBody + `<svg viewBox="0 0 1 1" width="9" height="9" aria-hidden="true"><style>path { fill: red }</style><path d="M0 0h1v1z"/></svg>`},
		{name: "style on an element", body: goodBody + `<p style="color:#333">Words.</p>`, check: "quiet", want: "policy: style-src"},
		{name: "script in the page", body: goodBody + `<script>document.title = "x"</script>`, check: "quiet", want: "policy: script-src"},
		{name: "script on an element", body: goodBody + `<p onclick="x()">Words.</p>`, check: "quiet", want: "policy: script-src"},
		{name: "foreign base", head: `<base href="https://outside.example/">`, body: goodBody, check: "quiet", want: "policy: base-uri"},
		{name: "written by a script", body: `<script src="writes.js"></script>`, check: "without scripts", want: `the title is ""`},
		{name: "shown by a script", style: ".late { display: none }", check: "without scripts", want: `there is no "Its part"`,
			body: `<h1>A page</h1><div class="late"><h2>Its part</h2></div><script src="shows.js"></script>`},
		{name: "list written by a script", check: "without scripts", want: "words instead of",
			body: `<h1>A page</h1><ul id="list"></ul><script src="lists.js"></script>`},
		{name: "heavy", body: goodBody + "<p>" + noise(70_000) + "</p>", style: "p { overflow-wrap: anywhere }", check: "light", want: "weighs 7"},
		{name: "heavy styles", style: "/* " + noise(70_000) + " */", body: goodBody, check: "light", want: "styles.css 7"},
		{name: "two sheets", style: "h2 { break-before: page }", body: goodBody, check: "sheets", want: "prints on 2 sheets"},
		{name: "three sheets", style: "h2, p { break-before: page }", body: goodBody, check: "sheets", want: "prints on 3 sheets"},
		{name: "a little long", style: "@media print { p { height: 281mm } h1, h2, p { font-size: 1px; margin: 0 } @page { margin: 8mm } }",
			body: goodBody, check: "sheets", want: "prints on 2 sheets"},
	}
}

// noise is text that a compressor makes n bytes of, about: digests, which are the
// same in every run.
func noise(n int) string {
	var s strings.Builder
	sum := sha256.Sum256(nil)
	for s.Len() < 2*n {
		sum = sha256.Sum256(sum[:])
		s.WriteString(hex.EncodeToString(sum[:]))
	}
	return s.String()
}

// files lays the page out with what it loads.
func (b badPage) files() fs.FS {
	html := fmt.Sprintf(`<!DOCTYPE html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>A page</title>
<link rel="icon" href="x.svg"><link rel="stylesheet" href="styles.css">%s</head>
<body><main>%s</main></body>
</html>
`, b.head, b.body)
	files := fstest.MapFS{
		"index.html": {Data: []byte(html)},
		"styles.css": {Data: []byte(b.style)},
		"x.svg":      {Data: []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9" width="9" height="9"><path d="M0 0h9v9z"/></svg>`)},
	}
	for name, script := range map[string]string{
		"console.js": `console.warn("burnt")`,
		"fails.js":   `nowhere.to.be.found`,
		"late.js":    `addEventListener("load", () => setTimeout(() => console.log("late"), 5))`,
		"writes.js":  `document.querySelector("main").innerHTML = "<h1>A page</h1><p>Words.</p>"`,
		"shows.js":   `document.querySelector(".late").className = ""`,
		"lists.js":   `document.querySelector("#list").innerHTML = "<li>One thing.</li><li>One more.</li>"`,
	} {
		files[name] = &fstest.MapFile{Data: []byte(script)}
	}
	return files
}

// TestBadPages: every check finds what it is for, and finds nothing in a page
// that is in order.
func TestBadPages(t *testing.T) {
	asked(t)
	axe := axeSource(t)
	free := tabs(t, startChromium(t, browserProgram(t)))
	for _, bad := range badPages() {
		t.Run(bad.name, func(t *testing.T) {
			t.Parallel()
			sent := policy
			if bad.bare {
				sent = ""
			}
			files := bad.files()
			root := serve(t, files, sent)
			p := <-free
			defer func() { free <- p }()
			found := map[string][]string{}
			for name, check := range map[string]func() []string{
				"accessible":      func() []string { return checkAccessible(t, p, axe) },
				"fits":            func() []string { return checkFits(t, p) },
				"quiet":           func() []string { return checkQuiet(t, p) },
				"without scripts": func() []string { return checkScriptless(t, p, root) },
				"light":           func() []string { return checkLight(t, p, files) },
				"sheets":          func() []string { return checkSheets(t, p, 1) },
			} {
				if bad.check == "" || bad.check == name {
					visit(t, p, root)
					found[name] = check()
				}
			}
			for name, wrong := range found {
				said := strings.Join(wrong, "\n")
				if bad.check == "" && said != "" || !strings.Contains(said, bad.want) {
					t.Errorf("%s: want %q, got:\n%s", name, bad.want, said)
				}
			}
		})
	}
}
