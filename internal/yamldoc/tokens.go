package yamldoc

import "strings"

// A token of a line that the library could not read. This is no YAML parser:
// it only cuts a line well enough to point at what is wrong in it.
type token struct {
	kind  tokenKind
	start int // byte offset in the line
	text  string
}

type tokenKind int

const (
	plain   tokenKind = iota // text without quotes
	quoted                   // text in quotes, closed on its line
	open                     // text in quotes that the line does not close
	colon                    // between key and value
	dash                     // before an item of a list
	bracket                  // [ ] { } or a comma between them
)

// cut returns the tokens of a line, without its comment. Depth is how many
// brackets are open where the line begins.
func cut(line string, depth int) []token {
	var tokens []token
	add := func(kind tokenKind, start, end int) int {
		tokens = append(tokens, token{kind, start, line[start:end]})
		return end
	}
	for i := 0; i < len(line); {
		c := line[i]
		switch {
		case c == ' ' || c == '\t' || c == '\r':
			i++
		case c == '#' && (i == 0 || strings.IndexByte(" \t", line[i-1]) >= 0):
			return tokens
		case c == '"' || c == '\'':
			end, closed := quoteEnd(line, i)
			if !closed {
				add(open, i, end)
				return tokens
			}
			i = add(quoted, i, end)
		case c == '[' || c == '{':
			depth++
			i = add(bracket, i, i+1)
		case depth > 0 && (c == ']' || c == '}'):
			depth--
			i = add(bracket, i, i+1)
		case depth > 0 && c == ',':
			i = add(bracket, i, i+1)
		case c == ':' && (blankAt(line, i+1) || depth > 0 && afterQuote(tokens, i)):
			i = add(colon, i, i+1)
		case c == '-' && blankAt(line, i+1):
			i = add(dash, i, i+1)
		default:
			end := plainEnd(line, i, depth)
			add(plain, i, i+len(strings.TrimRight(line[i:end], " \t\r")))
			i = end
		}
	}
	return tokens
}

func blankAt(line string, i int) bool {
	return i >= len(line) || strings.IndexByte(" \t\r", line[i]) >= 0
}

func afterQuote(tokens []token, i int) bool {
	if len(tokens) == 0 {
		return false
	}
	last := tokens[len(tokens)-1]
	return last.kind == quoted && last.start+len(last.text) == i
}

// deeperBy returns by how much a token changes how many brackets are open.
func deeperBy(t token) int {
	switch {
	case t.kind != bracket || t.text == ",":
		return 0
	case t.text == "[" || t.text == "{":
		return 1
	}
	return -1
}

// quoteEnd returns where the quoted text that begins at i ends.
func quoteEnd(line string, i int) (end int, closed bool) {
	quote := line[i]
	for j := i + 1; j < len(line); j++ {
		switch {
		case quote == '"' && line[j] == '\\':
			j++
		case line[j] == quote && quote == '\'' && j+1 < len(line) && line[j+1] == quote:
			j++
		case line[j] == quote:
			return j + 1, true
		}
	}
	return len(line), false
}

// plainEnd returns where the plain text that begins at i ends.
func plainEnd(line string, i, depth int) int {
	for j := i + 1; j < len(line); j++ {
		switch {
		case line[j] == ':' && blankAt(line, j+1):
			return j
		case line[j] == '#' && strings.IndexByte(" \t", line[j-1]) >= 0:
			return j
		case depth > 0 && strings.IndexByte(",[]{}", line[j]) >= 0:
			return j
		}
	}
	return len(line)
}

// closeColon returns the offset of a colon inside plain text that lacks the
// space after it, -1 if there is none. An address such as https://x.example
// and a time such as 0:30 are left alone.
func closeColon(t token) int {
	i := strings.IndexByte(t.text, ':')
	if t.kind != plain || i <= 0 || i+1 == len(t.text) {
		return -1
	}
	next := t.text[i+1]
	if next == '/' || next >= '0' && next <= '9' && t.text[i-1] >= '0' && t.text[i-1] <= '9' {
		return -1
	}
	return t.start + i
}

// indent returns how many spaces and tabs a line begins with.
func indent(line string) int {
	return len(line) - len(strings.TrimLeft(line, " \t"))
}

// blankLine says whether a line holds nothing, or a comment only.
func blankLine(line string) bool {
	text := strings.TrimLeft(line, " \t\r")
	return text == "" || text[0] == '#'
}
