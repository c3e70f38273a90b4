package chart

import "image/color"

// inkCount is how many samples can be told apart in one figure.
const inkCount = 12

// Ink is one of the twelve sample colours. Name is also the name of the CSS class
// and, after two hyphens, of the custom property; Light and Dark are its values on
// light and dark paper, as #rrggbb.
type Ink struct {
	Name  string
	Light string
	Dark  string
}

// Inks returns the twelve inks, in the order in which samples take them. They were
// chosen by search: every ink has a contrast of at least 3 to 1 with its paper
// (WCAG 2.2, 1.4.11), and any two stay apart in lightness or hue, the first ones
// furthest, for readers with full colour vision and for those who lack the long,
// middle or short wave cones (simulated after Machado, Oliveira and Fernandes 2009,
// doi:10.1109/TVCG.2009.113). Letters and patterns carry the rest.
//
//	ink    light    dark
//	ink-a  #3c2eab  #7992f2
//	ink-b  #cb7b11  #b88409
//	ink-c  #117995  #64f0bc
//	ink-d  #4a0000  #b3444e
//	ink-e  #a463e2  #bac2ff
//	ink-f  #8f5102  #fecd56
//	ink-g  #310082  #5876d2
//	ink-h  #6c93a9  #c3ffff
//	ink-i  #cd3563  #da96bb
//	ink-j  #3d4000  #a0b564
//	ink-k  #6e3356  #8a888b
//	ink-l  #30004b  #83608f
func Inks() []Ink {
	return []Ink{
		{"ink-a", "#3c2eab", "#7992f2"},
		{"ink-b", "#cb7b11", "#b88409"},
		{"ink-c", "#117995", "#64f0bc"},
		{"ink-d", "#4a0000", "#b3444e"},
		{"ink-e", "#a463e2", "#bac2ff"},
		{"ink-f", "#8f5102", "#fecd56"},
		{"ink-g", "#310082", "#5876d2"},
		{"ink-h", "#6c93a9", "#c3ffff"},
		{"ink-i", "#cd3563", "#da96bb"},
		{"ink-j", "#3d4000", "#a0b564"},
		{"ink-k", "#6e3356", "#8a888b"},
		{"ink-l", "#30004b", "#83608f"},
	}
}

// Colours that are not a sample's: the custom properties' names and their values
// on light paper.
const (
	textName  = "figure-text"
	mutedName = "figure-muted"
	ruleName  = "figure-rule"
	boilName  = "figure-boil"
)

// neutrals lists them in the order in which style rules are written.
func neutrals() []Ink {
	return []Ink{
		{textName, "#20262b", "#e8ebed"},
		{mutedName, "#5c666e", "#a3adb5"},
		{ruleName, "#c9d0d5", "#3d474f"},
		{boilName, "#a8321f", "#f28b78"},
	}
}

func inkName(index int) string { return "ink-" + string(rune('a'+index)) }

// filling says how an area takes its colour.
type filling uint8

const (
	solid   filling = iota
	hatched         // the ink's own pattern
	tinted          // a quarter of the ink
	framed          // its outline alone
)

// anchor says which point of a text its position means.
type anchor uint8

const (
	start anchor = iota
	middle
	end
)

// paint is a colour by name. It reaches the canvas through the plot library
// unchanged, because the library hands a color.Color on without looking into it.
type paint struct {
	name    string
	filling filling
	anchor  anchor
}

// RGBA gives the light value, for a canvas that knows nothing of names.
func (p paint) RGBA() (r, g, b, a uint32) {
	for _, list := range [][]Ink{neutrals(), Inks()} {
		for _, ink := range list {
			if ink.Name == p.name {
				return hex(ink.Light).RGBA()
			}
		}
	}
	return color.Black.RGBA()
}

// hex reads #rrggbb.
func hex(s string) color.RGBA {
	digit := func(i int) uint8 {
		c := s[i]
		if c >= 'a' {
			return c - 'a' + 10
		}
		return c - '0'
	}
	return color.RGBA{
		R: digit(1)<<4 | digit(2),
		G: digit(3)<<4 | digit(4),
		B: digit(5)<<4 | digit(6),
		A: 255,
	}
}

// plain returns a solid colour by name.
func plain(name string) paint { return paint{name: name} }

// inkOf returns a sample's ink.
func inkOf(l Label) paint { return paint{name: inkName(l.Index)} }

func (p paint) as(f filling) paint {
	p.filling = f
	return p
}
