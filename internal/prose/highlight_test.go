package prose

import (
	"html"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/alecthomas/chroma/v2"
)

func TestHighlight(t *testing.T) {
	tests := []struct{ lang, in, want string }{
		{"yaml", "rest: 5 min # on top\n", `<span class="nt">rest</span><span class="p">:</span> <span class="m">5</span> min <span class="c"># on top</span>` + "\n"},
		{"YAML", "by: [no, 'x']", `<span class="nt">by</span><span class="p">:</span> <span class="p">[</span><span class="kc">no</span><span class="p">,</span> <span class="s">&#39;x&#39;</span><span class="p">]</span>`},
		{"yml", "at: https://k.example/#a", `<span class="nt">at</span><span class="p">:</span> https://k.example/#a`},
		{"markdown", "---\na: 1\n---\n# H", `<span class="p">---` + "\n" + `</span><span class="nt">a</span><span class="p">:</span> <span class="m">1</span>` + "\n" + `<span class="p">---</span>` + "\n" + `<span class="gh"># H</span>`},
		{"md", "[6](value:a/b)", `<span class="p">[</span><span class="nt">6</span><span class="p">](</span><span class="s">value:a/b</span><span class="p">)</span>`},
		{"json", `{"a": -1.5}`, `<span class="p">{</span><span class="nt">&#34;a&#34;</span><span class="p">:</span> <span class="m">-1.5</span><span class="p">}</span>`},
		{"csv", "cool,\"x,y\"\n", `cool<span class="p">,</span>&#34;x,y&#34;` + "\n"},
		{"go", "x := f(1) // y", `x <span class="p">:=</span> <span class="nf">f</span><span class="p">(</span><span class="m">1</span><span class="p">)</span> <span class="c">// y</span>`},
		{"python", "def f(): pass", `<span class="k">def</span> <span class="nf">f</span><span class="p">():</span> <span class="k">pass</span>`},
		{"js", "let a = null", `<span class="k">let</span> a <span class="p">=</span> <span class="kc">null</span>`},
		{"bash", "for x in $y", `<span class="k">for</span> x <span class="k">in</span> <span class="nv">$y</span>`},
		{"html", `<a href="x">&amp;</a>`, `<span class="nt">&lt;a</span> <span class="na">href</span><span class="p">=</span><span class="s">&#34;x&#34;</span><span class="nt">&gt;</span><span class="ni">&amp;amp;</span><span class="nt">&lt;/a&gt;</span>`},
		{"css", "a { top: 1px }", `<span class="nt">a</span> <span class="p">{</span> <span class="na">top</span><span class="p">:</span> <span class="m">1px</span> <span class="p">}</span>`},
		{"diff", "-a\n+b\n", `<span class="gd">-a</span>` + "\n" + `<span class="gi">+b</span>` + "\n"},
		{"", "<b>", "&lt;b&gt;"},
		{"cobol", "<b>", "&lt;b&gt;"},
		{"go", strings.Repeat("x", maxCodeLine+1), strings.Repeat("x", maxCodeLine+1)},
		{"go", strings.Repeat("if\n", maxCode/3+1), strings.Repeat("if\n", maxCode/3+1)},
		{"go", "if\r\nx", `<span class="k">if</span>` + "\nx"},
	}
	for _, test := range tests {
		want := `<pre class="code" tabindex="0"><code>` + test.want + "</code></pre>"
		if got := Highlight(test.lang, []byte(test.in)); got != want {
			t.Errorf("%s %.40q:\ngot  %s\nwant %s", test.lang, test.in, got, want)
		}
	}
}

// TestEveryLanguage: the rules compile, and whatever is not closed or not of
// the language still comes out whole.
func TestEveryLanguage(t *testing.T) {
	tags := regexp.MustCompile(`<[^>]*>`)
	if len(lexers()) != 11 {
		t.Errorf("%d languages, want 11", len(lexers()))
	}
	for name, lexer := range lexers() {
		for _, code := range []string{"", "\n", "é焼🥞", "/*", "\"x", "'x", "`x", "<!--", "<script>a", "<style>a", "'''x", "a: b: c", "[a](b", "**x", "```\nx", "${", "@", "{ { }", "\x00\xff"} {
			var b strings.Builder
			if !writeParts(&b, lexer, code) && code != "\x00\xff" {
				t.Errorf("%s: %q was not taken apart", name, code)
			}
			got := html.UnescapeString(tags.ReplaceAllString(Highlight(name, []byte(code)), ""))
			if got != code {
				t.Errorf("%s: %q became %q", name, code, got)
			}
		}
	}
}

// TestEveryClassHasAColour: no part of any language is marked with a class
// that the style rules do not know.
func TestEveryClassHasAColour(t *testing.T) {
	css := HighlightCSS()
	for name, lexer := range lexers() {
		rules, err := lexer.(*chroma.RegexLexer).Rules()
		if err != nil {
			t.Fatal(name, err)
		}
		for _, state := range rules {
			for _, rule := range state {
				if kind, ok := rule.Type.(chroma.TokenType); ok && classOf(kind) != "" {
					if !regexp.MustCompile(`\.code \.` + classOf(kind) + `\b`).MatchString(css) {
						t.Errorf("%s: no rule for .%s", name, classOf(kind))
					}
				}
			}
		}
	}
	for _, i := range inks() {
		if n := strings.Count(css, "--code-"+i.name+":"); n != 2 {
			t.Errorf("--code-%s is set %d times, want once in light and once in dark", i.name, n)
		}
	}
}

// luminance is relative luminance as WCAG 2.2 defines it.
func luminance(t *testing.T, colour string) float64 {
	t.Helper()
	var sum float64
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(colour[1+2*i:3+2*i], 16, 8)
		if err != nil {
			t.Fatal(colour, err)
		}
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

// TestContrast: at least 4.5 to 1, WCAG 2.2 success criterion 1.4.3.
func TestContrast(t *testing.T) {
	ratio := func(a, b string) float64 {
		la, lb := luminance(t, a), luminance(t, b)
		return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
	}
	if black := ratio("#000000", "#ffffff"); math.Abs(black-21) > 1e-9 {
		t.Fatalf("black on white is %v to 1, want 21", black)
	}
	paper := inks()[0]
	for _, i := range inks()[1:] {
		if r := ratio(i.light, paper.light); r < 4.5 {
			t.Errorf("%s in light: %.2f to 1", i.name, r)
		}
		if r := ratio(i.dark, paper.dark); r < 4.5 {
			t.Errorf("%s in dark: %.2f to 1", i.name, r)
		}
	}
}

func BenchmarkHighlight(b *testing.B) {
	code := []byte(strings.Repeat("rest: 5 min # on top\nby: [Noor, 'Teo']\n", 25))
	b.SetBytes(int64(len(code)))
	for b.Loop() {
		Highlight("yaml", code)
	}
}

// FuzzHighlight marks up any bytes in any language: what a reader sees is the code, to the
// byte but for line ends and what is not text, and nothing of it is markup.
func FuzzHighlight(f *testing.F) {
	for name := range lexers() {
		f.Add(name, []byte("a: \"b\n# <x y='"))
	}
	f.Add("markdown", []byte("---\na: 'b\n---\n[x](y)\n```go\n"))
	f.Add("bash", []byte("cat <<E $(x ${y:-`z`})\nE\n"))
	tags := regexp.MustCompile(`<(?:span class="[a-z0-9]+"|/span)>`)
	f.Fuzz(func(t *testing.T, lang string, src []byte) {
		got := Highlight(lang, src)
		inside, opened := strings.CutPrefix(got, `<pre class="code" tabindex="0"><code>`)
		inside, closed := strings.CutSuffix(inside, "</code></pre>")
		if !opened || !closed {
			t.Fatalf("%q", got)
		}
		text := tags.ReplaceAllString(inside, "")
		if strings.ContainsAny(text, "<>") {
			t.Fatalf("markup in %q", text)
		}
		if want := strings.ReplaceAll(string(src), "\r\n", "\n"); html.UnescapeString(text) != want {
			t.Fatalf("%q shows as %q", want, html.UnescapeString(text))
		}
		if strings.Count(inside, "<span") != strings.Count(inside, "</span>") {
			t.Fatalf("not closed: %q", inside)
		}
	})
}
