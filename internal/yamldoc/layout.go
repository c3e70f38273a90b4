package yamldoc

import "strings"

// Causes that lie in how lines, brackets and lists are laid out.

// unclosedBracket finds the innermost bracket that is still open at the end of
// the failing line, or says that a comma is missing inside a closed one.
func (s *suspect) unclosedBracket() (fault, bool) {
	var stack []opening
	outermost := opening{line: -1}
	// The message names the line above the outermost bracket, none for the first.
	for i := min(s.named, s.last); i <= s.last; i++ {
		for _, t := range cut(s.line(i), len(stack)) {
			switch {
			case t.kind != bracket || t.text == ",":
			case t.text == "[" || t.text == "{":
				stack = append(stack, opening{i, t.start, t.text})
				if outermost.line < 0 {
					outermost = stack[0]
				}
			case len(stack) > 0 && stack[len(stack)-1].closing() != t.text:
				return s.stillOpen(stack[len(stack)-1]), true
			case len(stack) > 0:
				stack = stack[:len(stack)-1]
			}
		}
	}
	if len(stack) > 0 {
		return s.stillOpen(stack[len(stack)-1]), true
	}
	if outermost.line < 0 {
		return fault{}, false
	}
	return s.on(outermost.line, outermost.column, "part the items with commas, and put text that holds [ ] { } , or : in quotes",
		"what stands in these brackets cannot be read"), true
}

// opening is a bracket that opens.
type opening struct {
	line, column int
	text         string
}

func (o opening) closing() string {
	if o.text == "[" {
		return "]"
	}
	return "}"
}

func (s *suspect) stillOpen(o opening) fault {
	return s.on(o.line, o.column, "close it with "+o.closing(), "a "+o.text+" that is not closed")
}

// noKey finds a colon with no key before it.
func (s *suspect) noKey() (fault, bool) {
	for _, i := range []int{s.last, s.before(s.last)} {
		tokens := cut(s.line(i), 0)
		for j, t := range tokens {
			begins := j == 0 || tokens[j-1].text == "{" || tokens[j-1].text == ","
			if t.kind == colon && begins {
				return s.on(i, t.start, "write the key before the colon", "a value without a key"), true
			}
		}
	}
	return fault{}, false
}

func (s *suspect) afterBracket() (fault, bool) {
	depth := 0
	tokens := cut(s.line(s.last), 0)
	for i, t := range tokens {
		if i > 0 && depth == 0 && tokens[i-1].kind == bracket && t.kind != colon {
			return s.on(s.last, t.start, "put text that starts with a bracket in quotes",
				"text after the closing "+tokens[i-1].text), true
		}
		depth += deeperBy(t)
	}
	return fault{}, false
}

// mixed finds a list item among keys, or a key among list items, of one column.
func (s *suspect) mixed() (fault, bool) {
	column := indent(s.line(s.last))
	item := isItem(s.line(s.last))
	for i := s.before(s.last); i >= 0; i = s.before(i) {
		switch {
		case indent(s.line(i)) > column:
			continue
		case indent(s.line(i)) < column || isItem(s.line(i)) == item:
			return fault{}, false
		case item:
			return s.on(s.last, column, "indent the list below its key", "a list item among keys"), true
		}
		return s.on(s.last, column, "start it with a dash, or indent it below the item it belongs to",
			"a key among list items"), true
	}
	return fault{}, false
}

func isItem(line string) bool {
	tokens := cut(line, 0)
	return len(tokens) > 0 && tokens[0].kind == dash
}

// uneven finds a line whose indentation is that of no line it could belong to.
func (s *suspect) uneven() (fault, bool) {
	column := indent(s.line(s.last))
	nearest := -1
	for i := s.before(s.last); i >= 0; i = s.before(i) {
		above := indent(s.line(i))
		if above == column {
			return fault{}, false
		}
		if above > column {
			nearest = above
			continue
		}
		break
	}
	if nearest < 0 {
		return fault{}, false
	}
	return s.on(s.last, column, "indent lines that belong together by the same number of spaces",
		"a line that lines up with none above it"), true
}

func (s *suspect) itemAfterKey() (fault, bool) {
	tokens := cut(s.line(s.last), 0)
	for i := 1; i < len(tokens); i++ {
		if tokens[i].kind == dash && tokens[i-1].kind == colon {
			return s.on(s.last, tokens[i].start, "begin the list on the next line, or write [one, two]; put text that starts with a dash in quotes",
				"a list item on the line of its key"), true
		}
	}
	return s.on(s.last, indent(s.line(s.last)), "give the list a key, and take the text above it away",
		"a list item under a line that already has its text"), true
}

// badStart finds text that begins with a sign that YAML keeps for itself.
func (s *suspect) badStart() (fault, bool) {
	for _, t := range cut(s.line(s.last), 0) {
		if t.kind == plain && strings.IndexByte("@`%*&!|>?]},", t.text[0]) >= 0 {
			return s.on(s.last, t.start, "put it in quotes", "text that begins with "+t.text[:1]), true
		}
	}
	return fault{}, false
}
