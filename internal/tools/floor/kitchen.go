package main

import (
	"bytes"
	"encoding/csv"
	"html"
	"image"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"time"

	"github.com/alecthomas/chroma/v2"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"gopkg.in/yaml.v3"
)

// reader reads the files of a kitchen.
type reader struct {
	tally    *tally
	markdown goldmark.Markdown
	lexer    chroma.Lexer
}

func newReader(t *tally) (*reader, error) {
	lexer, err := chroma.NewLexer(&chroma.Config{Name: "note"}, noteRules)
	return &reader{t, goldmark.New(goldmark.WithExtensions(extension.Table, extension.Footnote)), lexer}, err
}

// folder is what was read of one folder of the kitchen.
type folder struct {
	name     string        // "" for none
	prose    string        // as HTML
	note     string        // marked up
	copied   []byte        // the texts, for files that are copied
	photos   [][]byte      // as they are
	pictures []image.Image // the photos, once the first of them was asked for
	scaled   int           // how many were
	shown    figure        // in the share picture: the first figure of the write-up
}

// read reads a folder or a file of the kitchen with all that is in it.
func (r *reader) read(content, name string) (folder, error) {
	var f folder
	err := filepath.WalkDir(filepath.Join(content, name), func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		begun := time.Now()
		data, err := os.ReadFile(p)
		r.tally.add(reading, len(data), begun)
		if err != nil {
			return err
		}
		return r.take(&f, path.Ext(filepath.ToSlash(p)), data)
	})
	return f, err
}

func (r *reader) take(f *folder, ext string, data []byte) error {
	switch ext {
	case ".md":
		f.copied = append(f.copied, data...)
		return r.takeNote(f, data)
	case ".yaml":
		return r.nodes(data)
	case ".csv":
		f.copied = append(f.copied, data...)
		return r.cells(data)
	case ".jpg", ".jpeg", ".png":
		f.photos = append(f.photos, data)
	}
	return nil
}

func (r *reader) takeNote(f *folder, data []byte) error {
	front, prose, _ := bytes.Cut(bytes.TrimPrefix(data, []byte("---\n")), []byte("\n---\n"))
	if err := r.nodes(front); err != nil {
		return err
	}
	begun := time.Now()
	var made strings.Builder
	err := r.markdown.Convert(prose, &made)
	f.prose = made.String()
	r.tally.add(converting, len(prose), begun)
	if err != nil {
		return err
	}
	f.note, err = r.marked(string(data))
	return err
}

func (r *reader) nodes(data []byte) error {
	begun := time.Now()
	var n yaml.Node
	err := yaml.Unmarshal(data, &n)
	r.tally.add(frontMatter, len(data), begun)
	return err
}

// cells reads a log with commas or semicolons.
func (r *reader) cells(data []byte) error {
	begun := time.Now()
	c := csv.NewReader(bytes.NewReader(data))
	if first, _, _ := bytes.Cut(data, []byte("\n")); !bytes.ContainsRune(first, ',') {
		c.Comma = ';'
	}
	_, err := c.ReadAll()
	r.tally.add(logCells, len(data), begun)
	return err
}

// marked is a note with its parts in classes.
func (r *reader) marked(note string) (string, error) {
	begun := time.Now()
	defer func() { r.tally.add(marking, len(note), begun) }()
	parts, err := r.lexer.Tokenise(nil, note)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	for part := parts(); part != chroma.EOF; part = parts() {
		if class := chroma.StandardTypes[part.Type]; class != "" {
			b.WriteString(`<span class="` + class + `">` + html.EscapeString(part.Value) + "</span>")
			continue
		}
		b.WriteString(html.EscapeString(part.Value))
	}
	return b.String(), nil
}

// noteRules tell keys, comments, headings, links and code of a note from the rest: few
// rules, so that there is little to try at each place.
func noteRules() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `^#[^\n]*`, Type: chroma.GenericHeading},
		{Pattern: `^[ ]*[^\s:\[!][^:\n\[]{0,40}(?=: |:$)`, Type: chroma.NameTag},
		{Pattern: `[\[\]{}():,!]`, Type: chroma.Punctuation},
		{Pattern: `"[^"\n]*"`, Type: chroma.LiteralString},
		{Pattern: `\d+(?:\.\d+)?`, Type: chroma.LiteralNumber},
		{Pattern: `[^\n\d\[\]{}():,!"]+`, Type: chroma.Text},
		{Pattern: `\s+|.`, Type: chroma.Text},
	}}
}
