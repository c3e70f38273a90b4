package chart

import (
	"strings"
	"unicode"

	"golang.org/x/image/font/sfnt"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// em is how many units of the Liberation fonts make an em. At this many pixels an
// em, places in an outline are whole numbers.
const em = 2048

// outlined sets a line of text as a path from the start of its baseline, and returns
// how far it runs. Letters that the font lacks must have been taken out before.
func outlined(face font.Face, s string) (path vg.Path, run float64) {
	var buffer sfnt.Buffer
	size := float64(face.Font.Size) / em
	var before sfnt.GlyphIndex
	for i, r := range []rune(s) {
		glyph, err := face.Face.GlyphIndex(&buffer, r)
		if err != nil {
			continue
		}
		if i > 0 {
			if kern, err := face.Face.Kern(&buffer, before, glyph, em, 0); err == nil {
				run += float64(kern) * size
			}
		}
		segments, err := face.Face.LoadGlyph(&buffer, glyph, em, nil)
		if err == nil {
			glyphPath(&path, segments, run, size)
		}
		if advance, err := face.Face.GlyphAdvance(&buffer, glyph, em, 0); err == nil {
			run += float64(advance) * size
		}
		before = glyph
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
func settable(face font.Face, s string) string {
	var buffer sfnt.Buffer
	var kept strings.Builder
	for _, r := range clean(s) {
		glyph, err := face.Face.GlyphIndex(&buffer, r)
		switch known := err == nil && glyph != 0; {
		case unicode.In(r, unicode.Hebrew, unicode.Arabic):
			return "" // it would run the wrong way
		case known:
			kept.WriteRune(r)
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			return ""
		}
	}
	return strings.TrimSpace(kept.String())
}
