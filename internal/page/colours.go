package page

import (
	"maps"
	"regexp"
	"strings"
)

// Light returns the colours of the theme on light paper: the custom properties of its
// rules for :root that hold whatever the reader prefers, by name without the two
// hyphens, as #rrggbb in small letters. A colour that the theme writes in another
// way, or not at all, is that of the built-in theme, where that has it.
func (r *Renderer) Light() (map[string]string, error) {
	builtIn, err := over(nil).styles("styles")
	if err != nil {
		return nil, err
	}
	all := rootColours(builtIn)
	maps.Copy(all, rootColours(r.styles))
	return all, nil
}

// rootColours reads the hexadecimal colours of the outermost rules for :root. A later
// rule wins, as in CSS.
func rootColours(sheet []byte) map[string]string {
	comment := regexp.MustCompile(`(?s)/\*.*?\*/`)
	property := regexp.MustCompile(`--([A-Za-z0-9_-]+)\s*:\s*#([0-9A-Fa-f]{6}|[0-9A-Fa-f]{3})\s*(?:;|$)`)
	all := map[string]string{}
	rest := comment.ReplaceAllString(string(sheet), "")
	for {
		selector, body, after, found := nextRule(rest)
		if !found {
			return all
		}
		if selector == ":root" {
			for _, m := range property.FindAllStringSubmatch(body, -1) {
				value := strings.ToLower(m[2])
				if len(value) == 3 {
					value = strings.Repeat(value[:1], 2) + strings.Repeat(value[1:2], 2) + strings.Repeat(value[2:], 2)
				}
				all[m[1]] = "#" + value
			}
		}
		rest = after
	}
}

// nextRule divides a style sheet without comments after its first rule, whose body may
// hold rules of its own. What stands before it and ends in a semicolon is passed over.
func nextRule(sheet string) (selector, body, after string, found bool) {
	start := strings.IndexByte(sheet, '{')
	if start < 0 {
		return "", "", "", false
	}
	depth, end := 0, len(sheet)
	for i := start; i < len(sheet); i++ {
		switch sheet[i] {
		case '{':
			depth++
		case '}':
			depth--
		}
		if depth == 0 {
			end = i
			break
		}
	}
	selector = sheet[:start]
	if i := strings.LastIndexByte(selector, ';'); i >= 0 {
		selector = selector[i+1:]
	}
	return strings.TrimSpace(selector), strings.TrimSpace(sheet[start+1 : end]), sheet[min(end+1, len(sheet)):], true
}
