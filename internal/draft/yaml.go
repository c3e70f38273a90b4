package draft

import (
	"strconv"
	"strings"
	"unicode"
)

// block writes a text as YAML behind a key on a line of its own, flow one between
// braces or brackets: plain where that reads back as the same text, in quotes where it
// might not.
func block(text string) string { return scalar(text, "") }

func flow(text string) string { return scalar(text, ",[]{}") }

// key writes a text as a key; keys stand between braces as well.
func key(text string) string { return flow(text) }

func scalar(text, forbidden string) string {
	if isPlain(text, forbidden) {
		return text
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\t':
			b.WriteString(`\t`)
		case r == '\n':
			b.WriteString(`\n`)
		case !unicode.IsPrint(r) && r < 0x10000:
			b.WriteString(`\u` + hex(r))
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

func hex(r rune) string {
	digits := strconv.FormatInt(int64(r), 16)
	return strings.Repeat("0", 4-len(digits)) + digits
}

// isPlain is stricter than YAML: a text that looks like anything but words and
// numbers goes into quotes.
func isPlain(text, forbidden string) bool {
	if text == "" || strings.TrimSpace(text) != text || strings.ContainsAny(text, "\"\\#&*!|>%@`"+forbidden) {
		return false
	}
	if strings.ContainsAny(text[:1], "-?,[]{}'<=~.+") || strings.Contains(text, ": ") || strings.HasSuffix(text, ":") || text[:1] == ":" {
		return false
	}
	if forbidden != "" && strings.ContainsAny(text, ":?") {
		return false
	}
	for _, r := range text {
		if !unicode.IsPrint(r) {
			return false
		}
	}
	switch strings.ToLower(text) {
	case "null", "true", "false", "yes", "no", "on", "off":
		return false
	}
	return true
}
