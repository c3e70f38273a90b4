package main

import (
	"bytes"
	"encoding/json"
	"html/template"
	"strings"

	"github.com/tdewolff/minify/v2"
	minifyhtml "github.com/tdewolff/minify/v2/html"
	minifyjson "github.com/tdewolff/minify/v2/json"
	minifysvg "github.com/tdewolff/minify/v2/svg"
)

const pageText = `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{{.Title}}</title>` +
	`<link rel="stylesheet" href="styles.css">{{with .Data}}<script type="application/ld+json">{{.}}</script>{{end}}</head>` +
	`<body><h1>{{.Title}}</h1>{{.Prose}}{{with .Note}}<pre>{{.}}</pre>{{end}}` +
	`{{range $i, $f := .Figures}}<figure class="plate" id="figure-{{$i}}">{{$f}}<figcaption>{{$.Title}}</figcaption></figure>{{end}}` +
	`<table>{{range .Rows}}<tr class="row"><th scope="row">{{.Name}}</th>{{if .Wide}}<td colspan="2">{{.Value}}</td>` +
	`{{else}}<td>{{.Value}}</td><td>{{.Note}}</td>{{end}}</tr>{{end}}</table></body></html>`

// row is a row of a page's table. One in four has a cell less.
type row struct {
	Name, Value, Note string
	Wide              bool
}

// Bytes that a row takes in a page on average, and a cell of the JSON.
const (
	rowBytes  = 92
	cellBytes = 52
)

type view struct {
	Title       string
	Data        template.JS
	Prose, Note template.HTML
	Figures     []template.HTML
	Rows        []row
}

// maker makes pages and JSON.
type maker struct {
	page *template.Template
	slim *minify.M
}

func newMaker() (*maker, error) {
	page, err := template.New("page").Parse(pageText)
	slim := minify.New()
	slim.Add("text/html", &minifyhtml.Minifier{KeepDocumentTags: true, KeepEndTags: true, KeepQuotes: true, KeepDefaultAttrVals: true})
	slim.Add("image/svg+xml", &minifysvg.Minifier{})
	slim.Add("application/ld+json", &minifyjson.Minifier{KeepNumbers: true})
	return &maker{page, slim}, err
}

// fill executes the template until the page is as large as it has to be.
func (m *maker) fill(o output, v view) ([]byte, error) {
	const head = 300
	have := head + o.data + len(v.Prose) + len(v.Note)
	for _, f := range v.Figures {
		have += len(f) + 100
	}
	v.Title = "Walnut oat biscuits and another fat"
	v.Rows = make([]row, max(o.size-have, 0)/rowBytes)
	for i := range v.Rows {
		v.Rows[i] = row{"spread & height", "84.5 mm", "rested long", i%4 == 0}
	}
	var made bytes.Buffer
	made.Grow(o.size + o.size/8)
	err := m.page.Execute(&made, v)
	return made.Bytes(), err
}

func (m *maker) slimmer(page []byte) ([]byte, error) { return m.slim.Bytes("text/html", page) }

// cell is a piece of data.
type cell struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
}

// data marshals about so many bytes.
func data(bytes int) ([]byte, error) {
	cells := make([]cell, bytes/cellBytes+1)
	for i := range cells {
		cells[i] = cell{"rested long/spread", 80 + float64(i%64)/4, "mm"}
	}
	return json.Marshal(cells)
}

// fitted cuts or fills what was made to the size that it has to have.
func fitted(made []byte, size int) []byte {
	if len(made) >= size {
		return made[:size]
	}
	return append(made, strings.Repeat(" ", size-len(made))...)
}
