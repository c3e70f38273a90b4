package chart

import "strings"

// namesAtMost is how much of a broad sheet the column of names takes at most.
const namesAtMost = 0.36

// makeRoom widens the column of names of a broad sheet for a name of a size and a
// note under it, with what stands before them. A page has no such column.
func (c *card) makeRoom(before float64, name string, note string) {
	if !c.broad {
		return
	}
	const gap = 12
	need := before + max(width(clean(name), nameSize), width(clean(note), smallSize)) + gap
	c.names = min(max(c.names, need), namesAtMost*c.wide)
}

func (c *card) makeRoomFor(l Label, note string) {
	c.makeRoom(chipWidth(clean(l.Letter))+7, l.Name, note)
}

// margins sets the field's margins; the left one is beside the column of names.
func (c *card) margins(left, right float64) { c.left, c.right = c.names+left, right }

// sample is a sample's heading and what is drawn of it.
func (c *card) sample(l Label, note string, drawn band) []band {
	if !c.broad {
		return []band{c.heading(l, note, 12), drawn}
	}
	return []band{c.besides(c.heading(l, note, 1), drawn)}
}

// besides joins two bands into one, each in the middle of its height.
func (c *card) besides(names, drawn band) band {
	const between = 5
	c.rows++
	height := max(names.height, drawn.height) + between + c.air
	return band{height: height, ruled: true, draw: func(p pen, top float64) {
		names.draw(p, top+(height-names.height)/2)
		drawn.draw(p, top+(height-drawn.height)/2)
	}}
}

// fieldHeight is how high a field is whose values run upward: so high on a page; on a
// broad sheet at least half of that, and enough for letters under each other.
func (c *card) fieldHeight(onPage float64, letters int) float64 {
	const leading = 11
	c.rows, c.upright = 1, true
	if c.broad {
		return max(onPage*0.5, leading*float64(letters)) + c.air
	}
	return onPage
}

// nameRoom is how wide a name may be that begins at x.
func (c *card) nameRoom(x float64) float64 {
	if c.broad {
		return c.names - x - 8
	}
	return c.wide - x - 2
}

// heading is the band with a sample's chip, name and note. The note stands at the
// right, or under the name where both do not fit and in a column of names.
func (c *card) heading(l Label, note string, before float64) band {
	name, note := clean(l.Name), clean(note)
	x := chipWidth(clean(l.Letter)) + 7
	room := c.nameRoom(x)
	beside := !c.broad && note != "" && width(name, nameSize)+width(note, smallSize)+16 <= room
	lines, whole := wrap(name, nameSize, room, 2)
	if !whole {
		c.full = append(c.full, strings.TrimSpace(clean(l.Letter)+" "+name))
	}
	var under []string
	if note != "" && !beside {
		under, whole = wrap(note, smallSize, room, 3)
		if !whole {
			c.full = append(c.full, note)
		}
	}
	const leading = 15.0
	height := before + leading*float64(len(lines)) + 14*float64(len(under)) + 4
	return band{height: height, draw: func(p pen, top float64) {
		y := top + before
		chip(p, l, 0, y+7.5)
		for _, line := range lines {
			p.text(plain(textName), nameSize, x, y+11.5, line)
			y += leading
		}
		for _, line := range under {
			p.text(plain(mutedName), smallSize, x, y+10, line)
			y += 14
		}
		if beside {
			p.text(plain(mutedName).at(end), smallSize, c.wide-1, top+before+11.5, note)
		}
	}}
}

// contrast is a contrast's name and what is drawn of it.
func (c *card) contrast(r DifferenceRow) []band {
	if !c.broad {
		return []band{c.contrastName(r, 9), contrast(r)}
	}
	return []band{c.besides(c.contrastName(r, 1), contrast(r))}
}

// contrastName is the band with a contrast's name and note.
func (c *card) contrastName(r DifferenceRow, before float64) band {
	name, note := clean(r.Name), clean(r.Note)
	// The reader's own font may be a tenth wider than the one that is measured with.
	beside := !c.broad && note != "" && 1.1*(width(name, nameSize)+width(note, smallSize))+8 <= c.wide
	lines, whole := wrap(name, nameSize, c.nameRoom(0), 3)
	if !whole {
		c.full = append(c.full, name)
	}
	var under []string
	if note != "" && !beside {
		if under, whole = wrap(note, smallSize, c.nameRoom(0), 3); !whole {
			c.full = append(c.full, note)
		}
	}
	const leading = 15.0
	return band{height: before + leading*float64(len(lines)) + 14*float64(len(under)), draw: func(p pen, top float64) {
		y := top + before
		for _, line := range lines {
			p.text(plain(textName), nameSize, 0, y+11, line)
			y += leading
		}
		for _, line := range under {
			p.text(plain(mutedName), smallSize, 0, y+10, line)
			y += 14
		}
		if beside {
			p.text(plain(mutedName).at(end), smallSize, c.wide-1, top+before+11, note)
		}
	}}
}
