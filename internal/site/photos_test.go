package site

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"path"
	"strconv"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"golang.org/x/net/html"

	"sidebatch.example/sidebatch/internal/problem"
)

// snapshot is a picture with many colours; no two seeds give the same one.
func snapshot(t *testing.T, width, height, seed int, encode func(*bytes.Buffer, image.Image) error) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			m.SetRGBA(x, y, color.RGBA{R: uint8(x * 255 / width), G: uint8(y * 255 / height), B: uint8(seed * 40), A: 255})
		}
	}
	var b bytes.Buffer
	if err := encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// onItsSide is a JPEG of a camera that was held upright: turned by Exif, with the
// place in the same block.
func onItsSide(t *testing.T, width, height, seed int) []byte {
	t.Helper()
	data := snapshot(t, height, width, seed, func(b *bytes.Buffer, m image.Image) error { return jpeg.Encode(b, m, nil) })
	// Exif 2.3, 4.6: one entry, Orientation (0x0112), one SHORT: 6, the first row is
	// the right-hand side.
	exif := "Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00\x00\x00\x00\x00GPSLatitude 48,51N"
	return append(append(append([]byte("\xff\xd8\xff\xe1"), byte((len(exif)+2)>>8), byte(len(exif)+2)), exif...), data[2:]...)
}

// pictured is a kitchen with photos of its samples, an upright and a low one, and with
// pictures in the prose, a block and one in running text.
func pictured(t *testing.T) fstest.MapFS {
	t.Helper()
	content, _ := archive(t, "../../testdata/problems/none.txtar")
	note := string(content["millet/trial.md"].Data)
	note = strings.Replace(note, "\nmeasures:\n", "\nphotos:\n  closed: {file: photos/Lid On.jpg, shows: \"Millet in a bowl, every grain \\\"whole\\\"\"}\n  open: {file: photos/open.png, shows: Millet that has burst}\nmeasures:\n", 1)
	note += "\n![The pot, with its lid on](photos/pot.png \"The pot.\")\n\nIts lid ![seen from below](photos/lid.jpg) is of glass.\n"
	content["millet/trial.md"] = &fstest.MapFile{Data: []byte(note)}
	asPNG := func(b *bytes.Buffer, m image.Image) error { return png.Encode(b, m) }
	content["millet/photos/Lid On.jpg"] = &fstest.MapFile{Data: onItsSide(t, 900, 1200, 1)}
	content["millet/photos/open.png"] = &fstest.MapFile{Data: snapshot(t, 500, 250, 2, asPNG)}
	content["millet/photos/pot.png"] = &fstest.MapFile{Data: snapshot(t, 1300, 650, 3, asPNG)}
	content["millet/photos/lid.jpg"] = &fstest.MapFile{Data: onItsSide(t, 300, 400, 4)}
	return content
}

// TestPhotos: a page offers each photo in a few widths, and every file is as wide as
// the page says, upright, and without the camera's words.
func TestPhotos(t *testing.T) {
	content := Content{FS: pictured(t)}
	files := map[string][]byte{}
	for _, o := range plan(t, content) {
		if strings.HasPrefix(o.Path, "millet/photos/") || o.Path == "millet/index.html" {
			data, err := o.Make()
			if err != nil {
				t.Fatal(err)
			}
			files[o.Path] = data
		}
	}
	want := []shownPhoto{
		{`Millet in a bowl, every grain "whole"`, []int{400, 800}, 800, 600, "Lid on", true},
		{"Millet that has burst", []int{333}, 333, 250, "Lid off", true},
		{"The pot, with its lid on", []int{480, 960, 1300}, 1300, 650, "The pot.", true},
		{"seen from below", []int{300}, 300, 400, "", false},
	}
	shown := 0
	for n := range parsed(t, files["millet/index.html"]).Descendants() {
		if n.Data != "img" {
			continue
		}
		if shown == len(want) {
			t.Fatalf("one more picture: %s", attribute(n, "src"))
		}
		w := want[shown]
		shown++
		t.Run(w.alt, func(t *testing.T) { w.check(t, n, files) })
	}
	if shown != len(want) {
		t.Errorf("%d pictures on the page", shown)
	}
	if offered := 2 + 1 + 3 + 1; len(files) != 1+offered {
		t.Errorf("%d files, %d are offered", len(files)-1, offered)
	}
}

// shownPhoto is a photo as a page must show it.
type shownPhoto struct {
	alt           string
	widths        []int
	width, height int // of the widest
	caption       string
	inFigure      bool
}

// check holds an img element and the files it offers against what is wanted.
func (w shownPhoto) check(t *testing.T, n *html.Node, files map[string][]byte) {
	t.Helper()
	if got := attribute(n, "alt"); got != w.alt {
		t.Errorf("it says %q", got)
	}
	if room := attribute(n, "width") + " × " + attribute(n, "height"); room != fmt.Sprintf("%d × %d", w.width, w.height) {
		t.Errorf("it keeps room for %s", room)
	}
	if attribute(n, "loading") != "lazy" || attribute(n, "sizes") == "" {
		t.Error("it is loaded at once, or in any size")
	}
	if (n.Parent.Data == "figure") != w.inFigure || w.inFigure && !strings.Contains(text(n.Parent), w.caption) {
		t.Errorf("it stands in %s: %q", n.Parent.Data, text(n.Parent))
	}
	var last []byte
	choices := strings.Split(attribute(n, "srcset"), ", ")
	if len(choices) != len(w.widths) || !strings.Contains(attribute(n, "srcset"), attribute(n, "src")+" ") {
		t.Fatalf("offered: %q, and %s", choices, attribute(n, "src"))
	}
	for i, choice := range choices {
		file, width, _ := strings.Cut(choice, " ")
		data := files["millet/"+file]
		config, _, err := image.DecodeConfig(bytes.NewReader(data))
		if err != nil || config.Width != w.widths[i] || width != strconv.Itoa(config.Width)+"w" {
			t.Errorf("%s is %d pixels wide, and %v", choice, config.Width, err)
		}
		if off := config.Width*w.height - config.Height*w.width; off < -w.width || off > w.width {
			t.Errorf("%s is %d × %d, of another shape", choice, config.Width, config.Height)
		}
		if bytes.Contains(data, []byte("Exif")) || bytes.Contains(data, []byte("GPS")) || len(data) == 0 {
			t.Errorf("%s gives away where it was taken", file)
		}
		if path.Ext(file) != ".jpg" || bytes.Equal(last, data) {
			t.Errorf("%s is no photo of its own", file)
		}
		last = data
	}
}

func text(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return b.String()
}

// TestPhotoNames: another picture under the same name gets other addresses.
func TestPhotoNames(t *testing.T) {
	names := func(content fstest.MapFS) map[string]bool {
		all := map[string]bool{}
		for _, o := range plan(t, Content{FS: content}) {
			if strings.HasPrefix(o.Path, "millet/photos/lid-on-") {
				all[o.Path] = true
			}
		}
		return all
	}
	content := pictured(t)
	before, again := names(content), names(pictured(t))
	content["millet/photos/Lid On.jpg"] = &fstest.MapFile{Data: onItsSide(t, 900, 1200, 5)}
	after := names(content)
	if len(before) != 2 || len(after) != 2 {
		t.Fatalf("got %v and %v", before, after)
	}
	for name := range before {
		if !again[name] || after[name] {
			t.Errorf("%s: again %t, after another picture took its place %t", name, again[name], after[name])
		}
	}
}

// TestAlbum: what came of looking at a picture is remembered, good or bad.
func TestAlbum(t *testing.T) {
	a := newAlbum()
	bad := errors.New("broken")
	looks := 0
	look := func(key string, err error) (photo, error) {
		return a.look(key, func() (photo, error) { looks++; return photo{file: key}, err })
	}
	for range 3 {
		if p, err := look("good", nil); p.file != "good" || err != nil {
			t.Errorf("got %v and %v", p, err)
		}
		if _, err := look("bad", bad); err != bad {
			t.Errorf("got %v", err)
		}
	}
	if looks != 2 {
		t.Errorf("looked %d times", looks)
	}
	var all sync.WaitGroup
	for i := range 8 {
		all.Go(func() { a.look(strconv.Itoa(i%3), func() (photo, error) { return photo{}, nil }) })
	}
	all.Wait()
}

// TestNoWordsOfAPhoto: until somebody says what a photo shows, it goes by the name of
// its sample, and the site is written all the same.
func TestNoWordsOfAPhoto(t *testing.T) {
	content := pictured(t)
	note := strings.Replace(string(content["millet/trial.md"].Data), "{file: photos/open.png, shows: Millet that has burst}", "photos/open.png", 1)
	content["millet/trial.md"] = &fstest.MapFile{Data: []byte(note)}
	var problems problem.List
	s := Load(Content{FS: content}, &problems)
	found := problems.Sorted()
	if len(found) != 1 || found[0].Code != problem.NoAltText || found[0].Weight != problem.Question {
		t.Fatalf("got %v", found)
	}
	for _, sample := range s.Trials[0].Samples {
		if sample.Key == "open" {
			if got := s.Trials[0].samplePhoto(sample.Sample); got == nil || got.Alt != "Lid off" {
				t.Errorf("got %+v", got)
			}
		}
	}
}
