package chart

import (
	"strings"
	"sync"
	"unicode"

	"gonum.org/v1/plot/font"
	plottext "gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
)

// Sizes of type, in units of a figure 360 units wide.
const (
	nameSize  = 12.0
	smallSize = 11.0
)

// slack widens every measured text: the page sets it in its own typeface, which
// may run wider than the one measured here.
const slack = 1.07

// sans holds the Liberation fonts: by the metrics of Liberation Sans texts are
// measured, and pictures are set in its outlines.
var sans = sync.OnceValue(newTypefaces)

func sansAt(size float64) font.Font {
	return font.Font{Typeface: "Liberation", Variant: "Sans", Size: vg.Length(size)}
}

// width returns how wide a text is set, in figure units, with the slack.
func width(s string, size float64) float64 { return inFont(sansAt(size)).width(s) }

// wrap breaks a text in the figures' own font; see [ruler.wrap].
func wrap(s string, size, room float64, lines int) (broken []string, whole bool) {
	return inFont(sansAt(size)).wrap(s, room, lines)
}

// shorten cuts a text in the figures' own font; see [ruler.shorten].
func shorten(s string, size, room float64) string { return inFont(sansAt(size)).shorten(s, room) }

// ruler measures texts in one font, in figure units, with the slack.
type ruler struct {
	face    font.Face
	letters *letters
}

func inFont(f font.Font) ruler { return sans().in(f) }

func (r ruler) width(s string) float64 {
	known, unknown := s, 0
	if strings.IndexFunc(s, foreign) >= 0 {
		known = strings.Map(func(r rune) rune {
			if foreign(r) {
				unknown++
				return -1
			}
			return r
		}, s)
	}
	size := r.face.Font.Size
	return (float64(r.letters.width(known, size)) + float64(unknown)*float64(size)) * slack
}

// foreign is a letter or sign of those that the measured typeface does not have: it
// counts as wide as it is high.
func foreign(r rune) bool {
	return r >= 0x1100 && !unicode.Is(unicode.Mn, r) && !(r >= 0x1e00 && r < 0x2300)
}

// wrap breaks a text into at most lines lines no wider than room, at spaces where
// it can. What does not fit ends in …, and whole is false.
func (r ruler) wrap(s string, room float64, lines int) (broken []string, whole bool) {
	words := strings.Split(s, " ")
	for len(words) > 0 && len(broken) < lines {
		line, used := words[0], 1
		for used < len(words) && r.width(line+" "+words[used]) <= room {
			line += " " + words[used]
			used++
		}
		last := len(broken) == lines-1
		switch {
		case last && used < len(words):
			return append(broken, r.shorten(line+" "+words[used]+"…", room)), false
		case r.width(line) <= room:
			broken = append(broken, line)
			words = words[used:]
		case last:
			return append(broken, r.shorten(line, room)), false
		default: // one word wider than a line
			head, tail := r.split(line, room)
			broken = append(broken, head)
			words[0] = tail
		}
	}
	return broken, true
}

// shorten cuts a text until it fits with … at its end.
func (r ruler) shorten(s string, room float64) string {
	if r.width(s) <= room {
		return s
	}
	runes := []rune(strings.TrimSuffix(s, "…"))
	for len(runes) > 1 {
		runes = runes[:cut(runes, len(runes)-1)]
		short := strings.TrimRight(string(runes), " ,;:-\u00a0") + "…"
		if r.width(short) <= room {
			return short
		}
	}
	return "…"
}

// split divides one long word where the line ends.
func (r ruler) split(s string, room float64) (head, tail string) {
	runes := []rune(s)
	n := len(runes)
	for n > 1 && r.width(string(runes[:n])) > room {
		n = cut(runes, n-1)
	}
	return string(runes[:n]), string(runes[n:])
}

// cut moves a cutting place back so that no mark loses its letter.
func cut(runes []rune, n int) int {
	for n > 1 && n < len(runes) && (unicode.Is(unicode.M, runes[n]) || runes[n] == '\u200d' || runes[n-1] == '\u200d') {
		n--
	}
	return max(n, 1)
}

// setter hands texts to the canvas with the anchor that the alignment means,
// rather than from their measured left edge, so that a centred label stays centred
// in any typeface. It measures what the plain handler it embeds would.
type setter struct{ plottext.Plain }

func newSetter() setter { return setter{plottext.Plain{Fonts: sans().cache}} }

// Extents returns how high lines of a font are.
func (setter) Extents(f font.Font) font.Extents { return inFont(f).letters.measures(f.Size) }

// Box returns how wide a line is set, and how far it reaches above and below its baseline.
func (setter) Box(txt string, f font.Font) (width, height, depth vg.Length) {
	l := inFont(f).letters
	high := l.measures(f.Size)
	return l.width(txt, f.Size), high.Ascent, high.Descent
}

// Draw sets one line.
func (s setter) Draw(c vg.Canvas, txt string, sty plottext.Style, pt vg.Point) {
	if txt == "" {
		return
	}
	in := inFont(sty.Font)
	extents := in.letters.measures(sty.Font.Size)
	height := extents.Ascent + extents.Descent
	if colour, ok := sty.Color.(paint); ok {
		switch sty.XAlign {
		case plottext.XCenter:
			colour.anchor = middle
		case plottext.XRight:
			colour.anchor = end
		}
		c.SetColor(colour)
	}
	pt.Y += height*vg.Length(sty.YAlign) + sty.Font.Size - extents.Ascent
	c.FillString(in.face, pt, txt)
}
