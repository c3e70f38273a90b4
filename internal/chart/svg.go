package chart

import (
	"html"
	"strings"
)

// wide is the width of a figure on a page in units of its view box: on a page 360
// pixels wide a unit is a pixel.
const wide = 360.0

// patternMark stands for the figure's id in what the canvas has kept.
const patternMark = "\x00"

// finish puts the element together. full lists the names that the figure shortens.
func (c *canvas) finish(h Head, full []string) ([]byte, error) {
	c.close()
	if c.refused != nil {
		return nil, c.refused
	}
	var s strings.Builder
	s.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" class="chart" viewBox="0 0 ` + number(c.wide) + " " + number(c.height) +
		`" role="img" aria-labelledby="` + h.ID + `-title ` + h.ID + `-desc" fill="currentColor">`)
	s.WriteString(`<title id="` + h.ID + `-title">` + escape(h.Title) + `</title>`)
	description := clean(h.Description)
	if len(full) > 0 {
		description = strings.TrimSpace(description + " " + strings.Join(full, "; ") + ".")
	}
	s.WriteString(`<desc id="` + h.ID + `-desc">` + escape(description) + `</desc>`)
	if defs := c.patterns(h.ID); defs != "" {
		s.WriteString("<defs>" + defs + "</defs>")
	}
	s.WriteString(strings.ReplaceAll(c.body.String(), patternMark, h.ID+"-"))
	s.WriteString("</svg>")
	return []byte(s.String()), nil
}

// patterns defines the patterns in use.
func (c *canvas) patterns(id string) string {
	var s strings.Builder
	for i := range inkCount {
		if name := inkName(i); c.hatches[name] {
			s.WriteString(pattern(id+"-"+name, name, tiles()[i]))
		}
	}
	if c.hatches[mutedName] {
		s.WriteString(pattern(id+"-"+mutedName, mutedName, mutedTile()))
	}
	return s.String()
}

// escape is the one door for text into the element.
func escape(s string) string { return html.EscapeString(clean(s)) }
