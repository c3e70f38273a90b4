package preview

import (
	"bytes"
	"cmp"
	"io/fs"
	"maps"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/site"
)

// What is shown of a file around a place: lines before and after, and runes of the
// line before and after the column.
const (
	linesAround  = 3
	runesAround  = 90
	longestShown = 8 << 20
)

// excerpt is the lines around a place, or nothing where the file cannot be read or
// the place names no line.
func excerpt(fsys fs.FS, file string, at problem.Pos) []page.SourceLine {
	if at.Line < 1 || !fs.ValidPath(file) {
		return nil
	}
	if info, err := fs.Stat(fsys, file); err != nil || !info.Mode().IsRegular() || info.Size() > longestShown {
		return nil
	}
	data, err := fs.ReadFile(fsys, file)
	if err != nil {
		return nil
	}
	if bytes.IndexByte(data, 0) >= 0 {
		return nil // no text: a workbook's cell is named in the message
	}
	// As in reading: the mark at the beginning is no part of the first line, and
	// every kind of line end is one.
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
	data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	var lines []page.SourceLine
	number := 0
	for line := range bytes.Lines(data) {
		number++
		if number < at.Line-linesAround {
			continue
		}
		if number > at.Line+linesAround {
			break
		}
		lines = append(lines, sourceLine(number, line, at))
	}
	if !slices.ContainsFunc(lines, func(l page.SourceLine) bool { return l.Here }) {
		return nil // the file is another by now
	}
	return lines
}

func sourceLine(number int, line []byte, at problem.Pos) page.SourceLine {
	text := []rune(strings.Map(visible, strings.TrimRight(string(line), "\n")))
	if number != at.Line {
		return page.SourceLine{Number: number, Before: cut(text, 0)}
	}
	shown := page.SourceLine{Number: number, Here: true}
	from := min(max(at.Column-1, 0), len(text))
	if at.Column == 0 {
		shown.Before = cut(text, 0)
		return shown
	}
	to := from
	for to < len(text) && to-from < runesAround && isWord(text[to]) {
		to++
	}
	if to == from && to < len(text) {
		to++
	}
	shown.Before = tail(text[:from])
	shown.Mark = string(text[from:to])
	shown.After = cut(text, to)
	if shown.Mark == "" {
		shown.Mark = "\u00a0" // the end of the line
	}
	return shown
}

// visible shows what would otherwise not be seen, or would turn the line about.
func visible(r rune) rune {
	if r != '\t' && (unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r)) {
		return '\ufffd'
	}
	return r
}

func isWord(r rune) bool {
	return unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("-_./", r)
}

// cut is the text from a rune on, and tail the end of a text, as far as is shown.
func cut(text []rune, from int) string {
	if len(text)-from > 2*runesAround {
		return string(text[from:from+2*runesAround]) + "…"
	}
	return string(text[from:])
}

func tail(text []rune) string {
	if len(text) > runesAround {
		return "…" + string(text[len(text)-runesAround:])
	}
	return string(text)
}

// frame is what pages of the preview itself share with those of the site.
func (s *state) frame(title string) page.Frame {
	f := page.Frame{
		Site:     s.Site.Kitchen.Name,
		About:    s.Site.Kitchen.About,
		Language: s.Site.Kitchen.Language,
		Root:     "/",
		Title:    title,
	}
	for path := range s.outputs {
		switch {
		case strings.HasPrefix(path, "assets/styles-"):
			f.Styles = path
		case strings.HasPrefix(path, "assets/icon-"):
			f.Icon = path
		}
	}
	return f
}

// mend is the page that stands in for those of a trial with an error, or, for "",
// for the first page of a kitchen with one.
func (s *state) mend(slug, kept string) ([]byte, error) {
	v := page.Mend{Trial: true, Title: s.Site.Kitchen.Name, Slips: s.slips[slug], Kept: kept}
	if slug != "" {
		v.Title = s.title(slug)
	} else {
		v.Slips = slices.Concat(v.Slips, s.slips[themeSlips])
	}
	v.Slips = slices.Clone(v.Slips)
	errorsFirst(v.Slips)
	v.Frame = s.frame(v.Title)
	return s.look.Pages.Mend(v)
}

// everything is the page with all that is in progress or to be mended, errors
// first.
func (s *state) everything(title string) ([]byte, error) {
	v := page.Mend{Title: title, Frame: s.frame(title), InProgress: s.notes}
	for _, slug := range slices.Sorted(maps.Keys(s.slips)) {
		v.Slips = append(v.Slips, s.slips[slug]...)
	}
	errorsFirst(v.Slips)
	return s.look.Pages.Mend(v)
}

// errorsFirst puts what stops publish before what is only asked.
func errorsFirst(slips []page.Slip) {
	rank := func(s page.Slip) int {
		if s.Question {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(slips, func(a, b page.Slip) int { return cmp.Compare(rank(a), rank(b)) })
}

// failed is the page that stands in for one that could not be made.
func (s *state) failed(what string) ([]byte, error) {
	return s.look.Pages.Mend(page.Mend{
		Frame: s.frame(s.Site.Kitchen.Name), Trial: true, Title: s.Site.Kitchen.Name, Slips: []page.Slip{{What: what}},
	})
}

// band is what stands above a page of the site.
func (s *state) band(slug, path string) ([]byte, error) {
	v := page.Band{Errors: s.errors, Questions: s.questions, Desk: deskPage}
	switch {
	case s.titles[slug] == "" && slices.Contains([]string{"/", "/archive/"}, path):
		v.Newest = s.notes
	default:
		if !s.hasError(slug) { // else they stand on the page
			v.Slips = s.slips[slug]
		}
		v.InProgress = slices.ContainsFunc(s.Site.InProgress, func(e *site.Entry) bool { return e.Trial.Slug == slug })
	}
	html, err := s.look.Pages.Band(s.Site.Kitchen.Language, v)
	return []byte(html), err
}

// Where a page takes what a preview adds: at the end of its head, and at the
// beginning of its body behind the link that skips to the content.
var (
	headEnd   = regexp.MustCompile(`(?i)</head>`)
	bodyBegin = regexp.MustCompile(`(?i)<body[^>]*>(?:\s*<a class="skip"[^>]*>[^<]*</a>)?`)
)

// insert puts texts into a page. One without head or body stays as it is there.
func insert(html, head, band []byte) []byte {
	if at := headEnd.FindIndex(html); at != nil {
		html = slices.Concat(html[:at[0]], head, html[at[0]:])
	}
	if at := bodyBegin.FindIndex(html); at != nil {
		html = slices.Concat(html[:at[1]], []byte("\n"), band, html[at[1]:])
	}
	return html
}
