package chart

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// tile is one repeat of a pattern: marks in the ink on a tint of it. Places are x
// from the left and y from the top.
type tile struct {
	w, h  float64
	width float64     // of the marks' lines
	lines [][]float64 // each through x, y, x, y, …
	ring  float64     // radius of a ring in the middle; 0 for none
}

// tint is how much of the ink is under the marks, and in an area that is tinted.
const tint = 0.25

// tiles returns the patterns in the order of the inks. Neighbours differ in
// direction and density, so that they stay apart in one grey.
func tiles() []tile {
	return []tile{
		{5, 5, 1.4, [][]float64{{-1, 6, 6, -1}, {-1, 1, 1, -1}, {4, 6, 6, 4}}, 0}, // a rising lines
		{5, 5, 1.5, [][]float64{{1, 1, 2, 1}, {3.5, 3.5, 4.5, 3.5}}, 0},           // b dots
		{4, 4, 1.4, [][]float64{{2, 0, 2, 4}}, 0},                                 // c upright lines
		{5, 5, 1.4, [][]float64{{-1, -1, 6, 6}, {4, -1, 6, 1}, {-1, 4, 1, 6}}, 0}, // d falling lines
		{4, 4, 1.4, [][]float64{{0, 2, 4, 2}}, 0},                                 // e level lines
		{6, 6, 1, [][]float64{{0, 0, 6, 6}, {6, 0, 0, 6}}, 0},                     // f crossed slant
		{5, 5, 1, [][]float64{{0, 2.5, 5, 2.5}, {2.5, 0, 2.5, 5}}, 0},             // g grid
		{8, 4, 1.2, [][]float64{{0, 3, 2, 1, 6, 5, 8, 3}, {0, -1, 2, -3}}, 0},     // h zigzag
		{6, 6, 1.2, [][]float64{{3, 1, 3, 5}, {1, 3, 5, 3}}, 0},                   // i crosses
		{8, 8, 2, [][]float64{{-1, 9, 9, -1}, {-1, 1, 1, -1}, {7, 9, 9, 7}}, 0},   // j wide rising lines
		{6, 6, 1, nil, 1.5}, // k rings
		{8, 8, 2, [][]float64{{-1, -1, 9, 9}, {7, -1, 9, 1}, {-1, 7, 1, 9}}, 0}, // l wide falling lines
	}
}

// mutedTile is the pattern of what belongs to no sample.
func mutedTile() tile {
	return tile{4, 4, 1, [][]float64{{-1, 5, 5, -1}, {-1, 1, 1, -1}, {3, 5, 5, 3}}, 0}
}

// tileOf returns the pattern of an ink by its name.
func tileOf(name string) tile {
	for i, t := range tiles() {
		if inkName(i) == name {
			return t
		}
	}
	return mutedTile()
}

// marks adds the tile's marks to a path, its upper left corner at a place whose y
// runs upward.
func (t tile) marks(path *vg.Path, x, top float64) {
	at := func(px, py float64) vg.Point { return vg.Point{X: vg.Length(x + px), Y: vg.Length(top - py)} }
	for _, line := range t.lines {
		path.Move(at(line[0], line[1]))
		for i := 2; i+1 < len(line); i += 2 {
			path.Line(at(line[i], line[i+1]))
		}
	}
	if t.ring > 0 {
		path.Move(at(t.w/2+t.ring, t.h/2))
		path.Arc(at(t.w/2, t.h/2), vg.Length(t.ring), 0, 2*math.Pi)
	}
}

// pattern is the tile as an SVG pattern.
func pattern(id, ink string, t tile) string {
	var marks vg.Path
	t.marks(&marks, 0, t.h)
	var d pathData
	d.append(marks, affine{xx: 1, yy: 1}, t.h)
	return `<pattern id="` + id + `" class="` + ink + `" width="` + number(t.w) + `" height="` + number(t.h) +
		`" patternUnits="userSpaceOnUse"><path opacity="` + number(tint) + `" d="M0 0h` + number(t.w) + `v` + number(t.h) + `H0z"/>` +
		`<path class="line" stroke-width="` + number(t.width) + `" d="` + d.data.String() + `"/></pattern>`
}
