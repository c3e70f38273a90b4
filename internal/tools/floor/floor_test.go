package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
)

const (
	chart     = `<svg xmlns="x" class="chart" role="img"><text x="1">a</text><text>b</text><path d="M0 0"/></svg>`
	sign      = `<svg viewBox="0 0 32 32" aria-hidden="true"><path d="M0 0"/></svg>`
	structure = `<script type="application/ld+json">{"a":1}</script>`
)

func TestSurvey(t *testing.T) {
	card, small := picture(t, shareWidth, shareHeight), picture(t, 40, 30)
	whole := structure + sign + chart + "<p>" + sign + strings.Replace(chart, "<path", `<path d="M1 1"/><path`, 1)
	seen, err := survey(fstest.MapFS{
		".sidebatch-site":        {Data: []byte("list")},
		"a/index.html":           {Data: []byte(whole)},
		"a/data/results.json":    {Data: []byte("[1]")},
		"a/pieces.csv":           {Data: []byte("a,b\n")},
		"a/share.png":            {Data: card},
		"a/photos/b-480.png":     {Data: small},
		"archive/nothing.html":   {Data: []byte("<svg")},
		"schemas/note.schema.md": {},
	})
	if err != nil {
		t.Fatal(err)
	}
	want := []output{
		{path: "a/data/results.json", size: 3, form: asJSON},
		{path: "a/index.html", size: len(whole), form: page, figures: []figure{{2, 1}, {2, 2}}, data: 7},
		{path: "a/photos/b-480.png", size: len(small), form: photo, pixels: image.Pt(40, 30)},
		{path: "a/pieces.csv", size: 4},
		{path: "a/share.png", size: len(card), form: share, pixels: image.Pt(shareWidth, shareHeight)},
		{path: "archive/nothing.html", size: 4, form: page},
		{path: "schemas/note.schema.md"},
	}
	if diff := cmp.Diff(want, seen, cmp.AllowUnexported(output{}, figure{})); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// TestFloor: what the floor writes has the names and sizes of the site, and it says so.
func TestFloor(t *testing.T) {
	site := map[string][]byte{
		"index.html":          []byte(strings.Repeat("<p>front page</p>", 50)),
		"a/index.html":        []byte(structure + chart + strings.Repeat("<p>write-up</p>", 500)),
		"a/data/index.html":   []byte(strings.Repeat("<p>data</p>", 400)),
		"a/data/results.json": []byte(strings.Repeat("[1]", 900)),
		"a/data/pieces.csv":   []byte("sample,piece\n"),
		"a/share.png":         picture(t, shareWidth, shareHeight),
		"a/photos/b-16.png":   picture(t, 16, 12),
		"assets/styles.css":   []byte("a{}"),
	}
	kitchen := map[string][]byte{
		"kitchen.yaml":   []byte("name: Ours\n"),
		"a/trial.md":     []byte("---\ntitle: Batter\n---\n\nWe *rested* it.\n"),
		"a/pieces.csv":   []byte("sample;piece\nfresh;1\n"),
		"a/photos/b.png": picture(t, 64, 48),
	}
	published, content, out := written(t, site), written(t, kitchen), filepath.Join(t.TempDir(), "out")
	var said bytes.Buffer
	if err := run([]string{"--content", content, "--site", published, "--sync=false", out}, &said, io.Discard); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(sizes(t, published), sizes(t, out)); diff != "" {
		t.Errorf("files and sizes (-site +floor):\n%s", diff)
	}
	for _, line := range []string{"files read                4 ", "front matter              2 ", "prose converted           1 ", "logs                      1 ",
		"notes marked up           1 ", "figures                   1 ", "share pictures            1 ", "photos                    1 ", "pages                     3 ",
		"pages made smaller        3 ", "JSON                      2 ", "files written             8 ", " s, 8 files, "} {
		if !strings.Contains(said.String(), line) {
			t.Errorf("does not say %q:\n%s", line, &said)
		}
	}
	data, err := os.ReadFile(filepath.Join(out, "a", "index.html"))
	if err != nil || !bytes.Contains(data, []byte("<em>rested</em>")) || !bytes.Contains(data, []byte(`class="chart"`)) {
		t.Errorf("the write-up lacks its prose or its figure: %v, %.300s", err, data)
	}
}

func TestRefused(t *testing.T) {
	full := written(t, map[string][]byte{"mine.txt": []byte("mine")})
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--content", "a", "--site", "b", full}, "is not empty (name a new folder)"},
		{[]string{"--content", "a", filepath.Join(full, "new")}, "want --content DIR --site PUBLISHED OUT"},
		{[]string{"--content", "a", "--site", "b"}, "want --content DIR --site PUBLISHED OUT"},
		{[]string{"--content", "a", "--site", filepath.Join(full, "none"), filepath.Join(full, "new")}, "none"},
	} {
		if err := run(c.args, io.Discard, io.Discard); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.args, err, c.want)
		}
	}
	if got := sizes(t, full); len(got) != 1 {
		t.Errorf("a refused run wrote: %v", got)
	}
}

// TestFigure: a figure is drawn of as many lines and texts as it is said to be.
func TestFigure(t *testing.T) {
	for _, f := range []figure{{5, 6}, {12, 9}, {40, 120}} {
		drawing := svg(f)
		if texts, lines := strings.Count(drawing, "<text"), strings.Count(drawing, "<path"); texts != f.texts || lines < f.lines || lines > f.lines+2 {
			t.Errorf("%v: %d texts and %d lines", f, texts, lines)
		}
		for d := xml.NewDecoder(strings.NewReader(drawing)); ; {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%v: %v", f, err)
			}
		}
	}
}

// TestPage: the template makes what is needed, so that next to nothing is cut or filled.
func TestPage(t *testing.T) {
	m, err := newMaker()
	if err != nil {
		t.Fatal(err)
	}
	for _, size := range []int{4_000, 20_000, 130_000} {
		made, err := m.fill(output{size: size}, view{})
		if err != nil {
			t.Fatal(err)
		}
		small, err := m.slimmer(made)
		if off := len(small) - size; err != nil || off < -size/20 || off > size/20 {
			t.Errorf("a page of %d bytes has %d (%v)", size, len(small), err)
		}
	}
}

func TestFitted(t *testing.T) {
	for _, c := range []struct {
		made string
		size int
		want string
	}{{"abc", 2, "ab"}, {"abc", 3, "abc"}, {"abc", 5, "abc  "}, {"", 0, ""}} {
		if got := string(fitted([]byte(c.made), c.size)); got != c.want {
			t.Errorf("%q to %d: %q", c.made, c.size, got)
		}
	}
}

func picture(t *testing.T, width, height int) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, width, height))
	m.Set(1, 1, color.White)
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// written is a folder with such files.
func written(t *testing.T, files map[string][]byte) string {
	t.Helper()
	folder := t.TempDir()
	for name, data := range files {
		to := filepath.Join(folder, filepath.FromSlash(name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(to), 0o755), os.WriteFile(to, data, 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

func sizes(t *testing.T, folder string) map[string]int64 {
	t.Helper()
	all := map[string]int64{}
	err := fs.WalkDir(os.DirFS(folder), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		info, err := d.Info()
		if err == nil {
			all[p] = info.Size()
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}
