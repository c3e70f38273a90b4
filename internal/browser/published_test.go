package browser

import (
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/press"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/site"
)

// policy is the Content-Security-Policy that the pages must obey, as README gives it to
// those who serve them: nothing inline, nothing from elsewhere, nothing to send anything to.
const policy = "default-src 'none'; style-src 'self'; img-src 'self'; script-src 'self'; connect-src 'self'; worker-src 'self'; " +
	"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// published is a site in a folder.
type published struct {
	folder string
	trials []string // addresses of the write-ups from the site's root: "rye/"
	files  []string // all files, with forward slashes
}

// publish writes the demo as the program does.
func publish(t *testing.T) published {
	t.Helper()
	var problems problem.List
	content := site.Content{FS: os.DirFS("../../content"), Shown: "content"}
	kitchen := site.ReadKitchen(content, &problems)
	pages, err := page.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	methods, err := page.MethodTexts(nil, kitchen.Language)
	if err != nil {
		t.Fatal(err)
	}
	x := site.Surveyor{Content: content, Kitchen: kitchen, Look: site.Look{Pages: pages, Methods: methods}}.Survey(&problems)
	for _, p := range problems.Sorted() {
		if p.Weight == problem.Error {
			t.Fatalf("the demo cannot be published: %s", p)
		}
	}
	done := published{folder: filepath.Join(t.TempDir(), "site")}
	lots := x.Plan()
	if _, err := press.Run(t.Context(), press.Source{Lots: func() ([]site.Lot, site.Digest, error) { return lots, site.Digest{}, nil }}, press.Options{Out: done.folder}); err != nil {
		t.Fatal(err)
	}
	for _, o := range site.All(lots) {
		done.files = append(done.files, o.Path)
	}
	for _, c := range x.Trials {
		done.trials = append(done.trials, c.Slug+"/")
	}
	if len(done.trials) == 0 || len(done.pages()) < len(done.trials)+3 {
		t.Fatalf("%d trials and %d pages: this is not the demo", len(done.trials), len(done.pages()))
	}
	return done
}

// pages lists the addresses of all pages from the site's root.
func (s published) pages() []string {
	var all []string
	for _, f := range s.files {
		if strings.HasSuffix(f, ".html") {
			all = append(all, strings.TrimSuffix(f, "index.html"))
		}
	}
	return all
}

func (s published) has(address string) bool { return slices.Contains(s.pages(), address) }

// of returns those files that have one of the endings.
func (s published) of(endings ...string) []string {
	return slices.DeleteFunc(slices.Clone(s.files), func(f string) bool { return !slices.Contains(endings, path.Ext(f)) })
}

// serve serves files on this machine, with a policy where one is given, and
// returns the address of their root, which ends in a slash.
func serve(t *testing.T, files fs.FS, policy string) string {
	t.Helper()
	plain := http.FileServerFS(files)
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if policy != "" {
			w.Header().Set("Content-Security-Policy", policy)
		}
		plain.ServeHTTP(w, r)
	}))
	t.Cleanup(server.Close)
	return server.URL + "/"
}
