package chart

import (
	"html"
	"strings"
)

// wide is the width of every figure in units of its view box: on a page 360 pixels
// wide a unit is a pixel.
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
	s.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" class="chart" viewBox="0 0 360 ` + number(c.height) +
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
		s.WriteString(pattern(id+"-"+mutedName, mutedName, tile{4, 4, "M-1 5l6-6M-1 1l2-2M3 5l2-2", 1}))
	}
	return s.String()
}

// tile is one repeat of a pattern: marks in the ink on a tint of it.
type tile struct {
	w, h  float64
	marks string  // path, stroked
	width float64 // of the stroke
}

// tiles returns the patterns in the order of the inks. Neighbours differ in
// direction and density, so that they stay apart in one grey.
func tiles() []tile {
	return []tile{
		{5, 5, "M-1 6l7-7M-1 1l2-2M4 6l2-2", 1.4},               // a rising lines
		{5, 5, "M1 1h1M3.5 3.5h1", 1.5},                         // b dots
		{4, 4, "M2 0v4", 1.4},                                   // c upright lines
		{5, 5, "M-1-1l7 7M4-1l2 2M-1 4l2 2", 1.4},               // d falling lines
		{4, 4, "M0 2h4", 1.4},                                   // e level lines
		{6, 6, "M0 0l6 6M6 0l-6 6", 1},                          // f crossed slant
		{5, 5, "M0 2.5h5M2.5 0v5", 1},                           // g grid
		{8, 4, "M0 3l2-2 4 4 2-2M0-1l2-2", 1.2},                 // h zigzag
		{6, 6, "M3 1v4M1 3h4", 1.2},                             // i crosses
		{8, 8, "M-1 9l10-10M-1 1l2-2M7 9l2-2", 2},               // j wide rising lines
		{6, 6, "M1.5 3a1.5 1.5 0 1 0 3 0a1.5 1.5 0 1 0-3 0", 1}, // k rings
		{8, 8, "M-1-1l10 10M7-1l2 2M-1 7l2 2", 2},               // l wide falling lines
	}
}

func pattern(id, ink string, t tile) string {
	return `<pattern id="` + id + `" class="` + ink + `" width="` + number(t.w) + `" height="` + number(t.h) +
		`" patternUnits="userSpaceOnUse"><path opacity=".25" d="M0 0h` + number(t.w) + `v` + number(t.h) + `H0z"/>` +
		`<path class="line" stroke-width="` + number(t.width) + `" d="` + t.marks + `"/></pattern>`
}

// escape is the one door for text into the element.
func escape(s string) string { return html.EscapeString(clean(s)) }
