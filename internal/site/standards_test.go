package site

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"net/url"
	"os"
	"path"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"golang.org/x/net/html"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/results"
	"sidebatch.example/sidebatch/internal/testkit"
	"sidebatch.example/sidebatch/internal/trial"
)

// odd is a kitchen whose names are hard to write down: a folder with letters beyond
// ASCII, and words that would end a script, a tag or a cell.
func odd(address string) fstest.MapFS {
	return fstest.MapFS{
		"kitchen.yaml": {Data: []byte("name: \"Two <b> & \\\"Griddles\\\"\"\n" + address)},
		"crème-brûlée/trial.md": {Data: []byte(`---
title: "</script><script>alert(1)</script> & ]]>"
question: "Is <5 min> enough?"
cooked: 2026-02-14
published: 2026-02-20
recipe: {name: "Cream </script>", makes: 4 bowls, ingredients: {cream: 400 g cream, salt: "to taste salt"}, steps: ["Stir < 5 min."], times: {cook: 5 min}}
conditions: {rest: 5 min}
samples: {"=short": {control: true}, long: {change: {rest: 9 min}}}
measures: {sets: {kind: pass or fail, primary: true}}
video: {address: "https://video.example/a?b=1&c=2", chapters: {"0:00": "<start>", "0:00.5": same second, "1:10": End}}
---

Text.
`)},
		"crème-brûlée/pieces.csv": {Data: []byte("sample,piece,sets,note\n=short,1,pass,@home\nlong,1,fail,\n")},
	}
}

// made are the outputs of a kitchen by path. Pictures, which take their time and say
// nothing here, are not drawn.
func made(t *testing.T, content Content) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	for _, o := range plan(t, content) {
		if files[o.Path] != nil {
			t.Errorf("%s is written twice", o.Path)
		}
		if strings.Contains(o.Path, "/photos/") || sharePath.MatchString(o.Path) {
			files[o.Path] = []byte("a picture")
			continue
		}
		data, err := o.Make()
		if err != nil {
			t.Fatal(err)
		}
		files[o.Path] = data
	}
	return files
}

// everyKitchen calls a test for each kitchen's outputs, the odd one's too.
func everyKitchen(t *testing.T, do func(t *testing.T, files map[string][]byte)) {
	t.Helper()
	for name, folder := range kitchens(t) {
		t.Run(name, func(t *testing.T) { do(t, made(t, Content{FS: os.DirFS(folder), Shown: "content"})) })
	}
	for name, address := range map[string]string{"odd": "address: https://odd.example/trials/\n", "odd-nowhere": ""} {
		t.Run(name, func(t *testing.T) { do(t, made(t, Content{FS: odd(address), Shown: "content"})) })
	}
}

// base is the site's address as its first page says it, or "".
func base(t *testing.T, files map[string][]byte) string {
	t.Helper()
	return canonicalOf(t, files["index.html"])
}

// TestSitemapOfSurvey: a kitchen that was surveyed has the sitemap that it has when all of it
// is held in memory.
func TestSitemapOfSurvey(t *testing.T) {
	content := Content{FS: os.DirFS("../../content"), Shown: "content"}
	look := testLook(t)
	look.InProgress = false
	var problems problem.List
	k := ReadKitchen(content, &problems)
	surveyed := All(Surveyor{Content: content, Kitchen: k, Look: look}.Survey(&problems).Plan())
	want := contentOf(t, Plan(Load(content, &problems), look), "sitemap.xml")
	got := contentOf(t, surveyed, "sitemap.xml")
	if got != want {
		t.Error(testkit.Diff([]byte(want), []byte(got)))
	}
	pages := 0
	for _, o := range surveyed {
		if isListed(o.Path) {
			pages++
		}
	}
	if listed := strings.Count(got, "<loc>"); listed != pages || pages == 0 {
		t.Errorf("%d pages, of which %d are listed", pages, listed)
	}
}

func canonicalOf(t *testing.T, page []byte) string {
	t.Helper()
	for n := range parsed(t, page).Descendants() {
		if n.Data == "link" && attribute(n, "rel") == "canonical" {
			return attribute(n, "href")
		}
	}
	return ""
}

func parsed(t *testing.T, page []byte) *html.Node {
	t.Helper()
	doc, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

func attribute(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// fileAt is the output that an address of the site leads to, or "".
func fileAt(t *testing.T, root, from, address string) string {
	t.Helper()
	if root == "" {
		root = "https://nowhere.example/"
	}
	start, err := url.Parse(root + from)
	if err != nil {
		t.Fatal(err)
	}
	u, err := start.Parse(address)
	if err != nil {
		t.Fatalf("%q is no address: %v", address, err)
	}
	below, inside := strings.CutPrefix(u.String(), root)
	if !inside {
		return ""
	}
	below, _, _ = strings.Cut(below, "#")
	below, _, _ = strings.Cut(below, "?")
	file, err := url.PathUnescape(below)
	if err != nil {
		t.Fatal(err)
	}
	if file == "" || strings.HasSuffix(file, "/") {
		file += "index.html"
	}
	return file
}

// TestSitemap: it lists exactly the pages, under the addresses that they give
// themselves (sitemaps.org, protocol 0.9: addresses whole and escaped).
func TestSitemap(t *testing.T) {
	everyKitchen(t, func(t *testing.T, files map[string][]byte) {
		root := base(t, files)
		data, there := files["sitemap.xml"]
		robots := string(files["robots.txt"])
		if root == "" {
			if there || strings.Contains(robots, "Sitemap") || !strings.HasPrefix(robots, "User-agent: *\n") {
				t.Errorf("without an address: sitemap %v, robots.txt %q", there, robots)
			}
			return
		}
		if !strings.Contains(robots, "\nSitemap: "+root+"sitemap.xml\n") {
			t.Errorf("robots.txt %q", robots)
		}
		var list struct {
			URLs []struct {
				Loc     string `xml:"loc"`
				Lastmod string `xml:"lastmod"`
			} `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 url"`
		}
		if err := xml.Unmarshal(data, &list); err != nil {
			t.Fatal(err)
		}
		listed := map[string]bool{}
		for _, u := range list.URLs {
			file := fileAt(t, root, "", u.Loc)
			listed[file] = true
			if got := canonicalOf(t, files[file]); got != u.Loc {
				t.Errorf("%s calls itself %q", u.Loc, got)
			}
			slug, _, _ := strings.Cut(file, "/")
			if data := files[slug+"/data/"+resultsFile]; data != nil {
				var r struct{ Published string }
				if err := json.Unmarshal(data, &r); err != nil || u.Lastmod != r.Published {
					t.Errorf("%s: since %q, published on %q, %v", u.Loc, u.Lastmod, r.Published, err)
				}
			}
		}
		for file := range files {
			if strings.HasSuffix(file, ".html") && file != "404.html" && !listed[file] {
				t.Errorf("the sitemap leaves out %s", file)
			}
		}
	})
}

type atomEntry struct {
	ID      string `xml:"id"`
	Title   string `xml:"title"`
	Updated string `xml:"updated"`
	Content string `xml:"content"`
}

// TestFeed: an entry for every trial, the newest first, at its page; every address
// in it leads somewhere; every page names the feed.
func TestFeed(t *testing.T) {
	everyKitchen(t, func(t *testing.T, files map[string][]byte) {
		root := base(t, files)
		data, there := files[feedFile]
		writeUps := 0
		for file := range files {
			if path.Base(path.Dir(file)) == "data" && path.Base(file) == resultsFile {
				writeUps++
			}
		}
		if want := root != "" && writeUps > 0; there != want {
			t.Fatalf("a feed: %v, want %v", there, want)
		}
		if !there {
			return
		}
		var feed struct {
			ID      string      `xml:"id"`
			Entries []atomEntry `xml:"entry"`
		}
		if err := xml.Unmarshal(data, &feed); err != nil {
			t.Fatal(err)
		}
		if feed.ID != root+feedFile || len(feed.Entries) != min(writeUps, newestInFeed) {
			t.Errorf("feed %q with %d entries of %d", feed.ID, len(feed.Entries), writeUps)
		}
		newestFirst := slices.IsSortedFunc(feed.Entries, func(a, b atomEntry) int { return -strings.Compare(a.Updated, b.Updated) })
		if !newestFirst {
			t.Error("the entries are not in order")
		}
		for _, e := range feed.Entries {
			if file := fileAt(t, root, "", e.ID); files[file] == nil {
				t.Errorf("the entry %s leads to no page", e.ID)
			}
			links := linksOf(t, []byte(e.Content))
			for _, to := range links.to {
				if files[fileAt(t, root, "", to)] == nil || !strings.HasPrefix(to, root) {
					t.Errorf("%s: %q leads nowhere", e.ID, to)
				}
			}
			if len(links.to) < 3 || strings.Contains(e.Content, "<script") {
				t.Errorf("%s: content %q", e.ID, e.Content)
			}
		}
		for file, page := range files {
			if strings.HasSuffix(file, ".html") && !bytes.Contains(page, []byte(`type="application/atom+xml"`)) {
				t.Errorf("%s does not name the feed", file)
			}
		}
	})
}

// TestTables: every log has its metadata beside it, and links to both stand on the
// data page.
func TestTables(t *testing.T) {
	everyKitchen(t, func(t *testing.T, files map[string][]byte) {
		logs := 0
		for file := range files {
			if !strings.HasSuffix(file, ".csv") {
				continue
			}
			logs++
			var metadata struct{ URL string }
			if err := json.Unmarshal(files[file+results.MetadataSuffix], &metadata); err != nil {
				t.Fatalf("%s: %v", file, err)
			}
			if name, err := url.PathUnescape(metadata.URL); err != nil || name != path.Base(file) {
				t.Errorf("%s: the metadata are of %q", file, metadata.URL)
			}
			to := linksOf(t, files[path.Dir(file)+"/index.html"]).to
			for _, name := range []string{path.Base(file), path.Base(file) + results.MetadataSuffix} {
				if !slices.Contains(to, name) {
					t.Errorf("%s: the data page has no link to %s", file, name)
				}
			}
		}
		if logs == 0 {
			for file := range files {
				if strings.HasSuffix(file, trial.NoteFile) {
					t.Error("no logs")
				}
			}
		}
	})
}

// TestSchemas: both are published, under the address that they give themselves, and
// linked from the methods page.
func TestSchemas(t *testing.T) {
	everyKitchen(t, func(t *testing.T, files map[string][]byte) {
		root := base(t, files)
		to := linksOf(t, files[methodsPage+"index.html"]).to
		for _, name := range []string{"schemas/results.json", "schemas/note.json"} {
			var schema struct {
				ID string `json:"$id"`
			}
			if err := json.Unmarshal(files[name], &schema); err != nil {
				t.Fatal(err)
			}
			if root == "" && schema.ID != "" || root != "" && schema.ID != root+name {
				t.Errorf("%s calls itself %q", name, schema.ID)
			}
			if !slices.Contains(to, "../"+name) {
				t.Errorf("the methods page has no link to %s", name)
			}
		}
	})
}
