package problem

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longestShown is how much of a text is shown, in bytes.
const longestShown = 1000

// Visible returns a text as it can be shown in one line, in a terminal too: characters
// that do something instead of being seen stand as Go writes them, \x1b and \u202e, and of
// a text of more than a thousand bytes the beginning and the end are shown.
func Visible(text string) string {
	if len(text) > longestShown {
		const half = longestShown / 2
		text = strings.ToValidUTF8(text[:half], "") + " … " + strings.ToValidUTF8(text[len(text)-half:], "")
	}
	if utf8.ValidString(text) && !strings.ContainsFunc(text, Acts) {
		return text
	}
	var b strings.Builder
	for i, r := range text {
		_, size := utf8.DecodeRuneInString(text[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			fmt.Fprintf(&b, `\x%02x`, text[i])
		case Acts(r) && r < 0x80:
			fmt.Fprintf(&b, `\x%02x`, r)
		case Acts(r):
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// Acts reports whether a character does something instead of being seen: a control
// character (ECMA-48), an end of line, or one that turns the text after it.
func Acts(r rune) bool {
	return unicode.IsControl(r) || r == '\u2028' || r == '\u2029' || Turns(r)
}

// Turns reports whether a character turns the direction of the text after it: the
// embeddings, overrides and isolates of Unicode Standard Annex 9, section 2. The marks of
// section 2.6 say a direction for their own place only and do not count.
func Turns(r rune) bool { return r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069' }
