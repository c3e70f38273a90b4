package chart

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/image/font/sfnt"
	"gonum.org/v1/plot/vg"
)

// em is how many units of the Liberation fonts make an em. At this many pixels an
// em, places in an outline are whole numbers.
const em = 2048

// stepsOfLetter is how many lines and curves there are in a letter, about.
const stepsOfLetter = 20

// outlined sets a line of text as a path from the start of its baseline, and returns
// how far it runs. Letters that the font lacks must have been taken out before. The
// buffer is for the font to work in.
func (r ruler) outlined(s string, buffer *sfnt.Buffer) (path vg.Path, run float64) {
	size := float64(r.face.Font.Size) / em
	path = make(vg.Path, 0, stepsOfLetter*utf8.RuneCountInString(s))
	before := rune(-1)
	for _, letter := range s {
		if before >= 0 {
			run += float64(r.letters.kern(before, letter)) * size
		}
		if segments, err := r.face.Face.LoadGlyph(buffer, r.letters.glyph(letter), em, nil); err == nil {
			glyphPath(&path, segments, run, size)
		}
		run += float64(r.letters.advance(letter)) * size
		before = letter
	}
	return path, run
}

// glyphPath adds the outline of one letter.
func glyphPath(path *vg.Path, segments sfnt.Segments, x, size float64) {
	open := false
	for _, s := range segments {
		at := func(i int) vg.Point {
			return vg.Point{X: vg.Length(x + float64(s.Args[i].X)*size), Y: vg.Length(-float64(s.Args[i].Y) * size)}
		}
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if open {
				path.Close()
			}
			path.Move(at(0))
			open = true
		case sfnt.SegmentOpLineTo:
			path.Line(at(0))
		case sfnt.SegmentOpQuadTo:
			path.QuadTo(at(0), at(1))
		case sfnt.SegmentOpCubeTo:
			path.CubeTo(at(0), at(1), at(2))
		}
	}
	if open {
		path.Close()
	}
}

// settable is a text as far as a font can set it from left to right: signs that the
// font lacks are left out. Of a text in which it lacks a letter nothing is left, for
// half a word says something else.
func (r ruler) settable(s string) string {
	var kept strings.Builder
	for _, letter := range clean(s) {
		switch {
		case unicode.In(letter, unicode.Hebrew, unicode.Arabic):
			return "" // it would run the wrong way
		case r.letters.glyph(letter) != 0:
			kept.WriteRune(letter)
		case unicode.IsLetter(letter) || unicode.IsDigit(letter):
			return ""
		}
	}
	return strings.TrimSpace(kept.String())
}
