package slim

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

func TestHTML(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"spaces between blocks", "<ul>\n  <li>a</li>\n  <li>b</li>\n</ul>", "<ul><li>a</li><li>b</li></ul>"},
		{"a space between words", "<p>350 <b>g</b> of \n flour</p>", "<p>350 <b>g</b> of\nflour</p>"},
		{"a no-break space", "<p>350\u00a0g</p>", "<p>350\u00a0g</p>"},
		{"lines of code", "<pre><code>a:\n  b</code></pre>", "<pre><code>a:\n  b</code></pre>"},
		{"a comment", "<p>a<!-- b --></p>", "<p>a</p>"},
		{"a default that is said", `<input type="text">`, `<input type="text">`},
		{"quotes stay", `<a href="x/">y</a>`, `<a href="x/">y</a>`},
		{"what a reader typed", "<p>&lt;script&gt; &amp; &quot;</p>", `<p>&lt;script> & "</p>`},
		{"SVG", "<svg viewBox=\"0 0 10 10\">\n  <text x=\"1.25\">a  b</text>\n</svg>", `<svg viewBox="0 0 10 10"><text x="1.25">a b</text></svg>`},
	} {
		got, err := New().HTML([]byte(c.in))
		if err != nil || string(got) != c.want {
			t.Errorf("%s: %q, %v, want %q", c.name, got, err, c.want)
		}
	}
}

// TestData: JSON-LD holds the same data, numbers to the last digit.
func TestData(t *testing.T) {
	data := `{ "name": "Eggs \u003c/script\u003e", "mass": 1040.20, "list": [1, 2.50] }`
	page, err := New().HTML([]byte(`<script type="application/ld+json">` + data + `</script>`))
	if err != nil {
		t.Fatal(err)
	}
	text := strings.TrimSuffix(strings.TrimPrefix(string(page), `<script type="application/ld+json">`), "</script>")
	var want, got any
	if err := json.Unmarshal([]byte(data), &want); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal([]byte(text), &got); err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("%v, %v from %s", got, err, text)
	}
	if !strings.Contains(text, "1040.20") || strings.Contains(text, "</script") {
		t.Errorf("%s", text)
	}
}

func TestCSS(t *testing.T) {
	got, err := New().CSS([]byte("/* ours */\n:root { --ink-a: #aabbcc; }\n@media print {\n  a { color: black; }\n}\n"))
	if want := ":root{--ink-a:#aabbcc}@media print{a{color:#000}}"; err != nil || string(got) != want {
		t.Errorf("%q, %v, want %q", got, err, want)
	}
}

// FuzzHTML: whatever stands in a page, its words stay the same.
func FuzzHTML(f *testing.F) {
	f.Add("<p>a <b>b</b>  c</p><pre> d\n e</pre>")
	f.Add("<svg><text>a</text></svg>")
	f.Fuzz(func(t *testing.T, text string) {
		page := "<!doctype html><html><head><title>t</title></head><body><p>" + html.EscapeString(text) + "</p></body></html>"
		small, err := New().HTML([]byte(page))
		if err != nil {
			t.Skip(err)
		}
		if want, got := words(t, page), words(t, string(small)); want != got {
			t.Errorf("%q became %q", want, got)
		}
	})
}

// words are the words of a page, with single spaces between.
func words(t *testing.T, page string) string {
	t.Helper()
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for n := range root.Descendants() {
		if n.Type == html.TextNode {
			b.WriteString(n.Data + " ")
		}
	}
	return strings.Join(strings.FieldsFunc(b.String(), func(r rune) bool { return strings.ContainsRune(" \t\n\f\r", r) }), " ")
}
