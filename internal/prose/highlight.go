package prose

import (
	"html"
	"strings"

	"github.com/alecthomas/chroma/v2"
)

// Highlight returns code as HTML whose parts are marked with classes; the rules
// for the classes are in [HighlightCSS]. The block can be reached by the
// keyboard, as a wide one scrolls sideways. Code in a language that is not
// among ours, and code of more than 20,000 bytes or with a line of more than
// 500, is text without parts.
//
// Ours are, by the names after the dash and a few common other ones: YAML -
// yaml; markdown, with YAML before it - markdown; JSON - json; CSV, as text -
// csv; Go - go; Python - python; JavaScript - javascript; shell - bash; HTML -
// html; CSS - css; differences - diff.
func Highlight(lang string, src []byte) string {
	code := strings.ReplaceAll(string(src), "\r\n", "\n")
	var b strings.Builder
	b.WriteString(`<pre class="code" tabindex="0"><code>`)
	lexer := lexerFor(lang)
	if lexer == nil || tooLong(code) || !writeParts(&b, lexer, code) {
		b.WriteString(html.EscapeString(code))
	}
	b.WriteString("</code></pre>")
	return b.String()
}

func tooLong(code string) bool {
	if len(code) > maxCode {
		return true
	}
	for line := range strings.Lines(code) {
		if len(line) > maxCodeLine {
			return true
		}
	}
	return false
}

// lexerFor returns the lexer of a language, nil for none of ours.
func lexerFor(lang string) chroma.Lexer {
	name := strings.ToLower(strings.TrimSpace(lang))
	if full, ok := map[string]string{
		"yml": "yaml", "md": "markdown", "golang": "go", "py": "python", "js": "javascript",
		"sh": "bash", "shell": "bash", "patch": "diff",
	}[name]; ok {
		name = full
	}
	if lexer, ok := lexers()[name]; ok {
		return lexer
	}
	return nil
}

// writeParts writes the parts of the code. It writes nothing and returns false
// when the parts do not add up to the code.
func writeParts(b *strings.Builder, lexer chroma.Lexer, code string) bool {
	parts, err := lexer.Tokenise(&chroma.TokeniseOptions{State: "root"}, code)
	if err != nil {
		return false
	}
	all := joined(parts.Tokens(), code)
	for _, part := range all {
		class := classOf(part.Type)
		if class == "" || strings.TrimSpace(part.Value) == "" {
			b.WriteString(html.EscapeString(part.Value))
			continue
		}
		b.WriteString(`<span class="` + class + `">` + html.EscapeString(part.Value) + "</span>")
	}
	return all != nil
}

// classOf returns the class of a kind of token; "" for plain text and for what
// no lexer could read.
func classOf(t chroma.TokenType) string {
	if t == chroma.Text || t == chroma.Error || t == chroma.TextWhitespace {
		return ""
	}
	return chroma.StandardTypes[t]
}

// joined puts neighbours of one kind together. They follow one another in the code, so
// that a longer part is another piece of it and nothing is copied.
func joined(parts []chroma.Token, code string) []chroma.Token {
	out := []chroma.Token{}
	at, start := 0, 0 // where this part begins, and the last one of out
	for _, part := range parts {
		end := at + len(part.Value)
		if end > len(code) || code[at:end] != part.Value {
			return nil
		}
		if last := len(out) - 1; last >= 0 && out[last].Type == part.Type {
			out[last].Value = code[start:end]
		} else {
			out = append(out, part)
			start = at
		}
		at = end
	}
	if at != len(code) {
		return nil
	}
	return out
}
