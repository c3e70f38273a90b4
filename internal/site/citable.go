package site

import (
	"errors"
	"path"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/prose"
	"sidebatch.example/sidebatch/internal/trial"
)

// exhibit is a figure or table that prose may place, under the one name that places
// it. What it is stands in plain English, for a terminal.
type exhibit struct{ name, what string }

func namesOf(all []exhibit) []string {
	var names []string
	for _, e := range all {
		names = append(names, e.name)
	}
	return names
}

// tableNames are the tables that prose may place.
func tableNames() []string { return namesOf(tablesOf()) }

func measureFigure(m trial.Measure) string {
	switch {
	case m.Kind.IsShare():
		return m.Name + ": the share of each sample with its interval"
	case m.Source == trial.OfParts:
		return m.Name + ": every piece, " + strings.Join(m.Parts, " and ") + " together"
	}
	return m.Name + ": every reading, with the mean of each sample"
}

func tablesOf() []exhibit {
	return []exhibit{
		{"outcomes", "what was measured, a row a measure and a column a sample"},
		{"recipe", "the ingredients of the full batch"},
		{"samples", "the samples and what differs between them"},
	}
}

// Citable is something that the prose of a trial may name: a figure, a table, or a
// value with its present words.
type Citable struct {
	Address  string // "value:fresh/flips-clean"
	Text     string // what a value says now; empty of a figure or table
	What     string // what it is, in plain English
	Markdown string // ready to be pasted into the note
	Cited    []problem.Pos
}

// Disagreement is a place where the prose names what is not there, or says other words
// than the log.
type Disagreement struct {
	Pos     problem.Pos
	Address string
	Written string // the author's words
	Now     string // what the value says; empty where there is none
	What    string // what is wrong
	Hint    string
}

// Citations lists all that the prose of a trial may name, with the places where it
// does, and the places that do not agree. Shown is how the user named the kitchen's
// folder. Both come from what answers the prose itself.
func Citations(shown string, f *findings.Findings) ([]Citable, []Disagreement) {
	cited := prose.Citations(prose.Doc{
		File: path.Join(shown, f.Trial.Slug, trial.NoteFile), FirstLine: f.Trial.ProseLine, Source: f.Trial.Prose,
	})
	var all []Citable
	seen := map[string]bool{}
	add := func(scheme, name, text, what string) {
		c := Citable{Address: scheme + ":" + name, Text: text, What: what, Markdown: markdownFor(scheme, name, text)}
		if seen[c.Address] {
			return // of two alike the first is meant
		}
		seen[c.Address] = true
		for _, at := range cited {
			if at.Scheme == scheme && sameName(at.Name, name) {
				c.Cited = append(c.Cited, at.Pos)
			}
		}
		all = append(all, c)
	}
	for _, e := range galleryOf(f).exhibits {
		add("figure", hyphened(e.name), "", e.what)
	}
	for _, e := range tablesOf() {
		add("table", hyphened(e.name), "", e.what)
	}
	for _, v := range f.Citable() {
		add("value", v.Path, v.Text, v.What)
	}
	return all, disagreements(cited, f)
}

func disagreements(cited []prose.Citation, f *findings.Findings) []Disagreement {
	r := &resolver{entry: &Entry{Findings: f}}
	var all []Disagreement
	for _, c := range cited {
		if err := r.names(c); err != nil {
			d := Disagreement{Pos: c.Pos, Address: c.Scheme + ":" + c.Name, Written: c.Words, What: err.Error()}
			var wrong *prose.Wrong
			if errors.As(err, &wrong) {
				d.What, d.Hint = wrong.What, wrong.Hint
			}
			if v, err := f.Value(c.Name); err == nil && c.Scheme == "value" {
				d.Now = v.Text
			}
			all = append(all, d)
		}
	}
	return all
}

// names asks for what a citation names, as the page does.
func (r *resolver) names(c prose.Citation) (err error) {
	switch c.Scheme {
	case "value":
		_, err = r.Value(c.Name, c.Words)
	case "figure":
		_, err = r.Figure(c.Name, c.Words)
	default:
		_, err = r.Table(c.Name, c.Words)
	}
	return err
}

func hyphened(name string) string { return strings.ReplaceAll(trial.AddressName(name), " ", "-") }

var addressSigns = strings.NewReplacer("%", "%25", "(", "%28", ")", "%29", "<", "%3C", ">", "%3E", "&", "%26", `\`, "%5C")

// markdownFor writes a citation as it goes into a note.
func markdownFor(scheme, name, text string) string {
	// In an address these would end it, or be read as an escape or an entity.
	escaped := addressSigns.Replace(name)
	if scheme == "value" {
		return "[" + text + "](value:" + escaped + ")"
	}
	return "![](" + scheme + ":" + escaped + ")"
}
