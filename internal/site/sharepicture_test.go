package site

import (
	"bytes"
	"image/png"
	"io/fs"
	"maps"
	"os"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/chart"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
)

var sharePath = regexp.MustCompile(`^([^/]+)/share\.png$`)

// openGraph is what a page says to those who show a link to it.
func openGraph(t *testing.T, page []byte) map[string]string {
	t.Helper()
	all := map[string]string{}
	for n := range parsed(t, page).Descendants() {
		if name := attribute(n, "property"); n.Data == "meta" && strings.HasPrefix(name, "og:") {
			if _, twice := all[name]; twice {
				t.Errorf("%s stands twice", name)
			}
			all[name] = attribute(n, "content")
		}
	}
	return all
}

// TestSharePictures: every trial has its picture, the pages name it where the kitchen
// has an address, and programs are told of it where there is no photo. The names of
// the tags are those of the Open Graph protocol, https://ogp.me/.
func TestSharePictures(t *testing.T) {
	everyKitchen(t, func(t *testing.T, files map[string][]byte) {
		root := base(t, files)
		pictures := map[string]string{}
		for file := range files {
			if m := sharePath.FindStringSubmatch(file); m != nil {
				if pictures[m[1]] != "" {
					t.Errorf("%s has two pictures", m[1])
				}
				pictures[m[1]] = file
			}
		}
		trials := 0
		for file := range files {
			slug, found := strings.CutSuffix(file, "/data/"+resultsFile)
			if !found {
				continue
			}
			trials++
			if pictures[slug] == "" {
				t.Errorf("%s has no picture", slug)
				continue
			}
			for _, page := range []string{slug + "/index.html", slug + "/recipe/index.html"} {
				checkOpenGraph(t, root, page, files, pictures[slug])
			}
			checkImages(t, root, slug, files, pictures[slug])
		}
		if trials == 0 || trials != len(pictures) {
			t.Errorf("%d trials, %d pictures", trials, len(pictures))
		}
		for _, file := range []string{"index.html", "archive/index.html"} {
			if got := openGraph(t, files[file])["og:image"]; got != "" {
				t.Errorf("%s names the picture %s", file, got)
			}
		}
	})
}

func checkOpenGraph(t *testing.T, root, page string, files map[string][]byte, picture string) {
	t.Helper()
	tags := openGraph(t, files[page])
	if root == "" {
		if len(tags) > 0 {
			t.Errorf("%s has no address, and yet %v", page, tags)
		}
		return
	}
	for _, name := range []string{"og:title", "og:type", "og:url", "og:description", "og:site_name", "og:image:alt"} {
		if tags[name] == "" {
			t.Errorf("%s has no %s", page, name)
		}
	}
	if got := fileAt(t, root, "", tags["og:image"]); got != picture || !strings.HasPrefix(tags["og:image"], "https://") {
		t.Errorf("%s names %q, which is %q (want %s)", page, tags["og:image"], got, picture)
	}
	if tags["og:image:type"] != "image/png" || tags["og:image:width"] != strconv.Itoa(chart.ShareWidth) ||
		tags["og:image:height"] != strconv.Itoa(chart.ShareHeight) {
		t.Errorf("%s: %v", page, tags)
	}
}

// checkImages asks that write-up and recipe have an image that is there: a photo, or
// where the trial has none the share picture.
func checkImages(t *testing.T, root, slug string, files map[string][]byte, picture string) {
	t.Helper()
	photos := slices.ContainsFunc(slices.Collect(maps.Keys(files)), func(file string) bool {
		return strings.HasPrefix(file, slug+"/photos/")
	})
	for file, kind := range map[string]string{slug + "/index.html": "Article", slug + "/recipe/index.html": "Recipe"} {
		images, _ := linked(t, files[file])[kind]["image"].([]any)
		if len(images) == 0 {
			t.Errorf("%s: the %s has no image", file, kind)
		}
		for _, image := range images {
			at := fileAt(t, root, strings.TrimSuffix(file, "index.html"), image.(string))
			if files[at] == nil || photos == (at == picture) {
				t.Errorf("%s: the image %s is not what the trial has", file, at)
			}
		}
	}
}

// TestSharePictureFiles draws the pictures of the demo.
func TestSharePictureFiles(t *testing.T) {
	drawn := map[string]bool{}
	for _, o := range plan(t, Content{FS: os.DirFS("../../content"), Shown: "content"}) {
		if !sharePath.MatchString(o.Path) {
			continue
		}
		data, err := o.Make()
		if err != nil {
			t.Fatal(err)
		}
		config, err := png.DecodeConfig(bytes.NewReader(data))
		if err != nil || config.Width != chart.ShareWidth || config.Height != chart.ShareHeight || len(data) > 60_000 {
			t.Errorf("%s: %d by %d, %d bytes, %v", o.Path, config.Width, config.Height, len(data), err)
		}
		if drawn[string(data)] {
			t.Errorf("%s is the picture of another trial too", o.Path)
		}
		drawn[string(data)] = true
	}
	if len(drawn) != 10 {
		t.Errorf("%d pictures", len(drawn))
	}
}

// TestMainFigure: the figure of the primary measure, if it can be read, else another.
func TestMainFigure(t *testing.T) {
	var problems problem.List
	s := Load(Content{FS: os.DirFS("../../content"), Shown: "content"}, &problems)
	want := map[string]string{
		"rested-oat-batter":       "flips clean",
		"oat-biscuits-chilled":    "spread",
		"soup-that-has-to-cool":   "first stage",
		"granola-with-four-fats":  "crunch by taster", // four samples of stacked marks are too high
		"carrot-soup-blind":       "pour",             // a triangle test has no figure
		"eggs-into-boiling-water": "peels clean",
	}
	for _, e := range s.Trials {
		name, known := want[e.Trial.Slug]
		if !known {
			continue
		}
		got, err := e.gallery().main()
		if err != nil {
			t.Fatal(err)
		}
		d, err := e.gallery().drawingOf(name, "", e.gallery().figureID(name))
		if err != nil {
			t.Fatal(err)
		}
		gotSVG, _ := got.Draw()
		wantSVG, _ := d.chart.Draw()
		if !bytes.Equal(gotSVG, wantSVG) {
			t.Errorf("%s does not show %q first: %q", e.Trial.Slug, name, e.gallery().mainFigures())
		}
	}
}

// TestShareAddress: a trial without readings has a picture with its question, under one path
// whatever changes, and another address after every change.
func TestShareAddress(t *testing.T) {
	addresses := map[string]bool{}
	for _, kitchen := range []string{"", "name: Elsewhere\n", "invented: true\n"} {
		for _, question := range []string{"Is <5 min> enough?", "Is 6 min enough?"} {
			content := odd("")
			content["kitchen.yaml"] = &fstest.MapFile{Data: []byte("address: https://kitchen.example/\n" + kitchen)}
			note := content["crème-brûlée/trial.md"]
			note.Data = bytes.Replace(note.Data, []byte("Is <5 min> enough?"), []byte(question), 1)
			files := made(t, Content{FS: content, Shown: "content"})
			address := openGraph(t, files["crème-brûlée/index.html"])["og:image"]
			if at := fileAt(t, "https://kitchen.example/", "", address); at != "crème-brûlée/share.png" || files[at] == nil {
				t.Errorf("%s is %s", address, at)
			}
			addresses[address] = true
		}
	}
	if len(addresses) != 6 {
		t.Errorf("six notes have pictures at %v", addresses)
	}
}

// TestShareOfOtherProse: a picture shows nothing of the prose, so that with other prose it
// is the same and has the same address.
func TestShareOfOtherProse(t *testing.T) {
	shares := func(content fs.FS) map[string][]byte {
		all := map[string][]byte{}
		for _, o := range plan(t, Content{FS: content, Shown: "content"}) {
			if !sharePath.MatchString(o.Path) && path.Base(o.Path) != "index.html" {
				continue
			}
			data, err := o.Make()
			if err != nil {
				t.Fatal(err)
			}
			if sharePath.MatchString(o.Path) {
				all[o.Path] = data
			} else if address := openGraph(t, data)["og:image"]; address != "" {
				all[address] = []byte("its address")
			}
		}
		return all
	}
	demo := os.DirFS("../../content")
	other := fstest.MapFS{}
	err := fs.WalkDir(demo, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(demo, name)
		if front := bytes.LastIndex(data, []byte("\n---\n")); path.Base(name) == "trial.md" {
			data = append(data[:front], "\n---\n\nOther words.\n"...)
		}
		other[name] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	want, got := shares(demo), shares(other)
	if len(want) != 2*10 || len(got) != len(want) {
		t.Errorf("%d pictures and addresses, then %d", len(want), len(got))
	}
	for name := range want {
		if !bytes.Equal(got[name], want[name]) {
			t.Errorf("%s is another", name)
		}
	}
}

// The inks of figures, which chart writes into figures that stand alone, are those of
// the theme, and the theme has every colour that a share picture asks for.
func TestInksAreTheThemes(t *testing.T) {
	pages, err := page.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	light, err := pages.Light()
	if err != nil {
		t.Fatal(err)
	}
	for _, ink := range chart.Inks() {
		if light[ink.Name] != ink.Light {
			t.Errorf("%s is %s in chart and %s in the theme", ink.Name, ink.Light, light[ink.Name])
		}
	}
	if _, err := (chart.Share{Title: "A title", Colours: light}).Draw(); err != nil {
		t.Error(err)
	}
}
