package preview

import (
	"bufio"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"sidebatch.example/sidebatch/internal/site"
)

// browser asks a running preview as a browser does.
type browser struct {
	t    *testing.T
	base string
}

func openBrowser(t *testing.T, address string) browser {
	t.Helper()
	u, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	return browser{t, "http://" + u.Host}
}

func (b browser) get(path string) string {
	b.t.Helper()
	r, err := http.Get(b.base + path)
	if err != nil {
		b.t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil {
		b.t.Fatal(err)
	}
	return string(body)
}

// listen opens the line of a page, at the version it shows, and returns a channel
// that gets the time of the event.
func (b browser) listen(path string) <-chan time.Time {
	b.t.Helper()
	at := strings.TrimPrefix(regexpAt.FindString(b.get(path)), "?at=")
	if at == "" {
		b.t.Fatalf("%s does not say its version", path)
	}
	r, err := http.Get(b.base + eventsPage + "?at=" + at + "&page=" + url.QueryEscape(path))
	if err != nil {
		b.t.Fatal(err)
	}
	if kind := r.Header.Get("Content-Type"); kind != "text/event-stream" {
		b.t.Fatalf("events are %q", kind)
	}
	b.t.Cleanup(func() { r.Body.Close() })
	told := make(chan time.Time, 1)
	go func() {
		lines := bufio.NewScanner(r.Body)
		for lines.Scan() {
			if lines.Text() == "event: refresh" {
				told <- time.Now()
				return
			}
		}
	}()
	return told
}

func (b browser) await(what string, told <-chan time.Time) {
	b.t.Helper()
	select {
	case <-told:
	case <-time.After(patience):
		b.t.Fatalf("%s: the page was not told", what)
	}
}

// However a note is saved, its page is told, and shows what was saved.
func TestSaveIsTold(t *testing.T) {
	f := newFolder(t, "a", "b")
	b := openBrowser(t, run(t, f.options()))
	saves := []struct {
		name string
		save func(text string)
	}{
		{"written over", func(text string) { f.write("a/trial.md", text) }},
		{"a new file in the place of the old", func(text string) {
			f.write("a/trial.md.tmp", text)
			f.do(os.Rename(f.at("a/trial.md.tmp"), f.at("a/trial.md")))
		}},
		{"moved aside and written anew", func(text string) {
			f.write("a/4913", "")
			f.do(os.Remove(f.at("a/4913")))
			f.write("a/.trial.md.swp", "x")
			f.do(os.Rename(f.at("a/trial.md"), f.at("a/trial.md~")))
			f.write("a/trial.md", text)
			f.do(os.Remove(f.at("a/trial.md~")))
			f.do(os.Remove(f.at("a/.trial.md.swp")))
		}},
		{"half saved for a while", func(text string) {
			f.write("a/trial.md", "")
			time.Sleep(quietTime + graceTime/3)
			f.write("a/trial.md", text)
		}},
		{"deleted for a while", func(text string) {
			f.do(os.Remove(f.at("a/trial.md")))
			time.Sleep(quietTime + graceTime/3)
			f.write("a/trial.md", text)
		}},
	}
	for i, s := range saves {
		t.Run(s.name, func(t *testing.T) {
			title := fmt.Sprintf("Saved %d", i)
			told := b.listen("/a/")
			s.save(note(title, published))
			b.await(s.name, told)
			// A slow machine may see the half of it first; then the rest is told too.
			for start := time.Now(); !strings.Contains(b.get("/a/"), "<h1>"+title+"</h1>"); {
				if time.Since(start) > patience {
					t.Fatal("the page does not show what was saved")
				}
				time.Sleep(quietTime)
			}
		})
	}
}

// A note that is empty or gone for a moment is never shown as wrong; one that stays
// so is.
func TestHalfSaved(t *testing.T) {
	tests := []struct {
		name  string
		half  func(f folder)
		whole func(f folder)
		wrong bool
	}{
		{"empty for a moment", func(f folder) { f.write("a/trial.md", "") }, func(f folder) { f.write("a/trial.md", note("Whole", published)) }, false},
		{"gone for a moment", func(f folder) { f.do(os.Remove(f.at("a/trial.md"))) }, func(f folder) { f.write("a/trial.md", note("Whole", published)) }, false},
		{"a log that is empty for a moment", func(f folder) { f.write("a/pieces.csv", "") }, func(f folder) { f.trial("a", "Whole", published) }, false},
		{"the folder moved and back", func(f folder) { f.do(os.Rename(f.at("a"), f.at(".a"))) }, func(f folder) {
			f.do(os.Rename(f.at(".a"), f.at("a")))
			f.trial("a", "Whole", published)
		}, false},
		{"empty, and stays so", func(f folder) { f.write("a/trial.md", "") }, func(folder) {}, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				f := newFolder(t, "a", "b")
				d := loaded(f.options())
				tt.half(f)
				done := make(chan struct{})
				go func() {
					d.followOne(t.Context(), touch{slugs: map[string]bool{"a": true}})
					close(done)
				}()
				time.Sleep(graceTime / 2)
				if s := d.now(); s.hasError("a") || s.titles["a"] != "Trial a" {
					t.Error("half a save is shown")
				}
				tt.whole(f)
				<-done
				s := d.now()
				if s.hasError("a") != tt.wrong {
					t.Errorf("an error is shown: %t", !tt.wrong)
				}
				if want := map[bool]string{true: "Trial a", false: "Whole"}[tt.wrong]; s.titles["a"] != want {
					t.Errorf("shown is %q, want %q", s.titles["a"], want)
				}
			})
		})
	}
}

// Pages of other trials are left in peace; those of the site are told of all.
func TestOnlyWhatChangedIsTold(t *testing.T) {
	f := newFolder(t, "a", "b")
	b := openBrowser(t, run(t, f.options()))
	a, other, home := b.listen("/a/recipe/"), b.listen("/b/"), b.listen("/")
	f.write("a/.trial.md.swp", "x")
	f.write("a/trial.md", note("Another title", published))
	b.await("its own page", a)
	b.await("the first page", home)
	select {
	case <-other:
		t.Error("a page of another trial was told")
	case <-time.After(5 * quietTime):
	}
	f.write("kitchen.yaml", "name: Another kitchen\n")
	b.await("the kitchen", other)
	if !strings.Contains(b.get("/b/"), "Another kitchen") {
		t.Error("the page does not show the kitchen's new name")
	}
}

// Folders that are new, renamed or gone.
func TestFolders(t *testing.T) {
	f := newFolder(t, "a", "b")
	b := openBrowser(t, run(t, f.options()))
	home := b.listen("/")
	f.trial("c", "A third one", "")
	b.await("a new folder", home)
	waitFor(t, "the new page", func() bool { return strings.Contains(b.get("/c/"), "A third one") })

	old := b.listen("/a/")
	f.do(os.Rename(f.at("a"), f.at("d")))
	b.await("a renamed folder", old)
	waitFor(t, "the page under its new name", func() bool { return strings.Contains(b.get("/d/"), "Trial a") })
	if !strings.Contains(b.get("/a/"), "Nothing on this card") {
		t.Error("the page under the old name is still there")
	}
	renamed := b.listen("/d/")
	f.write("d/trial.md", note("Saved under the new name", published))
	b.await("a save in a renamed folder", renamed)

	gone := b.listen("/b/")
	f.do(os.RemoveAll(f.at("b")))
	b.await("a deleted folder", gone)
}

func waitFor(t *testing.T, what string, holds func() bool) {
	t.Helper()
	for start := time.Now(); !holds(); time.Sleep(quietTime) {
		if time.Since(start) > patience {
			t.Fatalf("%s: not in time", what)
		}
	}
}

// Where the system tells nothing, files are looked at.
func TestPolling(t *testing.T) {
	f := newFolder(t, "a")
	w := &watch{content: f.path, touched: make(chan touch)}
	w.poll(t.Context())
	d := loaded(f.options())
	before := d.now()
	f.write("a/trial.md", note("Seen", published))
	d.followOne(t.Context(), <-w.touched)
	if s := d.now(); s == before || s.titles["a"] != "Seen" {
		t.Error("not seen")
	}
	after := d.now()
	d.followOne(t.Context(), <-w.touched)
	if d.now() != after {
		t.Error("nothing changed, and there is a new state")
	}
}

// A theme folder is watched as well.
func TestThemeIsTold(t *testing.T) {
	f := newFolder(t, "a")
	theme := t.TempDir()
	o := f.options()
	o.Theme = func(s *site.Site) Theme {
		t := themeOf(s, os.DirFS(theme))
		t.Folder = theme
		return t
	}
	b := openBrowser(t, run(t, o))
	told := b.listen("/a/")
	f.do(os.WriteFile(theme+"/foot.html", []byte("</main><footer>our own foot</footer></body></html>"), 0o644))
	b.await("a theme's file", told)
	if !strings.Contains(b.get("/a/"), "our own foot") {
		t.Error("the page is in the old theme")
	}
}

// Many pages wait at once; more than there are places for are sent away, and the
// server stops all the same (run looks after that).
func TestManyBrowsers(t *testing.T) {
	f := newFolder(t, "a")
	b := openBrowser(t, run(t, f.options()))
	var waiting []<-chan time.Time
	for range mostStreams {
		waiting = append(waiting, b.listen("/a/"))
	}
	r, err := http.Get(b.base + eventsPage + "?at=1&page=/a/")
	if err != nil {
		t.Fatal(err)
	}
	r.Body.Close()
	if r.StatusCode != http.StatusServiceUnavailable || r.Header.Get("Retry-After") == "" {
		t.Errorf("one too many: %d", r.StatusCode)
	}
	f.write("a/trial.md", note("For all", published))
	for _, told := range waiting {
		b.await("one of many", told)
	}
	waitFor(t, "a free place", func() bool {
		r, err := http.Get(b.base + eventsPage + "?at=1&page=/a/")
		if err != nil {
			return false
		}
		r.Body.Close()
		return r.StatusCode == http.StatusOK
	})
	b.listen("/a/") // and one is open when the preview is stopped
}

// The preview opens at the trial saved last.
func TestStart(t *testing.T) {
	f := newFolder(t, "a", "b", "c")
	past := time.Now().Add(-time.Hour)
	for _, slug := range []string{"a", "c"} {
		for _, name := range []string{"/trial.md", "/pieces.csv"} {
			f.do(os.Chtimes(f.at(slug+name), past, past))
		}
	}
	address := run(t, f.options())
	if !strings.HasPrefix(address, "http://127.0.0.1:") || !strings.HasSuffix(address, "/b/") {
		t.Errorf("starts at %s", address)
	}
	empty := folder{t, t.TempDir()}
	if address := run(t, empty.options()); !strings.HasSuffix(address, "/") || strings.Count(address, "/") != 3 {
		t.Errorf("an empty kitchen starts at %s", address)
	}
}
