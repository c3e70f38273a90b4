package yamldoc

import (
	"regexp"
	"sort"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
)

// The library's messages speak of its inner states, give a line that is
// sometimes one too low, sometimes absent, and never a column. So a message is
// only taken for the kind of the mistake. Where it is, the text itself tells.

// explain reports a syntax error where the cause probably is, in plain words.
func explain(at *places, err error, problems *problem.List) {
	s := suspect{at: at, message: strings.TrimPrefix(err.Error(), "yaml: ")}
	if m := messageLine.FindStringSubmatch(s.message); m != nil {
		s.named, _ = strconv.Atoi(m[1])
		s.message = strings.TrimPrefix(s.message, m[0])
	}
	s.last = s.failing(err)
	f := s.find()
	code := f.code
	if code == "" {
		code = problem.Syntax
	}
	problems.Hinted(at.pos(f.offset), code, f.hint, "%s", f.what)
}

var messageLine = regexp.MustCompile(`^line (\d+): `)

// suspect is source that the library could not read.
type suspect struct {
	at      *places
	message string // the library's, without its line
	named   int    // the line that the message names, from 1; 0 for none
	last    int    // the first line, from 0, with which the source fails in the same way
}

// fault is a cause with its place.
type fault struct {
	offset     int
	what, hint string
	code       problem.Code // Syntax if empty
}

// failing returns the line after which the library gives the same message as
// for the whole: what follows that line has no part in the mistake.
func (s *suspect) failing(err error) int {
	n := len(s.at.lines)
	return min(n-1, sort.Search(n, func(i int) bool {
		_, _, e := decode(s.at.src[:s.end(i)])
		return e != nil && e.Error() == err.Error()
	}))
}

// end returns where line i ends, its line end included.
func (s *suspect) end(i int) int {
	if i+1 < len(s.at.lines) {
		return s.at.lines[i+1]
	}
	return len(s.at.src)
}

// line returns line i without its line end; "" for lines that are not there.
func (s *suspect) line(i int) string {
	if i < 0 || i >= len(s.at.lines) {
		return ""
	}
	return strings.TrimRight(string(s.at.src[s.at.lines[i]:s.end(i)]), "\r\n")
}

// before returns the nearest line above i that holds anything, -1 if none does.
func (s *suspect) before(i int) int {
	for i--; i >= 0 && blankLine(s.line(i)); i-- {
	}
	return i
}

// on returns a fault at a byte of a line.
func (s *suspect) on(line, column int, hint, what string) fault {
	return fault{offset: min(s.at.lines[line]+column, len(s.at.src)), what: what, hint: hint}
}

// find tries the usual causes, the surest first.
func (s *suspect) find() fault {
	for s.last > 0 && blankLine(s.line(s.last)) {
		s.last--
	}
	causes := []func() (fault, bool){s.tab, s.alias, s.unclosedQuote, s.escape, s.afterQuote, s.noKey}
	switch {
	case strings.Contains(s.message, "mapping values are not allowed"):
		causes = append(causes, s.secondColon, s.missingSpace, s.deeper)
	case strings.Contains(s.message, "expected ':'"):
		causes = append(causes, s.missingSpace, s.noColon)
	case strings.Contains(s.message, "',' or"):
		causes = append(causes, s.unclosedBracket)
	case strings.Contains(s.message, "expected key"), strings.Contains(s.message, "'-' indicator"):
		causes = append(causes, s.afterBracket, s.mixed, s.uneven)
	case strings.Contains(s.message, "block sequence entries"):
		causes = append(causes, s.itemAfterKey)
	}
	for _, cause := range append(causes, s.badStart, s.missingSpace) {
		if f, ok := cause(); ok {
			return f
		}
	}
	return s.on(s.last, indent(s.line(s.last)), "compare it with the lines above", "this line cannot be read")
}

func (s *suspect) tab() (fault, bool) {
	for i := s.last; i >= max(0, s.last-1); i-- {
		line := s.line(i)
		if t := strings.IndexByte(line[:indent(line)], '\t'); t >= 0 {
			return s.on(i, t, "indent with spaces", "a tab in the indentation"), true
		}
	}
	return fault{}, false
}

func (s *suspect) alias() (fault, bool) {
	_, name, ok := strings.Cut(s.message, "unknown anchor '")
	if !ok {
		return fault{}, false
	}
	name, _, _ = strings.Cut(name, "'")
	f := s.on(s.last, max(0, strings.Index(s.line(s.last), "*"+name)),
		"write the value out, or put the text in quotes", "*"+name+" is an alias, and notes have none")
	f.code = problem.TooDeep
	return f, true
}

// unclosedQuote looks for a quote that its own line does not close, as text
// over several lines rarely is in quotes.
func (s *suspect) unclosedQuote() (fault, bool) {
	atEnd := strings.Contains(s.message, "end of stream") || strings.Contains(s.message, "document indicator")
	if !atEnd && !strings.Contains(s.message, "expected key") && !strings.Contains(s.message, "',' or") &&
		!strings.Contains(s.message, "expected ':'") {
		return fault{}, false
	}
	first := max(0, s.last-20)
	if atEnd {
		first = 0
	}
	for i := s.last; i >= first; i-- {
		for _, t := range cut(s.line(i), 0) {
			if t.kind == open {
				return s.on(i, t.start, "close it at the end of the text", "a quote that is not closed"), true
			}
		}
		if !atEnd && indent(s.line(i)) == 0 && i < s.last && !blankLine(s.line(i)) {
			break
		}
	}
	return fault{}, false
}

func (s *suspect) escape() (fault, bool) {
	if !strings.Contains(s.message, "escape") && !strings.Contains(s.message, "hexdecimal") {
		return fault{}, false
	}
	line := s.line(s.last)
	for i := 0; i+1 < len(line); i++ {
		if line[i] != '\\' {
			continue
		}
		if strings.IndexByte("0abt\tnvfre \"/\\N_LP", line[i+1]) < 0 {
			return s.on(s.last, i, `write \\ for a backslash, or use single quotes`,
				"a backslash that stands for nothing known"), true
		}
		i++
	}
	return fault{}, false
}

func (s *suspect) afterQuote() (fault, bool) {
	tokens := cut(s.line(s.last), 0)
	depth := 0
	for i := 1; i < len(tokens); i++ {
		depth += deeperBy(tokens[i-1])
		if tokens[i-1].kind != quoted || tokens[i].kind == colon || tokens[i].kind == bracket {
			continue
		}
		if depth > 0 {
			return s.on(s.last, tokens[i].start, "write a comma before it", "two texts in brackets without a comma between"), true
		}
		hint := "put the whole text inside the quotes"
		if tokens[i-1].text[0] == '\'' {
			hint = "write '' for an apostrophe inside single quotes, or use double quotes"
		}
		return s.on(s.last, tokens[i].start, hint, "text after the closing quote"), true
	}
	return fault{}, false
}

// secondColon finds a colon in text that stands after a key.
func (s *suspect) secondColon() (fault, bool) {
	line := s.line(s.last)
	first, depth := -1, 0
	for _, t := range cut(line, 0) {
		switch {
		case t.kind == bracket:
			depth += deeperBy(t)
		case t.kind == colon && depth == 0 && first < 0:
			first = t.start
		case t.kind == colon && depth == 0:
			text := strings.TrimSpace(line[first+1:])
			return s.on(s.last, t.start, "put the text in quotes: '"+strings.ReplaceAll(text, "'", "''")+"'",
				"a second colon on one line"), true
		}
	}
	return fault{}, false
}

// missingSpace finds name:Cool, on the failing line or the one above it.
func (s *suspect) missingSpace() (fault, bool) {
	for _, i := range []int{s.before(s.last), s.last} {
		if i < 0 {
			continue
		}
		tokens := cut(s.line(i), 0)
		for len(tokens) > 0 && tokens[0].kind == dash {
			tokens = tokens[1:]
		}
		if len(tokens) == 0 {
			continue
		}
		if at := closeColon(tokens[0]); at >= 0 && (len(tokens) == 1 || tokens[1].kind != colon) {
			return s.on(i, at, "write a space after the colon", "no space after the colon"), true
		}
	}
	return fault{}, false
}

func (s *suspect) deeper() (fault, bool) {
	above := s.before(s.last)
	if above < 0 || indent(s.line(s.last)) <= indent(s.line(above)) {
		return fault{}, false
	}
	return s.on(s.last, indent(s.line(s.last)), "line it up with the key above, or take the text above it away",
		"a key under a line that already has its text"), true
}

func (s *suspect) noColon() (fault, bool) {
	i := s.last
	if s.named > 0 && s.named <= len(s.at.lines) {
		i = s.named - 1
	}
	return s.on(i, indent(s.line(i)), "write key: value; indent text that goes on from the line above",
		"a line without a colon among keys"), true
}
