package linkcheck

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// css takes the addresses of a style sheet or of one declaration: url(…), quoted or not, and
// the quoted name after @import. Comments and other strings are passed over (CSS Syntax
// Module Level 3, 4.3).
func (r *reader) css(text string) {
	for i := 0; i < len(text); {
		rest := text[i:]
		switch {
		case strings.HasPrefix(rest, "/*"):
			end := strings.Index(rest[2:], "*/")
			if end < 0 {
				return
			}
			i += end + 4
		case rest[0] == '"' || rest[0] == '\'':
			_, n := quoted(rest)
			i += n
		case begins(rest, "@import"):
			i += len("@import")
			i += blanks(text[i:])
			if i < len(text) && (text[i] == '"' || text[i] == '\'') {
				address, n := quoted(text[i:])
				r.add(link{address: address})
				i += n
			}
		case begins(rest, "url(") && !(i > 0 && inName(text[i-1])):
			address, n := inURL(rest[len("url("):])
			r.add(link{address: address})
			i += len("url(") + n
		default:
			i++
		}
	}
}

// begins compares without regard to letter case.
func begins(text, prefix string) bool {
	return len(text) >= len(prefix) && strings.EqualFold(text[:len(prefix)], prefix)
}

func inName(b byte) bool {
	return b == '-' || b == '_' || b >= utf8.RuneSelf || '0' <= b && b <= '9' || 'a' <= b|0x20 && b|0x20 <= 'z'
}

// blanks counts the white space that a text begins with.
func blanks(text string) int { return len(text) - len(strings.TrimLeft(text, " \t\n\f\r")) }

// inURL reads what stands after "url(" and how many bytes of the text it takes.
func inURL(text string) (address string, n int) {
	n = blanks(text)
	if n < len(text) && (text[n] == '"' || text[n] == '\'') {
		address, size := quoted(text[n:])
		return address, n + size
	}
	address, size := until(text[n:], ")")
	return strings.TrimRight(address, " \t\n\f\r"), n + size
}

// quoted reads a string with its quotes. A line that ends first ends it.
func quoted(text string) (content string, n int) {
	content, n = until(text[1:], text[:1]+"\n")
	return content, n + 1
}

// until reads up to one of the ends, which it takes, and resolves escapes.
func until(text, ends string) (content string, n int) {
	var b strings.Builder
	for n < len(text) {
		switch {
		case strings.IndexByte(ends, text[n]) >= 0:
			return b.String(), n + 1
		case text[n] == '\\':
			r, size := escaped(text[n+1:])
			b.WriteString(r)
			n += 1 + size
		default:
			b.WriteByte(text[n])
			n++
		}
	}
	return b.String(), n
}

// escaped reads what stands after a backslash: up to six hexadecimal digits and one blank, a
// line feed that says nothing, or a character that stands for itself.
func escaped(text string) (string, int) {
	digits := 0
	for digits < min(6, len(text)) && strings.IndexByte("0123456789abcdefABCDEF", text[digits]) >= 0 {
		digits++
	}
	if digits > 0 {
		code, _ := strconv.ParseUint(text[:digits], 16, 32) // six digits always fit
		size := digits + min(1, blanks(text[digits:]))
		return string(rune(code)), size
	}
	if text == "" || text[0] == '\n' {
		return "", min(1, len(text))
	}
	_, size := utf8.DecodeRuneInString(text)
	return text[:size], size
}
