package page

import (
	"fmt"
	"html/template"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"unicode/utf8"
)

// stuffed fills a view type: every string is text, every list has n things.
// Ready HTML stays harmless, for whoever made it answers for it.
func stuffed(t reflect.Type, text string, n int) reflect.Value {
	v := reflect.New(t).Elem()
	switch {
	case t == reflect.TypeFor[template.HTML]():
		v.SetString("<p>ready</p>")
	case t == reflect.TypeFor[[]byte]():
		v.SetBytes([]byte(`{"name": "</script><script>alert(1)</script>"}`))
	case t.Kind() == reflect.String:
		v.SetString(text)
	case t.Kind() == reflect.Int:
		v.SetInt(7)
	case t.Kind() == reflect.Bool:
		v.SetBool(true)
	case t.Kind() == reflect.Pointer:
		v.Set(reflect.New(t.Elem()))
		v.Elem().Set(stuffed(t.Elem(), text, n))
	case t.Kind() == reflect.Slice:
		for range n {
			v.Set(reflect.Append(v, stuffed(t.Elem(), text, n)))
		}
	case t.Kind() == reflect.Struct:
		for i := range t.NumField() {
			v.Field(i).Set(stuffed(t.Field(i).Type, text, n))
		}
	}
	return v
}

// everyPage renders each kind of page with the same text everywhere.
func everyPage(r *Renderer, text string, n int) (map[string]string, error) {
	pages := make(map[string]string)
	var failed error
	keep := func(name string, html []byte, err error) {
		pages[name] = string(html)
		if err != nil && failed == nil {
			failed = fmt.Errorf("%s: %w", name, err)
		}
	}
	html, err := r.WriteUp(stuffed(reflect.TypeFor[WriteUp](), text, n).Interface().(WriteUp))
	keep("write-up", html, err)
	html, err = r.Recipe(stuffed(reflect.TypeFor[Recipe](), text, n).Interface().(Recipe))
	keep("recipe", html, err)
	html, err = r.Data(stuffed(reflect.TypeFor[Data](), text, n).Interface().(Data))
	keep("data", html, err)
	html, err = r.Home(stuffed(reflect.TypeFor[Home](), text, n).Interface().(Home))
	keep("home", html, err)
	html, err = r.Archive(stuffed(reflect.TypeFor[Archive](), text, n).Interface().(Archive))
	keep("archive", html, err)
	factor := stuffed(reflect.TypeFor[Factor](), text, n).Interface().(Factor)
	measure, err := r.FactorMeasure("en", stuffed(reflect.TypeFor[FactorMeasure](), text, n).Interface().(FactorMeasure))
	if err != nil && failed == nil {
		failed = err
	}
	factor.Measures = []template.HTML{measure}
	html, err = r.Factor(factor)
	keep("factor", html, err)
	html, err = r.Ingredient(stuffed(reflect.TypeFor[Ingredient](), text, n).Interface().(Ingredient))
	keep("ingredient", html, err)
	html, err = r.Names(stuffed(reflect.TypeFor[Names](), text, n).Interface().(Names))
	keep("names", html, err)
	html, err = r.Methods(stuffed(reflect.TypeFor[Methods](), text, n).Interface().(Methods))
	keep("methods", html, err)
	html, err = r.NotFound(stuffed(reflect.TypeFor[NotFound](), text, n).Interface().(NotFound))
	keep("not found", html, err)
	return pages, failed
}

var (
	openTag   = regexp.MustCompile(`<([a-z0-9]+)([^<>]*)>`)
	attribute = regexp.MustCompile(`\s([a-zA-Z-]+)="([^"]*)"`)
	ownScript = regexp.MustCompile(`^ src="[^":]*" defer$`)
	program   = regexp.MustCompile(`(?i)^\s*(javascript|vbscript|data):`)
)

// unsafe lists what must never stand in a page: scripts that run, but for one file of
// the site's own, inline styles, event handlers, addresses that are programs.
func unsafe(html string) []string {
	var found []string
	for _, tag := range openTag.FindAllStringSubmatch(html, -1) {
		name, attributes := tag[1], tag[2]
		own := name == "script" && ownScript.MatchString(attributes)
		if name == "script" && attributes != ` type="application/ld+json"` && !own ||
			slices.Contains([]string{"style", "iframe", "object", "base"}, name) {
			found = append(found, tag[0])
		}
		for _, a := range attribute.FindAllStringSubmatch(attributes, -1) {
			switch key, value := strings.ToLower(a[1]), a[2]; {
			case strings.HasPrefix(key, "on"), key == "style",
				(key == "href" || key == "src") && program.MatchString(value):
				found = append(found, tag[0])
			}
		}
		if rest := attribute.ReplaceAllString(attributes, ""); strings.ContainsAny(rest, `"'=`) {
			found = append(found, "loose attributes: "+tag[0])
		}
	}
	most := 1
	if strings.Contains(html, " defer></script>") {
		most = 2
	}
	if n := strings.Count(html, "<script"); n != strings.Count(html, "</script") || n > most {
		found = append(found, fmt.Sprintf("%d script elements", n))
	}
	return found
}

func TestUnsafeSees(t *testing.T) {
	for _, html := range []string{`<script>x</script>`, `<p style="color:red">`, `<img src="x" onerror="y">`, `<a href="JavaScript:x">`, `<style>`, `<script type="application/ld+json">{}</script><script type="application/ld+json"></script>`,
		`<script src="https://elsewhere.example/a.js" defer></script>`, `<script src="javascript:x" defer></script>`, `<script src="a.js" defer></script><script src="b.js" defer></script><script></script>`} {
		if len(unsafe(html)) == 0 {
			t.Errorf("%s passes as safe", html)
		}
	}
	if found := unsafe(`<p class="a">&lt;script&gt;</p><script type="application/ld+json">{}</script>`); found != nil {
		t.Errorf("safe HTML is called unsafe: %q", found)
	}
}

func TestHostileText(t *testing.T) {
	r := mustNew(t)
	for _, text := range []string{
		`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `' onfocus='alert(1)`, `javascript:alert(1)`,
		`</title></script><!--`, "\x00\xff{{.}}", `{{template "home.html"}}`, `&quot; style=x`,
	} {
		pages, err := everyPage(r, text, 2)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		for name, html := range pages {
			if found := unsafe(html); found != nil {
				t.Errorf("%q in the %s page: %q", text, name, found)
			}
			if strings.Contains(html, "<!--") {
				t.Errorf("%q in the %s page opens a comment", text, name)
			}
		}
	}
}

func FuzzEscaping(f *testing.F) {
	r, err := New(nil)
	if err != nil {
		f.Fatal(err)
	}
	f.Add("<script>")
	f.Add(`" onclick="`)
	f.Add("javascript:x")
	f.Fuzz(func(t *testing.T, text string) {
		pages, err := everyPage(r, text, 1)
		if err != nil {
			t.Fatal(err)
		}
		for name, html := range pages {
			if found := unsafe(html); found != nil {
				t.Errorf("%q in the %s page: %q", text, name, found)
			}
		}
	})
}

// Twelve of everything, with names as long as names get, still renders; so does
// nothing at all.
func TestManyAndNothing(t *testing.T) {
	r := mustNew(t)
	pages, err := everyPage(r, strings.Repeat("Überbackener ", 12), 3)
	if err != nil {
		t.Fatal(err)
	}
	empty, err := everyPage(r, "", 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, all := range []map[string]string{pages, empty} {
		for name, html := range all {
			if !utf8.ValidString(html) || !strings.HasSuffix(html, "</html>\n") {
				t.Errorf("the %s page is not whole", name)
			}
		}
	}
}

func TestJSONLD(t *testing.T) {
	r := mustNew(t)
	v := fakeHome()
	v.Frame.JSONLD = []byte(`{"name":`)
	if _, err := r.Home(v); err == nil {
		t.Error("half a JSON value is taken")
	}
	v.Frame.JSONLD = []byte(`{"name": "</script> & more"}`)
	html, err := r.Home(v)
	if err != nil {
		t.Fatal(err)
	}
	if want := `{"name": "\u003c/script\u003e \u0026 more"}`; !strings.Contains(string(html), want) {
		t.Errorf("the page lacks %s", want)
	}
}

// One renderer serves many goroutines, and the same view gives the same bytes.
func TestTogether(t *testing.T) {
	r := mustNew(t)
	want := fakePages(t, r)
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for i, got := range fakePages(t, r) {
				if string(got.html) != string(want[i].html) {
					t.Errorf("%s differs", got.name)
				}
			}
		})
	}
	all.Wait()
}

func BenchmarkWriteUp(b *testing.B) {
	r, err := New(nil)
	if err != nil {
		b.Fatal(err)
	}
	v := fakeWriteUp()
	for b.Loop() {
		if _, err := r.WriteUp(v); err != nil {
			b.Fatal(err)
		}
	}
}
