package site

import (
	"fmt"
	"path"
	"strings"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/prose"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
	"sidebatch.example/sidebatch/internal/writeup"
)

// resultsFile is the name of the computed results among a trial's data.
const resultsFile = "results.json"

// trialFiles lists the files of one trial.
type trialFiles struct {
	*binding
	outputs []Output
}

func (f *trialFiles) add(at string, make func() ([]byte, error)) {
	f.outputs = append(f.outputs, f.output(at, make))
}

// filesOf lists the pages and files of one trial. Which files there are depends on the
// trial and the binding alone, what stands in them on what is around it as well.
func (p *binding) filesOf(e *Entry, a around) []Output {
	f := &trialFiles{binding: p}
	at := e.Trial.Slug + "/"
	f.add(at+"index.html", func() ([]byte, error) { return p.writeUp(e, at, a) })
	f.add(at+"recipe/index.html", func() ([]byte, error) { return p.recipe(e, at+"recipe/") })
	f.add(at+"data/index.html", func() ([]byte, error) { return p.data(e, at+"data/") })
	f.repeat(e, at+"repeat/")
	f.photos(e, at)
	f.add(sharePicture(e), func() ([]byte, error) { return p.drawShare(e) })
	for _, d := range downloads(e) {
		f.add(at+"data/"+d.name, func() ([]byte, error) { return e.ready.take(d) })
	}
	return f.outputs
}

func (p *binding) writeUp(e *Entry, at string, a around) ([]byte, error) {
	v := writeup.Of(e.Findings)
	for i, s := range e.Samples {
		v.Samples[i].Photo = e.samplePhoto(s.Sample)
	}
	v.Frame = p.frame(at, e.Trial.Title, writeup.Short(e.Findings))
	v.Frame.Kind = "article"
	v.Sheets = page.Sheets{WriteUp: "./", Recipe: "recipe/", Repeat: "repeat/", Data: "data/"}
	for i := range v.Trust {
		v.Trust[i].More.Href = v.Frame.Root + methodsPage + "#" + v.Trust[i].More.Href
	}
	a.link(&v)
	if err := atHome(e.Findings, &v); err != nil {
		return nil, err
	}
	html, err := p.fill(e)
	if err != nil {
		return nil, err
	}
	v.Prose = page.HTML(html)
	if e.account.places("table", "outcomes") {
		v.Outcomes = nil
	}
	for _, name := range e.gallery().shownAnyway() {
		if p.isPlaced(e, name) {
			continue
		}
		f, err := e.gallery().draw(name, "", e.gallery().figureID(name))
		if err != nil {
			return nil, err
		}
		v.Figures = append(v.Figures, f)
	}
	if v.Frame.Image, err = p.shared(e); err != nil {
		return nil, err
	}
	if v.Frame.JSONLD, err = p.linkedWriteUp(e, at, v); err != nil {
		return nil, err
	}
	return p.look.Pages.WriteUp(v)
}

// isPlaced reports whether the prose shows a figure, by its own name or, for a
// test, among all tests.
func (p *binding) isPlaced(e *Entry, name string) bool {
	if e.account.places("figure", name) {
		return true
	}
	m := e.Trial.Measure(name)
	return m != nil && m.Kind.IsShare() && e.account.places("figure", sharesFigure)
}

// fill draws the figures, tables and photos into the prose.
func (p *binding) fill(e *Entry) (string, error) {
	html := e.account.html
	seen := map[string]int{}
	for n, placed := range e.account.placed {
		id := placed.scheme + "-" + placed.name
		if placed.scheme == "figure" {
			id = e.gallery().figureID(placed.name)
		}
		// A figure may be placed twice; links lead to the first.
		if seen[id]++; seen[id] > 1 {
			id += fmt.Sprintf("-again-%d", seen[id]-1)
		}
		drawn, err := p.placed(e, placed, id)
		if err != nil {
			return "", err
		}
		html = strings.Replace(html, placed.comment(n), string(drawn), 1)
	}
	return html, nil
}

func (p *binding) placed(e *Entry, what placed, id string) (page.HTML, error) {
	switch what.scheme {
	case photoScheme:
		return p.look.Pages.Picture(p.Kitchen.Language, what.picture)
	case "table":
		return table(p.look.Pages, e.Findings, what, id)
	}
	names := []string{what.name}
	if what.name == sharesFigure {
		names = nil
		for _, m := range e.Trial.Measures {
			if m.Kind.IsShare() && hasReadings(e.Findings, m) {
				names = append(names, m.Name)
			}
		}
	}
	var all page.HTML
	for i, name := range names {
		caption, own := what.caption, id
		if len(names) > 1 {
			caption, own = "", e.gallery().figureID(name)
			if i == 0 {
				own = id
			}
		}
		f, err := e.gallery().draw(name, caption, own)
		if err != nil {
			return "", err
		}
		html, err := p.look.Pages.Figure(p.Kitchen.Language, f)
		if err != nil {
			return "", err
		}
		all += html
	}
	return all, nil
}

func (p *binding) recipe(e *Entry, at string) ([]byte, error) {
	v := writeup.Recipe(e.Findings)
	v.Frame = p.frame(at, e.Trial.Recipe.Name,
		p.phrases().Say("recipe about", "recipe", e.Trial.Recipe.Name, "trial", e.Trial.Title))
	v.Frame.Crumbs = []page.Link{{Text: e.Trial.Title, Href: "../"}}
	v.Sheets = page.Sheets{WriteUp: "../", Recipe: "./", Repeat: "../repeat/", Data: "../data/"}
	v.Question = page.Link{Text: e.Trial.Question, Href: "../"}
	var err error
	if v.Frame.Image, err = p.shared(e); err != nil {
		return nil, err
	}
	if v.Frame.JSONLD, err = p.linkedRecipe(e, at, v); err != nil {
		return nil, err
	}
	return p.look.Pages.Recipe(v)
}

// firstRows is how many rows of the log the data page shows.
const firstRows = 8

func (p *binding) data(e *Entry, at string) ([]byte, error) {
	t, say := e.Trial, p.phrases()
	v := page.Data{
		Frame:   p.frame(at, say.Say("data title", "trial", t.Title), say.Say("data about", "trial", t.Title)),
		Sheets:  page.Sheets{WriteUp: "../", Recipe: "../recipe/", Repeat: "../repeat/", Data: "./"},
		Title:   t.Title,
		Licence: page.Link{Text: p.Kitchen.Licence.Name, Href: p.Kitchen.Licence.Address},
	}
	v.Frame.Crumbs = []page.Link{{Text: t.Title, Href: "../"}}
	for _, d := range downloads(e) {
		shown, err := e.shown(d, say)
		if err != nil {
			return nil, err
		}
		if d.name == resultsFile {
			v.Results = shown
			continue
		}
		v.Downloads = append(v.Downloads, shown)
	}
	v.Downloads = append(v.Downloads, schemas(say, v.Frame.Root)...)
	for _, f := range t.Files {
		if f.Name == trial.NoteFile {
			v.Source = page.HTML(prose.Highlight("markdown", f.Data))
		}
	}
	var err error
	if v.Frame.JSONLD, err = p.linkedData(e, at); err != nil {
		return nil, err
	}
	v.Pieces, v.PiecesOf = firstPieces(t)
	return p.look.Pages.Data(v)
}

func format(name string) string {
	if name == trial.NoteFile {
		return "Markdown"
	}
	return strings.ToUpper(strings.TrimPrefix(path.Ext(name), "."))
}

func describe(say wording.Phrases, name string) string {
	switch {
	case name == trial.NoteFile:
		return say.Say("file note")
	case name == "pieces.csv":
		return say.Say("file pieces")
	case name == "tasting.csv":
		return say.Say("file tasting")
	case strings.HasPrefix(name, "probe-"):
		return say.Say("file probe")
	case trial.IsReplication(name):
		return say.Say("file household")
	}
	return say.Say("file sets")
}

func size(say wording.Phrases, bytes int) string {
	if bytes < 1000 {
		return say.Count("bytes", bytes)
	}
	return say.Say("kilobytes", "n", say.Language().Decimal(fmt.Sprintf("%.1f", float64(bytes)/1000)))
}

// firstPieces is the head of the log, as it was read.
func firstPieces(t *trial.Trial) (*page.Table, string) {
	if len(t.Pieces) == 0 {
		return nil, ""
	}
	say := phrasesFor(t)
	v := &page.Table{Caption: "pieces.csv", Head: []string{say.Say("head sample"), say.Say("head piece")}, Numeric: []bool{false, true}}
	var measures []trial.Measure
	for _, m := range t.Measures {
		if m.Source == trial.OfPiece {
			measures = append(measures, m)
			v.Head = append(v.Head, m.Name)
			v.Numeric = append(v.Numeric, m.Kind.IsNumeric())
		}
	}
	v.Head = append(v.Head, say.Say("head set aside"))
	for _, p := range t.Pieces[:min(len(t.Pieces), firstRows)] {
		row := []string{p.Sample, p.Number}
		aside := p.SetAside
		for _, m := range measures {
			r, read := p.Readings[m.Name]
			row = append(row, readingWords(say, m, r, !read || r.Missing))
			if aside == "" && r.SetAside != "" {
				aside = m.Name + ": " + r.SetAside
			}
		}
		v.Rows = append(v.Rows, append(row, aside))
	}
	if len(t.Pieces) > firstRows {
		return v, say.Count("first rows", len(t.Pieces), "first", say.Language().Integer(firstRows))
	}
	return v, ""
}

func readingWords(say wording.Phrases, m trial.Measure, r trial.Reading, missing bool) string {
	if m.Kind.IsShare() && !missing {
		yes, no := say.Say("yes"), say.Say("no")
		if m.Kind == trial.PassOrFail {
			yes, no = say.Say("pass"), say.Say("fail")
		}
		if r.Value.Sign() > 0 {
			return yes
		}
		return no
	}
	return readingText(m, r, missing)
}
