// Package problem is how every room says that something is wrong: where, what,
// and what was probably meant.
//
// A problem is a value. Readers collect problems and go on, so that one run
// tells everything; nobody stops at the first one. The package knows no file
// format and opens no file.
package problem

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Pos is a place in a file. Line and Column count from 1, columns in runes.
// A zero Column means the whole line, a zero Line the whole file.
type Pos struct {
	File   string // as the user would name it, with forward slashes
	Line   int
	Column int
}

// String returns file:line:column without the parts that are not known.
func (p Pos) String() string {
	switch {
	case p.Line == 0:
		return p.File
	case p.Column == 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// Compare orders places by file, line and column.
func (p Pos) Compare(q Pos) int {
	return cmp.Or(
		strings.Compare(p.File, q.File),
		cmp.Compare(p.Line, q.Line),
		cmp.Compare(p.Column, q.Column),
	)
}

// Weight says what a problem does to a publish.
type Weight int

const (
	// Error stops publish: what the note says cannot be relied on.
	Error Weight = iota
	// Question is answered by the author, or left; publish goes on.
	Question
)

// Problem is one thing that is wrong or doubtful.
//
// What and Hint are phrases: no capital at the start, no full stop.
type Problem struct {
	Pos    Pos
	Code   Code
	Weight Weight
	What   string // what is wrong
	Hint   string // what was probably meant, or what to do; may be empty
}

// String returns one line: file:line:column: what is wrong (what was probably meant).
// It holds what notes, logs and names of files say, and none of it can end the line, turn
// its direction, or tell a terminal anything; see Visible.
func (p Problem) String() string {
	p = p.Visible()
	line := p.Pos.String() + ": " + p.What
	if p.Weight == Question {
		line = p.Pos.String() + ": question: " + p.What
	}
	if p.Hint != "" {
		line += " (" + p.Hint + ")"
	}
	return line
}

// Visible returns the problem with all its words as [Visible] shows them.
func (p Problem) Visible() Problem {
	p.Pos.File, p.What, p.Hint = Visible(p.Pos.File), Visible(p.What), Visible(p.Hint)
	return p
}

// mostOfFile is how many problems of one file are kept, errors and questions each.
const mostOfFile = 1000

// List collects problems. The zero value is an empty list, ready to use. Of one file it
// keeps the first thousand errors and as many questions, and says that there are more:
// a file from elsewhere can have one in every cell.
type List struct {
	found  []Problem
	ofFile map[fileWeight]int
}

type fileWeight struct {
	file   string
	weight Weight
}

// Add appends a problem. A nil list takes it and forgets it: for reading again
// what has been reported already.
func (l *List) Add(p Problem) {
	if l == nil {
		return
	}
	if l.ofFile == nil {
		l.ofFile = map[fileWeight]int{}
	}
	of := fileWeight{p.Pos.File, p.Weight}
	l.ofFile[of]++
	switch n := l.ofFile[of]; {
	case n <= mostOfFile:
		l.found = append(l.found, p)
	case n == mostOfFile+1:
		l.found = append(l.found, Problem{
			Pos: Pos{File: p.Pos.File}, Code: p.Code, Weight: p.Weight,
			What: fmt.Sprintf("there are more than %d of these, and the rest is not told", mostOfFile),
		})
	}
}

// Errorf adds an error at a place. A hint is added with Hinted.
func (l *List) Errorf(at Pos, code Code, format string, args ...any) {
	l.Add(Problem{Pos: at, Code: code, What: fmt.Sprintf(format, args...)})
}

// Hinted adds an error with what was probably meant.
func (l *List) Hinted(at Pos, code Code, hint, format string, args ...any) {
	l.Add(Problem{Pos: at, Code: code, What: fmt.Sprintf(format, args...), Hint: hint})
}

// Ask adds a question.
func (l *List) Ask(at Pos, code Code, hint, format string, args ...any) {
	l.Add(Problem{Pos: at, Code: code, Weight: Question, What: fmt.Sprintf(format, args...), Hint: hint})
}

// Join appends all problems of other.
func (l *List) Join(other List) {
	for _, p := range other.found {
		l.Add(p)
	}
}

// Len returns how many problems there are.
func (l *List) Len() int { return len(l.found) }

// Errors returns how many of the problems are errors.
func (l *List) Errors() int {
	n := 0
	for _, p := range l.found {
		if p.Weight == Error {
			n++
		}
	}
	return n
}

// Sorted returns the problems in the order of their places, each once.
func (l *List) Sorted() []Problem {
	sorted := slices.Clone(l.found)
	slices.SortStableFunc(sorted, func(a, b Problem) int {
		return cmp.Or(a.Pos.Compare(b.Pos), strings.Compare(a.What, b.What), cmp.Compare(a.Weight, b.Weight))
	})
	return slices.Compact(sorted)
}
