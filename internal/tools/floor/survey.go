package main

import (
	"bytes"
	"image"
	_ "image/jpeg" // the kinds of picture that a site has
	_ "image/png"
	"io/fs"
	"path"
	"strings"
)

// Size of a share picture in pixels.
const (
	shareWidth  = 1200
	shareHeight = 630
)

// output is a file that the site has and the floor makes one of.
type output struct {
	path    string
	size    int
	form    form
	figures []figure    // of a page
	data    int         // bytes of JSON-LD in a page
	pixels  image.Point // of a picture
}

// figure is what a figure is drawn of.
type figure struct{ texts, lines int }

type form int

const (
	plain form = iota // copied
	page
	asJSON
	share
	photo
)

// survey lists the files of a site, without those that begin with a dot.
func survey(site fs.FS) ([]output, error) {
	var all []output
	err := fs.WalkDir(site, ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir():
			return nil
		case strings.HasPrefix(d.Name(), "."):
			return nil
		}
		o, err := look(site, p)
		all = append(all, o)
		return err
	})
	return all, err
}

func look(site fs.FS, p string) (output, error) {
	o := output{path: p}
	switch path.Ext(p) {
	case ".html":
		o.form = page
	case ".json":
		o.form = asJSON
	case ".png", ".jpg", ".jpeg":
		o.form = photo
	}
	if o.form != page && o.form != photo {
		info, err := fs.Stat(site, p)
		if err == nil {
			o.size = int(info.Size())
		}
		return o, err
	}
	data, err := fs.ReadFile(site, p)
	if err != nil {
		return o, err
	}
	o.size = len(data)
	if o.form == page {
		o.count(data)
		return o, nil
	}
	config, _, err := image.DecodeConfig(bytes.NewReader(data))
	o.pixels = image.Pt(config.Width, config.Height)
	if o.pixels == image.Pt(shareWidth, shareHeight) {
		o.form = share
	}
	return o, err
}

// count finds the figures and the JSON-LD of a page. Drawings that are no figures, such
// as signs before a word, stand in templates and are text like any other.
func (o *output) count(page []byte) {
	for rest := page; ; {
		_, after, found := bytes.Cut(rest, []byte(`<svg `))
		if !found {
			break
		}
		drawing, after, _ := bytes.Cut(after, []byte(`</svg>`))
		if head, _, _ := bytes.Cut(drawing, []byte(">")); bytes.Contains(head, []byte(`class="chart"`)) {
			o.figures = append(o.figures, figure{bytes.Count(drawing, []byte("<text")), bytes.Count(drawing, []byte("<path"))})
		}
		rest = after
	}
	_, after, _ := bytes.Cut(page, []byte(`<script type="application/ld+json">`))
	data, _, _ := bytes.Cut(after, []byte("</script>"))
	o.data = len(data)
}
