package chart

import "math"

// thin drops the points of a line that the eye would not miss, so that a night's
// log stays a small figure. First, of all points within a unit of width only
// the first, the lowest, the highest and the last stay; then every point that lies
// within a fifth of a unit of the line through its neighbours goes (Ramer 1972,
// doi:10.1016/S0146-664X(72)80017-0; Douglas and Peucker 1973,
// doi:10.3138/FM57-6770-U75U-7727). Nothing is averaged: what stays was read.
func thin(line []place) []place {
	line = columns(line, 1)
	keep := make([]bool, len(line))
	keep[0], keep[len(line)-1] = true, true
	const tolerance = 0.2
	type stretch struct{ from, to int }
	for todo := []stretch{{0, len(line) - 1}}; len(todo) > 0; {
		s := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		worst, at := tolerance, -1
		for i := s.from + 1; i < s.to; i++ {
			if d := distance(line[i], line[s.from], line[s.to]); d > worst {
				worst, at = d, i
			}
		}
		if at >= 0 {
			keep[at] = true
			todo = append(todo, stretch{s.from, at}, stretch{at, s.to})
		}
	}
	var kept []place
	for i, k := range keep {
		if k {
			kept = append(kept, line[i])
		}
	}
	return kept
}

// columns keeps the first, lowest, highest and last point of each column of a width.
func columns(line []place, wide float64) []place {
	var kept []place
	for from := 0; from < len(line); {
		column := math.Floor(line[from].x / wide)
		to, low, high := from, from, from
		for to < len(line) && math.Floor(line[to].x/wide) == column {
			if line[to].y < line[low].y {
				low = to
			}
			if line[to].y > line[high].y {
				high = to
			}
			to++
		}
		last := -1
		for _, i := range []int{from, min(low, high), max(low, high), to - 1} {
			if i > last {
				kept, last = append(kept, line[i]), i
			}
		}
		from = to
	}
	return kept
}

// distance is how far p lies from the stretch a to b.
func distance(p, a, b place) float64 {
	dx, dy := b.x-a.x, b.y-a.y
	long := math.Hypot(dx, dy)
	if long == 0 {
		return math.Hypot(p.x-a.x, p.y-a.y)
	}
	along := ((p.x-a.x)*dx + (p.y-a.y)*dy) / (long * long)
	along = min(max(along, 0), 1)
	return math.Hypot(p.x-a.x-along*dx, p.y-a.y-along*dy)
}
