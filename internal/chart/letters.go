package chart

import (
	"golang.org/x/image/font/sfnt"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/vg"
)

// typefaces are the Liberation fonts, with what the letters of each measure written out:
// a label is measured a dozen times while a place is looked for it, and a font is slow
// to ask. They never change once they are made.
type typefaces struct {
	cache   *font.Cache
	letters map[font.Font]*letters // by the font without a size
}

func newTypefaces() *typefaces {
	t := &typefaces{cache: font.NewCache(liberation.Collection()), letters: map[font.Font]*letters{}}
	for _, f := range []font.Font{sansAt(0), titleFont(0), kitchenFont(0)} {
		t.letters[f] = measured(t.cache.Lookup(f, 0))
	}
	return t
}

// in is a font at its size.
func (t *typefaces) in(f font.Font) ruler {
	unsized := f
	unsized.Size = 0
	l := t.letters[unsized]
	if l == nil {
		l = measured(t.cache.Lookup(unsized, 0)) // none that figures are set in
	}
	r := ruler{face: l.face, letters: l}
	r.face.Font.Size = f.Size
	return r
}

const (
	writtenOut = 0x2300 // nearly all letters and signs that the fonts have lie below
	firstPair  = 0x20   // of the printable letters of ASCII, every pair has its kerning written out
	lastPair   = 0x80   // excluded
)

// letters are those of one font, measured in the units it was designed in.
type letters struct {
	face     font.Face // without a size
	glyphs   [writtenOut]sfnt.GlyphIndex
	advances [writtenOut]int16
	kerns    [lastPair - firstPair][lastPair - firstPair]int16

	ascent, descent, height int
}

func measured(face font.Face) *letters {
	l := &letters{face: face}
	var buffer sfnt.Buffer
	for r := range rune(writtenOut) {
		l.glyphs[r], _ = face.Face.GlyphIndex(&buffer, r)
		l.advances[r] = int16(l.advanceOf(l.glyphs[r]))
	}
	for a := range rune(len(l.kerns)) {
		for b := range rune(len(l.kerns)) {
			l.kerns[a][b] = int16(l.kernOf(l.glyphs[firstPair+a], l.glyphs[firstPair+b]))
		}
	}
	if m, err := face.Face.Metrics(&buffer, em, 0); err == nil {
		l.ascent, l.descent, l.height = int(m.Ascent), int(m.Descent), int(m.Height)
	}
	return l
}

// glyph is the letter in the font, 0 where the font lacks it.
func (l *letters) glyph(r rune) sfnt.GlyphIndex {
	if r >= 0 && r < writtenOut {
		return l.glyphs[r]
	}
	glyph, _ := l.face.Face.GlyphIndex(&sfnt.Buffer{}, r)
	return glyph
}

// advance is how far a letter reaches.
func (l *letters) advance(r rune) int {
	if r >= 0 && r < writtenOut {
		return int(l.advances[r])
	}
	return l.advanceOf(l.glyph(r))
}

// kern is how much farther than that its neighbour stands from it.
func (l *letters) kern(a, b rune) int {
	if a >= firstPair && a < lastPair && b >= firstPair && b < lastPair {
		return int(l.kerns[a-firstPair][b-firstPair])
	}
	return l.kernOf(l.glyph(a), l.glyph(b))
}

func (l *letters) advanceOf(glyph sfnt.GlyphIndex) int {
	advance, err := l.face.Face.GlyphAdvance(nil, glyph, em, 0)
	if err != nil {
		return 0
	}
	return int(advance)
}

func (l *letters) kernOf(a, b sfnt.GlyphIndex) int {
	kern, err := l.face.Face.Kern(nil, a, b, em, 0)
	if err != nil {
		return 0
	}
	return int(kern)
}

// unit is how long one of the font's units is at a size, as the plot library has it.
func unit(size vg.Length) vg.Length { return size / font.Points(em) }

// width is how far a text reaches at a size.
func (l *letters) width(s string, size vg.Length) vg.Length {
	units, before := 0, rune(-1)
	for _, r := range s {
		if before >= 0 {
			units += l.kern(before, r)
		}
		units += l.advance(r)
		before = r
	}
	return font.Points(float64(units)) * unit(size)
}

// measures are how high lines of text are at a size.
func (l *letters) measures(size vg.Length) font.Extents {
	scale := unit(size)
	return font.Extents{
		Ascent:  font.Points(float64(l.ascent)) * scale,
		Descent: font.Points(float64(l.descent)) * scale,
		Height:  font.Points(float64(l.height)) * scale,
	}
}
