package site

import (
	"bytes"
	"encoding/hex"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/chart"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
)

// sharePicture is the path of the picture that stands for a trial where its address is
// shared. It stays the same, so that a page that was shared long ago finds its picture.
func sharePicture(e *Entry) string { return e.Trial.Slug + "/" + shareName }

const shareName = "share.png"

// shareQuery is what the address of the picture ends in: another one when it may be another
// picture, so that whoever kept it asks again. It stands for what the picture is drawn from;
// drawing it for its address would cost more than its page.
func (p *binding) shareQuery(e *Entry) string {
	sum := p.sharedFrom(e)
	return "?" + hex.EncodeToString(sum[:5])
}

// sharedFrom stands for what the picture is drawn from, all but the prose.
func (p *binding) sharedFrom(e *Entry) Digest {
	texts := []string{p.styles, p.Kitchen.Name, p.shareNote()}
	for _, f := range e.Trial.Files {
		data := f.Data
		if f.Name == trial.NoteFile {
			data = bytes.TrimSuffix(data, e.Trial.Prose)
		}
		texts = append(texts, f.Name, string(data))
	}
	return digestOf(texts...)
}

// shareNote stands in the picture's corner.
func (p *binding) shareNote() string {
	if p.Kitchen.Invented {
		return p.phrases().Say("invented data")
	}
	return ""
}

// drawShare makes the picture.
func (p *binding) drawShare(e *Entry) ([]byte, error) {
	colours, err := p.light()
	if err != nil {
		return nil, err
	}
	share := shareOf(e.Findings)
	if share.Figure, err = e.gallery().main(); err != nil {
		return nil, err
	}
	share.Kitchen, share.Note, share.Colours = p.Kitchen.Name, p.shareNote(), colours
	return p.easel.Draw(share)
}

func shareOf(f *findings.Findings) chart.Share {
	return chart.Share{Title: f.Trial.Title, Question: f.Trial.Question}
}

// mainFigure is the figure that a trial's picture shows: the first that can be read
// on it, of those of the primary measure and then of all; nil where there is none.
func (g *gallery) mainFigure() (chart.Figure, error) {
	for _, name := range g.mainFigures() {
		d, err := g.drawingOf(name, "", g.figureID(name))
		if err != nil {
			return nil, err
		}
		share := shareOf(g.Findings)
		share.Figure = d.chart
		if fits, err := share.Fits(); fits || err != nil {
			return d.chart, err
		}
	}
	return nil, nil
}

// mainFigures are the names of a trial's figures, the most telling first.
func (g *gallery) mainFigures() []string {
	var first []string
	for _, m := range g.Trial.Measures {
		if m.Primary {
			first = append(first, m.Name, scoresFigure(m), differencesFigure(m))
		}
	}
	known := g.names()
	first = slices.DeleteFunc(first, func(name string) bool { return !slices.Contains(known, name) })
	for _, name := range slices.Concat(g.shownAnyway(), known) {
		// The figure of all tests together is the tests' own, one under the other.
		if !slices.Contains(first, name) && name != sharesFigure {
			first = append(first, name)
		}
	}
	return first
}

// shared is the picture as the head of a page names it. A page without a full
// address names none: who shows the picture stands elsewhere.
func (p *binding) shared(e *Entry) (page.SharedImage, error) {
	address := p.canonical(sharePicture(e))
	if address == "" {
		return page.SharedImage{}, nil
	}
	figure, err := e.gallery().main()
	return page.SharedImage{
		Address: address + p.shareQuery(e), Type: "image/png", Alt: shareWords(e.Findings, figure),
		Width: chart.ShareWidth, Height: chart.ShareHeight,
	}, err
}

// shareWords says in words what the picture shows.
func shareWords(f *findings.Findings, figure chart.Figure) string {
	shows := f.Trial.Question
	if figure != nil {
		shows = figure.Describe()
	}
	title := strings.TrimSpace(f.Trial.Title)
	if !strings.ContainsAny(title[max(len(title)-1, 0):], ".?!…") {
		title += "."
	}
	return title + " " + shows
}
