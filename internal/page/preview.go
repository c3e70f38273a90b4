package page

import "html/template"

// Mend is a page of the preview: what is wrong with a note, or with all of them,
// and which notes are in progress. It is never published.
type Mend struct {
	Frame      Frame
	Title      string
	Trial      bool   // it stands in for the page of one trial; else it is about the whole kitchen
	Slips      []Slip // in the order of their places
	Kept       string // address of the last good page, shown beside; may be empty
	InProgress []Link // notes without a date of publication
}

// Slip is one thing that is wrong or doubtful, with the lines around it.
type Slip struct {
	Place    string // "content/rye/trial.md:3:7"
	What     string
	Hint     string // may be empty
	Question bool   // to be answered or left; else an error
	Lines    []SourceLine
}

// SourceLine is a line of a note or log as it was written. Of the line that is
// meant, Before, Mark and After are its parts, and Mark is what is pointed at.
type SourceLine struct {
	Number int
	Here   bool
	Before string
	Mark   string
	After  string
}

// Band stands in a preview above a page that would look the same when published.
type Band struct {
	InProgress bool // the note of this page has no date of publication
	Errors     int  // in the whole kitchen
	Questions  int
	Slips      []Slip // questions about the note of this page
	Desk       string // address of the page with everything that is to be mended
	Newest     []Link // notes in progress, on the site's own pages
}

// Mend renders a page of the preview.
func (r *Renderer) Mend(v Mend) ([]byte, error) { return r.page("preview-mend.html", v.Frame, v) }

// Band renders what a preview puts above a page.
func (r *Renderer) Band(language string, v Band) (template.HTML, error) {
	return r.piece("preview-band.html", language, v)
}
