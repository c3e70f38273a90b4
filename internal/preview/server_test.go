package preview

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/site"
	"sidebatch.example/sidebatch/internal/testkit"
)

// small is a kitchen in memory: one published trial, one in progress.
func small() fstest.MapFS {
	return fstest.MapFS{
		"kitchen.yaml":    {Data: []byte("name: Test kitchen\naddress: https://kitchen.example/tea/\n")},
		"tea/trial.md":    {Data: []byte(note("Tea", published))},
		"tea/pieces.csv":  {Data: []byte(pieces())},
		"next/trial.md":   {Data: []byte(note("Next one", ""))},
		"next/pieces.csv": {Data: []byte(pieces())},
	}
}

func serve(d *desk) *server {
	return &server{desk: d, hosts: hosts(8123), streams: make(chan struct{}, mostStreams)}
}

func request(target string) *http.Request {
	r := httptest.NewRequest("GET", target, nil)
	r.Host = "127.0.0.1:8123"
	return r
}

func ask(s *server, r *http.Request) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	s.ServeHTTP(w, r)
	return w
}

// What a preview answers, and what it does not.
func TestAnswers(t *testing.T) {
	s := serve(loaded(Options{Content: site.Content{FS: small(), Shown: "kitchen"}, Theme: builtIn}))
	change := func(f func(*http.Request)) func(*http.Request) { return f }
	with := func(key, value string) func(*http.Request) {
		return func(r *http.Request) { r.Header.Add(key, value) }
	}
	host := func(name string) func(*http.Request) { return func(r *http.Request) { r.Host = name } }
	method := func(name string) func(*http.Request) { return func(r *http.Request) { r.Method = name } }
	tests := []struct {
		name   string
		target string
		change func(*http.Request)
		want   int
	}{
		{"the first page", "/", nil, 200},
		{"a page", "/tea/", nil, 200},
		{"a page by its file", "/tea/index.html", nil, 200},
		{"a note in progress", "/next/recipe/", nil, 200},
		{"a log", "/tea/data/pieces.csv", nil, 200},
		{"only the head", "/tea/", method("HEAD"), 200},
		{"what is to be mended", "/.preview/", nil, 200},
		{"the script", "/.preview/refresh.js", nil, 200},
		{"the styles", "/.preview/preview.css", nil, 200},
		{"by the name of the machine itself", "/", host("localhost:8123"), 200},
		{"in capitals", "/", host("LocalHost:8123"), 200},
		{"by IPv6", "/", host("[::1]:8123"), 200},
		{"its own script asks", "/tea/", with("Origin", "http://localhost:8123"), 200},
		{"a link on another site", "/tea/", change(func(r *http.Request) {
			r.Header.Set("Sec-Fetch-Site", "cross-site")
			r.Header.Set("Sec-Fetch-Mode", "navigate")
		}), 200},
		{"without the last slash", "/tea", nil, 302},
		{"with the folder of the real site", "/tea/tea/data/", nil, 302},

		{"with the folder of the real site, and slashes", "/tea///tea/data/", nil, 302},

		{"no page", "/nothing/", nil, 404},
		{"a folder without a page", "/assets/", nil, 404},
		{"a folder of files", "/tea/data/photos/", nil, 404},
		{"the kitchen's file", "/kitchen.yaml", nil, 404},
		{"a note as it lies in the kitchen", "/tea/trial.md", nil, 404},
		{"out of the site", "/../kitchen.yaml", nil, 404},
		{"out of the site, hidden", "/tea/%2e%2e/%2e%2e/etc/passwd", nil, 404},
		{"out of the site, Windows", `/..\..\kitchen.yaml`, nil, 404},
		{"out of the site, hidden twice", "/tea/%252e%252e/%252e%252e/etc/passwd", nil, 404},
		{"out of the site, hidden backslashes", "/tea/..%5c..%5ckitchen.yaml", nil, 404},
		{"out of the site, hidden slashes", "/tea/..%2f..%2fkitchen.yaml", nil, 404},
		{"a drive", "/C:/kitchen.yaml", nil, 404},
		{"the list of what was written", "/.sidebatch-site", nil, 404},
		{"an empty part", "//tea/", nil, 404},
		{"a NUL", "/tea/%00", nil, 404},
		{"another part of the preview", "/.preview/state", nil, 404},

		{"something is sent", "/", change(func(r *http.Request) { r.ContentLength = 5 }), 413},
		{"something is sent bit by bit", "/", change(func(r *http.Request) { r.ContentLength = -1 }), 413},
		{"posting", "/", method("POST"), 405},
		{"putting", "/tea/", method("PUT"), 405},
		{"deleting", "/tea/", method("DELETE"), 405},
		{"asking what is possible", "/", method("OPTIONS"), 405},
		{"tracing", "/", method("TRACE"), 405},
		{"a name that leads here", "/", host("rebound.example:8123"), 421},
		{"the right name, another port", "/", host("localhost:8124"), 421},
		{"without a port", "/", host("localhost"), 421},
		{"no name", "/", host(""), 421},
		{"a name that begins like ours", "/", host("localhost.rebound.example:8123"), 421},
		{"another machine's address", "/", host("192.0.2.1:8123"), 421},
		{"a page of another site", "/tea/", with("Origin", "https://other.example"), 403},
		{"a page without an origin", "/tea/", with("Origin", "null"), 403},
		{"another server of this machine", "/tea/", with("Origin", "http://localhost:9000"), 403},
		{"the right name, another scheme", "/tea/", with("Origin", "https://localhost:8123"), 403},
		{"two origins", "/tea/", change(func(r *http.Request) {
			r.Header["Origin"] = []string{"http://localhost:8123", "https://other.example"}
		}), 403},
		{"a picture on another site", "/tea/", change(func(r *http.Request) {
			r.Header.Set("Sec-Fetch-Site", "cross-site")
			r.Header.Set("Sec-Fetch-Mode", "no-cors")
		}), 403},
		{"a script on another server of this machine", "/tea/", change(func(r *http.Request) {
			r.Header.Set("Sec-Fetch-Site", "same-site")
			r.Header.Set("Sec-Fetch-Mode", "no-cors")
		}), 403},
		{"events for another site", "/.preview/events?at=1&page=/", with("Origin", "https://other.example"), 403},
		{"events for nobody", "/.preview/events", nil, 400},
		{"events since never", "/.preview/events?at=x&page=/", nil, 400},
		{"events for no page", "/.preview/events?at=1&page=tea", nil, 400},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := request("/")
			path, query, _ := strings.Cut(tt.target, "?")
			r.URL.Path, r.URL.RawQuery = unescaped(t, path), query
			if tt.change != nil {
				tt.change(r)
			}
			w := ask(s, r)
			if w.Code != tt.want {
				t.Errorf("%d, want %d: %s", w.Code, tt.want, w.Body)
			}
			for key, want := range map[string]string{
				"Cache-Control": "no-store", "X-Content-Type-Options": "nosniff", "Content-Security-Policy": policy,
				"Cross-Origin-Resource-Policy": "same-origin", "Referrer-Policy": "no-referrer",
			} {
				if got := w.Header().Get(key); got != want {
					t.Errorf("%s: %q", key, got)
				}
			}
			if w.Code >= 400 && strings.Contains(w.Body.String(), "root:") {
				t.Error("a file of the machine was given out")
			}
			if to := w.Header().Get("Location"); to != "" && (!strings.HasPrefix(to, "/") || strings.HasPrefix(to, "//")) {
				t.Errorf("leads away, to %q", to)
			}
		})
	}
}

func unescaped(t *testing.T, path string) string {
	t.Helper()
	plain, err := url.PathUnescape(path)
	if err != nil {
		t.Fatal(err)
	}
	return plain
}

func TestPages(t *testing.T) {
	s := serve(loaded(Options{Content: site.Content{FS: small(), Shown: "kitchen"}, Theme: builtIn}))
	tests := []struct {
		target string
		has    []string
		hasNot []string
	}{
		{"/", []string{`<a href="/next/">Next one</a>`, "Nothing to mend", "refresh.js?at=", "preview.css"}, []string{"is-progress"}},
		{"/tea/", []string{"refresh.js?at=", `<b>Preview</b>`}, []string{"is-progress", "Next one"}},
		{"/next/", []string{"is-progress", "publish leaves it out"}, nil},
		{"/next/?kept", []string{"Next one"}, []string{"preview-band", "refresh.js"}},
		{"/.preview/", []string{`<a href="/next/">Next one</a>`, "Nothing to mend"}, nil},
		{"/nowhere/", []string{"Nothing on this card", "refresh.js?at="}, nil},
	}
	for _, tt := range tests {
		body := ask(s, request(tt.target)).Body.String()
		for _, want := range tt.has {
			if !strings.Contains(body, want) {
				t.Errorf("%s lacks %q", tt.target, want)
			}
		}
		for _, bad := range tt.hasNot {
			if strings.Contains(body, bad) {
				t.Errorf("%s has %q", tt.target, bad)
			}
		}
	}
}

// A note with an error: its page says what is wrong at its line and keeps the last
// good page; every other page stays; what is mended comes back.
func TestProblemPage(t *testing.T) {
	fsys := small()
	d := loaded(Options{Content: site.Content{FS: fsys, Shown: "kitchen"}, Theme: builtIn})
	s := serve(d)
	good := fsys["tea/trial.md"]
	broken := strings.Replace(note("Tea <again>", published), "{lid: with}", "{lib: with}", 1)
	broken = strings.Replace(broken, "published: 2026-01-12", "published: 2026-01-12\nkeywrods: [<b>tea</b>]", 1)
	fsys["tea/trial.md"] = &fstest.MapFile{Data: []byte(broken)}
	d.load(touch{slugs: map[string]bool{"tea": true}})
	w := ask(s, request("/tea/"))
	version := regexpAt.ReplaceAllString(w.Body.String(), "?at=VERSION")
	version = regexpAsset.ReplaceAllString(version, "assets/$1-HASH.")
	testkit.Golden(t, "testdata/problem.html", []byte(version))
	for _, target := range []string{"/tea/?kept", "/", "/next/", "/tea/recipe/?kept"} {
		if w := ask(s, request(target)); w.Code != 200 || strings.Contains(w.Body.String(), "keywrods") {
			t.Errorf("%s: %d, or it shows the problem too", target, w.Code)
		}
	}
	if body := ask(s, request("/tea/?kept")).Body.String(); !strings.Contains(body, "<h1>Tea</h1>") {
		t.Error("the last good page is not kept")
	}
	if body := ask(s, request("/.preview/")).Body.String(); !strings.Contains(body, "keywrods") {
		t.Error("the problem does not stand among all problems")
	}
	fsys["tea/trial.md"] = good
	d.load(touch{slugs: map[string]bool{"tea": true}})
	if body := ask(s, request("/tea/")).Body.String(); strings.Contains(body, "a-slip") || !strings.Contains(body, "<h1>Tea</h1>") {
		t.Error("mended, and the page is not back")
	}
}

// A kitchen file or a theme with an error, and a trial that was never without one.
func TestOtherProblems(t *testing.T) {
	fsys := small()
	theme := fstest.MapFS{}
	d := loaded(Options{Content: site.Content{FS: fsys, Shown: "kitchen"}, Theme: func(s *site.Site) Theme {
		return themeOf(s, theme)
	}})
	s := serve(d)
	body := func(target string) string { return ask(s, request(target)).Body.String() }

	fsys["new/trial.md"] = &fstest.MapFile{Data: []byte("---\ntitle: [\n---\n")}
	d.load(touch{slugs: map[string]bool{"new": true}})
	if got := body("/new/"); !strings.Contains(got, "kitchen/new/trial.md:2") || !strings.Contains(got, "no earlier page") {
		t.Errorf("a new note with an error: %s", got)
	}
	delete(fsys, "new/trial.md")
	fsys["kitchen.yaml"] = &fstest.MapFile{Data: []byte("nmae: x\n")}
	d.load(touch{slugs: map[string]bool{}})
	if got := body("/"); !strings.Contains(got, "nmae") || !strings.Contains(got, `src="/?kept"`) {
		t.Error("the kitchen's error is not on the first page")
	}
	if got := body("/tea/"); strings.Contains(got, "nmae") || !strings.Contains(got, "1 to mend") {
		t.Error("the kitchen's error is on a trial's page, or not counted there")
	}
	fsys["kitchen.yaml"] = &fstest.MapFile{Data: []byte("name: x\n")}
	theme["home.html"] = &fstest.MapFile{Data: []byte("<p>\n{{if}}</p>")}
	d.load(touch{theme: true, slugs: map[string]bool{"kitchen.yaml": true}})
	if got := body("/"); !strings.Contains(got, "my/theme/home.html:2") || !strings.Contains(got, "<mark>") && !strings.Contains(got, "{{if}}") {
		t.Errorf("a broken theme: %s", got)
	}
	if got := body("/tea/"); !strings.Contains(got, "<h1>Tea</h1>") {
		t.Error("the last good theme is not kept")
	}
	delete(theme, "home.html")
	d.load(touch{theme: true})
	if got := body("/"); strings.Contains(got, "a-slip") {
		t.Errorf("the theme is mended and still reported: %s", got)
	}
}

// What goes wrong while a page is made is told on a page, and the server goes on.
func TestPanicIsAPage(t *testing.T) {
	d := loaded(Options{Content: site.Content{FS: small(), Shown: "kitchen"}, Theme: builtIn})
	d.now().outputs["bad/index.html"] = site.Output{Path: "bad/index.html", Make: func() ([]byte, error) { panic("the oven is off") }}
	d.now().outputs["bad.csv"] = site.Output{Path: "bad.csv", Make: func() ([]byte, error) { panic("the oven is off") }}
	s := serve(d)
	for _, target := range []string{"/bad/", "/bad/", "/bad.csv"} {
		w := ask(s, request(target))
		if w.Code != 500 || !strings.Contains(w.Body.String(), "the oven is off") {
			t.Errorf("%s: %d %s", target, w.Code, w.Body)
		}
	}
	if ask(s, request("/")).Code != 200 {
		t.Error("the server does not go on")
	}
	d.now().titles = nil
	d.now().look.Pages = nil // everything that makes pages is broken
	if w := ask(s, request("/tea/")); w.Code != 500 || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/plain") {
		t.Errorf("without any theme: %d %s", w.Code, w.Body)
	}
}

// Nothing of the preview is in what publish writes.
func TestOutputsStayClean(t *testing.T) {
	d := loaded(Options{Content: site.Content{FS: small(), Shown: "kitchen"}, Theme: builtIn})
	for path, o := range d.now().outputs {
		data, err := o.Make()
		if err != nil {
			t.Fatal(err)
		}
		for _, bad := range []string{".preview", "preview-band", "refresh.js"} {
			if strings.Contains(string(data), bad) {
				t.Errorf("%s has %q", path, bad)
			}
		}
	}
}

// The script and the templates do without anything that the policy forbids.
func TestNothingInline(t *testing.T) {
	fsys := small()
	fsys["tea/trial.md"] = &fstest.MapFile{Data: []byte("---\ntitle: x\n---\n")}
	s := serve(loaded(Options{Content: site.Content{FS: fsys, Shown: "kitchen"}, Theme: builtIn}))
	for _, target := range []string{"/", "/tea/", "/next/", "/.preview/", "/nowhere/"} {
		body := ask(s, request(target)).Body.String()
		for _, bad := range []string{"<script>", " style=", " onload=", " onclick=", "javascript:", "<style"} {
			if strings.Contains(body, bad) {
				t.Errorf("%s has %q", target, bad)
			}
		}
	}
}

// No file is written anywhere in the kitchen.
func TestWritesNothing(t *testing.T) {
	f := newFolder(t, "a")
	count := func() (n int) {
		f.do(filepath.WalkDir(f.path, func(string, os.DirEntry, error) error { n++; return nil }))
		return n
	}
	before := count()
	s := serve(loaded(f.options()))
	ask(s, request("/"))
	ask(s, request("/a/"))
	if after := count(); after != before {
		t.Errorf("%d files, %d before", after, before)
	}
}
