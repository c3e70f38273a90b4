package linkcheck

import (
	"strings"
	"testing"
	"time"
)

// small is a site whose every address leads somewhere; a case adds or changes files.
func small() map[string]string {
	return map[string]string{
		"index.html":               `<link rel=stylesheet href=assets/s-12ab.css><h1 id=main>Rye</h1><a href="rye/#top">rye</a>`,
		"rye/index.html":           `<p id="crème">a<a name=old>b</a><a href="..">home</a>`,
		"assets/s-12ab.css":        `body{background:url(icon.svg)}`,
		"assets/icon.svg":          `<svg xmlns="http://www.w3.org/2000/svg"><g id="leaf"/></svg>`,
		"crème-brûlée/index.html":  `<p>`,
		"rye/data/pieces.csv":      "sample\n",
		"rye/photos/crumb-400.jpg": "",
		"rye/photos/crumb-800.jpg": "",
	}
}

func broken(home string, files map[string]string) string {
	c := New(home)
	facts := map[string][]byte{}
	for name, text := range files {
		facts[name] = c.See(name, []byte(text))
	}
	_, err := c.Broken(among(facts), in(facts), func(name string) bool { return name == "about/index.html" }, nil)
	if err == nil {
		return ""
	}
	return err.Error()
}

// TestBroken: what leads somewhere by the URL standard's rules (RFC 3986, 5.2 and 5.4, with
// index.html in a folder), and what does not, in each place that holds an address.
func TestBroken(t *testing.T) {
	const home = "https://kitchen.example/"
	for _, c := range []struct{ name, in, want string }{
		{"nothing", ``, ""},
		{"a file", `<a href=data/pieces.csv>`, ""},
		{"a folder", `<a href="../rye/">`, ""},
		{"from the root", `<a href=/rye/>`, ""},
		{"the page itself", `<a href="">a</a><a href=?x=1>b</a><a href="#">c</a><a href=#TOP>d</a><a href=".">`, ""},
		{"with a query", `<a href="../?level=fine#main">`, ""},
		{"percent signs", `<a href="../cr%C3%A8me-br%C3%BBl%C3%A9e/">`, ""},
		{"an id with accents", `<p id=crème><a href=#cr%C3%A8me>`, ""},
		{"an id that comes later", `<a href=#late><p id=late>`, ""},
		{"an old name", `<a name=x></a><a href=#x>`, ""},
		{"a drawing's part", `<svg><use href="../assets/icon.svg#leaf"/></svg>`, ""},
		{"a fragment of a table", `<a href="data/pieces.csv#row=2">`, ""},
		{"text to be marked", `<p id=x><a href="#x:~:text=rye">`, ""},
		{"elsewhere", `<a href="https://flour.example/none">a</a><a href="mailto:a@b.example">b</a><img src="data:image/gif;base64,R0lGOD">`, ""},
		{"elsewhere, and odd", `<a href="https://flour.example/100%">`, ""},
		{"the author's, by its whole address", `<a href="https://kitchen.example/shop/">`, ""},
		{"a file of somebody else", `<a href="../about/">`, ""},
		{"absolute", `<link rel=canonical href="https://kitchen.example/rye/"><meta property="og:url" content="https://KITCHEN.example/rye/#crumb"><p id=crumb>`, ""},
		{"choices", `<img srcset="photos/crumb-400.jpg 400w, photos/crumb-800.jpg 800w">`, ""},
		{"what is no address", `<p title="href=x">src=y url(z)<!-- <a href=no> --><input data-words-of=x content=none>`, ""},
		{"what is in a script", `<script>a = '<a href="none">'</script>`, ""},

		{"no such file", `<a href=data/peices.csv>`, `rye/index.html: the address "data/peices.csv" leads to nothing on the site (did you mean rye/data/pieces.csv?)`},
		{"nothing like it", `<a href=../zzzzzz.html>`, `rye/index.html: the address "../zzzzzz.html" leads to nothing on the site`},
		{"no slash", `<a href=../rye>`, `rye/index.html: the address "../rye" leads to nothing on the site (did you mean rye/?)`},
		{"letter case", `<a href=../Rye/>`, `rye/index.html: the address "../Rye/" leads to nothing on the site (did you mean rye/?)`},
		{"a folder without a page", `<a href=data/>`, `rye/index.html: the address "data/" leads to nothing on the site`},
		{"named by what is in it", `<link rel=stylesheet href=../assets/s.css>`, `rye/index.html: the address "../assets/s.css" leads to nothing on the site (did you mean assets/s-12ab.css?)`},
		{"no such id", `<p id=amounts><a href=#amonts>`, `rye/index.html: the address "#amonts" names a place that rye/index.html does not have (did you mean #amounts?)`},
		{"no such id there", `<a href=../#mian>`, `rye/index.html: the address "../#mian" names a place that index.html does not have (did you mean #main?)`},
		{"no such part of a drawing", `<svg><use href="../assets/icon.svg#root"/></svg>`, `rye/index.html: the address "../assets/icon.svg#root" names a place that assets/icon.svg does not have`},
		{"out of the site", `<a href=../../x>`, `rye/index.html: the address "../../x" leads out of the site`},
		{"unreadable", `<a href="%zz">`, `rye/index.html: the address "%zz" cannot be read`},
		{"a base", `<base href="/rye/">`, `rye/index.html: the address "/rye/" in a base element moves all others of the page (leave it out: addresses are seen from their page)`},
		{"absolute, of the page itself", `<link rel=canonical href="https://kitchen.example/ry/">`, `rye/index.html: the address "https://kitchen.example/ry/" leads to nothing on the site (did you mean rye/?)`},
		{"on a card", `<meta property="og:image" content="https://kitchen.example/x.png">`, `rye/index.html: the address "https://kitchen.example/x.png" leads to nothing on the site`},
		{"src", `<img src=x.png>`, `rye/index.html: the address "x.png" leads to nothing on the site`},
		{"poster", `<video poster=x.png>`, `rye/index.html: the address "x.png" leads to nothing on the site`},
		{"object", `<object data=x.png>`, `rye/index.html: the address "x.png" leads to nothing on the site`},
		{"worker", `<form data-worker=offline.js>`, `rye/index.html: the address "offline.js" leads to nothing on the site`},
		{"words", `<form data-words=search.json>`, `rye/index.html: the address "search.json" leads to nothing on the site`},
		{"second choice", `<img srcset="photos/crumb-400.jpg 400w, photos/crumb-801.jpg 800w">`, `rye/index.html: the address "photos/crumb-801.jpg" leads to nothing on the site (did you mean rye/photos/crumb-800.jpg?)`},
		{"choice without a width", `<img srcset="x1.png,, x2.png 2x">`, "rye/index.html: the address \"x1.png\" leads to nothing on the site\nrye/index.html: the address \"x2.png\" leads to nothing on the site"},
		{"a style element", `<style>p{background:url("x.png")}</style>`, `rye/index.html: the address "x.png" leads to nothing on the site`},
		{"a style", `<p style="background:URL( 'x.png' )">`, `rye/index.html: the address "x.png" leads to nothing on the site`},
		{"ink of a drawing", `<svg><g fill="url(#ink)"/></svg>`, `rye/index.html: the address "#ink" names a place that rye/index.html does not have`},
		{"without scripts", `<noscript><img src=x.png></noscript>`, `rye/index.html: the address "x.png" leads to nothing on the site`},
		{"an entity", `<a href="x&amp;y">`, `rye/index.html: the address "x&y" leads to nothing on the site`},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := small()
			files["rye/index.html"] = c.in
			if got := broken(home, files); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

// TestFiles: other files than pages, and sites that lie elsewhere.
func TestFiles(t *testing.T) {
	const css = `@import "none.css"; /* url(a) */ p::after{content:"url(b)"} .x{background:url(icon.svg),url("i\63 on.svg"),url(ic\)n.svg);src:my-url(c)}`
	for _, c := range []struct{ name, home, file, in, want string }{
		{"style sheet", "", "assets/s-12ab.css", css,
			"assets/s-12ab.css: the address \"none.css\" leads to nothing on the site\n" +
				"assets/s-12ab.css: the address \"ic)n.svg\" leads to nothing on the site (did you mean assets/icon.svg?)"},
		{"style sheet that ends early", "", "assets/s-12ab.css", `p{background:url(icon.svg`, ""},
		{"style sheet's comment that ends early", "", "assets/s-12ab.css", `p{}/* url(x)`, ""},
		{"drawing", "", "assets/icon.svg", `<svg><g id="leaf" clip-path="url(#clip)"/></svg>`,
			`assets/icon.svg: the address "#clip" names a place that assets/icon.svg does not have`},
		{"site map", "https://kitchen.example/", "sitemap.xml", `<?xml version="1.0"?><urlset><url><loc>https://kitchen.example/rye/</loc></url><url><loc>https://kitchen.example/rice/</loc></url></urlset>`,
			`sitemap.xml: the address "https://kitchen.example/rice/" leads to nothing on the site`},
		{"feed", "https://kitchen.example/", "feed.xml", `<feed><id>https://kitchen.example/none.xml</id><link href="https://kitchen.example/oats/"></link></feed>`,
			"feed.xml: the address \"https://kitchen.example/none.xml\" leads to nothing on the site\n" +
				`feed.xml: the address "https://kitchen.example/oats/" leads to nothing on the site`},
		{"what a feed says in words", "https://kitchen.example/", "feed.xml", `<feed><title>&lt;img src=x&gt;</title><summary>&lt;img src=y&gt;</summary></feed>`, ""},
		{"what a feed quotes", "https://kitchen.example/", "feed.xml", `<feed><entry><content type="html">&lt;a href=&#34;https://kitchen.example/rye/#no&#34;&gt;</content></entry></feed>`,
			`feed.xml: the address "https://kitchen.example/rye/#no" names a place that rye/index.html does not have`},
		{"what is not read", "", "rye/data/trial.md", `[x](none.html) <a href=none>`, ""},
		{"in a folder of its host", "https://host.example/kitchen/", "404.html", `<a href=/kitchen/rye/>a</a><a href=/kitchen>b</a><a href=/other/>c</a>`, ""},
		{"in a folder of its host, wrong", "https://host.example/kitchen", "404.html", `<a href=/kitchen/ryee/>`,
			`404.html: the address "/kitchen/ryee/" leads to nothing on the site (did you mean rye/?)`},
		{"another host", "https://host.example/kitchen/", "404.html", `<link href="https://mill.example/kitchen/no/"><link href="//mill.example/no">`, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := small()
			files[c.file] = c.in
			if got := broken(c.home, files); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

// TestMany: the same mistake on every page is told once, and a flood is cut.
func TestMany(t *testing.T) {
	files := small()
	files["index.html"] = `<script src=assets/gone.js></script><script src=assets/gone.js></script><p id=main>`
	files["rye/index.html"] = `<script src=../assets/gone.js></script>`
	files["crème-brûlée/index.html"] = `<script src=../assets/gone.js></script>`
	want := `crème-brûlée/index.html and 2 more: the address "../assets/gone.js" leads to nothing on the site`
	if got := broken("", files); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	var page strings.Builder
	for i := range most + 5 {
		page.WriteString("<a href=" + strings.Repeat("z", i+1) + ".zip>")
	}
	files = small()
	files["404.html"] = page.String()
	lines := strings.Split(broken("", files), "\n")
	if len(lines) != most+1 || lines[most] != "and 5 more addresses like these" {
		t.Errorf("%d lines, the last %q", len(lines), lines[len(lines)-1])
	}
}

// TestNested: nothing takes time out of proportion.
func TestNested(t *testing.T) {
	for _, piece := range []string{"<noscript>", "<svg>", "<a href=", "<content>&lt;", "url(", `"`} {
		start := time.Now()
		broken("", map[string]string{"a.html": strings.Repeat(piece, 100_000), "a.xml": strings.Repeat(piece, 100_000), "a.css": strings.Repeat(piece, 100_000)})
		if took := time.Since(start); took > 10*time.Second {
			t.Errorf("%s: %v", piece, took)
		}
	}
}

// FuzzSee: whatever a file holds, it is read to its end, and what is said names its file.
func FuzzSee(f *testing.F) {
	for name, text := range small() {
		f.Add(name[strings.LastIndexByte(name, '.'):], text)
	}
	f.Add(".xml", "<feed><id>https://kitchen.example/x</id><content>&lt;a href=x></content>")
	f.Add(".css", `@import 'a\62';url(\`)
	f.Fuzz(func(t *testing.T, ext, text string) {
		if strings.Contains(ext, "\n") {
			return // press refuses such a path, and what is said of one stands in two lines
		}
		files := small()
		files["fuzzed"+ext] = text
		for line := range strings.SplitSeq(broken("https://kitchen.example/", files), "\n") {
			if line != "" && !strings.HasPrefix(line, "fuzzed"+ext) && !strings.HasPrefix(line, "and ") {
				t.Errorf("%q is said of another file", line)
			}
		}
	})
}

func BenchmarkSee(b *testing.B) {
	page := []byte(strings.Repeat(`<p class=x>Some words that a page says, and <a href="rye/#crumb">a link</a>.</p>`, 1000))
	c := New("")
	b.SetBytes(int64(len(page)))
	for b.Loop() {
		c.See("index.html", page)
	}
}
