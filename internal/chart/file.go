package chart

import (
	"bytes"
	"strings"
)

// File returns a figure as Draw gave it, made to stand alone in an SVG file: with
// a style element that gives it white paper, a typeface and the light colours of
// [Inks], the rules for what the figure holds and no others. A page that shows
// the file as an image cannot reach into it, so its colours stay the light ones.
func File(svg []byte) []byte {
	const after = "</desc>"
	head, body, found := bytes.Cut(svg, []byte(after))
	if !found {
		return svg // no figure of this package
	}
	return bytes.Join([][]byte{head, []byte(after), []byte("<style>" + rules(classes(svg)) + "</style>"), body}, nil)
}

// classes collects the classes in a figure. Text from outside cannot add any: its
// quotation marks are escaped.
func classes(svg []byte) map[string]bool {
	found := map[string]bool{"text": bytes.Contains(svg, []byte("<text "))}
	for _, part := range strings.Split(string(svg), ` class="`)[1:] {
		list, _, _ := strings.Cut(part, `"`)
		for class := range strings.FieldsSeq(list) {
			found[class] = true
		}
	}
	return found
}

// rules returns the style rules for the classes in use, the same in every figure.
func rules(used map[string]bool) string {
	var s strings.Builder
	s.WriteString("svg.chart:root{background:#fff;font-family:sans-serif}")
	for _, list := range [][]Ink{neutrals(), Inks()} {
		for _, ink := range list {
			switch {
			case ink.Name == textName:
				s.WriteString(".chart{color:" + ink.Light + "}")
			case used[ink.Name]:
				s.WriteString(".chart ." + ink.Name + "{color:" + ink.Light + "}")
			}
		}
	}
	for _, r := range []struct{ class, rule string }{
		{"line", ".chart .line{fill:none;stroke:currentColor}"},
		{"text", ".chart text{font-size:12px;font-variant-numeric:tabular-nums}"},
		{"small", ".chart .small{font-size:11px}"},
		{"mid", ".chart .mid{text-anchor:middle}"},
		{"end", ".chart .end{text-anchor:end}"},
	} {
		if used[r.class] {
			s.WriteString(r.rule)
		}
	}
	return s.String()
}
