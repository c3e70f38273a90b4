package cli

import (
	"io"
	"os"
	"strings"

	"golang.org/x/term"

	"sidebatch.example/sidebatch/internal/problem"
)

// screen is a terminal that is written to. Tests have one of their own.
type screen interface{ IsTerminal() bool }

// shows reports whether a writer is a terminal that understands escapes. One without a
// name (TERM) is taken for one that does not, unless it says otherwise (WT_SESSION, as
// newer consoles of Windows do).
func shows(w io.Writer) bool {
	is := false
	switch w := w.(type) {
	case screen:
		is = w.IsTerminal()
	case *os.File:
		is = term.IsTerminal(int(w.Fd()))
	}
	kind := os.Getenv("TERM")
	return is && kind != "dumb" && (kind != "" || os.Getenv("WT_SESSION") != "")
}

// ink colours text for a terminal, by the codes of ECMA-48 (Select Graphic Rendition).
// Without it the text is the same, letter for letter.
type ink bool

// inkFor is ink where a terminal shows it and nobody asked for none: NO_COLOR with
// anything in it (https://no-color.org, an informal standard).
func inkFor(w io.Writer) ink {
	return ink(os.Getenv("NO_COLOR") == "" && shows(w))
}

// The looks.
const (
	bold   = "1"
	red    = "1;31"
	yellow = "1;33"
	cyan   = "36"
)

func (i ink) in(look, text string) string {
	if !i || text == "" {
		return text
	}
	return "\x1b[" + look + "m" + text + "\x1b[0m"
}

// problem is a problem in one line: its place, what is wrong, what was probably meant.
func (i ink) problem(p problem.Problem) string {
	p = p.Visible()
	place := p.Pos.String() + ":"
	rest := strings.TrimPrefix(p.String(), place)
	hint := ""
	if p.Hint != "" {
		hint = " (" + p.Hint + ")"
		rest = strings.TrimSuffix(rest, hint)
	}
	if p.Weight == problem.Question {
		const question = " question:"
		rest = i.in(yellow, question) + strings.TrimPrefix(rest, question)
	} else {
		rest = i.in(red, rest)
	}
	return i.in(bold, place) + rest + i.in(cyan, hint)
}
